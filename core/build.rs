//! Turns `data/*.tsv` into `$OUT_DIR/tables.rs`: static tables, checked on the way.
//!
//! What is wrong with the data stops the build with its file and line: an unknown source, fat or
//! acid, a low end above its high end, an id or alias used twice, a bad number, a missing column.

use std::collections::hash_map::Entry;
use std::collections::{BTreeMap, HashMap};
use std::fmt::Write;
use std::path::Path;
use std::{env, fs, process};

#[path = "build/table.rs"]
mod table;

use table::{Decimal, Ids, Row, Table, end_code};

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-changed=build");
    println!("cargo::rerun-if-changed=data");
    let tables = match generate(Path::new("data")) {
        Ok(tables) => tables,
        Err(fault) => {
            eprintln!("{fault}");
            process::exit(1);
        }
    };
    let out = env::var_os("OUT_DIR").expect("cargo sets OUT_DIR for build scripts");
    let file = Path::new(&out).join("tables.rs");
    fs::write(&file, tables).expect("OUT_DIR is writable");
}

/// The text of `tables.rs`.
pub fn generate(data: &Path) -> Result<String, String> {
    let mut out = String::from("// Written by build.rs from data/*.tsv.\n");
    let sources = sources(data, &mut out)?;
    elements(data, &sources, &mut out)?;
    let acids = fatty_acids(data, &sources, &mut out)?;
    solubility(data, &sources, &mut out)?;
    water_density(data, &sources, &mut out)?;
    lye_density(data, &sources, &mut out)?;
    fats(data, &sources, &acids, &mut out)?;
    Ok(out)
}

/// Adds a line of code.
macro_rules! line {
    ($out:expr, $($what:tt)*) => {
        writeln!($out, $($what)*).expect("writing to a string")
    };
}

fn sources(data: &Path, out: &mut String) -> Result<Ids, String> {
    let table = Table::read(data, "sources.tsv", &["id", "citation", "part", "remark"])?;
    let ids = table.ids()?;
    line!(
        out,
        "pub static SOURCES: [Source; {}] = [",
        table.rows.len()
    );
    for row in &table.rows {
        let (id, citation) = (row.filled("id")?, row.filled("citation")?);
        let (part, remark) = (row.get("part"), row.get("remark"));
        line!(
            out,
            "Source {{ id: {id:?}, citation: {citation:?}, part: {part:?}, remark: {remark:?} }},"
        );
    }
    line!(out, "];");
    if ids.len() > 255 {
        return Err(format!("{}: more than 255 sources", table.file));
    }
    Ok(ids)
}

fn elements(data: &Path, sources: &Ids, out: &mut String) -> Result<(), String> {
    let columns = [
        "symbol",
        "name",
        "weight",
        "uncertainty",
        "source",
        "provenance",
    ];
    let table = Table::read(data, "atomic_weights.tsv", &columns)?;
    let mut variants = String::new();
    let mut weights = String::new();
    let mut symbols = Vec::new();
    for row in &table.rows {
        let (symbol, name) = (row.filled("symbol")?, row.filled("name")?);
        row.known("source", sources)?;
        row.seen("provenance")?;
        row.decimal("uncertainty")?;
        let weight = row.decimal("weight")?.exactly(4);
        let weight = weight.ok_or_else(|| row.fault("weight has more than 4 decimals"))?;
        if symbols.contains(&symbol) {
            return Err(row.fault(format!("symbol \"{symbol}\" is used twice")));
        }
        symbols.push(symbol);
        line!(variants, "/// {name}\n{symbol},");
        line!(weights, "{weight},");
    }
    line!(
        out,
        "/// A chemical element that occurs in the trade's formulas.\n\
         #[derive(Debug, Clone, Copy, PartialEq, Eq)]\n\
         pub enum Element {{\n{variants}}}"
    );
    let count = symbols.len();
    line!(
        out,
        "pub const ELEMENT_SYMBOLS: [&str; {count}] = {symbols:?};"
    );
    line!(
        out,
        "/// In units of 0.0001.\npub const ATOMIC_WEIGHTS: [i64; {count}] = [\n{weights}];"
    );
    Ok(())
}

