//! From typed answers to plain data, each number in both views.

use std::borrow::Cow;

use super::shape::{Shape, Shaped, object};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Faults};
use crate::quantity::{
    Density, IodineValue, Length, Mass, Quantity, Ratio, SaponificationValue, Share, Temperature,
    Volume,
};

/// Where an answer goes, from its first value to its last.
pub(crate) trait Sink {
    /// An object begins.
    fn object(&mut self);
    /// The name of the member that follows.
    fn name(&mut self, name: &'static str);
    /// The object is complete.
    fn end_object(&mut self);
    /// A list begins.
    fn list(&mut self);
    /// The list is complete.
    fn end_list(&mut self);
    /// A value that is not there.
    fn null(&mut self);
    /// True or false.
    fn flag(&mut self, flag: bool);
    /// A whole number.
    fn count(&mut self, count: u32);
    /// A text.
    fn text(&mut self, text: &str);
    /// `{"value": 68.9, "exact": "689/10"}`: the nearest double and the number itself.
    fn number(&mut self, number: &Rational);
}

/// A type that can be written to an answer.
///
/// A program has one kind of [`Sink`], so that each type is compiled once.
pub(crate) trait Write {
    /// Writes it.
    fn write(&self, to: &mut impl Sink);
}

impl<T: Write> Write for Option<T> {
    fn write(&self, to: &mut impl Sink) {
        match self {
            Some(value) => value.write(to),
            None => to.null(),
        }
    }
}

impl<T: Write> Write for Vec<T> {
    fn write(&self, to: &mut impl Sink) {
        to.list();
        for item in self {
            item.write(to);
        }
        to.end_list();
    }
}

impl<T: Write> Write for Box<T> {
    fn write(&self, to: &mut impl Sink) {
        (**self).write(to);
    }
}

impl Write for String {
    fn write(&self, to: &mut impl Sink) {
        to.text(self);
    }
}

impl Write for Cow<'static, str> {
    fn write(&self, to: &mut impl Sink) {
        to.text(self);
    }
}

impl Write for &'static str {
    fn write(&self, to: &mut impl Sink) {
        to.text(self);
    }
}

impl Write for u32 {
    fn write(&self, to: &mut impl Sink) {
        to.count(*self);
    }
}

impl Write for bool {
    fn write(&self, to: &mut impl Sink) {
        to.flag(*self);
    }
}

macro_rules! write_quantities {
    ($($name:ident)*) => { $(
        impl Write for $name {
            fn write(&self, to: &mut impl Sink) {
                to.number(&self.to_base());
            }
        }
    )* };
}

write_quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

/// A range of a quantity in an answer; an open end is left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Range<Q> {
    /// The lower end.
    pub low: Option<Q>,
    /// The upper end.
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

impl<Q: Quantity> Write for Range<Q> {
    fn write(&self, to: &mut impl Sink) {
        let end = |end: &Option<Q>| end.as_ref().map(Quantity::to_base);
        write_range(end(&self.low), end(&self.high), to);
    }
}

fn write_range(low: Option<Rational>, high: Option<Rational>, to: &mut impl Sink) {
    to.object();
    for (name, end) in [("low", low), ("high", high)] {
        if let Some(end) = end {
            to.name(name);
            to.number(&end);
        }
    }
    to.end_object();
}

impl<Q: Shaped> Shaped for Range<Q> {
    const SHAPE: &'static Shape = &object!(
        "Range",
        ["A range; an open end is left out."],
        { ["The lower end."] low: Option<Q>, ["The upper end."] high: Option<Q>, }
    );
}

impl Write for Faults {
    fn write(&self, to: &mut impl Sink) {
        to.object();
        to.name("error");
        to.object();
        to.name("faults");
        to.list();
        for fault in self.iter() {
            to.object();
            to.name("code");
            to.text(fault.code);
            to.name("at");
            to.text(&fault.at);
            to.name("says");
            to.text(&fault.says);
            to.end_object();
        }
        to.end_list();
        to.end_object();
        to.end_object();
    }
}

impl Write for Caution {
    fn write(&self, to: &mut impl Sink) {
        to.object();
        to.name("code");
        to.text(self.code);
        to.name("says");
        to.text(&self.says);
        to.end_object();
    }
}

/// Defines an answer object: the struct, its shape and how it is written.
macro_rules! answer {
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

        impl $crate::wire::write::Write for $name {
            fn write(&self, to: &mut impl $crate::wire::write::Sink) {
                to.object();
                $(
                    to.name(stringify!($field));
                    self.$field.write(to);
                )*
                to.end_object();
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                $crate::wire::plain::serialize(self, to)
            }
        }
    )* };
}

pub(crate) use answer;
