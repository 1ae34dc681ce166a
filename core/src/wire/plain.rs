//! Answers as `serde` values.

use std::cell::Cell;

use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};

use super::write::{self, Writer};
use crate::exact::Rational;
use crate::fault::Faults;

/// An answer, or an error answer, as plain data that `serde` takes.
#[derive(Debug, Clone, Default)]
pub struct Answer {
    /// The answer from its first value to its last.
    items: Vec<Item>,
}

impl From<&Faults> for Answer {
    /// The error answer.
    fn from(faults: &Faults) -> Self {
        let mut answer = Self::default();
        write::faults(faults, &mut answer);
        answer
    }
}

#[derive(Debug, Clone)]
enum Item {
    Object,
    List,
    End,
    Name(&'static str),
    Null,
    Flag(bool),
    Count(u32),
    Double(f64),
    Text(String),
}

impl Writer for Answer {
    fn begin_object(&mut self) {
        self.items.push(Item::Object);
    }
    fn name(&mut self, name: &'static str) {
        self.items.push(Item::Name(name));
    }
    fn end_object(&mut self) {
        self.items.push(Item::End);
    }
    fn begin_list(&mut self) {
        self.items.push(Item::List);
    }
    fn end_list(&mut self) {
        self.items.push(Item::End);
    }
    fn put_null(&mut self) {
        self.items.push(Item::Null);
    }
    fn put_flag(&mut self, flag: bool) {
        self.items.push(Item::Flag(flag));
    }
    fn put_count(&mut self, count: u32) {
        self.items.push(Item::Count(count));
    }
    fn put_text(&mut self, text: &str) {
        self.items.push(Item::Text(text.to_owned()));
    }
    fn put_number(&mut self, number: &Rational) {
        self.begin_object();
        self.name("value");
        self.items.push(Item::Double(number.to_f64()));
        self.name("exact");
        self.items.push(Item::Text(number.to_string()));
        self.end_object();
    }
}

impl Serialize for Answer {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let next = Cell::new(0);
        let items = &self.items;
        Next { items, next }.serialize(to)
    }
}

/// The value that begins at the next item.
struct Next<'a> {
    items: &'a [Item],
    next: Cell<usize>,
}

impl Next<'_> {
    fn item(&self) -> &Item {
        self.items.get(self.next.get()).unwrap_or(&Item::End)
    }

    fn step(&self) {
        self.next.set(self.next.get() + 1);
    }
}

impl Serialize for Next<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let item = self.item();
        self.step();
        match item {
            Item::Object => {
                let mut object = to.serialize_map(None)?;
                while let Item::Name(name) = self.item() {
                    self.step();
                    object.serialize_entry(name, self)?;
                }
                self.step();
                object.end()
            }
            Item::List => {
                let mut list = to.serialize_seq(None)?;
                while !matches!(self.item(), Item::End) {
                    list.serialize_element(self)?;
                }
                self.step();
                list.end()
            }
            Item::Flag(flag) => to.serialize_bool(*flag),
            Item::Count(count) => to.serialize_u32(*count),
            Item::Double(value) => to.serialize_f64(*value),
            Item::Text(text) => to.serialize_str(text),
            Item::Null | Item::Name(_) | Item::End => to.serialize_none(),
        }
    }
}
