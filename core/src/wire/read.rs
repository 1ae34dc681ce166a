//! From a JSON tree to a typed request, with every fault at its place.

use std::borrow::Cow;
use std::fmt;

use super::json::Json;
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

/// What is accepted in a place, for sentences.
pub(crate) enum Accepts {
    /// What these words say.
    This(&'static str),
    /// One of these texts.
    Words(&'static [&'static str]),
    /// An object with these members.
    Members(&'static [&'static str]),
    /// A list of these.
    List(&'static Accepts),
    /// A list of two of these.
    Pair(&'static Accepts),
    /// An object whose values are these.
    Map(&'static Accepts),
    /// One of these.
    Either(&'static [&'static Accepts]),
}

impl fmt::Display for Accepts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Accepts::This(words) => f.write_str(words),
            Accepts::Words(words) => {
                let quoted: Vec<_> = words.iter().map(|word| format!("\"{word}\"")).collect();
                f.write_str(&quoted.join(" or "))
            }
            Accepts::Members(names) => write!(f, "an object with {}", names.join(", ")),
            Accepts::List(item) => write!(f, "a list, each item of it: {item}"),
            Accepts::Pair(item) => write!(f, "a list of two, each of them: {item}"),
            Accepts::Map(value) => write!(f, "an object, each value of it: {value}"),
            Accepts::Either(several) => {
                let several: Vec<_> = several.iter().map(|one| one.to_string()).collect();
                f.write_str(&several.join("; or "))
            }
        }
    }
}

/// A type that can be read from a request.
///
/// Reading always gives a value: where there is a fault, a stand-in that raises no further
/// fault, so that everything else can still be read and checked.
///
/// There are many such types, so that what is not of the type itself is written once for all,
/// in functions without a type parameter.
pub(crate) trait Read: Sized {
    /// What is accepted.
    const ACCEPTS: &'static Accepts;

    /// Reads it, or adds faults and gives a stand-in.
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self;

    /// A value in place of one that could not be read.
    fn stand_in() -> Self;

    /// What it is when it is left out.
    fn absent(at: Place, faults: &mut Faults) -> Self {
        missing(Self::ACCEPTS, at, faults);
        Self::stand_in()
    }
}

fn missing(accepts: &Accepts, at: Place, faults: &mut Faults) {
    let says = format!("this is missing; accepted: {accepts}");
    faults.add("missing", at.to_string(), says);
}

/// Adds the fault that something else stands where `T` should be, and gives a stand-in.
pub(crate) fn wrong_type<T: Read>(json: &Json, at: Place, faults: &mut Faults) -> T {
    add_wrong_type(json, T::ACCEPTS, at, faults);
    T::stand_in()
}

fn add_wrong_type(json: &Json, accepts: &Accepts, at: Place, faults: &mut Faults) {
    let says = format!("{} stands here; accepted: {accepts}", json.kind());
    faults.add("wrong_type", at.to_string(), says);
}

/// The first characters of a text, to be shown in a fault.
pub(crate) fn shown(text: &str) -> String {
    const SHOWN: usize = 40;
    text.chars().take(SHOWN).collect()
}

/// A number of base units; 1 as a stand-in.
fn number(json: &Json, dimension: Dimension, at: Place, faults: &mut Faults) -> Rational {
    let read = match json {
        Json::Number(digits) => match digits.as_ref() {
            "NaN" | "inf" | "-inf" => Err(QuantityFault::NotFinite),
            digits => Rational::parse(digits)
                .map_err(QuantityFault::from)
                .and_then(|number| dimension.checked(number)),
        },
        Json::Text(text) if text.len() > MAX_TEXT_BYTES => {
            add_too_long(at, faults);
            return Rational::ONE;
        }
        Json::Text(text) => dimension.read(text),
        _ => {
            add_wrong_type(json, &Accepts::This(dimension.accepted()), at, faults);
            return Rational::ONE;
        }
    };
    read.unwrap_or_else(|fault| {
        faults.add(fault.code(), at.to_string(), fault.to_string());
        Rational::ONE
    })
}

fn add_too_long(at: Place, faults: &mut Faults) {
    let says = format!("a text has at most {MAX_TEXT_BYTES} bytes");
    faults.add("text_too_long", at.to_string(), says);
}

/// Adds the fault that a list or an object is too long.
pub(crate) fn add_too_many(at: Place, faults: &mut Faults) {
    let says = format!("a list or an object has at most {MAX_ITEMS} items");
    faults.add("too_many", at.to_string(), says);
}

macro_rules! read_quantities {
    ($($name:ident)*) => { $(
        impl Read for $name {
            const ACCEPTS: &'static Accepts = &Accepts::This(Dimension::$name.accepted());
            fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
                Self::from_base(number(json, Dimension::$name, at, faults))
            }
            fn stand_in() -> Self {
                Self::from_base(Rational::ONE)
            }
        }
    )* };
}

read_quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

impl<T: Read> Read for Option<T> {
    const ACCEPTS: &'static Accepts = T::ACCEPTS;
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

impl<T: Read> Read for Box<T> {
    const ACCEPTS: &'static Accepts = T::ACCEPTS;
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        Self::new(T::read(json, at, faults))
    }
    fn stand_in() -> Self {
        Self::new(T::stand_in())
    }
}

impl<T: Read> Read for Vec<T> {
    const ACCEPTS: &'static Accepts = &Accepts::List(T::ACCEPTS);
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let items = list(json, Self::ACCEPTS, at, faults).iter().enumerate();
        items
            .map(|(index, item)| T::read(item, Place::Item(&at, index), faults))
            .collect()
    }
    fn stand_in() -> Self {
        Self::new()
    }
}

