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

/// The exact text of a number of at most 128 bits, without an allocation.
pub(crate) struct ShortText {
    bytes: [u8; 2 * LONGEST_INTEGER + 1],
    length: usize,
}

/// The most characters of a whole number of 128 bits, its sign included.
const LONGEST_INTEGER: usize = 40;

impl ShortText {
    fn push(&mut self, text: &str) {
        let end = self.length + text.len();
        self.bytes[self.length..end].copy_from_slice(text.as_bytes());
        self.length = end;
    }

    fn push_whole(&mut self, number: i128) {
        let mut digits = itoa::Buffer::new();
        self.push(match i64::try_from(number) {
            Ok(short) => digits.format(short),
            Err(_) => digits.format(number),
        });
    }

    pub(crate) fn as_str(&self) -> &str {
        // Only whole texts were pushed.
        std::str::from_utf8(&self.bytes[..self.length]).unwrap_or_default()
    }
}

impl Rational {
    /// The exact text, unless it needs more than 128 bits.
    pub(crate) fn short_text(&self) -> Option<ShortText> {
        let (num, den) = self.parts().map(reduce).ok()?;
        let mut text = ShortText {
            bytes: [0; 2 * LONGEST_INTEGER + 1],
            length: 0,
        };
        text.push_whole(num);
        if den != 1 {
            text.push("/");
            text.push_whole(den);
        }
        Some(text)
    }
}

impl fmt::Display for Rational {
    /// The exact text: `12`, `-3/4`, `689/10`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.parts() {
            Ok(_) => f.pad(self.short_text().as_ref().map_or("", ShortText::as_str)),
            Err(big) => fmt::Display::fmt(big, f),
        }
    }
}
