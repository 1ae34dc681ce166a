//! Rounding to a step, in a stated direction.

use std::fmt;
use std::ops::{Shr, Sub};

use num_integer::Integer;

use super::Rational;
use super::ops::{product, quotient};
use super::rational::power_of_ten;
use super::repr::{Arg, div_rem};

#[derive(Clone, Copy)]
enum Direction {
    Down,
    Up,
    Nearest,
}

impl Direction {
    /// What is added to a numerator so that the quotient, rounded down, is as it shall be.
    fn before_division<N>(self, denominator: N) -> N
    where
        N: From<i8> + Sub<Output = N> + Shr<i32, Output = N>,
    {
        match self {
            Self::Down => N::from(0),
            Self::Up => denominator - N::from(1),
            Self::Nearest => denominator >> 1,
        }
    }
}

impl Rational {
    /// The largest multiple of `step` that is not above this number; `None` unless `step` is
    /// above 0.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// let step = Rational::decimal(1, 1);
    /// let mass = Rational::decimal(68_977, 3);
    /// assert_eq!(mass.floor_to(&step).unwrap().to_string(), "689/10");
    /// assert_eq!(mass.ceil_to(&step).unwrap().to_string(), "69");
    /// assert!(mass.floor_to(&Rational::ZERO).is_none());
    /// ```
    #[inline]
    pub fn floor_to(&self, step: &Self) -> Option<Self> {
        self.round(step, Direction::Down)
    }

    /// The smallest multiple of `step` that is not below this number; `None` unless `step` is
    /// above 0.
    #[inline]
    pub fn ceil_to(&self, step: &Self) -> Option<Self> {
        self.round(step, Direction::Up)
    }

    /// The nearest multiple of `step`, the higher one when two are equally near; `None` unless
    /// `step` is above 0.
    #[inline(always)]
    pub fn round_to(&self, step: &Self) -> Option<Self> {
        self.round(step, Direction::Nearest)
    }

    #[inline(always)]
    fn round(&self, step: &Self, direction: Direction) -> Option<Self> {
        // A multiple of a step such as 1/10 already.
        if let (Some((num, den)), Some((1, step_den))) = (self.small(), step.small())
            && den == step_den
        {
            return Some(Self::of_small((num, den)));
        }
        Self::round_any(self.arg(), step.arg(), direction)
    }

    #[inline(never)]
    fn round_any(number: Arg, step: Arg, direction: Direction) -> Option<Self> {
        if !step.is_positive() {
            return None;
        }
        if let (Some((num, den)), Some((step_num, step_den))) = (number.small(), step.small())
            && let (Some(num), Some(den)) = (num.checked_mul(step_den), den.checked_mul(step_num))
            && let Some(num) = num.checked_add(direction.before_division(den))
            && let Some(rounded) = num.div_euclid(den).checked_mul(step_num)
        {
            return Some(Self::of_small((rounded, step_den)));
        }
        if let (Some((num, den)), Some((step_num, step_den))) = (number.parts(), step.parts())
            && let (Some(num), Some(den)) = (product(num, step_den), product(den, step_num))
            && let Some(num) = num.checked_add(direction.before_division(den))
            && let Some(rounded) = product(floor(num, den), step_num)
        {
            return Some(Self::of_parts(rounded, step_den));
        }
        let count = quotient(number.arg(), step.arg())?;
        let (num, den) = count.to_fraction().into_raw();
        let num = num + direction.before_division(den.clone());
        Some(Self::from_fraction(num.div_floor(&den).into()) * step)
    }

    /// The exact number as people write it: a decimal where it has one of at most 12 places,
    /// else a fraction.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// assert_eq!(Rational::ratio(1, 20).unwrap().to_plain(), "0.05");
    /// assert_eq!(Rational::ratio(1, 3).unwrap().to_plain(), "1/3");
    /// ```
    pub fn to_plain(&self) -> String {
        const MOST_PLACES: u8 = 12;
        let is_whole = |places: &u8| {
            let scaled = self * power_of_ten((*places).into());
            scaled.floor_to(&Self::ONE) == Some(scaled)
        };
        match (0..=MOST_PLACES).find(is_whole) {
            Some(places) => self.to_fixed(places),
            None => self.to_string(),
        }
    }

    /// Decimal text with exactly `places` digits after the point, the nearest one, ties away
    /// from zero. For people to read; the exact text is that of `Display`.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// assert_eq!(Rational::ratio(2, 3).unwrap().to_fixed(2), "0.67");
    /// assert_eq!(Rational::ratio(-1, 2).unwrap().to_fixed(0), "-1");
    /// ```
    pub fn to_fixed(&self, places: u8) -> String {
        self.fixed(places).to_string()
    }

    /// The same to be put into a text.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// assert_eq!(format!("{} g", Rational::HUNDRED.fixed(1)), "100.0 g");
    /// ```
    pub fn fixed(&self, places: u8) -> Fixed {
        Fixed(self.clone(), places)
    }
}

/// A number to be shown with so many places; see [`Rational::fixed`].
#[derive(Debug, Clone)]
pub struct Fixed(Rational, u8);

impl fmt::Display for Fixed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(number, places) = self;
        let scaled = number.abs() * power_of_ten((*places).into());
        let count = scaled.round_to(&Rational::ONE).unwrap_or_default();
        if number.is_negative() && !count.is_zero() {
            f.write_str("-")?;
        }
        let places = usize::from(*places);
        let digits = format!("{count:0>0$}", places + 1);
        let (whole, part) = digits.split_at(digits.len() - places);
        f.write_str(whole)?;
        if places > 0 {
            f.write_str(".")?;
        }
        f.write_str(part)
    }
}

/// The whole number at or below `num / den` (`den` above 0).
fn floor(num: i128, den: i128) -> i128 {
    let (quotient, rest) = div_rem(num.unsigned_abs(), den as u128);
    let quotient = quotient as i128;
    if num < 0 {
        -quotient - i128::from(rest > 0)
    } else {
        quotient
    }
}
