//! Rounding to a step, in a stated direction.

use std::fmt;

use super::ops::product;
use super::rational::power_of_ten;
use super::repr::Arg;
use super::{Fraction, Rational};

#[derive(Clone, Copy)]
enum Direction {
    Down,
    Up,
    Nearest,
}

impl Direction {
    /// Whether a number goes up that is `above` the whole number below it and `below` the next.
    fn is_up<N: Ord + Default>(self, above: N, below: N) -> bool {
        match self {
            Self::Down => false,
            Self::Up => above > N::default(),
            Self::Nearest => above >= below,
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
            && let Some(rounded) = divide_small(num, den, direction).checked_mul(step_num)
        {
            return Some(Self::of_small((rounded, step_den)));
        }
        if let (Ok((num, den)), Ok((step_num, step_den))) = (number.parts(), step.parts())
            && let (Some(num), Some(den)) = (product(num, step_den), product(den, step_num))
            && let Some(count) = divide(num, den, direction)
            && let Some(rounded) = product(count, step_num)
        {
            return Some(Self::of_parts(rounded, step_den));
        }
        let step = step.to_fraction();
        let count = number.to_fraction() / &step;
        let half = || Fraction::new(1.into(), 2.into());
        let count = match direction {
            Direction::Down => count.floor(),
            Direction::Up => count.ceil(),
            Direction::Nearest => (count + half()).floor(),
        };
        Some(Self::from_fraction(count * step))
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
        let scaled = self * power_of_ten(MOST_PLACES.into());
        if scaled.floor_to(&Rational::ONE) != Some(scaled) {
            return self.to_string();
        }
        let text = self.to_fixed(MOST_PLACES);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
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

/// The whole number next to `num / den` (`den` above 0).
fn divide_small(num: i64, den: i64, direction: Direction) -> i64 {
    let (quotient, rest) = (num.div_euclid(den), num.rem_euclid(den));
    // A quotient by 1 has no rest, so that nothing overflows.
    quotient + i64::from(direction.is_up(rest, den - rest))
}

/// The same, unless it cannot be had in 128 bits.
fn divide(num: i128, den: i128, direction: Direction) -> Option<i128> {
    // A division of 128 bits is slow: one serves for quotient and rest.
    let toward_zero = num / den;
    let rest = num - toward_zero * den;
    let (quotient, rest) = if rest < 0 {
        (toward_zero - 1, rest + den)
    } else {
        (toward_zero, rest)
    };
    quotient.checked_add(i128::from(direction.is_up(rest, den - rest)))
}
