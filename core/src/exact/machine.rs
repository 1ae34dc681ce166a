//! A number in memory, for speed: machine integers while they fit, a big fraction beyond.

use num_traits::Signed;

use super::Fraction;
use super::double::power_of_two;
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

    /// Numerator and positive denominator, unless they need more than 128 bits.
    #[inline]
    pub(super) fn parts(&self) -> Option<Parts> {
        match self {
            Self::Small(num, den) => Some((i128::from(*num), i128::from(*den))),
            Self::Wide(num, den) => Some((*num, *den)),
            Self::Big(_) => None,
        }
    }

    /// The fraction of a number that has no [`Self::parts`].
    pub(super) fn big(&self) -> Fraction {
        match self {
            Self::Big(big) => Fraction::clone(big),
            _ => unreachable!("only a big number has no parts"),
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

/// Quotient and rest. A division of 128 bits is slow: one serves for both.
#[inline]
pub(super) fn div_rem(num: u128, den: u128) -> (u128, u128) {
    let quotient = num / den;
    (quotient, num - quotient * den)
}

/// The double nearest to the size of a fraction.
///
/// The quotient gets 64 bits or more; whether anything is left behind it goes into the last one,
/// so that the conversion rounds as if it saw all of it. Powers of two divide exactly.
pub(super) fn nearest_size(num: u128, den: u128) -> f64 {
    // No bit is lost below 64 bits of the divisor; beyond them the quotient grows bit by bit.
    let mut shift = if den >> 64 == 0 {
        num.leading_zeros()
    } else {
        0
    };
    let shifted = num << shift;
    let mut quotient = shifted / den;
    let mut rest = shifted - quotient * den;
    if den >> 64 != 0 {
        while quotient < 1 << 64 {
            (quotient, rest, shift) = (quotient << 1, rest << 1, shift + 1);
            if rest >= den {
                (quotient, rest) = (quotient | 1, rest - den);
            }
        }
    }
    (quotient | u128::from(rest != 0)) as f64 / power_of_two(shift as i32)
}
