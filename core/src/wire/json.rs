//! A request as it was written: a JSON tree whose numbers keep their digits.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fmt;

use serde::de::{self, Deserialize, DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;

use crate::fault::Faults;

/// The largest request, in bytes.
pub const MAX_REQUEST_BYTES: usize = 1 << 20;

/// The deepest nesting of lists and objects in a request.
pub const MAX_DEPTH: usize = 12;

/// The most digits below the fraction bars of a request, equal denominators counted once.
/// Exact sums of fractions have a denominator of up to as many digits.
pub const MAX_DENOMINATOR_DIGITS: usize = 2_000;

/// A JSON value. From text a number keeps all its digits; from a JavaScript value or another
/// `serde` source (by [`Deserialize`]) a double becomes its shortest decimal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Json<'a> {
    /// `null`, or what is undefined.
    Null,
    /// `true` or `false`.
    Flag(bool),
    /// A number, as its text.
    Number(Cow<'a, str>),
    /// A string.
    Text(Cow<'a, str>),
    /// An array.
    List(Vec<Json<'a>>),
    /// An object: its members in order, duplicates included.
    Object(Vec<(Cow<'a, str>, Json<'a>)>),
}

impl<'a> Json<'a> {
    /// Reads JSON text.
    ///
    /// # Errors
    /// Faults `request_too_large`, `bad_json` (with line and column) and `too_deep`.
    pub fn parse(text: &'a str) -> Result<Self, Faults> {
        if text.len() > MAX_REQUEST_BYTES {
            return Err(Faults::one(
                "request_too_large",
                "",
                format!("the request is larger than {MAX_REQUEST_BYTES} bytes"),
            ));
        }
        let raw: &RawValue = serde_json::from_str(text).map_err(|error| {
            let reason = if error.is_eof() {
                "it ends too early"
            } else {
                "something else than a JSON value stands there"
            };
            let (line, column) = (error.line(), error.column());
            Faults::one(
                "bad_json",
                "",
                format!("the request is not JSON: {reason} (line {line}, column {column})"),
            )
        })?;
        Self::from_raw(raw, 0)
    }

    fn from_raw(raw: &'a RawValue, depth: usize) -> Result<Self, Faults> {
        let text = raw.get();
        let bad = |_| {
            Faults::one(
                "bad_json",
                "",
                "a string of the request is not valid Unicode",
            )
        };
        match text.as_bytes().first() {
            Some(b'{' | b'[') if depth == MAX_DEPTH => Err(Faults::one("too_deep", "", too_deep())),
            Some(b'{') => {
                let Members(members) = serde_json::from_str(text).map_err(bad)?;
                let read = |(name, value)| Ok((name, Self::from_raw(value, depth + 1)?));
                members
                    .into_iter()
                    .map(read)
                    .collect::<Result<_, _>>()
                    .map(Json::Object)
            }
            Some(b'[') => {
                let items: Vec<&RawValue> = serde_json::from_str(text).map_err(bad)?;
                let read = |value| Self::from_raw(value, depth + 1);
                items
                    .into_iter()
                    .map(read)
                    .collect::<Result<_, _>>()
                    .map(Json::List)
            }
            Some(b'"') => {
                let Text(text) = serde_json::from_str(text).map_err(bad)?;
                Ok(Json::Text(text))
            }
            Some(b't') => Ok(Json::Flag(true)),
            Some(b'f') => Ok(Json::Flag(false)),
            Some(b'n') => Ok(Json::Null),
            _ => Ok(Json::Number(Cow::Borrowed(text))),
        }
    }

    /// Refuses more fractions than can be added up in a moment.
    ///
    /// # Errors
    /// Fault `fractions_too_long`.
    pub(super) fn check_fractions(&self) -> Result<(), Faults> {
        let mut denominators = BTreeSet::new();
        self.collect_denominators(&mut denominators);
        let digits: usize = denominators.iter().map(|digits| digits.len()).sum();
        if digits <= MAX_DENOMINATOR_DIGITS {
            return Ok(());
        }
        Err(Faults::one(
            "fractions_too_long",
            "",
            format!(
                "the fractions of the request have {digits} digits below their bars altogether; \
                 accepted: at most {MAX_DENOMINATOR_DIGITS}, equal denominators counted once, or \
                 decimals"
            ),
        ))
    }

    fn collect_denominators<'j>(&'j self, found: &mut BTreeSet<&'j str>) {
        match self {
            Json::Text(text) => {
                for after_bar in text.split('/').skip(1) {
                    let end = after_bar.find(|c: char| !c.is_ascii_digit());
                    found.insert(&after_bar[..end.unwrap_or(after_bar.len())]);
                }
            }
            Json::List(items) => items
                .iter()
                .for_each(|item| item.collect_denominators(found)),
            Json::Object(members) => members
                .iter()
                .for_each(|(_, value)| value.collect_denominators(found)),
            Json::Null | Json::Flag(_) | Json::Number(_) => {}
        }
    }

    /// What it is, with an article, for sentences.
    pub(super) fn kind(&self) -> &'static str {
        match self {
            Json::Null => "null",
            Json::Flag(_) => "a true or false",
            Json::Number(_) => "a number",
            Json::Text(_) => "a text",
            Json::List(_) => "a list",
            Json::Object(_) => "an object",
        }
    }
}

fn too_deep() -> String {
    format!("lists and objects are nested at most {MAX_DEPTH} deep")
}

/// A string, borrowed where it has no escapes.
struct Text<'a>(Cow<'a, str>);

