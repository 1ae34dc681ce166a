//! Answers as `serde` values.

use serde::ser::{Serialize, SerializeStruct, Serializer};

use super::write::{Sink, Write};
use crate::exact::Rational;

/// Serialises an answer.
///
/// The answer is a tree of one type first, so that a serializer is compiled once and not for
/// every type of answer.
pub(super) fn serialize<S: Serializer>(answer: &impl Write, to: S) -> Result<S::Ok, S::Error> {
    let mut tree = Tree {
        open: Vec::new(),
        names: Vec::new(),
    };
    answer.write(&mut tree);
    let root = tree.open.pop().unwrap_or(Plain::Null);
    root.serialize(to)
}

/// A value of an answer.
enum Plain {
    Null,
    Flag(bool),
    Count(u32),
    Text(String),
    Number { value: f64, exact: String },
    List(Vec<Plain>),
    Object(Vec<(&'static str, Plain)>),
}

impl Serialize for Plain {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Plain::Null => to.serialize_none(),
            Plain::Flag(flag) => to.serialize_bool(*flag),
            Plain::Count(count) => to.serialize_u32(*count),
            Plain::Text(text) => to.serialize_str(text),
            Plain::Number { value, exact } => {
                let mut both = to.serialize_struct("Number", 2)?;
                both.serialize_field("value", value)?;
                both.serialize_field("exact", exact)?;
                both.end()
            }
            Plain::List(items) => items.serialize(to),
            Plain::Object(members) => {
                let mut object = to.serialize_struct("Answer", members.len())?;
                for (name, value) in members {
                    object.serialize_field(name, value)?;
                }
                object.end()
            }
        }
    }
}

/// Builds the tree.
struct Tree {
    /// The lists and objects that are not complete, the outermost first; at the end the answer.
    open: Vec<Plain>,
    /// The names of the members whose values are not complete.
    names: Vec<&'static str>,
}

impl Tree {
    fn add(&mut self, value: Plain) {
        match self.open.last_mut() {
            Some(Plain::Object(members)) => {
                members.push((self.names.pop().unwrap_or_default(), value));
            }
            Some(Plain::List(items)) => items.push(value),
            _ => self.open.push(value),
        }
    }

    fn end(&mut self) {
        if let Some(value) = self.open.pop() {
            self.add(value);
        }
    }
}

impl Sink for Tree {
    fn object(&mut self) {
        self.open.push(Plain::Object(Vec::new()));
    }
    fn name(&mut self, name: &'static str) {
        self.names.push(name);
    }
    fn end_object(&mut self) {
        self.end();
    }
    fn list(&mut self) {
        self.open.push(Plain::List(Vec::new()));
    }
    fn end_list(&mut self) {
        self.end();
    }
    fn null(&mut self) {
        self.add(Plain::Null);
    }
    fn flag(&mut self, flag: bool) {
        self.add(Plain::Flag(flag));
    }
    fn count(&mut self, count: u32) {
        self.add(Plain::Count(count));
    }
    fn text(&mut self, text: &str) {
        self.add(Plain::Text(text.to_owned()));
    }
    fn number(&mut self, number: &Rational) {
        self.add(Plain::Number {
            value: number.to_f64(),
            exact: number.to_string(),
        });
    }
}
