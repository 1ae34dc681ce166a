//! What is wrong with a request, said for the person who wrote it.
//!
//! A [`Fault`] has a stable `code`, the place `at` which it was found (`fats[2].mass`), and a
//! sentence that says what is wrong and what is accepted. A function that can find several
//! faults returns them all at once as [`Faults`]. A [`Caution`] is no fault: the answer stands,
//! and the caution says what to mind.

use std::fmt;

use serde::{Serialize, Serializer, ser::SerializeStruct};
use thin_vec::ThinVec;

/// One thing that is wrong: a stable code, its place and a sentence.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// Stable identifier of the kind of fault, such as `unknown_fat`. The list is open-ended.
    pub code: &'static str,
    /// Where it was found, such as `fats[2].mass`; empty for the request as a whole.
    pub at: String,
    /// What is wrong and what is accepted.
    pub says: String,
}

/// All the faults of one request, never empty when returned as an error.
///
/// Serialises as the error answer `{"error": {"faults": […]}}`. One word, so that a result that
/// carries them is no larger than need be.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Faults(ThinVec<Fault>);

impl Faults {
    /// No faults yet.
    pub const fn new() -> Self {
        Self(ThinVec::new())
    }

    /// A list of one fault.
    pub fn one(code: &'static str, at: impl fmt::Display, says: impl fmt::Display) -> Self {
        let mut faults = Self::new();
        faults.add_shown(code, &at, &says);
        faults
    }

    /// Adds a fault.
    pub fn add(&mut self, code: &'static str, at: impl fmt::Display, says: impl fmt::Display) {
        self.add_shown(code, &at, &says);
    }

    fn add_shown(&mut self, code: &'static str, at: &dyn fmt::Display, says: &dyn fmt::Display) {
        self.0.push(Fault {
            code,
            at: at.to_string(),
            says: says.to_string(),
        });
    }

    /// Adds those of `others` that lie neither inside nor around a place where a value could not
    /// be read: what is said of a stand-in is of no use. (Which members stand together does not
    /// depend on their values: `one_of` is added around such a place.)
    pub(crate) fn add_elsewhere(&mut self, others: Option<Self>) {
        let before = self.0.len();
        for fault in others.unwrap_or_default().0 {
            let apart = |known: &Fault| {
                matches!(known.code, "unknown_key" | "duplicate_key")
                    || !lies_in(&fault.at, &known.at)
                        && (fault.code == "one_of" || !lies_in(&known.at, &fault.at))
            };
            if self.0[..before].iter().all(apart) {
                self.0.push(fault);
            }
        }
    }

    /// Adds all of `others`.
    pub(crate) fn append(&mut self, others: Self) {
        self.0.extend(others.0);
    }

    /// Adds faults that were found inside the place `at`.
    pub(crate) fn add_inside(&mut self, at: &dyn fmt::Display, others: Self) {
        for mut fault in others.0 {
            let dot = match fault.at.as_bytes() {
                [] | [b'[', ..] => "",
                _ => ".",
            };
            fault.at = format!("{at}{dot}{}", fault.at);
            self.0.push(fault);
        }
    }

    /// The same faults, found inside the place `at`.
    pub(crate) fn inside(self, at: &str) -> Self {
        let mut faults = Self::new();
        faults.add_inside(&at, self);
        faults
    }

    /// That result if there are no faults; else these and those of the result that lie elsewhere.
    pub(crate) fn with<T>(mut self, result: Result<T, Self>) -> Result<T, Self> {
        if self.is_empty() {
            return result;
        }
        self.add_elsewhere(result.err());
        Err(self)
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// The faults in the order in which they were found.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.0.iter()
    }

    /// `Ok(value)` if there are no faults.
    ///
    /// # Errors
    /// The faults themselves.
    pub fn or<T>(self, value: T) -> Result<T, Self> {
        if self.is_empty() {
            Ok(value)
        } else {
            Err(self)
        }
    }
}

/// Whether the place `inner` is `outer` or a part of it.
fn lies_in(inner: &str, outer: &str) -> bool {
    inner
        .strip_prefix(outer)
        .is_some_and(|rest| outer.is_empty() || matches!(rest.as_bytes(), [] | [b'.' | b'[', ..]))
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, fault) in self.0.iter().enumerate() {
            let line = if i == 0 { "" } else { "\n" };
            let colon = if fault.at.is_empty() { "" } else { ": " };
            write!(f, "{line}{}{colon}{}", fault.at, fault.says)?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

impl Serialize for Faults {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Listed<'a> {
            faults: &'a [Fault],
        }
        let mut answer = serializer.serialize_struct("Faults", 1)?;
        answer.serialize_field("error", &Listed { faults: &self.0 })?;
        answer.end()
    }
}

/// Texts one after the other in a sentence, with that between them. (The standard library's `join`
/// is ten times the code.)
pub(crate) fn listed<T: AsRef<str>>(texts: &[T], between: &str) -> String {
    let mut list = String::new();
    for (i, text) in texts.iter().enumerate() {
        if i > 0 {
            list.push_str(between);
        }
        list.push_str(text.as_ref());
    }
    list
}

/// Something to mind in an answer that stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// Stable identifier, such as `lye_burns`. The list is open-ended.
    pub code: &'static str,
    /// One plain sentence.
    pub says: String,
}

impl Caution {
    /// A caution.
    pub fn new(code: &'static str, says: impl Into<String>) -> Self {
        Self {
            code,
            says: says.into(),
        }
    }
}
