//! Lowest terms, and the exact text.

use std::fmt;

use super::rational::{Parts, Rational};

/// Lowest terms of a fraction with a positive denominator.
pub(super) fn reduce((num, den): Parts) -> Parts {
    if den == 1 {
        return (num, den);
    }
    // Most numbers fit in 64 bits, where the arithmetic is several times faster.
    if let (Ok(n), Ok(d)) = (u64::try_from(num.unsigned_abs()), u64::try_from(den)) {
        let divisor = gcd(d, n % d);
        let n = (n / divisor) as i128;
        return (if num < 0 { -n } else { n }, (d / divisor) as i128);
    }
    let divisor = gcd_wide(den as u128, num.unsigned_abs() % den as u128) as i128;
    (num / divisor, den / divisor)
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
        self.parts().map(reduce).ok()
    }
}

impl fmt::Display for Rational {
    /// The exact text: `12`, `-3/4`, `689/10`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut digits = itoa::Buffer::new();
        match self.parts().map(reduce) {
            Ok((num, 1)) => f.pad(digits.format(num)),
            Ok((num, den)) => {
                f.pad(&[digits.format(num), "/", itoa::Buffer::new().format(den)].concat())
            }
            Err(big) => fmt::Display::fmt(&big, f),
        }
    }
}
