//! From a JSON tree to checked values, with every fault at its place.

use std::borrow::Cow;
use std::fmt;

use super::accepts::{Accepts, Member, Place, names};
use super::json::Json;
use crate::chemistry::Acid;
use crate::exact::{NumberFault, Rational, first};
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
    /// What stands there has a fault. It is seen as a value that raises no further fault, so that
    /// everything else can still be checked.
    Unread,
    /// A number of base units.
    Number(Rational),
    /// A whole number.
    Count(u32),
    /// Which of the words.
    Word(usize),
    /// True or false.
    Flag(bool),
    /// A text.
    Text(&'j str),
    /// A fat.
    Fat(Fat),
    /// An acid.
    Acid(Box<Acid>),
    /// The items of a list, or the members of an object in the order of their table.
    Items(Vec<Given<'j>>),
}

/// An object as it was written.
type Object<'j> = [(Cow<'j, str>, Json<'j>)];

/// Reads a whole request, and what its faults are.
pub(crate) fn request<'j>(json: &'j Json<'j>, accepts: &'static Accepts) -> (Given<'j>, Faults) {
    let mut faults = Faults::new();
    let given = read(json, accepts, &Place::Root, &mut faults);
    (given, faults)
}

/// Reads a value by a table of what is accepted, and adds its faults.
pub(crate) fn read<'j>(
    json: &'j Json<'j>,
    accepts: &'static Accepts,
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    match (accepts, json) {
        (Accepts::Quantity(dimension), _) => number(json, *dimension, at, faults),
        (Accepts::Count, Json::Number(digits)) => count(digits, at, faults),
        (Accepts::Text, Json::Text(text)) => match is_short(text, at, faults) {
            true => Given::Text(text),
            false => Given::Unread,
        },
        (Accepts::Flag, Json::Flag(flag)) => Given::Flag(*flag),
        (Accepts::Words(words), Json::Text(text)) => word(text, words, at, faults),
        (Accepts::Object(members), Json::Object(given)) => object(given, members, at, faults),
        (Accepts::List(item), Json::List(items)) => list(items, item, at, faults),
        (Accepts::Pair(item), Json::List(items)) if items.len() == 2 => {
            list(items, item, at, faults)
        }
        (Accepts::Range(item), Json::List(items)) if items.len() == 2 => {
            range(items, item, at, faults)
        }
        (Accepts::OneOrRange([_, range]), Json::List(_)) => read(json, range, at, faults),
        (Accepts::OneOrRange([one, _]), _) => read(json, one, at, faults),
        (Accepts::Map(value), Json::Object(given)) => map(given, value, at, faults),
        (Accepts::Own(own), _) => (own.read)(json, at, faults),
        _ => wrong_type(json, accepts, at, faults),
    }
}

/// Adds a fault; the value is not read.
pub(crate) fn fault<'j>(
    code: &'static str,
    at: &Place,
    says: &dyn fmt::Display,
    faults: &mut Faults,
) -> Given<'j> {
    faults.add(code, at, says);
    Given::Unread
}

/// Adds the fault that something else stands there.
pub(crate) fn wrong_type<'j>(
    json: &Json,
    accepts: &Accepts,
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    let kind = json.kind();
    let says = format_args!("{kind} stands here; accepted: {accepts}");
    fault("wrong_type", at, &says, faults)
}

fn number<'j>(json: &Json, dimension: Dimension, at: &Place, faults: &mut Faults) -> Given<'j> {
    let read = match json {
        Json::Number(digits) => match Rational::parse(digits) {
            Ok(number) => dimension.checked(number),
            // NaN or Infinity, as JavaScript writes them.
            Err(NumberFault::NotANumber(_)) => Err(QuantityFault::NotFinite),
            Err(fault) => Err(fault.into()),
        },
        Json::Text(text) => {
            if !is_short(text, at, faults) {
                return Given::Unread;
            }
            dimension.read(text)
        }
        _ => return wrong_type(json, &Accepts::Quantity(dimension), at, faults),
    };
    match read {
        Ok(number) => Given::Number(number),
        Err(found) => fault(found.code(), at, &found, faults),
    }
}

/// Whether it is not too long; a fault if it is.
fn is_short(text: &str, at: &Place, faults: &mut Faults) -> bool {
    let short = text.len() <= MAX_TEXT_BYTES;
    if !short {
        let says = format_args!("a text has at most {MAX_TEXT_BYTES} bytes");
        faults.add("text_too_long", at, says);
    }
    short
}

