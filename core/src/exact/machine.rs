//! A number in memory, for speed: machine integers while they fit, a big fraction beyond.

use num_traits::Signed;

use super::Fraction;
use super::rational::{Parts, Rational, Small, narrow};

#[derive(Clone)]
pub(super) enum Repr {
    /// Numerator and positive denominator, perhaps unreduced.
    Small(i64, i64),
    /// The same where one of them does not fit in 64 bits; neither is `i128::MIN`.
    Wide(i128, i128),
    /// Reduced, and too large for `Wide`.
    Big(Box<Fraction>),
}

/// A number as functions take it that are not inlined.
pub(super) type Arg<'a> = &'a Rational;

/// A big fraction to look at.
pub(super) type Big<'a> = &'a Fraction;

impl Repr {
    /// From a numerator and a positive denominator, neither `i128::MIN`.
    pub(super) const fn of_parts(num: i128, den: i128) -> Self {
        match (narrow(num), narrow(den)) {
            (Some(num), Some(den)) => Self::Small(num, den),
            _ => Self::Wide(num, den),
        }
    }

    /// The same for constants.
    pub(super) const fn constant(num: i128, den: i128) -> Self {
        Self::of_parts(num, den)
    }

    /// From a fraction in 64 bits.
    #[inline(always)]
    pub(super) const fn of_small((num, den): Small) -> Self {
        Self::Small(num, den)
    }

    /// From a reduced fraction that needs more than 128 bits.
    pub(super) fn of_big(big: Fraction) -> Self {
        Self::Big(Box::new(big))
    }

    /// The fraction in 64 bits, if it is held as one.
    #[inline(always)]
    pub(super) const fn small(&self) -> Option<Small> {
        match self {
            Self::Small(num, den) => Some((*num, *den)),
            _ => None,
        }
    }

    /// Numerator and positive denominator, or the big fraction that the number is.
    #[inline]
    pub(super) fn parts(&self) -> Result<Parts, Big<'_>> {
        match self {
            Self::Small(num, den) => Ok((i128::from(*num), i128::from(*den))),
            Self::Wide(num, den) => Ok((*num, *den)),
            Self::Big(big) => Err(big),
        }
    }

    /// -1, 0 or 1.
    #[inline]
    pub(super) fn signum(&self) -> i32 {
        match self {
            Self::Small(num, _) => num.signum() as i32,
            Self::Wide(num, _) => num.signum() as i32,
            Self::Big(big) if big.is_negative() => -1,
            Self::Big(_) => 1,
        }
    }
}

impl Rational {
    /// This number as functions take it that are not inlined.
    #[inline(always)]
    pub(super) const fn arg(&self) -> Arg<'_> {
        self
    }
}
