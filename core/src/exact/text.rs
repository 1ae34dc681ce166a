//! Numbers from text: decimals, fractions, mixed numbers, exponents.

use std::fmt;

use super::rational::{POWERS_OF_TEN, Rational, power_of_ten};

/// The most digits that a number in text may have.
pub const MAX_DIGITS: usize = 64;

/// The largest exponent of ten, in size, that a number in text may have.
pub const MAX_EXPONENT: i32 = 400;

/// Why a text is no number.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum NumberFault {
    /// There is nothing where a number should be.
    Empty,
    /// There is something else; what was found.
    NotANumber(String),
    /// A comma stands where the decimal point should be; the text with a point.
    DecimalComma(String),
    /// The digits are grouped; the text without its group marks.
    Grouped(String),
    /// The part below the fraction bar is 0.
    ZeroDenominator,
    /// More than [`MAX_DIGITS`] digits.
    TooManyDigits,
    /// An exponent beyond [`MAX_EXPONENT`].
    ExponentTooLarge,
}

impl fmt::Display for NumberFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("there is no number; write one like 12.5, 1/3 or 2 1/2"),
            Self::NotANumber(found) => write!(
                f,
                "\"{found}\" is not a number; write one like 12.5, 1/3 or 2 1/2"
            ),
            Self::DecimalComma(meant) => write!(
                f,
                "the decimal mark is a point here: write {meant}, not a comma"
            ),
            Self::Grouped(meant) => write!(
                f,
                "digits are not grouped here: write {meant} if that is the number you mean"
            ),
            Self::ZeroDenominator => f.write_str("the part below the fraction bar is 0"),
            Self::TooManyDigits => write!(f, "a number has at most {MAX_DIGITS} digits"),
            Self::ExponentTooLarge => write!(
                f,
                "an exponent lies between -{MAX_EXPONENT} and {MAX_EXPONENT}"
            ),
        }
    }
}

impl std::error::Error for NumberFault {}

impl Rational {
    /// Reads a decimal (`12.5`, `.5`, `-3e-2`), a fraction (`1/3`) or a mixed number (`2 1/2`).
    ///
    /// # Errors
    /// [`NumberFault`]: a decimal comma and grouped digits are refused with a hint, a number of
    /// more than [`MAX_DIGITS`] digits or with an exponent beyond [`MAX_EXPONENT`] as well.
    ///
    /// ```
    /// use lixivium::exact::{NumberFault, Rational};
    /// assert_eq!(Rational::parse("2 1/2").unwrap(), Rational::parse("2.5").unwrap());
    /// assert_eq!(Rational::parse("12,5"), Err(NumberFault::DecimalComma("12.5".into())));
    /// ```
    pub fn parse(text: &str) -> Result<Self, NumberFault> {
        let text = text.trim();
        let (number, rest) = scan(text)?;
        if rest.is_empty() {
            Ok(number)
        } else {
            Err(NumberFault::NotANumber(shown(text)))
        }
    }
}

/// The number at the start of `text`, and what follows it.
pub(crate) fn scan(text: &str) -> Result<(Rational, &str), NumberFault> {
    if text.is_empty() {
        return Err(NumberFault::Empty);
    }
    let (negative, unsigned) = match text.as_bytes()[0] {
        b'-' => (true, &text[1..]),
        b'+' => (false, &text[1..]),
        _ => (false, text),
    };
    let (number, rest) = scan_unsigned(unsigned, text)?;
    Ok((if negative { -number } else { number }, rest))
}

fn scan_unsigned<'a>(text: &'a str, all: &str) -> Result<(Rational, &'a str), NumberFault> {
    let (whole, rest) = digits(text);
    if let Some(after_bar) = rest.strip_prefix('/')
        && !whole.is_empty()
    {
        return fraction(whole, after_bar, all);
    }
    refuse_marks(whole, rest, all)?;
    let spaced = rest.trim_start_matches(' ');
    if spaced.len() < rest.len() && !whole.is_empty() {
        let (numerator, after) = digits(spaced);
        if let Some(after_bar) = after.strip_prefix('/')
            && !numerator.is_empty()
        {
            let (part, rest) = fraction(numerator, after_bar, all)?;
            return Ok((decimal(whole, "", 0)? + part, rest));
        }
        // "1 000": digits in groups of three.
        if numerator.len() == 3 && whole.len() <= 3 {
            return Err(NumberFault::Grouped(format!("{whole}{numerator}")));
        }
    }
    let (part, rest) = match rest.strip_prefix('.') {
        Some(after_point) => digits(after_point),
        None => ("", rest),
    };
    if whole.is_empty() && part.is_empty() {
        return Err(NumberFault::NotANumber(shown(all)));
    }
    refuse_marks(whole, rest, all)?;
    let (exponent, rest) = exponent(rest)?;
    Ok((decimal(whole, part, exponent)?, rest))
}

