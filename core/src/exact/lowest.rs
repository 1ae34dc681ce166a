//! Lowest terms, and the exact text.

use std::fmt;

use super::rational::{Parts, Rational};
use super::repr::div_rem;

/// Lowest terms of a fraction with a positive denominator.
pub(super) fn reduce((num, den): Parts) -> Parts {
    if den == 1 {
        return (num, den);
    }
    let (size, whole) = (num.unsigned_abs(), den as u128);
    // Most numbers fit in 64 bits, where the arithmetic is several times faster.
    let (size, den) = match (u64::try_from(size), u64::try_from(whole)) {
        (Ok(n), Ok(d)) => {
            let divisor = gcd(d, n % d);
            (i128::from(n / divisor), i128::from(d / divisor))
        }
        _ => {
            let divisor = gcd_wide(whole, div_rem(size, whole).1);
            if divisor == 1 {
                return (num, den);
            }
            let divided = |n| div_rem(n, divisor).0 as i128;
            (divided(size), divided(whole))
        }
    };
    (if num < 0 { -size } else { size }, den)
}

/// The greatest common divisor of two numbers, the first above 0: Stein's algorithm, without a
/// branch on which number is larger, so that no guess of the processor fails.
fn gcd(mut a: u64, mut b: u64) -> u64 {
    if b == 0 {
        return a;
    }
    let twos = (a | b).trailing_zeros();
    a >>= a.trailing_zeros();
    while b != 0 {
        b >>= b.trailing_zeros();
        (a, b) = (a.min(b), a.abs_diff(b));
    }
    a << twos
}

/// The same of numbers of 128 bits, which soon have no more than 64.
fn gcd_wide(mut a: u128, mut b: u128) -> u128 {
    let twos = (a | b).trailing_zeros();
    a >>= a.trailing_zeros();
    while b != 0 {
        if let (Ok(a), Ok(b)) = (u64::try_from(a), u64::try_from(b)) {
            return u128::from(gcd(a, b)) << twos;
        }
        b >>= b.trailing_zeros();
        (a, b) = (a.min(b), a.abs_diff(b));
    }
    a << twos
}

impl Rational {
    /// Numerator and denominator in lowest terms, unless they need more than 128 bits.
    pub(crate) fn in_lowest_terms(&self) -> Option<Parts> {
        self.parts().map(reduce)
    }
}

impl fmt::Display for Rational {
    /// The exact text: `12`, `-3/4`, `689/10`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.small_parts() {
            Some((num, den)) => pad(&num, &den, den == 1, f),
            None => {
                let big = self.to_fraction();
                pad(big.numer(), big.denom(), big.is_integer(), f)
            }
        }
    }
}

fn pad(
    num: &dyn fmt::Display,
    den: &dyn fmt::Display,
    is_whole: bool,
    f: &mut fmt::Formatter<'_>,
) -> fmt::Result {
    let text = if is_whole {
        format!("{num}")
    } else {
        format!("{num}/{den}")
    };
    f.pad(&text)
}