fn fatty_acids(data: &Path, sources: &Ids, out: &mut String) -> Result<Ids, String> {
    let counts = ["carbon", "hydrogen", "oxygen", "double_bonds", "hydroxyls"];
    let mut columns = vec!["id", "name", "systematic_name", "source", "provenance"];
    columns.extend(counts);
    let table = Table::read(data, "fatty_acids.tsv", &columns)?;
    let ids = table.ids()?;
    line!(
        out,
        "pub static FATTY_ACIDS: [FattyAcid; {}] = [",
        table.rows.len()
    );
    for row in &table.rows {
        row.known("source", sources)?;
        row.seen("provenance")?;
        let names = [
            row.filled("id")?,
            row.filled("name")?,
            row.filled("systematic_name")?,
        ];
        let [id, name, systematic] = names;
        let mut fields = String::new();
        for count in counts {
            write!(fields, ", {count}: {}", row.whole(count)?).expect("writing to a string");
        }
        let [c, h, o, d, hydroxyls] = counts.map(|count| row.whole(count).map(i32::from));
        // A chain C(n)H(2n)O2 loses two hydrogens at each double bond.
        if h? != 2 * (c? - d?) || o? != 2 + hydroxyls? {
            return Err(row.fault("the counts are not those of a fatty acid"));
        }
        line!(
            out,
            "FattyAcid {{ id: {id:?}, name: {name:?}, systematic_name: {systematic:?}{fields} }},"
        );
    }
    line!(out, "];");
    Ok(ids)
}

fn solubility(data: &Path, sources: &Ids, out: &mut String) -> Result<(), String> {
    let columns = [
        "alkali",
        "temperature",
        "grams_per_100_g_water",
        "source",
        "provenance",
    ];
    let table = Table::read(data, "solubility.tsv", &columns)?;
    line!(
        out,
        "pub static SOLUBILITY: [Solubility; {}] = [",
        table.rows.len()
    );
    for row in &table.rows {
        let is_koh = row.one_of("alkali", &["naoh", "koh"])? == 1;
        let temperature = row.whole("temperature")?;
        let grams = row.decimal("grams_per_100_g_water")?.exactly(1);
        let tenths = grams.ok_or_else(|| row.fault("more than one decimal of a gram"))?;
        let source = row.known("source", sources)?;
        let seen = row.seen("provenance")?;
        line!(
            out,
            "Solubility {{ is_koh: {is_koh}, temperature: {temperature}, tenths: {tenths}, \
             source: {source}, seen: {seen} }},"
        );
    }
    line!(out, "];");
    Ok(())
}

fn water_density(data: &Path, sources: &Ids, out: &mut String) -> Result<(), String> {
    let columns = ["temperature", "kg_per_m3", "source", "provenance"];
    let table = Table::read(data, "water_density.tsv", &columns)?;
    let count = table.rows.len();
    line!(
        out,
        "pub static WATER_DENSITIES: [WaterDensity; {count}] = ["
    );
    let mut before = -1;
    for row in &table.rows {
        let celsius = row.decimal("temperature")?.exactly(2);
        let celsius = celsius.ok_or_else(|| row.fault("more than two decimals of a °C"))?;
        if celsius <= before {
            return Err(row.fault("the temperatures do not ascend"));
        }
        before = celsius;
        let grams = row.decimal("kg_per_m3")?.exactly(3);
        let grams = grams.ok_or_else(|| row.fault("more than three decimals of a kg/m3"))?;
        let (source, seen) = (row.known("source", sources)?, row.seen("provenance")?);
        line!(
            out,
            "WaterDensity {{ centi_celsius: {celsius}, grams_per_m3: {grams}, source: {source}, \
             seen: {seen} }},"
        );
    }
    line!(out, "];");
    Ok(())
}

/// In the order of the table.
const LYE_KINDS: [(&str, &str); 2] = [("measured", "Measured"), ("model", "Model")];

fn lye_density(data: &Path, sources: &Ids, out: &mut String) -> Result<(), String> {
    let columns = [
        "alkali",
        "kind",
        "concentration",
        "temperature",
        "kg_per_m3",
        "source",
        "provenance",
    ];
    let table = Table::read(data, "lye_density.tsv", &columns)?;
    line!(
        out,
        "pub static LYE_DENSITIES: [LyeDensity; {}] = [",
        table.rows.len()
    );
    let mut before = None;
    for row in &table.rows {
        let is_koh = row.one_of("alkali", &["naoh", "koh"])? == 1;
        let kind = row.one_of("kind", &LYE_KINDS.map(|kind| kind.0))?;
        let percent = row.whole("concentration")?;
        let celsius = row.whole("temperature")?;
        let place = Some((is_koh, kind, percent, celsius));
        if place <= before {
            return Err(row.fault("alkali, kind, concentration and temperature do not ascend"));
        }
        before = place;
        let density = row.decimal("kg_per_m3")?.exactly(2);
        let density = density.ok_or_else(|| row.fault("more than two decimals of a kg/m3"))?;
        let (source, seen) = (row.known("source", sources)?, row.seen("provenance")?);
        let kind = LYE_KINDS[kind].1;
        line!(
            out,
            "LyeDensity {{ is_koh: {is_koh}, kind: LyeRow::{kind}, concentration: {percent}, \
             temperature: {celsius}, centi_kg_per_m3: {density}, source: {source}, seen: {seen} }},"
        );
    }
    line!(out, "];");
    Ok(())
}

