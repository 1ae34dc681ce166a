//! Reading the files of `tests/data`.

use std::collections::HashMap;
use std::fs;
use std::path::PathBuf;

use lixivium::exact::Rational;

pub fn read(name: &str) -> String {
    let path: PathBuf = [env!("CARGO_MANIFEST_DIR"), "tests", "data", name]
        .iter()
        .collect();
    fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// A row of a table: cells by column.
pub struct Row(HashMap<String, String>);

pub fn table(name: &str) -> Vec<Row> {
    let text = read(name);
    let mut lines = text.lines().map(|line| line.split('\t').map(str::to_owned));
    let header: Vec<String> = lines.next().expect("a header").collect();
    let rows = lines.map(|cells| {
        let cells: Vec<String> = cells.collect();
        assert_eq!(cells.len(), header.len(), "{name}: {cells:?}");
        Row(header.iter().cloned().zip(cells).collect())
    });
    rows.collect()
}

impl Row {
    pub fn text(&self, column: &str) -> &str {
        &self.0[column]
    }

    pub fn number(&self, column: &str) -> Rational {
        number(self.text(column))
    }

    pub fn count(&self, column: &str) -> usize {
        self.text(column).parse().expect("a count")
    }

    /// The number of the cell, if it has one.
    pub fn optional(&self, column: &str) -> Option<Rational> {
        Some(self.text(column))
            .filter(|t| !t.is_empty())
            .map(number)
    }

    pub fn columns(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

pub fn number(text: &str) -> Rational {
    Rational::parse(text).unwrap_or_else(|e| panic!("{e}"))
}

/// Fails unless `found` is within `tolerance` of the `printed` number.
#[track_caller]
pub fn assert_near(what: &str, found: &Rational, printed: &Rational, tolerance: &str) {
    let off = (found - printed).abs();
    assert!(
        off <= number(tolerance),
        "{what}: {} instead of {}",
        found.to_fixed(4),
        printed.to_fixed(4)
    );
}
