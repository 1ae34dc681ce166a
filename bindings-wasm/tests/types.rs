//! `js/operations.js` and `js/operations.d.ts` are made from the table of operations. To write
//! them anew:
//!
//! ```sh
//! LXV_REWRITE=1 cargo test -p lixivium-wasm --test types
//! ```

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

use lixivium::fats::catalogue;
use lixivium::quantity::Dimension;
use lixivium::wire::OPERATIONS;
use lixivium::wire::shape::{Field, Record, Shape};

const FIRST_LINE: &str =
    "// Made from the table of operations by bindings-wasm/tests/types.rs; not to be edited.\n";

#[test]
fn the_functions_are_up_to_date() {
    compare("operations.js", &functions());
}

#[test]
fn the_types_are_up_to_date() {
    compare("operations.d.ts", &types());
}

fn compare(name: &str, made: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("js").join(name);
    if std::env::var_os("LXV_REWRITE").is_some() {
        std::fs::write(&path, made).expect("the file is written");
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == made,
        "js/{name} differs from the table of operations; write it anew with\n    \
         LXV_REWRITE=1 cargo test -p lixivium-wasm --test types"
    );
}

fn functions() -> String {
    let mut text = format!("{FIRST_LINE}\nimport {{ call }} from \"./module.js\";\n");
    for operation in OPERATIONS {
        let name = operation.name;
        text += "\n";
        text += &comment("", operation.doc);
        writeln!(text, "export function {name}(request) {{").unwrap();
        writeln!(text, "    return call(\"{name}\", request);\n}}").unwrap();
    }
    text
}

fn types() -> String {
    let (mut requests, mut answers) = (Types::of(Side::Request), Types::of(Side::Answer));
    let mut table = String::new();
    let mut calls = String::new();
    for operation in OPERATIONS {
        let name = operation.name;
        let request = requests.type_of(operation.request);
        let answer = answers.type_of(operation.answer);
        writeln!(
            table,
            "    {name}: {{ request: {request}; answer: {answer} }};"
        )
        .unwrap();
        // A request of which nothing is needed is still given, as {}.
        calls += "\n";
        calls += &comment("", operation.doc);
        writeln!(
            calls,
            "export function {name}(request: {request}): {answer};"
        )
        .unwrap();
    }
    for name in requests.records.keys() {
        let twice = answers.records.contains_key(name);
        assert!(!twice, "{name} is both in a request and in an answer");
    }
    let imports = "\nimport type { ExactNumber } from \"./lixivium.js\";\n";
    let table = format!(
        "\n/** Each operation with its request and its answer. */\n\
         export interface Operations {{\n{table}}}\n"
    );
    let records = requests.in_order().chain(answers.in_order());
    let records: String = records.collect();
    let parts = [FIRST_LINE, imports, &calls, &table, &quantities(), &fats()];
    parts.concat() + &records
}

/// The names of the fats, for an editor to propose; any other text is left to the library.
fn fats() -> String {
    let doc = "A fat of the catalogue: its id, or another name that it goes by.";
    let mut text = format!("\n{}export type FatName =\n", comment("", doc));
    for fat in catalogue() {
        writeln!(text, "    | \"{}\"", fat.id).unwrap();
    }
    text + "    | (string & {});\n"
}

/// What may stand for a quantity in a request.
fn quantities() -> String {
    let all = [
        Dimension::Mass,
        Dimension::Volume,
        Dimension::Length,
        Dimension::Temperature,
        Dimension::Share,
        Dimension::Ratio,
        Dimension::Density,
        Dimension::SaponificationValue,
        Dimension::IodineValue,
    ];
    let each = all.map(|dimension| {
        let doc = format!("{}: {}.", capital(dimension.name()), dimension.accepted());
        let doc = comment("", &doc);
        format!("\n{doc}export type {dimension:?} = number | string;\n")
    });
    each.concat()
}

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Request,
    Answer,
}

/// The records of one side, by name, each as its text and the order in which it was met.
struct Types {
    side: Side,
    records: BTreeMap<&'static str, (usize, String)>,
    met: usize,
}

impl Types {
    fn of(side: Side) -> Self {
        Self {
            side,
            records: BTreeMap::new(),
            met: 0,
        }
    }

    fn in_order(&self) -> impl Iterator<Item = &str> {
        let mut records: Vec<_> = self.records.values().collect();
        records.sort();
        records.into_iter().map(|(_, text)| text.as_str())
    }