const KINDS: [(&str, &str); 4] = [
    ("glyceride", "Glyceride"),
    ("wax", "Wax"),
    ("fatty-acid", "FattyAcid"),
    ("resin", "Resin"),
];

/// In the order of the values of a fat; the saponification value is the first.
const PROPERTIES: [(&str, &str); 4] = [
    ("saponification_value", "SaponificationValue"),
    ("iodine_value", "IodineValue"),
    ("relative_density", "RelativeDensity"),
    ("unsaponifiable", "Unsaponifiable"),
];

fn fats(data: &Path, sources: &Ids, acids: &Ids, out: &mut String) -> Result<(), String> {
    let columns = [
        "id",
        "name",
        "origin",
        "kind",
        "inci",
        "inci_sodium_soap",
        "inci_potassium_soap",
        "inci_provenance",
        "aliases",
    ];
    let table = Table::read(data, "fats.tsv", &columns)?;
    let ids = table.ids()?;
    if ids.len() > 255 {
        return Err(format!("{}: more than 255 fats", table.file));
    }
    let mut values = fat_values(data, sources, &ids)?;
    let mut compositions = fat_acids(data, sources, &ids, acids)?;
    line!(
        out,
        "pub static FATS: [CatalogueFat; {}] = [",
        table.rows.len()
    );
    for (position, row) in table.rows.iter().enumerate() {
        let (id, name) = (row.filled("id")?, row.filled("name")?);
        let origin = row.filled("origin")?;
        let kind = KINDS[row.one_of("kind", &KINDS.map(|k| k.0))?].1;
        let soaps = ["inci", "inci_sodium_soap", "inci_potassium_soap"].map(|c| row.get(c));
        let [inci, sodium, potassium] = soaps;
        let seen = soaps.iter().any(|s| !s.is_empty()) && row.seen("inci_provenance")?;
        let Some(Values { typical, code, .. }) = values.remove(&position) else {
            return Err(row.fault(format!("fat \"{id}\" has no saponification value")));
        };
        let composition = compositions.remove(&position).unwrap_or_default();
        line!(
            out,
            "CatalogueFat {{ id: {id:?}, name: {name:?}, origin: {origin:?}, kind: Kind::{kind}, \
             inci: {inci:?}, inci_sodium_soap: {sodium:?}, inci_potassium_soap: {potassium:?}, \
             inci_seen: {seen}, typical: {typical}, values: &[\n{code}], \
             composition: &[\n{composition}] }},"
        );
    }
    line!(out, "];");
    names(&table, out)
}

/// The sorted list of ids and aliases.
fn names(table: &Table, out: &mut String) -> Result<(), String> {
    let mut names = BTreeMap::new();
    for (position, row) in table.rows.iter().enumerate() {
        let aliases = row.get("aliases").split(';').filter(|a| !a.is_empty());
        for name in aliases.chain([row.get("id")]) {
            let kebab = |c: u8| c.is_ascii_lowercase() || c.is_ascii_digit() || c == b'-';
            if !name.bytes().all(kebab) {
                return Err(row.fault(format!("\"{name}\" is not in kebab-case")));
            }
            if names.insert(name, position).is_some() {
                return Err(row.fault(format!("the name \"{name}\" is used twice")));
            }
        }
    }
    line!(
        out,
        "pub static FAT_NAMES: [(&str, u8); {}] = [",
        names.len()
    );
    for (name, position) in names {
        line!(out, "({name:?}, {position}),");
    }
    line!(out, "];");
    Ok(())
}

/// The published values of one fat.
struct Values {
    typical: String,
    code: String,
    /// Position in [`PROPERTIES`] of the last row.
    last: usize,
}

