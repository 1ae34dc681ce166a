//! Turns `data/*.tsv` into what `src/tables` reads: checked tables, packed for a small library.
//!
//! What is wrong with the data stops the build with its file and line: an unknown source, fat or
//! acid, a low end above its high end, an id or alias used twice, a bad number, a missing column.

use std::collections::{BTreeSet, HashMap};
use std::fmt::Write;
use std::path::Path;
use std::{env, fs, process};

#[path = "build/packed.rs"]
mod packed;
#[path = "build/table.rs"]
mod table;

use packed::{Packed, shortest};
use table::{Ids, Row, Table};

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
    let write = |name: &str, what: &[u8]| {
        fs::write(Path::new(&out).join(name), what).expect("OUT_DIR is writable");
    };
    write("elements.rs", tables.elements.as_bytes());
    write("lines.txt", tables.packed.lines.as_bytes());
    write("numbers.bin", &tables.packed.numbers);
}

/// What becomes part of the library.
pub struct Tables {
    /// Code: constants need the atomic weights.
    pub elements: String,
    /// All other tables.
    pub packed: Packed,
}

/// Reads and checks the tables.
pub fn generate(data: &Path) -> Result<Tables, String> {
    let mut packed = Packed::default();
    let out = &mut packed;
    let sources = sources(data, out)?;
    let elements = elements(data, &sources)?;
    let acids = fatty_acids(data, &sources, out)?;
    solubility(data, &sources, out)?;
    water_density(data, &sources, out)?;
    lye_density(data, &sources, out)?;
    fats(data, &sources, &acids, out)?;
    Ok(Tables { elements, packed })
}

/// Adds a line of code.
macro_rules! line {
    ($out:expr, $($what:tt)*) => {
        writeln!($out, $($what)*).expect("writing to a string")
    };
}

/// Where a row was published and whether it was seen there, in one number.
fn published(row: &Row, sources: &Ids) -> Result<u32, String> {
    let (source, seen) = (row.known("source", sources)?, row.seen("provenance")?);
    Ok(source as u32 * 2 + u32::from(seen))
}

fn sources(data: &Path, out: &mut Packed) -> Result<Ids, String> {
    let table = Table::read(data, "sources.tsv", &["id", "citation", "part", "remark"])?;
    let ids = table.ids()?;
    out.number(table.rows.len() as u32);
    for row in &table.rows {
        out.line(row.filled("id")?);
        out.line(row.filled("citation")?);
        out.line(row.get("part"));
        out.line(row.get("remark"));
    }
    if ids.len() > 127 {
        return Err(format!("{}: more than 127 sources", table.file));
    }
    Ok(ids)
}

