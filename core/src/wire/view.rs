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

const NO_ITEMS: &Vec<Given<'static>> = &Vec::new();

/// What is seen of it; a stand-in, that raises no further fault, where it could not be read.
impl<'a> Given<'a> {
    /// The items of a list; the members of an object.
    #[cfg_attr(target_family = "wasm", inline(never))]
    fn items(&'a self) -> &'a Vec<Given<'a>> {
        match self {
            Given::Items(items) => items,
            _ => NO_ITEMS,
        }
    }

    /// The item or member at that place.
    #[cfg_attr(target_family = "wasm", inline(never))]
    fn item(&'a self, at: usize) -> &'a Given<'a> {
        self.items().get(at).unwrap_or(&Given::Absent)
    }

    /// The item or member at that place, seen as that type.
    pub(crate) fn get<T: View<'a>>(&'a self, at: usize) -> T {
        T::of(self.item(at))
    }

    #[cfg_attr(target_family = "wasm", inline(never))]
    fn number(&self) -> Rational {
        match self {
            Given::Number(number) => number.clone(),
            _ => Rational::ONE,
        }
    }

    /// Which of the words it is.
    #[cfg_attr(target_family = "wasm", inline(never))]
    pub(crate) fn word(&self) -> usize {
        match self {
            Given::Word(word) => *word,
            _ => 0,
        }
    }

    /// The range between its two items; a number is a range too.
    pub(crate) fn interval(&'a self) -> Interval {
        if let Given::Items(ends) = self
            && let [low, high] = &ends[..]
            && let Some(range) = Interval::new(low.number(), high.number())
        {
            return range;
        }
        Interval::point(self.number())
    }
}

/// A type as which a value of a request can be seen.
pub(crate) trait View<'a>: Sized {
    /// What is accepted.
    const ACCEPTS: &'static Accepts;
    /// Whether it may be left out.
    const OPTIONAL: bool = false;

    /// That value.
    fn of(given: &'a Given<'a>) -> Self;
}

macro_rules! quantities {
    ($($name:ident)*) => { $(
        impl View<'_> for $name {
            const ACCEPTS: &'static Accepts = &Accepts::Quantity(Dimension::$name);
            fn of(given: &Given) -> Self {
                Self::from_base(given.number())
            }
        }
    )* };
}

quantities!(Mass Volume Length Temperature Share Ratio Density SaponificationValue IodineValue);

impl<'a, T: View<'a>> View<'a> for Option<T> {
    const ACCEPTS: &'static Accepts = T::ACCEPTS;
    const OPTIONAL: bool = true;
    fn of(given: &'a Given<'a>) -> Self {
        match given {
            Given::Absent => None,
            given => Some(T::of(given)),
        }
    }
}

impl<'a> View<'a> for &'a str {
    const ACCEPTS: &'static Accepts = &Accepts::Text;
    fn of(given: &'a Given<'a>) -> Self {
        match given {
            Given::Text(text) => text,
            _ => "",
        }
    }
}

impl View<'_> for u32 {
    const ACCEPTS: &'static Accepts = &Accepts::Count;
    fn of(given: &Given) -> Self {
        match given {
            Given::Count(count) => *count,
            _ => 1,
        }
    }
}

impl View<'_> for bool {
    const ACCEPTS: &'static Accepts = &Accepts::Flag;
    fn of(given: &Given) -> Self {
        matches!(given, Given::Flag(true))
    }
}

/// A list.
#[derive(Clone, Copy)]
pub struct List<'a, T> {
    items: &'a [Given<'a>],
    seen_as: PhantomData<T>,
}

impl<'a, T: View<'a>> View<'a> for List<'a, T> {
    const ACCEPTS: &'static Accepts = &Accepts::List(T::ACCEPTS);
    fn of(given: &'a Given<'a>) -> Self {
        Self {
            items: given.items(),
            seen_as: PhantomData,
        }
    }
}

impl<T: Shaped> Shaped for List<'_, T> {
    const SHAPE: &'static Shape = &Shape::List(T::SHAPE);
}

impl<T> List<'_, T> {
    /// How many there are.
    pub fn len(&self) -> usize {
        self.items.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.items.is_empty()
    }

    /// Whether the word of that place among all words is there.
    pub(crate) fn has(self, word: usize) -> bool {
        self.items.iter().any(|item| item.word() == word)
    }
}

impl<'a, T> List<'a, T> {
    /// All of them.
    pub(crate) fn all(self) -> Vec<T>
    where
        T: View<'a>,
    {
        let mut all = Vec::with_capacity(self.len());
        for item in self {
            all.push(item);
        }
        all
    }
}

impl<'a, T: View<'a>> Iterator for List<'a, T> {
    type Item = T;
    fn next(&mut self) -> Option<T> {
        let (item, left) = self.items.split_first()?;
        self.items = left;
        Some(T::of(item))
    }
}

/// A list that may be left out, which is as if it were empty.
#[derive(Clone, Copy)]
pub struct OptionalList<'a, T>(List<'a, T>);

impl<'a, T: View<'a>> View<'a> for OptionalList<'a, T> {
    const ACCEPTS: &'static Accepts = <List<T> as View>::ACCEPTS;
    const OPTIONAL: bool = true;
    fn of(given: &'a Given<'a>) -> Self {
        Self(List::of(given))
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
    fn of(given: &'a Given<'a>) -> Self {
        Self(List::of(given))
    }
}

impl<T: Shaped> Shaped for Named<'_, T> {
    const SHAPE: &'static Shape = &Shape::Map(T::SHAPE);
}

impl<'a, T: View<'a>> Iterator for Named<'a, T> {
    type Item = (&'a str, T);
    fn next(&mut self) -> Option<Self::Item> {
        let [name, value, left @ ..] = self.0.items else {
            return None;
        };
        self.0.items = left;
        Some((View::of(name), View::of(value)))
    }
}

/// A list of two.
#[derive(Debug, Clone)]
pub struct Pair<T>(pub T, pub T);

impl<'a, T: View<'a>> View<'a> for Pair<T> {
    const ACCEPTS: &'static Accepts = &Accepts::Pair(T::ACCEPTS);
    fn of(given: &'a Given<'a>) -> Self {
        Self(given.get(0), given.get(1))
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
        pub struct $name<$life>(&$life $crate::wire::read::Given<$life>);

        const _: () = {
            /// The order of the members.
            #[allow(non_camel_case_types)]
            enum Index { $($field),* }

            impl<$life> $name<$life> { $(
                $(#[doc = $field_doc])*
                pub fn $field(self) -> $type {
                    self.0.get(Index::$field as usize)
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
            fn of(given: &$life $crate::wire::read::Given<$life>) -> Self {
                Self(given)
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
            fn of(given: &$crate::wire::read::Given) -> Self {
                match given.word() {
                    $( word if word == Self::$variant as usize => Self::$variant, )*
                    _ => [$(Self::$variant),*][0],
                }
            }
        }
    )* };
}

pub(crate) use {request, words};
