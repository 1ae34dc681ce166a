//! Text with units.

use super::units::{AMBIGUOUS, UNITS, Unit, spellings};
use super::{Dimension, QuantityFault};
use crate::exact::{NumberFault, Rational, scan, shown};

/// The most parts that a quantity may have: `2 lb 3 oz` has two.
const MAX_PARTS: usize = 4;

/// Reads a quantity of the expected dimension; the number in its base unit.
pub(super) fn read(text: &str, expected: Dimension) -> Result<Rational, QuantityFault> {
    let mut rest = text.trim();
    let mut sum = Rational::ZERO;
    let mut smaller_than: Option<Rational> = None;
    for part in 0..MAX_PARTS {
        let (number, after) = scan(rest)?;
        let after = after.trim();
        if after.is_empty() {
            return if part == 0 {
                Ok(number)
            } else {
                Err(QuantityFault::BadParts(expected))
            };
        }
        if after.chars().next().is_some_and(is_of_number) {
            return Err(NumberFault::NotANumber(shown(rest)).into());
        }
        let (unit, after) = unit_at(after, expected)?;
        let after = without_point(after);
        if after.starts_with('.') {
            // "5 lb.5 oz": 5 ounces or half of one?
            return Err(NumberFault::NotANumber(shown(after)).into());
        }
        let after = after.trim();
        if part == 0 && after.is_empty() {
            return Ok(in_base(&number, unit));
        }
        let splits = matches!(
            expected,
            Dimension::Mass | Dimension::Volume | Dimension::Length
        );
        let factor = unit.factor();
        let descends = smaller_than.is_none_or(|larger| factor < larger);
        if !splits || !descends || matches!(rest.as_bytes(), [b'-' | b'+', ..]) {
            return Err(QuantityFault::BadParts(expected));
        }
        sum = sum + number * &factor;
        if after.is_empty() {
            return Ok(sum);
        }
        smaller_than = Some(factor);
        rest = after;
    }
    Err(QuantityFault::BadParts(expected))
}

/// What follows the point of an abbreviation: `oz.`, but not `lb.5`.
fn without_point(text: &str) -> &str {
    match text.strip_prefix('.') {
        Some(after) if after.is_empty() || after.starts_with(' ') => after,
        _ => text,
    }
}

/// A number of `unit` as a number of the base unit.
pub(super) fn in_base(number: &Rational, unit: &Unit) -> Rational {
    (number - &unit.zero()) * unit.factor()
}

/// A number in the base unit as a number of `unit`.
pub(super) fn in_unit(base: &Rational, unit: &Unit) -> Rational {
    base.checked_div(&unit.factor()).unwrap_or_default() + unit.zero()
}

/// The unit with exactly that name.
pub(super) fn unit(name: &str) -> Option<&'static Unit> {
    let spelt = |unit: &&Unit| unit.names().any(|n| n == name);
    let spelt_in_any_case =
        |unit: &&Unit| name.len() > 1 && unit.names().any(|n| n.eq_ignore_ascii_case(name));
    UNITS
        .iter()
        .find(spelt)
        .or_else(|| UNITS.iter().find(spelt_in_any_case))
}

/// The unit at the start of `text`, and what follows it.
fn unit_at(text: &str, expected: Dimension) -> Result<(&'static Unit, &str), QuantityFault> {
    // Mostly nothing follows the unit: no longer name can stand there then.
    let is_alone =
        |unit: &&Unit| unit.dimension == expected && unit.names().any(|name| name == text);
    if let Some(unit) = UNITS.iter().find(is_alone) {
        return Ok((unit, ""));
    }
    let mut found = None;
    let mut best = (0, false);
    for unit in &UNITS {
        for name in unit.names() {
            let rank = (name.len(), unit.dimension == expected);
            if rank >= best && starts_with_unit(text, name) {
                (found, best) = (Some((unit, name)), rank);
            }
        }
    }
    for (names, write) in &AMBIGUOUS {
        for name in spellings(names) {
            if name.len() > best.0 && starts_with_unit(text, name) {
                return Err(QuantityFault::Ambiguous(name.to_owned(), write));
            }
        }
    }
    let Some((unit, name)) = found else {
        let word = text.chars().take(20).take_while(|c| !c.is_whitespace());
        return Err(QuantityFault::UnknownUnit(word.collect(), expected));
    };
    if unit.dimension == expected {
        return Ok((unit, &text[name.len()..]));
    }
    let (name, found) = (name.to_owned(), unit.dimension);
    Err(QuantityFault::WrongDimension(name, found, expected))
}

/// Whether `text` begins with the unit, and the unit ends there.
fn starts_with_unit(text: &str, name: &str) -> bool {
    let Some((head, after)) = text.split_at_checked(name.len()) else {
        return false;
    };
    let same = head == name || (name.len() > 1 && head.eq_ignore_ascii_case(name));
    let next = after.chars().next();
    let goes_on = |c: char| {
        is_letter(c)
            || matches!(c, '/' | '^' | '³' | '²')
            || (name.ends_with('1') && matches!(c, '0'..='9' | '.'))
    };
    same && !next.is_some_and(goes_on)
}

// Which fault a text gets depends on these two, never whether it is read. They go by whole
// blocks: the exact tables of Unicode would take 2 kB of the browser package.

/// Digits and fractions of Latin script, and what stands between digits.
fn is_of_number(c: char) -> bool {
    matches!(c, '0'..='9' | '²' | '³' | '¹' | '¼'..='¾' | '⁰'..='₉' | '⅐'..='↉')
        || matches!(c, '.' | ',' | '/' | '⁄')
}

/// What stands in words, of any script.
fn is_letter(c: char) -> bool {
    let latin = matches!(c, 'A'..='Z' | 'a'..='z' | 'ª' | 'µ' | 'º' | 'À'..='Ö' | 'Ø'..='ö');
    let other = matches!(c, 'ø'..='\u{1fff}' | '\u{2c00}'..='\u{2dff}' | '\u{3040}'..='\u{fdff}')
        || matches!(c, 'Ａ'..='Ｚ' | 'ａ'..='ｚ' | '\u{10000}'..='\u{1efff}' | '\u{20000}'..);
    latin || (other && !c.is_whitespace())
}