fn elements(data: &Path, sources: &Ids) -> Result<String, String> {
    let columns = [
        "symbol",
        "name",
        "weight",
        "uncertainty",
        "source",
        "provenance",
    ];
    let table = Table::read(data, "atomic_weights.tsv", &columns)?;
    let mut out = String::from("// Written by build.rs from data/atomic_weights.tsv.\n");
    let mut variants = String::new();
    let mut weights = String::new();
    let mut symbols = Vec::new();
    for row in &table.rows {
        let (symbol, name) = (row.filled("symbol")?, row.filled("name")?);
        published(row, sources)?;
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
    Ok(out)
}

fn fatty_acids(data: &Path, sources: &Ids, out: &mut Packed) -> Result<Ids, String> {
    let counts = ["carbon", "hydrogen", "oxygen", "double_bonds", "hydroxyls"];
    let mut columns = vec!["id", "name", "systematic_name", "source", "provenance"];
    columns.extend(counts);
    let table = Table::read(data, "fatty_acids.tsv", &columns)?;
    let mut rows = Vec::new();
    for row in &table.rows {
        published(row, sources)?;
        out.line(row.filled("id")?);
        out.line(row.filled("name")?);
        out.line(row.filled("systematic_name")?);
        let [c, h, o, d, hydroxyls] = counts.map(|count| row.whole(count).map(u32::from));
        let (c, d, hydroxyls) = (c?, d?, hydroxyls?);
        // A chain C(n)H(2n)O2 loses two hydrogens at each double bond.
        if h? + 2 * d != 2 * c || o? != 2 + hydroxyls {
            return Err(row.fault("the counts are not those of a fatty acid"));
        }
        rows.push([c, d, hydroxyls]);
    }
    out.table(&rows, [0; 3]);
    table.ids()
}

fn solubility(data: &Path, sources: &Ids, out: &mut Packed) -> Result<(), String> {
    let columns = [
        "alkali",
        "temperature",
        "grams_per_100_g_water",
        "source",
        "provenance",
    ];
    let table = Table::read(data, "solubility.tsv", &columns)?;
    let mut rows = Vec::new();
    for row in &table.rows {
        let is_koh = row.one_of("alkali", &["naoh", "koh"])? as u32;
        let temperature = row.whole("temperature")?.into();
        let grams = row.decimal("grams_per_100_g_water")?.exactly(1);
        let tenths = grams.ok_or_else(|| row.fault("more than one decimal of a gram"))?;
        let published = published(row, sources)?;
        rows.push([is_koh, temperature, tenths as u32, published]);
    }
    out.table(&rows, [0, 0, 1, 0]);
    Ok(())
}

fn water_density(data: &Path, sources: &Ids, out: &mut Packed) -> Result<(), String> {
    let columns = ["temperature", "kg_per_m3", "source", "provenance"];
    let table = Table::read(data, "water_density.tsv", &columns)?;
    let mut rows = Vec::new();
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
        rows.push([celsius as u32, grams as u32, published(row, sources)?]);
    }
    out.table(&rows, [1, 1, 0]);
    Ok(())
}

fn lye_density(data: &Path, sources: &Ids, out: &mut Packed) -> Result<(), String> {
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
    let mut rows: Vec<[u32; 7]> = Vec::new();
    for row in &table.rows {
        let density = row.decimal("kg_per_m3")?.exactly(2);
        let density = density.ok_or_else(|| row.fault("more than two decimals of a kg/m3"))?;
        let place = [
            row.one_of("alkali", &["naoh", "koh"])? as u32,
            row.one_of("kind", &["measured", "model"])? as u32,
            row.whole("concentration")?.into(),
            row.whole("temperature")?.into(),
        ];
        if rows.last().is_some_and(|before| place[..] <= before[..4]) {
            return Err(row.fault("alkali, kind, concentration and temperature do not ascend"));
        }
        let [alkali, kind, percent, celsius] = place;
        let (tenths, hundredths) = (density as u32 / 10, density as u32 % 10);
        let published = published(row, sources)?;
        rows.push([
            alkali, kind, percent, celsius, tenths, hundredths, published,
        ]);
    }
    // Most densities stand for five temperatures at each strength.
    out.table(&rows, [0, 0, 1, 0, 5, 0, 0]);
    Ok(())
}

/// In the order of the variants of `Kind`.
const KINDS: [&str; 4] = ["glyceride", "wax", "fatty-acid", "resin"];

/// In the order of the variants of `Property`, and of the values of a fat.
const PROPERTIES: [&str; 4] = [
    "saponification_value",
    "iodine_value",
    "relative_density",
    "unsaponifiable",
];

fn fats(data: &Path, sources: &Ids, acids: &Ids, out: &mut Packed) -> Result<(), String> {
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
    let values = fat_values(data, sources, &ids, out)?;
    let shares = fat_acids(data, sources, &ids, acids, out)?;
    let mut names = BTreeSet::new();
    let mut rows = Vec::new();
    for (position, row) in table.rows.iter().enumerate() {
        let id = row.filled("id")?;
        if values[position] == 0 {
            return Err(row.fault(format!("fat \"{id}\" has no saponification value")));
        }
        let soaps = ["inci", "inci_sodium_soap", "inci_potassium_soap"].map(|c| row.get(c));
        let seen = soaps.iter().any(|s| !s.is_empty()) && row.seen("inci_provenance")?;
        let mut aliases: Vec<_> = row.get("aliases").split_terminator(';').collect();
        aliases.sort_unstable();
        for name in aliases.iter().chain([&id]) {
            let kebab = |c: u8| c.is_ascii_lowercase() || c.is_ascii_digit() || c == b'-';
            if name.is_empty() || !name.bytes().all(kebab) {
                return Err(row.fault(format!("\"{name}\" is not in kebab-case")));
            }
            if !names.insert(*name) {
                return Err(row.fault(format!("the name \"{name}\" is used twice")));
            }
        }
        if names.len() > 250 {
            return Err(row.fault("more than 250 names; `fats/names.rs` has room for no more"));
        }
        out.line(id);
        out.line(&aliases.join("|"));
        out.line(row.filled("name")?);
        out.line(row.filled("origin")?);
        for soap in soaps {
            out.line(soap);
        }
        let kind = row.one_of("kind", &KINDS)? as u32;
        rows.push([kind, seen.into(), values[position], shares[position]]);
    }
    out.table(&rows, [0; 4]);
    Ok(())
}

