//! The shape of requests and answers, from which schemas and types are derived.
//!
//! No call needs a shape: where only calls are made, the linker leaves all this text out.

use std::borrow::Cow;

use crate::quantity::{
    Density, Dimension, IodineValue, Length, Mass, Ratio, SaponificationValue, Share, Temperature,
    Volume,
};

/// What a value of a request or an answer looks like.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub enum Shape {
    /// In a request: a number in the base unit or text with a unit.
    /// In an answer: both views, `{"value": 68.9, "exact": "689/10"}`.
    Quantity(Dimension),
    /// A whole number.
    Count,
    /// A string.
    Text,
    /// One of these strings.
    Word(&'static [&'static str]),
    /// `true` or `false`.
    Flag,
    /// A list.
    List(&'static Shape),
    /// A list of exactly two.
    Pair(&'static Shape),
    /// An object with these members.
    Record(&'static Record),
    /// An object with one member for each of any number of names.
    Map(&'static Shape),
    /// One of these.
    Either(&'static [&'static Shape]),
    /// May be left out.
    Optional(&'static Shape),
}

/// An object with named members.
#[derive(Debug)]
pub struct Record {
    /// The name of the type.
    pub name: &'static str,
    /// What it is.
    pub doc: &'static str,
    /// Its members.
    pub fields: &'static [Field],
}

/// A member of an object.
#[derive(Debug)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// What it is.
    pub doc: &'static str,
    /// What its value looks like.
    pub shape: &'static Shape,
}

/// A type that has a shape.
pub trait Shaped {
    /// The shape.
    const SHAPE: &'static Shape;
}

impl<T: Shaped> Shaped for Option<T> {
    const SHAPE: &'static Shape = &Shape::Optional(T::SHAPE);
}

impl<T: Shaped> Shaped for Vec<T> {
    const SHAPE: &'static Shape = &Shape::List(T::SHAPE);
}

impl<T: Shaped> Shaped for Box<T> {
    const SHAPE: &'static Shape = T::SHAPE;
}

impl Shaped for String {
    const SHAPE: &'static Shape = &Shape::Text;
}

impl Shaped for Cow<'static, str> {
    const SHAPE: &'static Shape = &Shape::Text;
}

impl Shaped for &str {
    const SHAPE: &'static Shape = &Shape::Text;
}

impl Shaped for u32 {
    const SHAPE: &'static Shape = &Shape::Count;
}

impl Shaped for bool {
    const SHAPE: &'static Shape = &Shape::Flag;
}

macro_rules! quantities {
    ($($name:ident)*) => { $(
        impl Shaped for $name {
            const SHAPE: &'static Shape = &Shape::Quantity(Dimension::$name);
        }
    )* };
}

quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

/// The shape of an object with these members.
macro_rules! object {
    ($name:expr, [$($doc:literal),*], { $( [$($field_doc:literal),*] $field:ident: $field_type:ty, )* }) => {
        $crate::wire::shape::Shape::Record(&$crate::wire::shape::Record {
            name: $name,
            doc: concat!($($doc, "\n"),*),
            fields: &[ $( $crate::wire::shape::Field {
                name: $crate::wire::view::plain(stringify!($field)),
                doc: concat!($($field_doc, "\n"),*),
                shape: <$field_type as $crate::wire::shape::Shaped>::SHAPE,
            }, )* ],
        })
    };
}

pub(crate) use object;
