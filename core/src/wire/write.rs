//! From typed answers to plain data, each number in both views.

use serde::ser::{Serialize, SerializeStruct, Serializer};

use crate::exact::{Interval, Rational};
use crate::quantity::{
    Density, IodineValue, Length, Mass, Quantity, Ratio, SaponificationValue, Share, Temperature,
    Volume,
};

/// `{"value": 68.9, "exact": "689/10"}`: the nearest double and the number itself.
fn both_views<S: Serializer>(number: &Rational, serializer: S) -> Result<S::Ok, S::Error> {
    let mut both = serializer.serialize_struct("Number", 2)?;
    both.serialize_field("value", &number.to_f64())?;
    match number.short_text() {
        Some(exact) => both.serialize_field("exact", exact.as_str())?,
        None => both.serialize_field("exact", &number.to_string())?,
    }
    both.end()
}

macro_rules! write_quantities {
    ($($name:ident)*) => { $(
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                both_views(&self.to_base(), serializer)
            }
        }
    )* };
}

write_quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

/// A range of a quantity in an answer; an open end is left out.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Range<Q> {
    /// The lower end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low: Option<Q>,
    /// The upper end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub high: Option<Q>,
}

impl<Q: Quantity> Range<Q> {
    /// The range of an interval of numbers in the base unit.
    pub fn of(interval: &Interval) -> Self {
        Self {
            low: Some(Q::from_base(interval.low().clone())),
            high: Some(Q::from_base(interval.high().clone())),
        }
    }
}

impl<Q: super::shape::Shaped> super::shape::Shaped for Range<Q> {
    const SHAPE: &'static super::shape::Shape = &super::shape::object!(
        "Range",
        ["A range; an open end is left out."],
        { ["The lower end."] low: Option<Q>, ["The upper end."] high: Option<Q>, }
    );
}

/// Defines an answer object: the struct, its shape and how it is written.
macro_rules! answer {
    ($( $(#[doc = $doc:literal])* $name:ident { $(
        $(#[doc = $field_doc:literal])* $field:ident: $type:ty,
    )* } )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, serde::Serialize)]
        pub struct $name { $( $(#[doc = $field_doc])* pub $field: $type, )* }

        impl $crate::wire::shape::Shaped for $name {
            const SHAPE: &'static $crate::wire::shape::Shape = &$crate::wire::shape::object!(
                stringify!($name), [$($doc),*], { $( [$($field_doc),*] $field: $type, )* }
            );
        }
    )* };
}

pub(crate) use answer;