impl<'de: 'a, 'a> Deserialize<'de> for Text<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct TextVisitor;
        impl<'de> Visitor<'de> for TextVisitor {
            type Value = Text<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a string")
            }
            fn visit_borrowed_str<E>(self, text: &'de str) -> Result<Self::Value, E> {
                Ok(Text(Cow::Borrowed(text)))
            }
            fn visit_str<E>(self, text: &str) -> Result<Self::Value, E> {
                Ok(Text(Cow::Owned(text.to_owned())))
            }
        }
        deserializer.deserialize_str(TextVisitor)
    }
}

/// The members of an object, their values still as text.
struct Members<'a>(Vec<(Cow<'a, str>, &'a RawValue)>);

impl<'de: 'a, 'a> Deserialize<'de> for Members<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct MembersVisitor;
        impl<'de> Visitor<'de> for MembersVisitor {
            type Value = Members<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut members = Vec::with_capacity(8);
                while let Some((Text(name), value)) = map.next_entry()? {
                    members.push((name, value));
                }
                Ok(Members(members))
            }
        }
        deserializer.deserialize_map(MembersVisitor)
    }
}

impl<'de> Deserialize<'de> for Json<'static> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Level(0).deserialize(deserializer)
    }
}

/// Reads a value at a depth, so that one that contains itself comes to an end too.
#[derive(Clone, Copy)]
struct Level(usize);

impl Level {
    /// The level of what a list or an object holds.
    fn inner<E: de::Error>(self) -> Result<Self, E> {
        if self.0 == MAX_DEPTH {
            return Err(E::custom(too_deep()));
        }
        Ok(Self(self.0 + 1))
    }
}

impl<'de> DeserializeSeed<'de> for Level {
    type Value = Json<'static>;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Self::Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Level {
    type Value = Json<'static>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("plain data: objects, lists, texts, numbers, true or false")
    }
    fn visit_unit<E>(self) -> Result<Self::Value, E> {
        Ok(Json::Null)
    }
    fn visit_none<E>(self) -> Result<Self::Value, E> {
        Ok(Json::Null)
    }
    fn visit_some<D: Deserializer<'de>>(self, inner: D) -> Result<Self::Value, D::Error> {
        self.deserialize(inner)
    }
    fn visit_bool<E>(self, flag: bool) -> Result<Self::Value, E> {
        Ok(Json::Flag(flag))
    }
    fn visit_i64<E>(self, number: i64) -> Result<Self::Value, E> {
        Ok(Json::Number(number.to_string().into()))
    }
    fn visit_u64<E>(self, number: u64) -> Result<Self::Value, E> {
        Ok(Json::Number(number.to_string().into()))
    }
    fn visit_f64<E>(self, number: f64) -> Result<Self::Value, E> {
        // The shortest digits that read back as the same double.
        Ok(Json::Number(format!("{number:e}").into()))
    }
    fn visit_str<E>(self, text: &str) -> Result<Self::Value, E> {
        Ok(Json::Text(text.to_owned().into()))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Self::Value, A::Error> {
        let inner = self.inner()?;
        let mut list = Vec::new();
        while let Some(item) = items.next_element_seed(inner)? {
            list.push(item);
        }
        Ok(Json::List(list))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let inner = self.inner()?;
        let mut members = Vec::new();
        while let Some(name) = map.next_key::<String>()? {
            members.push((name.into(), map.next_value_seed(inner)?));
        }
        Ok(Json::Object(members))
    }
}
