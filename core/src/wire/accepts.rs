//! What is accepted where in a request, as tables.

use std::fmt::{self, Display};

use super::json::Json;
use super::read::Given;
use crate::fault::{Faults, listed};
use crate::quantity::Dimension;

/// A place in a request: `fats[2].mass`.
#[derive(Clone, Copy)]
pub(crate) enum Place<'a> {
    /// The request itself.
    Root,
    /// A member of an object.
    Member(&'a Place<'a>, &'a str),
    /// An item of a list.
    Item(&'a Place<'a>, usize),
}

impl Place<'_> {
    /// A member of the request itself.
    pub(crate) const fn top(name: &str) -> Place<'_> {
        Place::Member(&Place::Root, name)
    }
}

impl Display for Place<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Root => Ok(()),
            Place::Member(Place::Root, name) => f.write_str(name),
            Place::Member(outer, name) => {
                outer.fmt(f)?;
                f.write_str(".")?;
                f.write_str(name)
            }
            Place::Item(outer, index) => {
                outer.fmt(f)?;
                write!(f, "[{index}]")
            }
        }
    }
}

/// What is accepted in a place.
pub(crate) enum Accepts {
    /// A number of the base unit, or text with a unit.
    Quantity(Dimension),
    /// A whole number.
    Count,
    /// A text.
    Text,
    /// True or false.
    Flag,
    /// One of these texts.
    Words(&'static [&'static str]),
    /// An object with these members.
    Object(&'static [Member]),
    /// A list of these.
    List(&'static Accepts),
    /// A list of two of these quantities.
    Pair(&'static Accepts),
    /// The same, the lower first.
    Range(&'static Accepts),
    /// A quantity, or a range of them.
    OneOrRange([&'static Accepts; 2]),
    /// An object whose values are these.
    Map(&'static Accepts),
    /// What has a reader of its own.
    Own(&'static Own),
}

/// A member of an object.
pub(crate) struct Member {
    pub name: &'static str,
    /// Whether it may be left out.
    pub optional: bool,
    pub accepts: &'static Accepts,
}

/// A reader of its own.
pub(crate) struct Own {
    /// What is accepted: one of these.
    pub either: &'static [&'static Accepts],
    /// Reads it, and adds its faults.
    pub read: for<'j> fn(&'j Json<'j>, &Place, &mut Faults) -> Given<'j>,
}

impl Display for Accepts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (words, of) = match self {
            Accepts::Quantity(dimension) => (dimension.accepted(), None),
            Accepts::Count => ("a whole number such as 12", None),
            Accepts::Text => ("a text in quotation marks", None),
            Accepts::Flag => ("true or false", None),
            Accepts::Words(words) => {
                for (i, word) in words.iter().enumerate() {
                    f.write_str(if i == 0 { "\"" } else { "\" or \"" })?;
                    f.write_str(word)?;
                }
                ("\"", None)
            }
            Accepts::Object(members) => {
                f.write_str("an object with ")?;
                f.write_str(&names(members))?;
                ("", None)
            }
            Accepts::List(item) => ("a list, each item of it: ", Some(item)),
            Accepts::Pair(item) | Accepts::Range(item) => {
                ("a list of two, each of them: ", Some(item))
            }
            Accepts::Map(value) => ("an object, each value of it: ", Some(value)),
            Accepts::OneOrRange(either) => return any(either, f),
            Accepts::Own(own) => return any(own.either, f),
        };
        f.write_str(words)?;
        of.map_or(Ok(()), |of| of.fmt(f))
    }
}

fn any(of: &[&Accepts], f: &mut fmt::Formatter) -> fmt::Result {
    for (i, one) in of.iter().enumerate() {
        f.write_str(if i == 0 { "" } else { "; or " })?;
        one.fmt(f)?;
    }
    Ok(())
}

/// The names of members, for sentences.
pub(crate) fn names(members: &[Member]) -> String {
    let names: Vec<_> = members.iter().map(|member| member.name).collect();
    listed(&names, ", ")
}
