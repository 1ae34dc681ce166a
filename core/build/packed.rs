//! Writing what `src/tables/packed.rs` reads.

/// A text of lines, and numbers of 7 bits a byte, the lowest first: what compresses well.
#[derive(Default)]
pub struct Packed {
    pub lines: String,
    pub numbers: Vec<u8>,
}

impl Packed {
    /// A cell of a table, which never holds a line break.
    pub fn line(&mut self, cell: &str) {
        self.lines.push_str(cell);
        self.lines.push('\n');
    }

    /// How many rows, then column by column: its width, and its numbers. A column of which the
    /// width is not 0 is like a grid with so many numbers in a row; it is written as differences:
    /// of each number from the one before, and of those from the one `width` before.
    pub fn table<const COLUMNS: usize>(
        &mut self,
        rows: &[[u32; COLUMNS]],
        widths: [usize; COLUMNS],
    ) {
        self.number(rows.len() as u32);
        for (column, width) in widths.into_iter().enumerate() {
            self.number(width as u32);
            let numbers: Vec<_> = rows.iter().map(|row| i64::from(row[column])).collect();
            if width == 0 {
                numbers
                    .iter()
                    .for_each(|number| self.number(*number as u32));
            } else {
                for number in differences(&differences(&numbers, 1), width) {
                    // 0, -1, 1, -2 ... as 0, 1, 2, 3 ...
                    self.number(((number << 1) ^ (number >> 63)) as u32);
                }
            }
        }
    }

    pub fn number(&mut self, mut number: u32) {
        while number > 0x7f {
            self.numbers.push(number as u8 | 0x80);
            number >>= 7;
        }
        self.numbers.push(number as u8);
    }
}

/// How far each number is from the one so many places before; the first ones from 0.
fn differences(numbers: &[i64], back: usize) -> Vec<i64> {
    let before = |at: usize| at.checked_sub(back).map_or(0, |at| numbers[at]);
    let differences = numbers
        .iter()
        .enumerate()
        .map(|(at, number)| number - before(at));
    differences.collect()
}

/// 4 × mantissa + scale + 1, the mantissa as short as it can be.
pub fn shortest(thousandths: i64) -> u32 {
    let (mut mantissa, mut scale) = (thousandths, 3);
    while scale > 0 && mantissa % 10 == 0 {
        mantissa /= 10;
        scale -= 1;
    }
    (4 * mantissa + scale + 1) as u32
}
