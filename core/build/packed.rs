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

    /// How many rows, then column by column.
    pub fn table<const COLUMNS: usize>(&mut self, rows: &[[u32; COLUMNS]]) {
        self.number(rows.len() as u32);
        for column in 0..COLUMNS {
            rows.iter().for_each(|row| self.number(row[column]));
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