fn count<'j>(digits: &str, at: &Place, faults: &mut Faults) -> Given<'j> {
    let number = Rational::parse(digits);
    if let Some(count) = number.as_ref().ok().and_then(Rational::to_count) {
        return Given::Count(count);
    }
    // A double arrives with an exponent, which nobody wrote.
    let written = match &number {
        Ok(number) => number.to_plain(),
        Err(_) => digits.to_owned(),
    };
    let (written, most, accepts) = (shown(&written), u32::MAX, Accepts::Count);
    let says = format_args!("{written} is no whole number from 0 to {most}; accepted: {accepts}");
    fault("bad_number", at, &says, faults)
}

/// Which of the words it is.
fn word<'j>(
    text: &str,
    words: &'static [&'static str],
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    if let Some(found) = words.iter().position(|word| *word == text) {
        return Given::Word(found);
    }
    let (shown, accepts) = (shown(text), Accepts::Words(words));
    let says = format_args!("\"{shown}\" is not known here; accepted: {accepts}");
    fault("unknown_word", at, &says, faults)
}

/// Whether they are not too many; a fault if they are.
fn are_few(count: usize, at: &Place, faults: &mut Faults) -> bool {
    let few = count <= MAX_ITEMS;
    if !few {
        let says = format_args!("a list or an object has at most {MAX_ITEMS} items");
        faults.add("too_many", at, says);
    }
    few
}

fn list<'j>(
    items: &'j [Json<'j>],
    accepts: &'static Accepts,
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    if !are_few(items.len(), at, faults) {
        return Given::Unread;
    }
    let mut all = Vec::with_capacity(items.len());
    for (i, item) in items.iter().enumerate() {
        all.push(read(item, accepts, &Place::Item(at, i), faults));
    }
    Given::Items(all)
}

/// Two quantities, the lower first.
fn range<'j>(
    ends: &'j [Json<'j>],
    accepts: &'static Accepts,
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    let range = list(ends, accepts, at, faults);
    if let Given::Items(ends) = &range
        && let [Given::Number(low), Given::Number(high)] = &ends[..]
        && low > high
    {
        let says = "a range goes from the lower to the higher value";
        return fault("bad_range", at, &says, faults);
    }
    range
}

/// The names and values of an object with any names, one after the other.
fn map<'j>(
    given: &'j Object<'j>,
    accepts: &'static Accepts,
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    if !are_few(given.len(), at, faults) {
        return Given::Unread;
    }
    let mut all = Vec::with_capacity(2 * given.len());
    for (i, (name, json)) in given.iter().enumerate() {
        let place = Place::Member(at, name);
        if stands_in(&given[..i], name) {
            stands_twice(name, &place, faults);
        }
        all.push(Given::Text(name));
        all.push(read(json, accepts, &place, faults));
    }
    Given::Items(all)
}

/// The members of an object.
fn object<'j>(
    given: &'j Object<'j>,
    members: &'static [Member],
    at: &Place,
    faults: &mut Faults,
) -> Given<'j> {
    check_names(given, members, at, faults);
    let mut all = Vec::with_capacity(members.len());
    for member in members {
        let place = Place::Member(at, member.name);
        let found = given.iter().find(|(name, _)| name == member.name);
        all.push(match found {
            None | Some((_, Json::Null)) if member.optional => Given::Absent,
            Some((_, json)) => read(json, member.accepts, &place, faults),
            None => {
                let accepts = member.accepts;
                let says = format_args!("this is missing; accepted: {accepts}");
                fault("missing", &place, &says, faults)
            }
        });
    }
    Given::Items(all)
}

/// Members that are not among those of the table are faults, and so are those that stand there
/// twice.
fn check_names(given: &Object, members: &'static [Member], at: &Place, faults: &mut Faults) {
    for (index, (name, _)) in given.iter().enumerate() {
        let known = members.iter().any(|member| member.name == name);
        if known && !stands_in(&given[..index], name) {
            continue;
        }
        let short = shown(name);
        let place = Place::Member(at, short);
        if known {
            stands_twice(name, &place, faults);
        } else {
            let known = names(members);
            let says = format_args!("\"{short}\" is not known here; accepted: {known}");
            faults.add("unknown_key", place, says);
        }
    }
}

/// Whether a member has that name.
fn stands_in(members: &Object, name: &str) -> bool {
    members.iter().any(|(known, _)| known == name)
}

fn stands_twice(name: &str, at: &Place, faults: &mut Faults) {
    let name = shown(name);
    let says = format_args!("\"{name}\" stands here twice; write it once");
    faults.add("duplicate_key", at, says);
}

/// The first characters of a text, to be shown in a fault.
pub(crate) fn shown(text: &str) -> &str {
    first(text, 40)
}