/// The items of a list; none where there is a fault.
fn list<'j>(
    json: &'j Json<'j>,
    accepts: &Accepts,
    at: Place,
    faults: &mut Faults,
) -> &'j [Json<'j>] {
    match json {
        Json::List(items) if items.len() <= MAX_ITEMS => return items,
        Json::List(_) => add_too_many(at, faults),
        _ => add_wrong_type(json, accepts, at, faults),
    }
    &[]
}

impl Read for String {
    const ACCEPTS: &'static Accepts = &Accepts::This("a text in quotation marks");
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        match json {
            Json::Text(text) if text.len() <= MAX_TEXT_BYTES => {
                return text.clone().into_owned();
            }
            Json::Text(_) => add_too_long(at, faults),
            _ => add_wrong_type(json, Self::ACCEPTS, at, faults),
        }
        Self::stand_in()
    }
    fn stand_in() -> Self {
        Self::new()
    }
}

impl Read for u32 {
    const ACCEPTS: &'static Accepts = &Accepts::This("a whole number such as 12");
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let Json::Number(digits) = json else {
            return wrong_type(json, at, faults);
        };
        let number = Rational::parse(digits);
        // A double arrives with an exponent, which nobody wrote.
        let written = || {
            number
                .as_ref()
                .map_or(digits.to_string(), Rational::to_plain)
        };
        let count = number.as_ref().ok().and_then(Rational::to_count);
        count.unwrap_or_else(|| {
            let says = format!(
                "{} is no whole number from 0 to {}; accepted: {}",
                shown(&written()),
                Self::MAX,
                Self::ACCEPTS
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
    const ACCEPTS: &'static Accepts = &Accepts::This("true or false");
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

/// Which of `words` it is; the first one as a stand-in.
pub(crate) fn word(
    json: &Json,
    words: &'static [&'static str],
    at: Place,
    faults: &mut Faults,
) -> usize {
    let accepts = Accepts::Words(words);
    let Json::Text(text) = json else {
        add_wrong_type(json, &accepts, at, faults);
        return 0;
    };
    words
        .iter()
        .position(|word| word == text)
        .unwrap_or_else(|| {
            let shown = shown(text);
            let says = format!("\"{shown}\" is not known here; accepted: {accepts}");
            faults.add("unknown_word", at.to_string(), says);
            0
        })
}

/// An object while it is read.
pub(crate) struct Members<'a> {
    members: &'a [(Cow<'a, str>, Json<'a>)],
    at: Place<'a>,
    faults: &'a mut Faults,
}

impl<'a> Members<'a> {
    /// The members, if it is an object; members that are not among `names` are faults, and so
    /// are those that stand there twice.
    pub(crate) fn of(
        json: &'a Json<'a>,
        names: &'static [&'static str],
        at: Place<'a>,
        faults: &'a mut Faults,
    ) -> Option<Self> {
        let Json::Object(members) = json else {
            add_wrong_type(json, &Accepts::Members(names), at, faults);
            return None;
        };
        for (index, (name, _)) in members.iter().enumerate() {
            let known = names.contains(&name.as_ref());
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
                let known = names.join(", ");
                let says = format!("\"{short}\" is not known here; accepted: {known}");
                faults.add("unknown_key", place, says);
            }
        }
        Some(Self {
            members,
            at,
            faults,
        })
    }

    fn find(&self, name: &str) -> Option<&'a Json<'a>> {
        let found = self.members.iter().find(|(found, _)| found == name);
        found.map(|(_, json)| json)
    }

    /// Reads the member of that name.
    pub(crate) fn field<T: Read>(&mut self, name: &str) -> T {
        let place = Place::Member(&self.at, name);
        match self.find(name) {
            Some(json) => T::read(json, place, self.faults),
            None => T::absent(place, self.faults),
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

        impl $name {
            const MEMBERS: &'static [&'static str] =
                &[$( $crate::wire::read::plain(stringify!($field)) ),*];
        }

        impl $crate::wire::read::Read for $name {
            const ACCEPTS: &'static $crate::wire::read::Accepts =
                &$crate::wire::read::Accepts::Members(Self::MEMBERS);
            fn read(
                json: &$crate::wire::Json,
                at: $crate::wire::read::Place,
                faults: &mut $crate::fault::Faults,
            ) -> Self {
                match $crate::wire::read::Members::of(json, Self::MEMBERS, at, faults) {
                    Some(mut members) => Self { $(
                        $field: members.field($crate::wire::read::plain(stringify!($field))),
                    )* },
                    None => Self::stand_in(),
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

        impl $name {
            const WORDS: &'static [&'static str] = &[$($word),*];
        }

        impl $crate::wire::shape::Shaped for $name {
            const SHAPE: &'static $crate::wire::shape::Shape =
                &$crate::wire::shape::Shape::Word(Self::WORDS);
        }

        impl $crate::wire::read::Read for $name {
            const ACCEPTS: &'static $crate::wire::read::Accepts =
                &$crate::wire::read::Accepts::Words(Self::WORDS);
            fn read(
                json: &$crate::wire::Json,
                at: $crate::wire::read::Place,
                faults: &mut $crate::fault::Faults,
            ) -> Self {
                [$(Self::$variant),*][$crate::wire::read::word(json, Self::WORDS, at, faults)]
            }
            fn stand_in() -> Self {
                [$(Self::$variant),*][0]
            }
        }
    )* };
}

pub(crate) use {request, words};
