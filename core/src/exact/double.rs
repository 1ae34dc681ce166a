//! Entry and exit of binary doubles.

use std::fmt;

use num_integer::Integer;
use num_traits::{Signed, ToPrimitive, Zero};

use super::Fraction;
use super::rational::{Parts, Rational};
use super::repr::nearest_size;

/// A double that is no number: NaN or an infinity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotFinite;

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("this is not a finite number")
    }
}

impl std::error::Error for NotFinite {}

/// Whole numbers up to this are doubles without loss.
const LARGEST_WHOLE_DOUBLE: u128 = 1 << 53;

/// The double nearest to a fraction.
#[inline]
fn nearest((num, den): Parts) -> f64 {
    if num.unsigned_abs() <= LARGEST_WHOLE_DOUBLE && den as u128 <= LARGEST_WHOLE_DOUBLE {
        // Both are exact, and IEEE 754 division rounds correctly.
        return num as i64 as f64 / den as i64 as f64;
    }
    if num == 0 {
        return 0.0;
    }
    let size = nearest_size(num.unsigned_abs(), den as u128);
    if num < 0 { -size } else { size }
}

/// The double nearest to a big fraction: an infinity or 0 beyond the range of doubles.
fn nearest_big(big: &Fraction) -> f64 {
    // The quotient gets 61 or 62 bits. One more says whether there is anything behind them.
    let (num, den) = (big.numer().abs(), big.denom());
    let shift = 61 + den.bits() as i32 - num.bits() as i32;
    let (quotient, rest) = if shift > 0 {
        (&num << shift).div_rem(den)
    } else {
        num.div_rem(&(den << -shift))
    };
    let quotient = quotient.to_u64().unwrap_or_default() << 1 | u64::from(!rest.is_zero());
    let size = nearest_scaled(quotient, -shift - 1);
    if big.numer().is_negative() {
        -size
    } else {
        size
    }
}

/// The double nearest to `number` (of 62 or 63 bits) times 2 to the power of `exponent`, ties to
/// even.
pub(super) fn nearest_scaled(number: u64, exponent: i32) -> f64 {
    const DIGITS: i32 = f64::MANTISSA_DIGITS as i32;
    const SMALLEST: i32 = f64::MIN_EXP - DIGITS;
    let digits = 64 - number.leading_zeros() as i32;
    let dropped = (digits - DIGITS).max(SMALLEST - exponent);
    if dropped >= 64 {
        return 0.0;
    }
    let kept = number >> dropped;
    let half = 1 << (dropped - 1);
    let rest = number - (kept << dropped);
    let is_up = rest > half || (rest == half && kept % 2 == 1);
    let exponent = (exponent + dropped).min(f64::MAX_EXP);
    // In two steps, because 2 to the power of the smallest exponents is no normal double.
    let first = exponent / 2;
    (kept + u64::from(is_up)) as f64 * power_of_two(first) * power_of_two(exponent - first)
}

/// 2 to the power of -1022 to 1023.
pub(super) fn power_of_two(exponent: i32) -> f64 {
    f64::from_bits(((1023 + exponent) as u64) << 52)
}

/// A double as its shortest decimal, if that has at most 15 digits and 9 places: mantissa and
/// power of ten.
///
/// Division is correctly rounded, so a quotient that equals the double is a decimal that reads
/// back as it. Decimals of at most 15 digits are all different doubles, so it is the shortest one.
pub(crate) fn short_decimal(value: f64) -> Option<(i64, i64)> {
    const LARGEST: f64 = 1e15;
    let size = value.abs();
    let mut power = 1;
    for _ in 0..10 {
        let scaled = size * power as f64 + 0.5;
        if scaled.is_nan() || scaled >= LARGEST {
            return None;
        }
        let mantissa = scaled as i64;
        if mantissa as f64 / power as f64 == size {
            return Some((if value < 0.0 { -mantissa } else { mantissa }, power));
        }
        power *= 10;
    }
    None
}

/// The double nearest to a fraction with a positive denominator; neither is `i128::MIN`.
#[inline]
pub(crate) fn quotient(num: i128, den: i128) -> f64 {
    nearest((num, den))
}

impl Rational {
    /// A double as its shortest decimal: the one with the fewest digits that reads back as the
    /// same double, so that 0.1 is 1/10.
    ///
    /// # Errors
    /// [`NotFinite`] for NaN and infinities.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// assert_eq!(Rational::from_f64(0.1).unwrap().to_string(), "1/10");
    /// assert!(Rational::from_f64(f64::NAN).is_err());
    /// ```
    pub fn from_f64(value: f64) -> Result<Self, NotFinite> {
        if let Some((mantissa, power)) = short_decimal(value) {
            return Ok(Self::of_parts(mantissa.into(), power.into()));
        }
        if !value.is_finite() {
            return Err(NotFinite);
        }
        // `LowerExp` prints the shortest digits that round-trip.
        Self::parse(&format!("{value:e}")).map_err(|_| NotFinite)
    }

    /// The nearest double, ties to even; beyond the range of doubles an infinity.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// assert_eq!(Rational::decimal(689, 1).to_f64(), 68.9);
    /// ```
    pub fn to_f64(&self) -> f64 {
        match self.parts() {
            Some(parts) => nearest(parts),
            None => nearest_big(&self.to_fraction()),
        }
    }
}