/// Packs the values, those of a fat together; how many there are of each fat.
fn fat_values(
    data: &Path,
    sources: &Ids,
    fats: &Ids,
    out: &mut Packed,
) -> Result<Vec<u32>, String> {
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
    let mut by_fat = vec![Vec::new(); fats.len()];
    for row in &table.rows {
        let values: &mut Vec<([u32; 6], &str)> = &mut by_fat[row.known("fat", fats)?];
        let property = row.one_of("property", &PROPERTIES)?;
        let (low, high) = row.range()?;
        let is_density = PROPERTIES[property] == "relative_density";
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
        let one_sided = low.is_none() || high.is_none();
        let last = values.last().map(|(last, _)| last[0] as usize);
        if last.is_none() && (property != 0 || one_sided) {
            let says = "the first row of a fat is its saponification value, both ends";
            return Err(row.fault(says));
        }
        if is_density && last != Some(property) && one_sided {
            return Err(row.fault("the first relative density of a fat has both ends"));
        }
        if last > Some(property) {
            return Err(row.fault("the properties of a fat are not in their order"));
        }
        let numbers = [
            property as u32,
            low.map_or(0, shortest),
            high.map_or(0, |high| shortest(high - low.unwrap_or(0))),
            temperature.into(),
            reference.into(),
            published(row, sources)?,
        ];
        values.push((numbers, row.get("note")));
    }
    let counts = by_fat.iter().map(|values| values.len() as u32).collect();
    let (values, notes): (Vec<_>, Vec<_>) = by_fat.into_iter().flatten().unzip();
    out.table(&values, [0; 6]);
    notes.iter().for_each(|note| out.line(note));
    Ok(counts)
}

/// Packs the ranges of the fatty acids, those of a fat together; how many there are of each fat.
fn fat_acids(
    data: &Path,
    sources: &Ids,
    fats: &Ids,
    acids: &Ids,
    out: &mut Packed,
) -> Result<Vec<u32>, String> {
    let columns = ["fat", "acid", "low", "high", "source", "provenance", "note"];
    let table = Table::read(data, "fat_acids.tsv", &columns)?;
    let mut by_fat = vec![Vec::new(); fats.len()];
    // Of each fat and source: the acids so far, and twice the sum of the middles in 0.001 %.
    let mut sets = HashMap::<(usize, usize), (Vec<usize>, i64, &Row)>::new();
    let mut last = None;
    for row in &table.rows {
        let fat = row.known("fat", fats)?;
        let acid = row.known("acid", acids)?;
        let source = row.known("source", sources)?;
        let published = published(row, sources)?;
        let (Some(low), Some(high)) = row.range()? else {
            return Err(row.fault("a share of an acid has both ends"));
        };
        if high > 100_000 {
            return Err(row.fault("a share is at most 100"));
        }
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
            let (low, width) = (shortest(low), shortest(high - low));
            by_fat[fat].push([acid as u32, low, width, published]);
        }
    }
    for (_, sum, row) in sets.values() {
        if !(180_000..=230_000).contains(sum) {
            return Err(row.fault("the middles of this composition do not sum to 90 to 115 %"));
        }
    }
    let counts = by_fat.iter().map(|shares| shares.len() as u32).collect();
    out.table(&by_fat.concat(), [0; 4]);
    Ok(counts)
}
