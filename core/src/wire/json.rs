//! A request as it was written: a JSON tree whose numbers keep their digits.

use std::borrow::Cow;

use serde::de::IgnoredAny;

use crate::fault::Faults;

/// The largest request, in bytes.
pub const MAX_REQUEST_BYTES: usize = 1 << 20;

/// The deepest nesting of lists and objects in a request.
pub const MAX_DEPTH: usize = 12;

/// The most digits below the fraction bars of a request, equal denominators counted once.
/// Exact sums of fractions have a denominator of up to as many digits.
pub const MAX_DENOMINATOR_DIGITS: usize = 300;

/// A JSON value. A number keeps all its digits; a face that is given doubles writes the shortest
/// ones of each.
#[derive(Debug, Clone, PartialEq, Eq)]
#[repr(usize)] // moved by whole words, which is faster
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
                format_args!("the request is larger than {MAX_REQUEST_BYTES} bytes"),
            ));
        }
        let _: IgnoredAny = serde_json::from_str(text).map_err(|error| {
            let reason = if error.is_eof() {
                "it ends too early"
            } else {
                "something else than a JSON value stands there"
            };
            let (line, column) = (error.line(), error.column());
            Faults::one(
                "bad_json",
                "",
                format_args!("the request is not JSON: {reason} (line {line}, column {column})"),
            )
        })?;
        Walk { text, at: 0 }.value(0)
    }

    /// Refuses more fractions than can be added up in a moment.
    ///
    /// # Errors
    /// Fault `fractions_too_long`.
    pub(super) fn check_fractions(&self) -> Result<(), Faults> {
        let mut denominators = Vec::new();
        self.collect_denominators(&mut denominators);
        denominators.sort_unstable();
        let (mut digits, mut counted) = (0, &[][..]);
        for denominator in denominators {
            if denominator != counted {
                digits += denominator.len();
                counted = denominator;
            }
        }
        if digits <= MAX_DENOMINATOR_DIGITS {
            return Ok(());
        }
        Err(Faults::one(
            "fractions_too_long",
            "",
            format_args!(
                "the fractions of the request have {digits} digits below their bars altogether; \
                 accepted: at most {MAX_DENOMINATOR_DIGITS}, equal denominators counted once, or \
                 decimals"
            ),
        ))
    }

    fn collect_denominators<'j>(&'j self, found: &mut Vec<&'j [u8]>) {
        match self {
            Json::Text(text) => {
                let mut parts = text.as_bytes().split(|byte| *byte == b'/');
                parts.next();
                for part in parts {
                    let end = part.iter().position(|byte| !byte.is_ascii_digit());
                    found.push(end.map_or(part, |end| &part[..end]));
                }
            }
            Json::List(items) => {
                for item in items {
                    item.collect_denominators(found);
                }
            }
            Json::Object(members) => {
                for (_, value) in members {
                    value.collect_denominators(found);
                }
            }
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

/// A walk through text that is known to be JSON: it only has to be taken apart.
struct Walk<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Walk<'a> {
    fn value(&mut self, depth: usize) -> Result<Json<'a>, Faults> {
        match self.peek() {
            b'{' | b'[' if depth == MAX_DEPTH => {
                let says = format_args!("lists and objects are nested at most {MAX_DEPTH} deep");
                Err(Faults::one("too_deep", "", says))
            }
            b'{' => {
                let mut members = Vec::with_capacity(8);
                while self.enter(b'}') {
                    let name = self.string()?;
                    self.peek();
                    self.at += 1; // the colon
                    members.push((name, self.value(depth + 1)?));
                }
                Ok(Json::Object(members))
            }
            b'[' => {
                let mut items = Vec::with_capacity(8);
                while self.enter(b']') {
                    items.push(self.value(depth + 1)?);
                }
                Ok(Json::List(items))
            }
            b'"' => Ok(Json::Text(self.string()?)),
            first => {
                let end = |b: u8| matches!(b, b',' | b'}' | b']' | b' ' | b'\t' | b'\n' | b'\r');
                let start = self.at;
                while !end(self.byte()) {
                    self.at += 1;
                }
                Ok(match first {
                    b't' => Json::Flag(true),
                    b'f' => Json::Flag(false),
                    b'n' => Json::Null,
                    _ => Json::Number(Cow::Borrowed(&self.text[start..self.at])),
                })
            }
        }
    }

    /// The byte at the place reached; a space at the end.
    fn byte(&self) -> u8 {
        *self.text.as_bytes().get(self.at).unwrap_or(&b' ')
    }

    /// Passes spaces; the byte that follows.
    fn peek(&mut self) -> u8 {
        while self.at < self.text.len() && self.byte().is_ascii_whitespace() {
            self.at += 1;
        }
        self.byte()
    }

    /// Passes an opening bracket or a comma and says whether something follows, or passes `end`.
    fn enter(&mut self, end: u8) -> bool {
        if self.peek() != end {
            self.at += 1;
        }
        if self.peek() != end {
            return true;
        }
        self.at += 1;
        false
    }

    /// A string, borrowed where it has no escapes.
    fn string(&mut self) -> Result<Cow<'a, str>, Faults> {
        self.peek();
        let start = self.at;
        let mut escaped = false;
        self.at += 1;
        loop {
            let rest = self.text.as_bytes().get(self.at..).unwrap_or_default();
            let stop = rest.iter().position(|b| matches!(b, b'"' | b'\\'));
            self.at += stop.unwrap_or(rest.len());
            if self.byte() != b'\\' {
                break;
            }
            escaped = true;
            self.at += 2;
        }
        self.at += 1;
        let quoted = &self.text[start..self.at];
        if !escaped {
            return Ok(Cow::Borrowed(&quoted[1..quoted.len() - 1]));
        }
        let plain = serde_json::from_str(quoted).map_err(|_| {
            let says = "a string of the request is not valid Unicode";
            Faults::one("bad_json", "", says)
        })?;
        Ok(Cow::Owned(plain))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde::de::IgnoredAny;
    use serde_json::Value;

    use super::{Cow, Json};

    /// The same tree as `serde_json` reads it; numbers by their text.
    fn plain(json: &Json) -> Value {
        match json {
            Json::Null => Value::Null,
            Json::Flag(flag) => Value::Bool(*flag),
            Json::Number(digits) => serde_json::from_str(digits).unwrap(),
            Json::Text(text) => Value::String(text.to_string()),
            Json::List(items) => items.iter().map(plain).collect(),
            Json::Object(members) => {
                let members = members.iter();
                members
                    .map(|(name, value)| (name.to_string(), plain(value)))
                    .collect()
            }
        }
    }

    fn value() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::from),
            any::<i64>().prop_map(Value::from),
            any::<i32>().prop_map(|n| Value::from(f64::from(n) / 4.0)),
            any::<String>().prop_map(Value::from),
            "[\"\\\\/,:{}\\[\\] \\n]{0,6}".prop_map(Value::from),
        ];
        leaf.prop_recursive(6, 40, 5, |inner| {
            let name = "[\"\\\\a,:}\\]é ]{0,3}";
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..5).prop_map(Value::from),
                prop::collection::vec((name, inner), 0..5)
                    .prop_map(|members| Value::Object(members.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #[test]
        fn json_is_taken_apart_as_serde_json_does(value in value(), wide in any::<bool>()) {
            let text = if wide {
                format!(" {}\r\n\t", serde_json::to_string_pretty(&value).unwrap())
            } else {
                value.to_string()
            };
            prop_assert_eq!(plain(&Json::parse(&text).unwrap()), value);
        }

        #[test]
        fn what_serde_json_refuses_is_refused(text in "[\\[\\]{}\",:0-9.eE+\\-truefalsn \\\\]{0,12}") {
            let found = Json::parse(&text);
            prop_assert_eq!(found.is_ok(), serde_json::from_str::<IgnoredAny>(&text).is_ok(), "{:?}", found);
        }
    }

    #[test]
    fn strings_without_escapes_are_borrowed_and_numbers_keep_their_digits() {
        let text = r#" { "a\u0041" : [ "b" , 1.10 , -2E+5 ] } "#;
        let Json::Object(members) = Json::parse(text).unwrap() else {
            panic!("it is an object");
        };
        assert_eq!(members[0].0, "aA");
        let Json::List(items) = &members[0].1 else {
            panic!("it is a list");
        };
        assert!(matches!(&items[0], Json::Text(Cow::Borrowed("b"))));
        assert!(matches!(&items[1], Json::Number(Cow::Borrowed("1.10"))));
        assert!(matches!(&items[2], Json::Number(Cow::Borrowed("-2E+5"))));
        assert!(Json::parse(r#"["\ud800"]"#).is_err());
    }
}
