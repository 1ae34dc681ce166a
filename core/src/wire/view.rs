//! Typed views of what was read: requests as Rust sees them.

use std::marker::PhantomData;

use super::accepts::Accepts;
use super::read::Given;
use super::shape::{Shape, Shaped};
use crate::exact::{Interval, Rational};
use crate::quantity::{
    Density, Dimension, IodineValue, Length, Mass, Quantity, Ratio, SaponificationValue, Share,
    Temperature, Volume,
};

/// Where a value stands among all that were read.
#[derive(Clone, Copy)]
pub(crate) struct Slot<'a> {
    values: &'a Vec<Given<'a>>,
    at: usize,
}

impl<'a> Slot<'a> {
    /// The first of those values, the request as a whole.
    pub(crate) fn first(values: &'a Vec<Given<'a>>) -> Self {
        Self { values, at: 0 }
    }

    /// The value that stands so many places after it.
    pub(crate) fn after(self, places: usize) -> Self {
        Self {
            at: self.at + places,
            ..self
        }
    }

    #[cfg_attr(target_family = "wasm", inline(never))]
    pub(crate) fn value(self) -> &'a Given<'a> {
        self.values.get(self.at).unwrap_or(&Given::Absent)
    }

    #[cfg_attr(target_family = "wasm", inline(never))]
    pub(crate) fn is_absent(self) -> bool {
        matches!(self.value(), Given::Absent)
    }

    #[cfg_attr(target_family = "wasm", inline(never))]
    fn number(self) -> Rational {
        match self.value() {
            Given::Number(number) => number.clone(),
            _ => Rational::ONE,
        }
    }

    #[cfg_attr(target_family = "wasm", inline(never))]
    pub(crate) fn count(self) -> u32 {
        match self.value() {
            Given::Count(count) => *count,
            _ => 0,
        }
    }

    /// The first of its items or members, and how many they are.
    pub(crate) fn items(self) -> (Self, usize) {
        match self.value() {
            Given::Items(at, count) => (Self { at: *at, ..self }, *count),
            _ => (self, 0),
        }
    }

    /// The range between its two items.
    pub(crate) fn interval(self) -> Interval {
        let low = self.inside();
        let (low, high) = (low.number(), low.after(1).number());
        let point = || Interval::point(Rational::ONE);
        Interval::new(low, high).unwrap_or_else(point)
    }

    /// The first of its items or members.
    pub(crate) fn inside(self) -> Self {
        self.items().0
    }
}

/// A type as which a value of a request can be seen.
pub(crate) trait View<'a>: Sized {
    /// What is accepted.
    const ACCEPTS: &'static Accepts;
    /// Whether it may be left out.
    const OPTIONAL: bool = false;

    /// The value in that slot.
    fn of(slot: Slot<'a>) -> Self;
}

macro_rules! quantities {
    ($($name:ident)*) => { $(
        impl View<'_> for $name {
            const ACCEPTS: &'static Accepts = &Accepts::Quantity(Dimension::$name);
            fn of(slot: Slot) -> Self {
                Self::from_base(slot.number())
            }
        }
    )* };
}

quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

impl<'a, T: View<'a>> View<'a> for Option<T> {
    const ACCEPTS: &'static Accepts = T::ACCEPTS;
    const OPTIONAL: bool = true;
    fn of(slot: Slot<'a>) -> Self {
        if slot.is_absent() {
            None
        } else {
            Some(T::of(slot))
        }
    }
}

impl<'a> View<'a> for &'a str {
    const ACCEPTS: &'static Accepts = &Accepts::Text;
    fn of(slot: Slot<'a>) -> Self {
        match slot.value() {
            Given::Text(text) => text,
            _ => "",
        }
    }
}

impl View<'_> for u32 {
    const ACCEPTS: &'static Accepts = &Accepts::Count;
    fn of(slot: Slot) -> Self {
        slot.count()
    }
}

impl View<'_> for bool {
    const ACCEPTS: &'static Accepts = &Accepts::Flag;
    fn of(slot: Slot) -> Self {
        matches!(slot.value(), Given::Flag(true))
    }
}

/// A list.
#[derive(Clone, Copy)]
pub struct List<'a, T> {
    next: Slot<'a>,
    count: usize,
    items: PhantomData<T>,
}

impl<'a, T: View<'a>> View<'a> for List<'a, T> {
    const ACCEPTS: &'static Accepts = &Accepts::List(T::ACCEPTS);
    fn of(slot: Slot<'a>) -> Self {
        let (next, count) = slot.items();
        Self {
            next,
            count,
            items: PhantomData,
        }
    }
}

impl<T: Shaped> Shaped for List<'_, T> {
    const SHAPE: &'static Shape = &Shape::List(T::SHAPE);
}

impl<T> List<'_, T> {
    /// How many there are.
    pub fn len(&self) -> usize {
        self.count
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }
}

impl<'a, T> List<'a, T> {
    /// All of them.
    pub(crate) fn all(self) -> Vec<T>
    where
        T: View<'a>,
    {
        let mut all = Vec::with_capacity(self.count);
        for item in self {
            all.push(item);
        }
        all
    }
}