/// The values by fat.
fn fat_values(data: &Path, sources: &Ids, fats: &Ids) -> Result<HashMap<usize, Values>, String> {
    let columns = [
        "fat",
        "property",
        "low",
        "high",
        "temperature",
        "reference_temperature",
        "source",
        "provenance",
        "note",
    ];
    let table = Table::read(data, "fat_values.tsv", &columns)?;
    let mut by_fat = HashMap::<usize, Values>::new();
    for row in &table.rows {
        let fat = row.known("fat", fats)?;
        let property = row.one_of("property", &PROPERTIES.map(|p| p.0))?;
        let (low, high) = row.range()?;
        let is_density = PROPERTIES[property].0 == "relative_density";
        let (temperature, reference) = if is_density {
            (
                row.whole("temperature")?,
                row.whole("reference_temperature")?,
            )
        } else if row.get("temperature").is_empty() && row.get("reference_temperature").is_empty() {
            (0, 0)
        } else {
            return Err(row.fault("only a relative density has a temperature"));
        };
        let values = match by_fat.entry(fat) {
            Entry::Occupied(entry) => entry.into_mut(),
            Entry::Vacant(entry) => {
                let (Some(low), Some(high), 0) = (low, high, property) else {
                    let says = "the first row of a fat is its saponification value, both ends";
                    return Err(row.fault(says));
                };
                entry.insert(Values {
                    typical: low.middle(high).code(),
                    code: String::new(),
                    last: 0,
                })
            }
        };
        if is_density && property != values.last && (low.is_none() || high.is_none()) {
            return Err(row.fault("the first relative density of a fat has both ends"));
        }
        if property < values.last {
            return Err(row.fault("the properties of a fat are not in their order"));
        }
        values.last = property;
        let source = row.known("source", sources)?;
        let seen = row.seen("provenance")?;
        let note = row.get("note");
        let (variant, low, high) = (PROPERTIES[property].1, end_code(low), end_code(high));
        line!(
            values.code,
            "value(Property::{variant}, {low}, {high}, {temperature}, {reference}, {source}, \
             {seen}, {note:?}),"
        );
    }
    Ok(by_fat)
}

/// By fat: its fatty-acid ranges, as code.
fn fat_acids(
    data: &Path,
    sources: &Ids,
    fats: &Ids,
    acids: &Ids,
) -> Result<HashMap<usize, String>, String> {
    let columns = ["fat", "acid", "low", "high", "source", "provenance", "note"];
    let table = Table::read(data, "fat_acids.tsv", &columns)?;
    let mut by_fat = HashMap::<usize, String>::new();
    // Of each fat and source: the acids so far, and twice the sum of the middles in 0.01 %.
    let mut sets = HashMap::<(usize, usize), (Vec<usize>, i64, &Row)>::new();
    let mut last = None;
    for row in &table.rows {
        let fat = row.known("fat", fats)?;
        let acid = row.known("acid", acids)?;
        let source = row.known("source", sources)?;
        let seen = row.seen("provenance")?;
        let (Some(low), Some(high)) = row.range()? else {
            return Err(row.fault("a share of an acid has both ends"));
        };
        let hundredths = |end: Decimal| {
            end.exactly(2)
                .filter(|h| *h <= 10_000)
                .ok_or_else(|| row.fault("a share is at most 100, with at most two decimals"))
        };
        let (low, high) = (hundredths(low)?, hundredths(high)?);
        if sets.contains_key(&(fat, source)) && last != Some((fat, source)) {
            return Err(row.fault("the rows of one fat and source do not stand together"));
        }
        last = Some((fat, source));
        let (set, sum, _) = sets.entry((fat, source)).or_insert((Vec::new(), 0, row));
        if set.contains(&acid) {
            let acid = row.get("acid");
            return Err(row.fault(format!("acid \"{acid}\" is used twice for this fat")));
        }
        set.push(acid);
        *sum += low + high;
        // A standard that says "not detectable" says nothing for a computation.
        if high > 0 {
            let code = by_fat.entry(fat).or_default();
            line!(
                code,
                "AcidRange {{ acid: {acid}, low: {low}, high: {high}, source: {source}, \
                 seen: {seen} }},"
            );
        }
    }
    for (_, sum, row) in sets.values() {
        if !(18_000..=23_000).contains(sum) {
            return Err(row.fault("the middles of this composition do not sum to 90 to 115 %"));
        }
    }
    Ok(by_fat)
}
