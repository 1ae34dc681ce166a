//! How answers are written: straight from what was found, each number in both views.

use std::marker::PhantomData;

use super::shape::{Shape, Shaped, object};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Fault, Faults};
use crate::quantity::{
    Density, IodineValue, Mass, Quantity, Ratio, SaponificationValue, Share, Temperature, Volume,
};

/// Where an answer goes, from its first value to its last, member after member, as its [`Shape`]
/// has them.
///
/// What is written before a fault is found is of no use to anyone: it may be left half done.
pub(super) trait Writer: Sized {
    /// An object begins.
    fn begin_object(&mut self);
    /// The name of the member that follows.
    fn name(&mut self, name: &'static str);
    /// The object is complete.
    fn end_object(&mut self);
    /// A list begins.
    fn begin_list(&mut self);
    /// The list is complete.
    fn end_list(&mut self);
    /// A value that is not there.
    fn put_null(&mut self);
    /// True or false.
    fn put_flag(&mut self, flag: bool);
    /// A whole number.
    fn put_count(&mut self, count: u32);
    /// A text.
    fn put_text(&mut self, text: &str);
    /// `{"value": 68.9, "exact": "689/10"}`: the nearest double and the number itself.
    fn put_number(&mut self, number: &Rational);

    /// A member.
    #[inline(never)]
    fn add<T: Value + ?Sized>(&mut self, name: &'static str, value: &T) {
        self.name(name);
        value.write(self);
    }

    /// A value that is an object.
    fn inside<T>(&mut self, members: impl FnOnce(&mut Self) -> T) -> T {
        self.begin_object();
        let result = members(self);
        self.end_object();
        result
    }

    /// A member that is not there.
    fn null(&mut self, name: &'static str) {
        self.add(name, &None::<u32>);
    }

    /// A member that is an object.
    fn object(&mut self, name: &'static str, members: impl FnOnce(&mut Self)) {
        self.name(name);
        self.inside(members);
    }

    /// A member that is a list of objects.
    fn list<T>(
        &mut self,
        name: &'static str,
        items: impl IntoIterator<Item = T>,
        mut members: impl FnMut(&mut Self, T),
    ) {
        self.items(name, |to| {
            for item in items {
                to.inside(|to| members(to, item));
            }
        });
    }

    /// A member that is a list of what is written one after the other.
    fn items(&mut self, name: &'static str, items: impl FnOnce(&mut Self)) {
        self.name(name);
        self.begin_list();
        items(self);
        self.end_list();
    }

    /// A member that is a list of texts.
    fn texts<T: AsRef<str>>(&mut self, name: &'static str, texts: impl IntoIterator<Item = T>) {
        self.name(name);
        self.begin_list();
        for text in texts {
            self.put_text(text.as_ref());
        }
        self.end_list();
    }

    /// A member that is a range; an open end is left out.
    fn range(&mut self, name: &'static str, low: Option<&Rational>, high: Option<&Rational>) {
        self.name(name);
        self.ends(low, high);
    }

    /// The ends of a range.
    #[inline(never)]
    fn ends(&mut self, low: Option<&Rational>, high: Option<&Rational>) {
        self.begin_object();
        for (name, end) in [("low", low), ("high", high)] {
            if let Some(end) = end {
                self.add(name, end);
            }
        }
        self.end_object();
    }
}

/// A value of an answer.
pub(super) trait Value {
    /// Writes it.
    fn write(&self, to: &mut impl Writer);
}

impl<T: Value> Value for Option<T> {
    fn write(&self, to: &mut impl Writer) {
        match self {
            Some(value) => value.write(to),
            None => to.put_null(),
        }
    }
}

impl<T: Value + ?Sized> Value for &T {
    fn write(&self, to: &mut impl Writer) {
        (**self).write(to);
    }
}

impl Value for String {
    fn write(&self, to: &mut impl Writer) {
        to.put_text(self);
    }
}

impl Value for str {
    fn write(&self, to: &mut impl Writer) {
        to.put_text(self);
    }
}

impl Value for u32 {
    fn write(&self, to: &mut impl Writer) {
        to.put_count(*self);
    }
}

impl Value for bool {
    fn write(&self, to: &mut impl Writer) {
        to.put_flag(*self);
    }
}

/// A number of the base unit.
impl Value for Rational {
    fn write(&self, to: &mut impl Writer) {
        to.put_number(self);
    }
}

macro_rules! quantities {
    ($($name:ident, $unit:ident;)*) => { $(
        impl Value for $name {
            fn write(&self, to: &mut impl Writer) {
                self.$unit().write(to);
            }
        }
    )* };
}

quantities! {
    Mass, grams;
    Volume, cubic_centimetres;
    Temperature, celsius;
    Ratio, number;
    Density, grams_per_cubic_centimetre;
    SaponificationValue, milligrams_per_gram;
    IodineValue, grams_per_100_grams;
}

impl Value for Share {
    fn write(&self, to: &mut impl Writer) {
        self.to_base().write(to);
    }
}

/// A range of numbers of the base unit.
impl Value for Interval {
    fn write(&self, to: &mut impl Writer) {
        to.ends(Some(self.low()), Some(self.high()));
    }
}

/// A range.
impl<Q: Quantity> Value for (Q, Q) {
    fn write(&self, to: &mut impl Writer) {
        to.ends(Some(&self.0.to_base()), Some(&self.1.to_base()));
    }
}

impl Value for [Caution] {
    fn write(&self, to: &mut impl Writer) {
        to.begin_list();
        for caution in self {
            to.inside(|to| {
                to.add("code", caution.code);
                to.add("says", &caution.says);
            });
        }
        to.end_list();
    }
}

/// Writes the error answer.
pub(super) fn faults(faults: &Faults, to: &mut impl Writer) {
    to.inside(|to| {
        to.object("error", |to| {
            to.list("faults", faults.iter(), fault);
        });
    });
}

/// Writes the members of a fault.
pub(super) fn fault(to: &mut impl Writer, fault: &Fault) {
    to.add("code", fault.code);
    to.add("at", &fault.at);
    to.add("says", &fault.says);
}

/// The shape of a range in an answer; an open end is left out.
pub(super) struct Range<Q>(PhantomData<Q>);

impl<Q: Shaped> Shaped for Range<Q> {
    const SHAPE: &'static Shape = &object!(
        "Range",
        ["A range; an open end is left out."],
        { ["The lower end."] low: Option<Q>, ["The upper end."] high: Option<Q>, }
    );
}

/// Defines the shapes of objects of answers. No value has such a type: what was found is written
/// member after member, in the same order.
macro_rules! answer {
    ($( $(#[doc = $doc:literal])* $name:ident { $(
        $(#[doc = $field_doc:literal])* $field:ident: $type:ty,
    )* } )*) => { $(
        $(#[doc = $doc])*
        pub(super) enum $name {}

        impl $crate::wire::shape::Shaped for $name {
            const SHAPE: &'static $crate::wire::shape::Shape = &$crate::wire::shape::object!(
                stringify!($name), [$($doc),*], { $( [$($field_doc),*] $field: $type, )* }
            );
        }
    )* };
}

pub(super) use answer;