impl<'a, T: View<'a>> Iterator for List<'a, T> {
    type Item = T;
    fn next(&mut self) -> Option<T> {
        self.count = self.count.checked_sub(1)?;
        let item = T::of(self.next);
        self.next = self.next.after(1);
        Some(item)
    }
}

/// A list that may be left out, which is as if it were empty.
#[derive(Clone, Copy)]
pub struct OptionalList<'a, T>(List<'a, T>);

impl<'a, T: View<'a>> View<'a> for OptionalList<'a, T> {
    const ACCEPTS: &'static Accepts = <List<T> as View>::ACCEPTS;
    const OPTIONAL: bool = true;
    fn of(slot: Slot<'a>) -> Self {
        Self(List::of(slot))
    }
}

impl<T: Shaped> Shaped for OptionalList<'_, T> {
    const SHAPE: &'static Shape = &Shape::Optional(<List<T> as Shaped>::SHAPE);
}

impl<'a, T: View<'a>> IntoIterator for OptionalList<'a, T> {
    type Item = T;
    type IntoIter = List<'a, T>;
    fn into_iter(self) -> List<'a, T> {
        self.0
    }
}

/// An object of values by name.
#[derive(Clone, Copy)]
pub struct Named<'a, T>(List<'a, T>);

impl<'a, T: View<'a>> View<'a> for Named<'a, T> {
    const ACCEPTS: &'static Accepts = &Accepts::Map(T::ACCEPTS);
    fn of(slot: Slot<'a>) -> Self {
        Self(List::of(slot))
    }
}

impl<T: Shaped> Shaped for Named<'_, T> {
    const SHAPE: &'static Shape = &Shape::Map(T::SHAPE);
}

impl<'a, T: View<'a>> Iterator for Named<'a, T> {
    type Item = (&'a str, T);
    fn next(&mut self) -> Option<Self::Item> {
        let name = <&str>::of(self.0.next);
        self.0.next()?;
        Some((name, self.0.next()?))
    }
}

/// A list of two.
#[derive(Debug, Clone)]
pub struct Pair<T>(pub T, pub T);

impl<'a, T: View<'a>> View<'a> for Pair<T> {
    const ACCEPTS: &'static Accepts = &Accepts::Pair(T::ACCEPTS);
    fn of(slot: Slot<'a>) -> Self {
        let low = slot.inside();
        Self(T::of(low), T::of(low.after(1)))
    }
}

impl<T: Shaped> Shaped for Pair<T> {
    const SHAPE: &'static Shape = &Shape::Pair(T::SHAPE);
}

/// The name of a member whose Rust name is raw, such as `r#box`.
pub(crate) const fn plain(name: &'static str) -> &'static str {
    match name.as_bytes() {
        [b'r', b'#', ..] => name.split_at(2).1,
        _ => name,
    }
}

/// Defines a request object: what is accepted, its shape, and a view of it with a method for each
/// member.
macro_rules! request {
    ($( $(#[doc = $doc:literal])* $name:ident<$life:lifetime> { $(
        $(#[doc = $field_doc:literal])* $field:ident: $type:ty,
    )* } )*) => { $(
        $(#[doc = $doc])*
        #[derive(Clone, Copy)]
        pub struct $name<$life>($crate::wire::view::Slot<$life>);

        const _: () = {
            /// The order of the members.
            #[allow(non_camel_case_types)]
            enum Index { $($field),* }

            impl<$life> $name<$life> { $(
                $(#[doc = $field_doc])*
                pub fn $field(self) -> $type {
                    $crate::wire::view::View::of(self.0.after(Index::$field as usize))
                }
            )* }
        };

        impl<$life> $crate::wire::shape::Shaped for $name<$life> {
            const SHAPE: &'static $crate::wire::shape::Shape = &$crate::wire::shape::object!(
                stringify!($name), [$($doc),*], { $( [$($field_doc),*] $field: $type, )* }
            );
        }

        impl<$life> $crate::wire::view::View<$life> for $name<$life> {
            const ACCEPTS: &'static $crate::wire::accepts::Accepts =
                &$crate::wire::accepts::Accepts::Object(&[$(
                    $crate::wire::accepts::Member {
                        name: $crate::wire::view::plain(stringify!($field)),
                        optional: <$type as $crate::wire::view::View<$life>>::OPTIONAL,
                        accepts: <$type as $crate::wire::view::View<$life>>::ACCEPTS,
                    },
                )*]);
            fn of(slot: $crate::wire::view::Slot<$life>) -> Self {
                Self(slot.inside())
            }
        }
    )* };
}

/// Defines a choice of words: the enum, its shape and what is accepted.
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

        impl $crate::wire::view::View<'_> for $name {
            const ACCEPTS: &'static $crate::wire::accepts::Accepts =
                &$crate::wire::accepts::Accepts::Words(&[$($word),*]);
            fn of(slot: $crate::wire::view::Slot) -> Self {
                [$(Self::$variant),*][slot.count() as usize]
            }
        }
    )* };
}

pub(crate) use {request, words};
