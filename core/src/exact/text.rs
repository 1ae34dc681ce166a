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
    let mut scanner = Scanner {
        all: text,
        rest: text,
    };
    let number = scanner.number()?;
    Ok((number, scanner.rest))
}

/// A text that is read from its start.
struct Scanner<'a> {
    all: &'a str,
    rest: &'a str,
}

impl<'a> Scanner<'a> {
    /// Goes on if that stands here.
    fn take(&mut self, mark: char) -> bool {
        let after = self.rest.strip_prefix(mark);
        self.rest = after.unwrap_or(self.rest);
        after.is_some()
    }

    /// Whether a minus stands here; goes on behind it, or behind a plus.
    fn minus(&mut self) -> bool {
        let is_negative = self.take('-');
        if !is_negative {
            self.take('+');
        }
        is_negative
    }

    /// The digits that stand here.
    fn digits(&mut self) -> &'a str {
        let digits;
        (digits, self.rest) = digits_of(self.rest);
        digits
    }

    fn is_no_number(&self) -> NumberFault {
        NumberFault::NotANumber(shown(self.all))
    }

    fn number(&mut self) -> Result<Rational, NumberFault> {
        if self.all.is_empty() {
            return Err(NumberFault::Empty);
        }
        let is_negative = self.minus();
        let number = self.unsigned()?;
        Ok(if is_negative { -number } else { number })
    }

    fn unsigned(&mut self) -> Result<Rational, NumberFault> {
        let whole = self.digits();
        if !whole.is_empty() && self.take('/') {
            return self.fraction(whole);
        }
        self.refuse_marks(whole)?;
        let after_whole = self.rest;
        if !whole.is_empty() && self.take(' ') {
            while self.take(' ') {}
            let numerator = self.digits();
            if !numerator.is_empty() && self.take('/') {
                let part = self.fraction(numerator)?;
                return Ok(decimal(whole, "", 0)? + part);
            }
            // "1 000": digits in groups of three.
            if numerator.len() == 3 && whole.len() <= 3 {
                return Err(match self.refuse_marks(numerator) {
                    Ok(()) => NumberFault::Grouped(format!("{whole}{numerator}")),
                    Err(_) => self.is_no_number(),
                });
            }
            self.rest = after_whole;
        }
        let part = if self.take('.') { self.digits() } else { "" };
        // Behind a point no mark is sure, as in "1.234,5".
        if whole.is_empty() && part.is_empty() || self.refuse_marks(whole).is_err() {
            return Err(self.is_no_number());
        }
        let exponent = self.exponent()?;
        decimal(whole, part, exponent)
    }

    /// Says what is meant if a comma or an apostrophe follows the digits `whole`.
    fn refuse_marks(&self, whole: &str) -> Result<(), NumberFault> {
        let mut after = self.rest.chars();
        let Some(mark) = after.next().filter(is_mark) else {
            return Ok(());
        };
        let (next, beyond) = digits_of(after.as_str());
        if next.is_empty() {
            return Ok(());
        }
        let several = beyond.starts_with(|c| c == '.' || is_mark(&c));
        Err(if mark != ',' || several {
            let plain: String = self.all.chars().filter(|c| !is_mark(c)).collect();
            NumberFault::Grouped(shown(&plain))
        } else if next.len() == 3 {
            NumberFault::Grouped(format!("{whole}{next} (or {whole}.{next})"))
        } else {
            let whole = if whole.is_empty() { "0" } else { whole };
            NumberFault::DecimalComma(format!("{whole}.{next}"))
        })
    }

    fn exponent(&mut self) -> Result<i32, NumberFault> {
        let before = self.rest;
        if !self.take('e') && !self.take('E') {
            return Ok(0);
        }
        let is_negative = self.minus();
        let digits = self.digits();
        if digits.is_empty() {
            self.rest = before;
            return Ok(0);
        }
        let digits = digits.bytes().map(|digit| i32::from(digit - b'0'));
        let size = digits.fold(0, |size, digit| (size * 10 + digit).min(MAX_EXPONENT + 1));
        if size > MAX_EXPONENT {
            return Err(NumberFault::ExponentTooLarge);
        }
        Ok(if is_negative { -size } else { size })
    }

    fn fraction(&mut self, numerator: &str) -> Result<Rational, NumberFault> {
        let denominator = self.digits();
        if denominator.is_empty() || matches!(self.rest.as_bytes(), [b'.' | b'/', ..]) {
            return Err(self.is_no_number());
        }
        self.refuse_marks(denominator)?;
        decimal(numerator, "", 0)?
            .checked_div(&decimal(denominator, "", 0)?)
            .ok_or(NumberFault::ZeroDenominator)
    }
}

/// The digits at the start of `text`, and what follows them.
fn digits_of(text: &str) -> (&str, &str) {
    let end = text.bytes().position(|b| !b.is_ascii_digit());
    text.split_at(end.unwrap_or(text.len()))
}

/// What stands between groups of digits.
fn is_mark(c: &char) -> bool {
    matches!(c, ',' | '\'' | '\u{2019}' | '_' | '\u{a0}' | '\u{202f}')
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
    let start = first(text, 40);
    let more = if start.len() < text.len() { "…" } else { "" };
    format!("{start}{more}")
}

/// The first so many characters of a text.
pub(crate) fn first(text: &str, characters: usize) -> &str {
    &text[..text.chars().take(characters).map(char::len_utf8).sum()]
}
