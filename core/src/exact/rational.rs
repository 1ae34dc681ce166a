//! The type, whatever a number looks like in memory.

use std::fmt;
use std::num::NonZeroU32;

use num_traits::ToPrimitive;

use super::Fraction;
use super::repr::Repr;

/// An exact rational number of any size.
///
/// Equality and order are those of the values. There is no way to make one with a zero
/// denominator, so no operation panics.
#[derive(Clone)]
pub struct Rational(pub(super) Repr);

/// Numerator and positive denominator.
pub(super) type Parts = (i128, i128);

/// The same in 64 bits.
pub(super) type Small = (i64, i64);

/// The number as 64 bits, if it fits.
pub(super) const fn narrow(n: i128) -> Option<i64> {
    if n as i64 as i128 == n {
        Some(n as i64)
    } else {
        None
    }
}

/// 10 to the power of each index, as far as 64 bits reach.
pub(super) const POWERS_OF_TEN: [i64; 19] = {
    let mut powers = [1; 19];
    let mut i = 1;
    while i < 19 {
        powers[i] = powers[i - 1] * 10;
        i += 1;
    }
    powers
};

/// 10 to the power of `exponent`.
pub(super) fn power_of_ten(exponent: u32) -> Rational {
    match POWERS_OF_TEN.get(exponent as usize) {
        Some(power) => Rational::from(*power),
        None => {
            let half = power_of_ten(exponent / 2);
            &half * &half * power_of_ten(exponent % 2)
        }
    }
}

impl Rational {
    /// 0.
    pub const ZERO: Self = Self::integer(0);
    /// 1.
    pub const ONE: Self = Self::integer(1);
    /// 100, the whole in percent.
    pub const HUNDRED: Self = Self::integer(100);

    /// A whole number.
    pub const fn integer(value: i64) -> Self {
        Self(Repr::constant(value as i128, 1))
    }

    /// `mantissa` divided by ten to the power of `scale`: 39.997 is `decimal(39_997, 3)`.
    ///
    /// # Panics
    /// At compile time, when used for a constant with a scale above 18.
    pub const fn decimal(mantissa: i64, scale: u8) -> Self {
        let power = POWERS_OF_TEN[scale as usize];
        Self(Repr::constant(mantissa as i128, power as i128))
    }

    /// `numerator / denominator`, for constants.
    pub const fn fraction(numerator: i64, denominator: NonZeroU32) -> Self {
        Self(Repr::constant(numerator as i128, denominator.get() as i128))
    }

    /// `numerator / denominator`, or `None` if the denominator is zero.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// assert_eq!(Rational::ratio(-6, -4).unwrap().to_string(), "3/2");
    /// assert!(Rational::ratio(1, 0).is_none());
    /// ```
    pub fn ratio(numerator: i64, denominator: i64) -> Option<Self> {
        let sign = if denominator < 0 { -1 } else { 1 };
        (denominator != 0)
            .then(|| Self::of_parts(numerator as i128 * sign, denominator as i128 * sign))
    }

    /// From a numerator and a positive denominator, neither `i128::MIN`.
    pub(super) fn of_parts(num: i128, den: i128) -> Self {
        Self(Repr::of_parts(num, den))
    }

    /// From a numerator and a positive denominator in 64 bits.
    #[inline(always)]
    pub(super) fn of_small(small: Small) -> Self {
        Self(Repr::of_small(small))
    }

    /// The fraction in 64 bits, if it is at hand as one.
    #[inline(always)]
    pub(super) const fn small(&self) -> Option<Small> {
        self.0.small()
    }

    /// Numerator and positive denominator, unless they need more than 128 bits.
    #[inline]
    pub(super) fn parts(&self) -> Option<Parts> {
        self.0.parts()
    }

    /// The number of a big fraction, on machine integers if it fits.
    pub fn from_fraction(big: Fraction) -> Self {
        match (big.numer().to_i128(), big.denom().to_i128()) {
            (Some(num), Some(den)) if num != i128::MIN => Self::of_parts(num, den),
            _ => Self(Repr::of_big(big)),
        }
    }

    /// The numerator and denominator in lowest terms.
    pub fn to_fraction(&self) -> Fraction {
        match self.in_lowest_terms() {
            Some((num, den)) => Fraction::new_raw(num.into(), den.into()),
            None => self.0.big(),
        }
    }

    /// Numerator and positive denominator in 64 bits, if they fit.
    pub(crate) fn small_parts(&self) -> Option<(i64, i64)> {
        let (num, den) = self.in_lowest_terms()?;
        Some((narrow(num)?, narrow(den)?))
    }

    /// The number as one of 32 bits, if it is one.
    pub(crate) fn to_count(&self) -> Option<u32> {
        let (count, 1) = self.small_parts()? else {
            return None;
        };
        count.try_into().ok()
    }

    /// The number of binary digits of the denominator in lowest terms.
    pub(crate) fn denominator_bits(&self) -> u64 {
        self.to_fraction().denom().bits()
    }

    /// The same number with the smallest numerator and denominator.
    ///
    /// Answers reduce by themselves; call this to keep numbers short in long computations.
    pub fn reduced(&self) -> Self {
        match self.in_lowest_terms() {
            Some((num, den)) => Self::of_parts(num, den),
            None => self.clone(),
        }
    }

    /// -1, 0 or 1.
    #[inline]
    pub fn signum(&self) -> i32 {
        self.0.signum()
    }

    /// Whether this is 0.
    #[inline]
    pub fn is_zero(&self) -> bool {
        self.signum() == 0
    }

    /// Whether this is above 0.
    #[inline]
    pub fn is_positive(&self) -> bool {
        self.signum() > 0
    }

    /// Whether this is below 0.
    #[inline]
    pub fn is_negative(&self) -> bool {
        self.signum() < 0
    }

    /// Whether this is below 1, the whole.
    #[inline]
    pub fn is_below_one(&self) -> bool {
        match self.small() {
            Some((num, den)) => num < den,
            None => *self < Self::ONE,
        }
    }

    /// Whether this is above 1, the whole.
    #[inline]
    pub fn is_above_one(&self) -> bool {
        match self.small() {
            Some((num, den)) => num > den,
            None => *self > Self::ONE,
        }
    }
}

impl fmt::Debug for Rational {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl Default for Rational {
    fn default() -> Self {
        Self::ZERO
    }
}

impl From<i64> for Rational {
    fn from(value: i64) -> Self {
        Self::of_parts(value.into(), 1)
    }
}