/// The digits at the start of `text`, and what follows them.
fn digits(text: &str) -> (&str, &str) {
    let end = text
        .bytes()
        .position(|b| !b.is_ascii_digit())
        .unwrap_or(text.len());
    text.split_at(end)
}

/// Says what is meant if a comma or an apostrophe follows the digits `whole`.
fn refuse_marks(whole: &str, rest: &str, all: &str) -> Result<(), NumberFault> {
    let mut after = rest.chars();
    let mark = after.next();
    let tail = after.as_str();
    let (next, beyond) = digits(tail);
    if !matches!(
        mark,
        Some(',' | '\'' | '\u{2019}' | '_' | '\u{a0}' | '\u{202f}')
    ) || next.is_empty()
    {
        return Ok(());
    }
    let several = beyond.starts_with([',', '.', '\'', '\u{2019}', '_', '\u{a0}', '\u{202f}']);
    if mark == Some(',') && !several && next.len() != 3 {
        return Err(NumberFault::DecimalComma(format!(
            "{}.{next}",
            if whole.is_empty() { "0" } else { whole }
        )));
    }
    if mark == Some(',') && !several {
        return Err(NumberFault::Grouped(format!(
            "{whole}{next} (or {whole}.{next})"
        )));
    }
    let plain: String = all
        .chars()
        .filter(|c| !matches!(c, ',' | '\'' | '\u{2019}' | '_' | '\u{a0}' | '\u{202f}'))
        .collect();
    Err(NumberFault::Grouped(shown(&plain)))
}

fn exponent(text: &str) -> Result<(i32, &str), NumberFault> {
    let Some(after) = text.strip_prefix(['e', 'E']) else {
        return Ok((0, text));
    };
    let (negative, unsigned) = match after.as_bytes().first() {
        Some(b'-') => (true, &after[1..]),
        Some(b'+') => (false, &after[1..]),
        _ => (false, after),
    };
    let (found, rest) = digits(unsigned);
    if found.is_empty() {
        return Ok((0, text));
    }
    match found.parse::<i32>() {
        Ok(size) if size <= MAX_EXPONENT => Ok((if negative { -size } else { size }, rest)),
        _ => Err(NumberFault::ExponentTooLarge),
    }
}

fn fraction<'a>(
    numerator: &str,
    after_bar: &'a str,
    all: &str,
) -> Result<(Rational, &'a str), NumberFault> {
    let (denominator, rest) = digits(after_bar);
    if denominator.is_empty() || rest.starts_with(['.', '/']) {
        return Err(NumberFault::NotANumber(shown(all)));
    }
    refuse_marks(denominator, rest, all)?;
    decimal(numerator, "", 0)?
        .checked_div(&decimal(denominator, "", 0)?)
        .map(|number| (number, rest))
        .ok_or(NumberFault::ZeroDenominator)
}

/// The number `whole.part` times ten to the power of `exponent`.
fn decimal(whole: &str, part: &str, exponent: i32) -> Result<Rational, NumberFault> {
    if whole.len() + part.len() > MAX_DIGITS {
        return Err(NumberFault::TooManyDigits);
    }
    let scale = part.len() as i32 - exponent;
    if whole.len() + part.len() <= MOST_DIGITS
        && let Some(power) = POWERS_OF_TEN.get(scale as usize)
    {
        let count = count(count(0, whole), part);
        return Ok(Rational::of_parts(count, (*power).into()));
    }
    let places = power_of_ten(part.len() as u32);
    let mantissa = long_count(whole) * places + long_count(part);
    let power = power_of_ten(scale.unsigned_abs());
    Ok(if scale < 0 {
        mantissa * power
    } else {
        mantissa.checked_div(&power).unwrap_or_default()
    })
}

/// The most digits that always fit in 128 bits.
const MOST_DIGITS: usize = 38;

/// The whole number that has first the digits of `before` and then these.
fn count(before: i128, digits: &str) -> i128 {
    let digits = digits.bytes().map(|digit| i128::from(digit - b'0'));
    digits.fold(before, |number, digit| number * 10 + digit)
}

/// The whole number of these digits, however many.
fn long_count(digits: &str) -> Rational {
    let Some(rest) = digits.len().checked_sub(MOST_DIGITS) else {
        return Rational::of_parts(count(0, digits), 1);
    };
    let (high, low) = digits.split_at(rest);
    long_count(high) * power_of_ten(MOST_DIGITS as u32) + Rational::of_parts(count(0, low), 1)
}

/// A text as it is shown in a fault: not too long.
pub(crate) fn shown(text: &str) -> String {
    const SHOWN: usize = 40;
    if text.chars().count() <= SHOWN {
        text.to_owned()
    } else {
        text.chars().take(SHOWN).chain(['…']).collect()
    }
}
