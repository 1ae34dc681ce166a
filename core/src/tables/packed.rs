//! The tables as the build script packed them, taken apart when they are first needed.
//!
//! A program that embeds the library carries two streams, which compress well, in place of
//! thousands of pointers. `core/build.rs` writes in the order in which this reads.

use std::sync::LazyLock;

use super::{
    AcidRange, CatalogueFat, FattyAcid, Kind, LyeDensity, LyeRow, Property, Published,
    PublishedValue, Solubility, Source, WaterDensity,
};
use crate::spellings::cut;

/// All tables but the atomic weights.
pub struct Tables {
    pub sources: Vec<Source>,
    pub acids: Vec<FattyAcid>,
    pub solubility: Vec<Solubility>,
    pub water_densities: Vec<WaterDensity>,
    pub lye_densities: Vec<LyeDensity>,
    pub fats: Vec<CatalogueFat>,
}

/// The tables.
pub fn tables() -> &'static Tables {
    static TABLES: LazyLock<Tables> = LazyLock::new(unpack);
    &TABLES
}

/// What has not been read yet.
struct Packed {
    lines: &'static str,
    numbers: &'static [u8],
}

impl Packed {
    #[inline(never)]
    fn line(&mut self) -> &'static str {
        let line;
        (line, self.lines) = cut(self.lines, b'\n');
        line
    }

    /// 7 bits a byte, the lowest first; the last byte is below 128.
    fn number(&mut self) -> u32 {
        let (mut number, mut shift) = (0, 0);
        while let Some((byte, rest)) = self.numbers.split_first() {
            self.numbers = rest;
            number |= u32::from(byte & 0x7f) << shift;
            shift += 7;
            if *byte < 0x80 {
                break;
            }
        }
        number
    }

    /// The cells of a table, row by row. They are written column by column, after the number of
    /// rows; a column of which `width` is not 0 as its differences: of each number from the one
    /// before, and of those from the one `width` rows before.
    #[inline(never)]
    fn cells(&mut self, columns: usize) -> Vec<u32> {
        let count = self.number() as usize;
        let mut cells = vec![0; count * columns];
        for column in 0..columns {
            let width = self.number() as usize;
            for row in cells.chunks_exact_mut(columns) {
                let number = self.number();
                row[column] = match width {
                    0 => number,
                    _ => (number >> 1) ^ (number & 1).wrapping_neg(),
                };
            }
            if width == 0 {
                continue;
            }
            for back in [1, width] {
                for row in back..count {
                    let before = cells[(row - back) * columns + column];
                    let cell = &mut cells[row * columns + column];
                    *cell = cell.wrapping_add(before);
                }
            }
        }
        cells
    }

    /// A table: what `make` makes of each row.
    fn table<const COLUMNS: usize, T>(
        &mut self,
        mut make: impl FnMut([u32; COLUMNS], &mut Self) -> T,
    ) -> Vec<T> {
        let cells = self.cells(COLUMNS);
        let rows = cells.as_chunks().0.iter();
        // (Less code than `collect`, which makes room twice.)
        let mut table = Vec::new();
        table.extend(rows.map(|row| make(*row, self)));
        table
    }
}

fn unpack() -> Tables {
    let mut packed = Packed {
        lines: include_str!(concat!(env!("OUT_DIR"), "/lines.txt")),
        numbers: include_bytes!(concat!(env!("OUT_DIR"), "/numbers.bin")),
    };
    let packed = &mut packed;
    Tables {
        sources: sources(packed),
        acids: packed.table(|[carbon, double_bonds, hydroxyls], packed| FattyAcid {
            id: packed.line(),
            name: packed.line(),
            systematic_name: packed.line(),
            carbon: carbon as u8,
            hydrogen: (2 * (carbon - double_bonds)) as u8,
            oxygen: (2 + hydroxyls) as u8,
            double_bonds: double_bonds as u8,
            hydroxyls: hydroxyls as u8,
        }),
        solubility: packed.table(|[is_koh, temperature, tenths, published], _| Solubility {
            is_koh: is_koh != 0,
            temperature: temperature as u8,
            tenths,
            published: Published(published),
        }),
        water_densities: packed.table(|[centi_celsius, grams_per_m3, published], _| WaterDensity {
            centi_celsius,
            grams_per_m3,
            published: Published(published),
        }),
        lye_densities: packed.table(|row, _| {
            let [
                is_koh,
                is_model,
                concentration,
                temperature,
                tenths,
                hundredths,
                published,
            ] = row;
            LyeDensity {
                is_koh: is_koh != 0,
                kind: match is_model {
                    0 => LyeRow::Measured,
                    _ => LyeRow::Model,
                },
                concentration,
                temperature,
                centi_kg_per_m3: 10 * tenths + hundredths,
                published: Published(published),
            }
        }),
        fats: fats(packed),
    }
}

fn sources(packed: &mut Packed) -> Vec<Source> {
    let mut sources = Vec::new();
    sources.extend((0..packed.number()).map(|_| Source {
        id: packed.line(),
        citation: packed.line(),
        part: packed.line(),
        remark: packed.line(),
    }));
    sources
}

fn fats(packed: &mut Packed) -> Vec<CatalogueFat> {
    let values = packed.table(|row, packed| {
        let [
            property,
            low,
            width,
            temperature,
            reference_temperature,
            published,
        ] = row;
        let low = thousandths(low);
        PublishedValue {
            property: match property {
                0 => Property::SaponificationValue,
                1 => Property::IodineValue,
                2 => Property::RelativeDensity,
                _ => Property::Unsaponifiable,
            },
            low,
            high: thousandths(width).map(|width| low.unwrap_or(0) + width),
            temperature: temperature as u8,
            reference_temperature: reference_temperature as u8,
            published: Published(published),
            note: packed.line(),
        }
    });
    let shares = packed.table(|[acid, low, width, published], _| {
        let low = thousandths(low).unwrap_or(0);
        AcidRange {
            acid,
            low,
            high: low + thousandths(width).unwrap_or(0),
            published: Published(published),
        }
    });
    let (mut values, mut shares): (&[_], &[_]) = (values.leak(), shares.leak());
    packed.table(|[kind, inci_seen, value_count, share_count], packed| {
        let (its_values, others) = values.split_at(value_count as usize);
        values = others;
        let (its_shares, others) = shares.split_at(share_count as usize);
        shares = others;
        CatalogueFat {
            id: packed.line(),
            aliases: packed.line(),
            name: packed.line(),
            origin: packed.line(),
            inci: packed.line(),
            inci_sodium_soap: packed.line(),
            inci_potassium_soap: packed.line(),
            kind: match kind {
                0 => Kind::Glyceride,
                1 => Kind::Wax,
                2 => Kind::FattyAcid,
                _ => Kind::Resin,
            },
            inci_seen: inci_seen != 0,
            // The build script gives every fat a saponification value with both ends.
            saponification_value: its_values[0].figure(),
            values: its_values,
            composition: its_shares,
        }
    })
}

/// 4 × mantissa + scale + 1, or 0 for none.
fn thousandths(packed: u32) -> Option<u32> {
    let packed = packed.checked_sub(1)?;
    Some(packed / 4 * [1000, 100, 10, 1][(packed % 4) as usize])
}
