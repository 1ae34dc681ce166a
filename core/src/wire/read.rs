//! From a JSON tree to checked values, with every fault at its place.

use std::borrow::Cow;
use std::fmt;

use super::accepts::{Accepts, Member, Place, names};
use super::json::Json;
use crate::chemistry::Acid;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::Faults;
use crate::quantity::{Dimension, QuantityFault};

/// The most items of a list and members of an object in a request.
pub const MAX_ITEMS: usize = 1_000;

/// The longest text in a request, in bytes.
pub const MAX_TEXT_BYTES: usize = 1_000;

/// A value that was read.
pub(crate) enum Given<'j> {
    /// Nothing stands there.
    Absent,
    /// A number of base units.
    Number(Rational),
    /// A whole number; of words, which of them.
    Count(u32),
    /// True or false.
    Flag(bool),
    /// A text.
    Text(&'j str),
    /// A fat.
    Fat(Fat),
    /// An acid.
    Acid(Acid),
    /// The items of a list or the members of an object in the order of their table: where they
    /// begin among all values, and how many they are.
    Items(usize, usize),
}

/// Reads a request by a table of what is accepted.
///
/// Reading always gives a value: where there is a fault, a stand-in that raises no further
/// fault, so that everything else can still be read and checked.
pub(crate) struct Reader<'j> {
    /// The items and members of all lists and objects.
    pub values: Vec<Given<'j>>,
    /// What was found.
    pub faults: Faults,
}

impl<'j> Reader<'j> {
    /// Reads a whole request, which becomes the first value.
    pub(crate) fn of(json: &'j Json<'j>, accepts: &'static Accepts) -> Self {
        let mut reader = Self {
            values: Vec::with_capacity(64),
            faults: Faults::new(),
        };
        reader.values.push(Given::Absent);
        reader.values[0] = reader.read(json, accepts, Place::Root);
        reader
    }

