//! Reading the tables of `data/`: cells by column, each with its file and line.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

/// Position of each id in its table.
pub type Ids = HashMap<String, usize>;

pub struct Table {
    pub file: String,
    pub rows: Vec<Row>,
}

pub struct Row {
    place: String,
    cells: HashMap<&'static str, String>,
}

impl Table {
    pub fn read(data: &Path, name: &str, columns: &[&'static str]) -> Result<Self, String> {
        let path = data.join(name);
        let file = format!("{}", path.display());
        let text = fs::read_to_string(&path).map_err(|e| format!("{file}: {e}"))?;
        let mut lines = text.lines().enumerate();
        let header: Vec<&str> = lines.next().map_or("", |(_, l)| l).split('\t').collect();
        if let Some(missing) = columns.iter().find(|c| !header.contains(c)) {
            return Err(format!("{file}:1: column \"{missing}\" is missing"));
        }
        if let Some(other) = header.iter().find(|h| !columns.contains(h)) {
            return Err(format!("{file}:1: column \"{other}\" is not known"));
        }
        let mut rows = Vec::new();
        for (number, line) in lines {
            let place = format!("{file}:{}", number + 1);
            let cells: Vec<&str> = line.split('\t').collect();
            if cells.len() != header.len() {
                let (found, expected) = (cells.len(), header.len());
                return Err(format!("{place}: {found} cells, not {expected}"));
            }
            let cell = |column: &&'static str| {
                let at = header.iter().position(|h| h == column);
                (*column, cells[at.expect("checked above")].to_owned())
            };
            rows.push(Row {
                place,
                cells: columns.iter().map(cell).collect(),
            });
        }
        Ok(Self { file, rows })
    }

    /// Where each id of column `id` is, none of them twice.
    pub fn ids(&self) -> Result<Ids, String> {
        let mut ids = Ids::new();
        for (position, row) in self.rows.iter().enumerate() {
            if ids.insert(row.filled("id")?.to_owned(), position).is_some() {
                return Err(row.fault(format!("id \"{}\" is used twice", row.get("id"))));
            }
        }
        Ok(ids)
    }
}

impl Row {
    pub fn fault(&self, says: impl std::fmt::Display) -> String {
        format!("{}: {says}", self.place)
    }

    pub fn get(&self, column: &str) -> &str {
        &self.cells[column]
    }

    pub fn filled(&self, column: &str) -> Result<&str, String> {
        match self.get(column) {
            "" => Err(self.fault(format!("column \"{column}\" is empty"))),
            cell => Ok(cell),
        }
    }

    pub fn known(&self, column: &str, ids: &Ids) -> Result<usize, String> {
        let id = self.filled(column)?;
        let unknown = || self.fault(format!("{column} \"{id}\" is not known"));
        ids.get(id).copied().ok_or_else(unknown)
    }

    pub fn one_of(&self, column: &str, accepted: &[&str]) -> Result<usize, String> {
        let found = self.get(column);
        let place = accepted.iter().position(|a| *a == found);
        let list = || accepted.join(", ");
        place.ok_or_else(|| self.fault(format!("{column} \"{found}\" is none of {}", list())))
    }

    pub fn seen(&self, column: &str) -> Result<bool, String> {
        Ok(self.one_of(column, &["seen", "memory"])? == 0)
    }

    pub fn decimal(&self, column: &str) -> Result<Decimal, String> {
        let found = self.filled(column)?;
        Decimal::parse(found)
            .ok_or_else(|| self.fault(format!("{column} \"{found}\" is not a plain decimal")))
    }

    pub fn whole(&self, column: &str) -> Result<u8, String> {
        let found = self.filled(column)?;
        let bad = |_| {
            self.fault(format!(
                "{column} \"{found}\" is not a whole number up to 255"
            ))
        };
        found.parse().map_err(bad)
    }

    /// Both ends in thousandths, at least one of them given, the low one not above the high one.
    pub fn range(&self) -> Result<(Option<i64>, Option<i64>), String> {
        let end = |column| match self.get(column) {
            "" => Ok(None),
            _ => match self.decimal(column)?.exactly(3) {
                None => Err(self.fault(format!("{column} has more than three decimals"))),
                end => Ok(end),
            },
        };
        match (end("low")?, end("high")?) {
            (None, None) => Err(self.fault("neither low nor high is given")),
            (Some(low), Some(high)) if low > high => Err(self.fault("low is above high")),
            ends => Ok(ends),
        }
    }
}

/// `mantissa` / 10^`scale`, never below 0: at most 8 digits, 6 of them after the point.
#[derive(Clone, Copy)]
pub struct Decimal {
    mantissa: i64,
    scale: u32,
}

impl Decimal {
    pub fn parse(text: &str) -> Option<Self> {
        let (whole, part) = text.split_once('.').unwrap_or((text, ""));
        let digits = format!("{whole}{part}");
        let plain = !whole.is_empty()
            && !text.ends_with('.')
            && digits.len() <= 8
            && part.len() <= 6
            && digits.bytes().all(|d| d.is_ascii_digit());
        plain.then_some(())?;
        Some(Self {
            mantissa: digits.parse().ok()?,
            scale: part.len() as u32,
        })
    }

    /// The mantissa at a scale, rounded towards 0 if the scale is too small.
    pub fn at_scale(self, scale: u32) -> i64 {
        if scale >= self.scale {
            self.mantissa * 10_i64.pow(scale - self.scale)
        } else {
            self.mantissa / 10_i64.pow(self.scale - scale)
        }
    }

    /// The mantissa at a scale, if that is exact.
    pub fn exactly(self, scale: u32) -> Option<i64> {
        let mantissa = self.at_scale(scale);
        (Self { mantissa, scale }.at_scale(9) == self.at_scale(9)).then_some(mantissa)
    }
}
