//! From a JSON tree to a typed request, with every fault at its place.

use std::fmt;

use num_traits::ToPrimitive;

use super::json::Json;
use super::shape::{Shape, Shaped};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::quantity::{
    Density, Dimension, IodineValue, Length, Mass, Quantity, QuantityFault, Ratio,
    SaponificationValue, Share, Temperature, Volume,
};

/// The most items of a list and members of an object in a request.
pub const MAX_ITEMS: usize = 1_000;

/// The longest text in a request, in bytes.
pub const MAX_TEXT_BYTES: usize = 1_000;

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

impl fmt::Display for Place<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Root => Ok(()),
            Place::Member(Place::Root, name) => f.write_str(name),
            Place::Member(outer, name) => write!(f, "{outer}.{name}"),
            Place::Item(outer, index) => write!(f, "{outer}[{index}]"),
        }
    }
}

/// A type that can be read from a request.
///
/// Reading always gives a value: where there is a fault, a stand-in that raises no further
/// fault, so that everything else can still be read and checked.
pub(crate) trait Read: Shaped + Sized {
    /// Reads it, or adds faults and gives a stand-in.
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self;

    /// A value in place of one that could not be read.
    fn stand_in() -> Self;

    /// What it is when it is left out.
    fn absent(at: Place, faults: &mut Faults) -> Self {
        let says = format!("this is missing; accepted: {}", accepted(Self::SHAPE));
        faults.add("missing", at.to_string(), says);
        Self::stand_in()
    }
}

/// What a shape accepts, for sentences.
pub(crate) fn accepted(shape: &Shape) -> String {
    let names = |fields: &[super::shape::Field]| {
        let names: Vec<_> = fields.iter().map(|field| field.name).collect();
        names.join(", ")
    };
    match shape {
        Shape::Quantity(dimension) => dimension.accepted().to_owned(),
        Shape::Count => "a whole number such as 12".to_owned(),
        Shape::Text => "a text in quotation marks".to_owned(),
        Shape::Word(words) => {
            let words: Vec<_> = words.iter().map(|word| format!("\"{word}\"")).collect();
            words.join(" or ")
        }
        Shape::Flag => "true or false".to_owned(),
        Shape::List(item) => format!("a list, each item of it: {}", accepted(item)),
        Shape::Pair(item) => format!("a list of two, each of them: {}", accepted(item)),
        Shape::Record(record) => format!("an object with {}", names(record.fields)),
        Shape::Map(value) => format!("an object, each value of it: {}", accepted(value)),
        Shape::Either(shapes) => {
            let shapes: Vec<_> = shapes.iter().map(|shape| accepted(shape)).collect();
            shapes.join("; or ")
        }
        Shape::Optional(shape) => accepted(shape),
    }
}

/// Adds the fault that something else stands where `T` should be, and gives a stand-in.
pub(crate) fn wrong_type<T: Read>(json: &Json, at: Place, faults: &mut Faults) -> T {
    let says = format!(
        "{} stands here; accepted: {}",
        json.kind(),
        accepted(T::SHAPE)
    );
    faults.add("wrong_type", at.to_string(), says);
    T::stand_in()
}

/// The first characters of a text, to be shown in a fault.
pub(crate) fn shown(text: &str) -> String {
    const SHOWN: usize = 40;
    text.chars().take(SHOWN).collect()
}

fn quantity<Q: Quantity + Read>(json: &Json, at: Place, faults: &mut Faults) -> Q {
    let read = match json {
        Json::Number(digits) => match digits.as_ref() {
            "NaN" | "inf" | "-inf" => Err(QuantityFault::NotFinite),
            digits => Rational::parse(digits)
                .map_err(QuantityFault::from)
                .and_then(Q::checked),
        },
        Json::Text(text) if text.len() > MAX_TEXT_BYTES => return too_long(at, faults),
        Json::Text(text) => Q::parse(text),
        _ => return wrong_type(json, at, faults),
    };
    read.unwrap_or_else(|fault| {
        faults.add(fault.code(), at.to_string(), fault.to_string());
        Q::stand_in()
    })
}