    /// The type of a value that is there.
    fn type_of(&mut self, shape: &Shape) -> String {
        match (*shape, self.side) {
            (Shape::Quantity(dimension), Side::Request) => format!("{dimension:?}"),
            (Shape::Quantity(_), Side::Answer) => "ExactNumber".to_owned(),
            (Shape::Count, _) => "number".to_owned(),
            (Shape::Text, _) => "string".to_owned(),
            (Shape::Word(words), _) => {
                let words: Vec<_> = words.iter().map(|word| format!("\"{word}\"")).collect();
                words.join(" | ")
            }
            (Shape::Flag, _) => "boolean".to_owned(),
            (Shape::List(item), side) => {
                let item = self.type_of(item);
                let item = if item.contains(" | ") {
                    format!("({item})")
                } else {
                    item
                };
                format!("{}{item}[]", read_only(side))
            }
            (Shape::Pair(item), side) => {
                let item = self.type_of(item);
                format!("{}[{item}, {item}]", read_only(side))
            }
            (Shape::Record(record), _) => {
                self.record(record);
                record.name.to_owned()
            }
            (Shape::Map(value), side) => {
                format!(
                    "{{ {}[name: string]: {} }}",
                    read_only(side),
                    self.type_of(value)
                )
            }
            (Shape::Either([Shape::Text, own @ Shape::Record(fat)]), Side::Request)
                if fat.name == "FatDescription" =>
            {
                format!("FatName | {}", self.type_of(own))
            }
            (Shape::Either(shapes), _) => {
                let shapes: Vec<_> = shapes.iter().map(|shape| self.type_of(shape)).collect();
                shapes.join(" | ")
            }
            (Shape::Optional(shape), _) => format!("{} | null", self.type_of(shape)),
            (other, _) => panic!("no type is known for {other:?}"),
        }
    }

    fn record(&mut self, record: &'static Record) {
        let earlier = self.records.contains_key(record.name);
        let place = self.met;
        if !earlier {
            self.met += 1;
            self.records.insert(record.name, (place, String::new()));
        }
        let mut text = format!(
            "\n{}export interface {} {{\n",
            comment("", record.doc),
            record.name
        );
        for field in record.fields {
            text += &comment("    ", &self.field_doc(record, field));
            // What may be left out of a request may also be null; an answer has all its members
            // but the open ends of a range.
            let (mark, of) = match (field.shape, self.side) {
                (Shape::Optional(_), Side::Request) => ("?", self.type_of(field.shape)),
                (Shape::Optional(end), Side::Answer) if record.name == "Range" => {
                    ("?", self.type_of(end))
                }
                _ => ("", self.type_of(field.shape)),
            };
            writeln!(text, "    {}{mark}: {of};", field.name).unwrap();
        }
        text += "}\n";
        if earlier {
            let known = &self.records[record.name].1;
            let same = known.is_empty() || *known == text;
            assert!(same, "two different records are called {}", record.name);
        } else {
            self.records.insert(record.name, (place, text));
        }
    }

    /// What is said of a member: in an answer with its unit.
    fn field_doc(&self, record: &Record, field: &Field) -> String {
        let doc = field.doc.trim_end();
        match unit(field.shape) {
            Some(unit) if self.side == Side::Answer && record.name != "Range" => {
                format!("{doc} In {unit}.")
            }
            _ => doc.to_owned(),
        }
    }
}

/// The unit of a quantity, or of those in a list or a range.
fn unit(shape: &Shape) -> Option<&'static str> {
    match shape {
        Shape::Quantity(dimension) => Some(dimension.base_unit()).filter(|unit| !unit.is_empty()),
        Shape::List(inner) | Shape::Pair(inner) | Shape::Map(inner) | Shape::Optional(inner) => {
            unit(inner)
        }
        Shape::Record(record) if record.name == "Range" => unit(record.fields[0].shape),
        _ => None,
    }
}

fn read_only(side: Side) -> &'static str {
    match side {
        Side::Request => "readonly ",
        Side::Answer => "",
    }
}

fn capital(text: &str) -> String {
    let (first, rest) = text.split_at(1);
    first.to_uppercase() + rest
}

/// A doc comment of lines that fit, from the text of a Rust one.
fn comment(indent: &str, doc: &str) -> String {
    let words: Vec<_> = doc.split_whitespace().collect();
    let one_line = words.join(" ").replace("*/", "*\\/");
    if indent.len() + one_line.chars().count() <= 92 {
        return format!("{indent}/** {one_line} */\n");
    }
    let mut text = format!("{indent}/**\n");
    let mut line = String::new();
    for word in one_line.split(' ') {
        if indent.len() + 3 + line.chars().count() + 1 + word.chars().count() > 100 {
            writeln!(text, "{indent} *{line}").unwrap();
            line.clear();
        }
        write!(line, " {word}").unwrap();
    }
    writeln!(text, "{indent} *{line}\n{indent} */").unwrap();
    text
}
