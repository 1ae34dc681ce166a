//! Intervals: a number that is known to lie between two others.

use std::ops::{Add, Mul, Sub};

use super::Rational;

/// A closed interval with exact ends, `low` not above `high`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Interval {
    low: Rational,
    high: Rational,
}

impl Interval {
    /// From `low` to `high`, or `None` if `low` is above `high`.
    ///
    /// ```
    /// use lixivium::exact::{Interval, Rational};
    /// let of = |a, b| Interval::new(Rational::integer(a), Rational::integer(b));
    /// let product = &of(-1, 2).unwrap() * &of(3, 4).unwrap();
    /// assert_eq!(product, of(-4, 8).unwrap());
    /// assert!(of(2, 1).is_none());
    /// ```
    pub fn new(low: Rational, high: Rational) -> Option<Self> {
        (low <= high).then_some(Self { low, high })
    }

    /// The interval that is one number.
    pub fn point(value: Rational) -> Self {
        Self {
            low: value.clone(),
            high: value,
        }
    }

    /// The lower end.
    pub fn low(&self) -> &Rational {
        &self.low
    }

    /// The upper end.
    pub fn high(&self) -> &Rational {
        &self.high
    }

    /// The difference of the ends.
    pub fn width(&self) -> Rational {
        &self.high - &self.low
    }

    /// Half-way between the ends.
    pub fn middle(&self) -> Rational {
        (&self.low + &self.high) * const { Rational::decimal(5, 1) }
    }

    /// Whether `value` lies in it, ends included.
    pub fn contains(&self, value: &Rational) -> bool {
        &self.low <= value && value <= &self.high
    }

    /// The quotients, or `None` if the divisor contains 0.
    pub fn checked_div(&self, divisor: &Self) -> Option<Self> {
        if divisor.contains(&Rational::ZERO) {
            return None;
        }
        let inverse = Self {
            low: Rational::ONE.checked_div(&divisor.high)?,
            high: Rational::ONE.checked_div(&divisor.low)?,
        };
        Some(self * &inverse)
    }
}

impl Add for &Interval {
    type Output = Interval;
    fn add(self, other: Self) -> Interval {
        Interval {
            low: &self.low + &other.low,
            high: &self.high + &other.high,
        }
    }
}

impl Sub for &Interval {
    type Output = Interval;
    fn sub(self, other: Self) -> Interval {
        Interval {
            low: &self.low - &other.high,
            high: &self.high - &other.low,
        }
    }
}

impl Mul for &Interval {
    type Output = Interval;
    fn mul(self, other: Self) -> Interval {
        let (a, b) = (&self.low * &other.low, &self.low * &other.high);
        let (c, d) = (&self.high * &other.low, &self.high * &other.high);
        let low = a.clone().min(b.clone()).min(c.clone()).min(d.clone());
        let high = a.max(b).max(c).max(d);
        Interval { low, high }
    }
}