fn too_long<T: Read>(at: Place, faults: &mut Faults) -> T {
    let says = format!("a text has at most {MAX_TEXT_BYTES} bytes");
    faults.add("text_too_long", at.to_string(), says);
    T::stand_in()
}

/// Adds the fault that a list or an object is too long, and gives a stand-in.
pub(crate) fn too_many<T: Read>(at: Place, faults: &mut Faults) -> T {
    let says = format!("a list or an object has at most {MAX_ITEMS} items");
    faults.add("too_many", at.to_string(), says);
    T::stand_in()
}

macro_rules! read_quantities {
    ($($name:ident)*) => { $(
        impl Shaped for $name {
            const SHAPE: &'static Shape = &Shape::Quantity(Dimension::$name);
        }
        impl Read for $name {
            fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
                quantity(json, at, faults)
            }
            fn stand_in() -> Self {
                Self::from_base(Rational::ONE)
            }
        }
    )* };
}

read_quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

impl<T: Read> Read for Option<T> {
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        match json {
            Json::Null => None,
            _ => Some(T::read(json, at, faults)),
        }
    }
    fn stand_in() -> Self {
        None
    }
    fn absent(_: Place, _: &mut Faults) -> Self {
        None
    }
}

impl<T: Read> Read for Vec<T> {
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let Json::List(items) = json else {
            return wrong_type(json, at, faults);
        };
        if items.len() > MAX_ITEMS {
            return too_many(at, faults);
        }
        let items = items.iter().enumerate();
        items
            .map(|(index, item)| T::read(item, Place::Item(&at, index), faults))
            .collect()
    }
    fn stand_in() -> Self {
        Self::new()
    }
}

impl Read for String {
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        match json {
            Json::Text(text) if text.len() > MAX_TEXT_BYTES => too_long(at, faults),
            Json::Text(text) => text.clone().into_owned(),
            _ => wrong_type(json, at, faults),
        }
    }
    fn stand_in() -> Self {
        Self::new()
    }
}

impl Read for u32 {
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let Json::Number(digits) = json else {
            return wrong_type(json, at, faults);
        };
        let number = Rational::parse(digits).map(|number| number.to_fraction());
        let whole = number.ok().filter(|number| number.is_integer());
        whole
            .and_then(|number| number.to_integer().to_u32())
            .unwrap_or_else(|| {
                let says = format!(
                    "{} is no whole number from 0 to {}; accepted: {}",
                    shown(digits),
                    Self::MAX,
                    accepted(Self::SHAPE)
                );
                faults.add("bad_number", at.to_string(), says);
                Self::stand_in()
            })
    }
    fn stand_in() -> Self {
        1
    }
}

impl Read for bool {
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        match json {
            Json::Flag(flag) => *flag,
            _ => wrong_type(json, at, faults),
        }
    }
    fn stand_in() -> Self {
        false
    }
}

/// The members of an object while it is read.
pub(crate) struct Members<'j> {
    members: &'j [(std::borrow::Cow<'j, str>, Json<'j>)],
}

impl<'j> Members<'j> {
    /// The members, if it is an object; members that `T` does not have are faults, and so are
    /// those that stand there twice.
    pub(crate) fn of<T: Shaped>(
        json: &'j Json<'j>,
        at: Place,
        faults: &mut Faults,
    ) -> Option<Self> {
        let (Json::Object(members), Shape::Record(record)) = (json, T::SHAPE) else {
            return None;
        };
        for (index, (name, _)) in members.iter().enumerate() {
            let known = record.fields.iter().any(|field| field.name == name);
            let twice = || members[..index].iter().any(|(earlier, _)| earlier == name);
            if known && !twice() {
                continue;
            }
            let short = shown(name);
            let place = Place::Member(&at, &short).to_string();
            if known {
                let says = format!("\"{short}\" stands here twice; write it once");
                faults.add("duplicate_key", place, says);
            } else {
                let known: Vec<_> = record.fields.iter().map(|field| field.name).collect();
                let says = format!(
                    "\"{short}\" is not known here; accepted: {}",
                    known.join(", ")
                );
                faults.add("unknown_key", place, says);
            }
        }
        Some(Self { members })
    }