    /// Reads a value, or adds faults and gives a stand-in.
    pub(crate) fn read(
        &mut self,
        json: &'j Json<'j>,
        accepts: &'static Accepts,
        at: Place,
    ) -> Given<'j> {
        let read = match (accepts, json) {
            (Accepts::Quantity(dimension), _) => self.number(json, *dimension, at),
            (Accepts::Count, Json::Number(digits)) => self.count(digits, at),
            (Accepts::Text, Json::Text(text)) => self.text(text, at).map(Given::Text),
            (Accepts::Flag, Json::Flag(flag)) => Some(Given::Flag(*flag)),
            (Accepts::Words(words), Json::Text(text)) => self.word(text, words, at),
            (Accepts::Object(members), Json::Object(given)) => {
                self.check_names(given, members, at);
                Some(self.object(Some(given), members, at))
            }
            (Accepts::List(item), Json::List(items)) => self.list(items, item, at),
            (Accepts::Pair(item), Json::List(items)) if items.len() == 2 => {
                self.list(items, item, at)
            }
            (Accepts::Range(item), _) => self.range(json, item, at),
            (Accepts::OneOrRange(item), Json::List(_)) => self.range(json, item, at),
            (Accepts::OneOrRange(item), _) => {
                let number = self.read(json, item, at);
                Some(self.two(number))
            }
            (Accepts::Map(value), Json::Object(given)) => self.map(given, value, at),
            (Accepts::Own(own), _) => (own.read)(self, json, at),
            _ => self.wrong_type(json, accepts, at),
        };
        match read {
            Some(value) => value,
            None => self.stand_in(accepts),
        }
    }

    /// A value in place of one that could not be read.
    fn stand_in(&mut self, accepts: &'static Accepts) -> Given<'j> {
        match accepts {
            Accepts::Quantity(_) => Given::Number(Rational::ONE),
            Accepts::Count => Given::Count(1),
            Accepts::Text => Given::Text(""),
            Accepts::Flag => Given::Flag(false),
            Accepts::Words(_) => Given::Count(0),
            Accepts::Object(members) => self.object(None, members, Place::Root),
            Accepts::List(_) | Accepts::Map(_) => Given::Items(0, 0),
            Accepts::Pair(_) | Accepts::Range(_) | Accepts::OneOrRange(_) => {
                self.two(Given::Number(Rational::ONE))
            }
            Accepts::Own(own) => (own.stand_in)(),
        }
    }

    /// Room for so many items; where it begins.
    pub(crate) fn room(&mut self, count: usize) -> usize {
        let first = self.values.len();
        self.values.resize_with(first + count, || Given::Absent);
        first
    }

    /// Twice that number.
    fn two(&mut self, number: Given<'j>) -> Given<'j> {
        let first = self.values.len();
        if let Given::Number(number) = &number {
            self.values.push(Given::Number(number.clone()));
        }
        self.values.push(number);
        Given::Items(first, 2)
    }

    /// Adds a fault; no value.
    pub(crate) fn fault(
        &mut self,
        code: &'static str,
        at: Place,
        says: &dyn fmt::Display,
    ) -> Option<Given<'j>> {
        self.faults.add(code, at, says);
        None
    }

    /// Adds the fault that something else stands there.
    pub(crate) fn wrong_type(
        &mut self,
        json: &Json,
        accepts: &Accepts,
        at: Place,
    ) -> Option<Given<'j>> {
        let kind = json.kind();
        let says = format_args!("{kind} stands here; accepted: {accepts}");
        self.fault("wrong_type", at, &says)
    }

    fn number(&mut self, json: &Json, dimension: Dimension, at: Place) -> Option<Given<'j>> {
        let read = match json {
            Json::Number(digits) => match digits.as_ref() {
                // As JavaScript writes them.
                "NaN" | "Infinity" | "-Infinity" => Err(QuantityFault::NotFinite),
                digits => Rational::parse(digits)
                    .map_err(QuantityFault::from)
                    .and_then(|number| dimension.checked(number)),
            },
            Json::Text(text) => {
                self.text(text, at)?;
                dimension.read(text)
            }
            _ => return self.wrong_type(json, &Accepts::Quantity(dimension), at),
        };
        match read {
            Ok(number) => Some(Given::Number(number)),
            Err(fault) => self.fault(fault.code(), at, &fault),
        }
    }

    fn text<'t>(&mut self, text: &'t str, at: Place) -> Option<&'t str> {
        if text.len() <= MAX_TEXT_BYTES {
            return Some(text);
        }
        let says = format_args!("a text has at most {MAX_TEXT_BYTES} bytes");
        self.faults.add("text_too_long", at, says);
        None
    }

    fn count(&mut self, digits: &str, at: Place) -> Option<Given<'j>> {
        let number = Rational::parse(digits);
        if let Some(count) = number.as_ref().ok().and_then(Rational::to_count) {
            return Some(Given::Count(count));
        }
        // A double arrives with an exponent, which nobody wrote.
        let written = match &number {
            Ok(number) => number.to_plain(),
            Err(_) => digits.to_owned(),
        };
        let (written, most, accepts) = (shown(&written), u32::MAX, Accepts::Count);
        let says =
            format_args!("{written} is no whole number from 0 to {most}; accepted: {accepts}");
        self.fault("bad_number", at, &says)
    }

    /// Which of the words it is.
    fn word(&mut self, text: &str, words: &'static [&'static str], at: Place) -> Option<Given<'j>> {
        if let Some(found) = words.iter().position(|word| *word == text) {
            return Some(Given::Count(found as u32));
        }
        let (shown, accepts) = (shown(text), Accepts::Words(words));
        let says = format_args!("\"{shown}\" is not known here; accepted: {accepts}");
        self.fault("unknown_word", at, &says)
    }

    fn list(
        &mut self,
        items: &'j [Json<'j>],
        accepts: &'static Accepts,
        at: Place,
    ) -> Option<Given<'j>> {
        self.check_count(items.len(), at)?;
        let first = self.room(items.len());
        for (i, item) in items.iter().enumerate() {
            self.values[first + i] = self.read(item, accepts, Place::Item(&at, i));
        }
        Some(Given::Items(first, items.len()))
    }

    fn check_count(&mut self, count: usize, at: Place) -> Option<()> {
        if count <= MAX_ITEMS {
            return Some(());
        }
        let says = format_args!("a list or an object has at most {MAX_ITEMS} items");
        self.faults.add("too_many", at, says);
        None
    }

    /// Two quantities, the lower first.
    fn range(
        &mut self,
        json: &'j Json<'j>,
        accepts: &'static Accepts,
        at: Place,
    ) -> Option<Given<'j>> {
        let items = match json {
            Json::List(items) if items.len() == 2 => items,
            _ => return self.wrong_type(json, &Accepts::Range(accepts), at),
        };
        let range = self.list(items, accepts, at);
        if let [.., Given::Number(low), Given::Number(high)] = &self.values[..]
            && low > high
        {
            let says = "a range goes from the lower to the higher value";
            return self.fault("bad_range", at, &says);
        }
        range
    }

    /// The names and values of an object with any names, one after the other.
    fn map(
        &mut self,
        given: &'j [(Cow<'j, str>, Json<'j>)],
        accepts: &'static Accepts,
        at: Place,
    ) -> Option<Given<'j>> {
        self.check_count(given.len(), at)?;
        let first = self.room(2 * given.len());
        for (i, (name, json)) in given.iter().enumerate() {
            let place = Place::Member(&at, name);
            if given[..i].iter().any(|(earlier, _)| earlier == name) {
                self.stands_twice(name, place);
            }
            self.values[first + 2 * i] = Given::Text(name);
            self.values[first + 2 * i + 1] = self.read(json, accepts, place);
        }
        Some(Given::Items(first, 2 * given.len()))
    }

    /// The members of an object, or stand-ins for all that may not be left out.
    fn object(
        &mut self,
        given: Option<&'j [(Cow<'j, str>, Json<'j>)]>,
        members: &'static [Member],
        at: Place,
    ) -> Given<'j> {
        let first = self.room(members.len());
        for (i, member) in members.iter().enumerate() {
            let found = given.and_then(|given| {
                let mut given = given.iter();
                given.find(|(name, _)| name == member.name)
            });
            let place = Place::Member(&at, member.name);
            self.values[first + i] = match found {
                None | Some((_, Json::Null)) if member.optional => continue,
                Some((_, json)) => self.read(json, member.accepts, place),
                None => {
                    if given.is_some() {
                        let accepts = member.accepts;
                        let says = format_args!("this is missing; accepted: {accepts}");
                        self.faults.add("missing", place, says);
                    }
                    self.stand_in(member.accepts)
                }
            };
        }
        Given::Items(first, members.len())
    }

    /// Members that are not among those of the table are faults, and so are those that stand
    /// there twice.
    fn check_names(
        &mut self,
        given: &[(Cow<'j, str>, Json<'j>)],
        members: &'static [Member],
        at: Place,
    ) {
        for (index, (name, _)) in given.iter().enumerate() {
            let known = members.iter().any(|member| member.name == name);
            let twice = || given[..index].iter().any(|(earlier, _)| earlier == name);
            if known && !twice() {
                continue;
            }
            let short = shown(name);
            let place = Place::Member(&at, short);
            if known {
                self.stands_twice(name, place);
            } else {
                let known = names(members);
                let says = format_args!("\"{short}\" is not known here; accepted: {known}");
                self.faults.add("unknown_key", place, says);
            }
        }
    }

    fn stands_twice(&mut self, name: &str, at: Place) {
        let name = shown(name);
        let says = format_args!("\"{name}\" stands here twice; write it once");
        self.faults.add("duplicate_key", at, says);
    }
}

/// The first characters of a text, to be shown in a fault.
pub(crate) fn shown(text: &str) -> &str {
    const SHOWN: usize = 40;
    match text.char_indices().nth(SHOWN) {
        Some((end, _)) => &text[..end],
        None => text,
    }
}