    /// Reads the member of that name.
    pub(crate) fn field<T: Read>(&self, name: &str, at: Place, faults: &mut Faults) -> T {
        let place = Place::Member(&at, name);
        match self.members.iter().find(|(found, _)| found == name) {
            Some((_, json)) => T::read(json, place, faults),
            None => T::absent(place, faults),
        }
    }
}

/// The name of a member whose Rust name is raw, such as `r#box`.
pub(crate) const fn plain(name: &'static str) -> &'static str {
    match name.as_bytes() {
        [b'r', b'#', ..] => name.split_at(2).1,
        _ => name,
    }
}

/// Defines a request object: the struct, its shape and how it is read.
macro_rules! request {
    ($( $(#[doc = $doc:literal])* $name:ident { $(
        $(#[doc = $field_doc:literal])* $field:ident: $type:ty,
    )* } )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone)]
        pub struct $name { $( $(#[doc = $field_doc])* pub $field: $type, )* }

        impl $crate::wire::shape::Shaped for $name {
            const SHAPE: &'static $crate::wire::shape::Shape = &$crate::wire::shape::object!(
                stringify!($name), [$($doc),*], { $( [$($field_doc),*] $field: $type, )* }
            );
        }

        impl $crate::wire::read::Read for $name {
            fn read(
                json: &$crate::wire::Json,
                at: $crate::wire::read::Place,
                faults: &mut $crate::fault::Faults,
            ) -> Self {
                match $crate::wire::read::Members::of::<Self>(json, at, faults) {
                    Some(members) => Self {
                        $( $field: members.field(
                            $crate::wire::read::plain(stringify!($field)),
                            at,
                            faults,
                        ), )*
                    },
                    None => $crate::wire::read::wrong_type(json, at, faults),
                }
            }
            fn stand_in() -> Self {
                Self { $( $field: $crate::wire::read::Read::stand_in(), )* }
            }
        }
    )* };
}

/// Defines a choice of words: the enum, its shape and how it is read.
macro_rules! words {
    ($( $(#[doc = $doc:literal])* $name:ident { $(
        $(#[doc = $word_doc:literal])* $word:literal => $variant:ident,
    )* } )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name { $( $(#[doc = $word_doc])* $variant, )* }

        impl $crate::wire::shape::Shaped for $name {
            const SHAPE: &'static $crate::wire::shape::Shape =
                &$crate::wire::shape::Shape::Word(&[$($word),*]);
        }

        impl $crate::wire::read::Read for $name {
            fn read(
                json: &$crate::wire::Json,
                at: $crate::wire::read::Place,
                faults: &mut $crate::fault::Faults,
            ) -> Self {
                let $crate::wire::Json::Text(text) = json else {
                    return $crate::wire::read::wrong_type(json, at, faults);
                };
                match text.as_ref() {
                    $( $word => Self::$variant, )*
                    other => {
                        let words = $crate::wire::read::accepted(
                            <Self as $crate::wire::shape::Shaped>::SHAPE,
                        );
                        let shown = $crate::wire::read::shown(other);
                        let says = format!("\"{shown}\" is not known here; accepted: {words}");
                        faults.add("unknown_word", at.to_string(), says);
                        Self::stand_in()
                    }
                }
            }
            fn stand_in() -> Self {
                [$(Self::$variant),*][0]
            }
        }
    )* };
}

pub(crate) use {request, words};
