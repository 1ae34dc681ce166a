//! A number in memory, for small code: eight bytes that nobody has to drop.
//!
//! The WASM module is built so (`--cfg lixivium_packed`), where size counts: a number is passed
//! and returned in a register, and no code cleans up after it. What does not fit in eight bytes
//! stands in a list, of which the number keeps the place. The lists grow until [`forget`] empties
//! them, between one call and the next.

use std::cell::RefCell;
use std::num::NonZeroU64;

use num_traits::Signed;

use super::Fraction;
use super::double::nearest_scaled;
use super::lowest::reduce;
use super::rational::{POWERS_OF_TEN, Parts, Rational, Small, narrow};

/// The lowest byte says what the other seven hold:
///
/// - up to 19, one more than `n`: a numerator, above the denominator 10ⁿ;
/// - [`FRACTION`]: a denominator in 28 bits, and above it a numerator in 28 bits;
/// - [`WIDE`], [`BIG`]: a place in that list.
#[derive(Clone)]
pub(super) struct Repr(NonZeroU64);

const FRACTION: u8 = 0xfe;
const WIDE: u8 = 0xfd;
const BIG: u8 = 0xff;

/// A list of up to so many numbers need not be kept short.
const SHORT: usize = 4_096;

thread_local! {
    static WIDES: RefCell<Vec<Parts>> = const { RefCell::new(Vec::new()) };
    static BIGS: RefCell<Vec<Fraction>> = const { RefCell::new(Vec::new()) };
}

/// Frees the memory of all numbers. None that was there before may be used after it, constants
/// excepted.
pub fn forget() {
    WIDES.take();
    BIGS.take();
}

/// A number as functions take it that are not inlined.
pub(super) type Arg<'a> = Rational;

/// Whether a number fits in so many bits, sign included.
const fn fits(number: i128, bits: u32) -> bool {
    let beyond = number >> (bits - 1);
    beyond == 0 || beyond == -1
}

impl Repr {
    const fn tagged(bits: u64, tag: u8) -> Self {
        match NonZeroU64::new(bits << 8 | tag as u64) {
            Some(bits) => Self(bits),
            None => unreachable!(),
        }
    }

    /// In eight bytes, if it fits.
    const fn packed(num: i128, den: i128) -> Option<Self> {
        if fits(num, 56)
            && let Some(den) = narrow(den)
        {
            let mut scale = 0;
            while scale < POWERS_OF_TEN.len() && POWERS_OF_TEN[scale] <= den {
                if POWERS_OF_TEN[scale] == den {
                    return Some(Self::tagged(num as u64, scale as u8 + 1));
                }
                scale += 1;
            }
        }
        if fits(num, 28) && fits(den, 29) {
            return Some(Self::tagged((num as u64) << 28 | den as u64, FRACTION));
        }
        None
    }

    /// A constant, which has to fit in eight bytes.
    pub(super) const fn constant(num: i128, den: i128) -> Self {
        Self::packed(num, den).expect("a constant fits in eight bytes")
    }

    /// From a numerator and a positive denominator, neither `i128::MIN`.
    #[inline(never)]
    pub(super) fn of_parts(num: i128, den: i128) -> Self {
        if let Some(packed) = Self::packed(num, den) {
            return packed;
        }
        // Many a number fits once it is reduced, which takes longer.
        let (num, den) = match WIDES.with_borrow(Vec::len) {
            ..SHORT => (num, den),
            _ => reduce((num, den)),
        };
        Self::packed(num, den).unwrap_or_else(|| {
            WIDES.with_borrow_mut(|list| {
                list.push((num, den));
                Self::tagged(list.len() as u64 - 1, WIDE)
            })
        })
    }

    /// From a fraction in 64 bits.
    pub(super) fn of_small((num, den): Small) -> Self {
        Self::of_parts(num.into(), den.into())
    }

    /// From a reduced fraction that needs more than 128 bits.
    pub(super) fn of_big(big: Fraction) -> Self {
        BIGS.with_borrow_mut(|list| {
            list.push(big);
            Self::tagged(list.len() as u64 - 1, BIG)
        })
    }

    /// No fraction is held in 64 bits.
    #[inline(always)]
    pub(super) const fn small(&self) -> Option<Small> {
        None
    }

    /// Numerator and positive denominator, unless they need more than 128 bits.
    #[inline(never)]
    pub(super) fn parts(&self) -> Option<Parts> {
        let bits = self.0.get();
        let signed = bits as i64;
        match bits as u8 {
            BIG => None,
            WIDE => Some(WIDES.with_borrow(|list| list[self.place()])),
            FRACTION => Some(((signed >> 36).into(), (bits << 28 >> 36).into())),
            tag => Some((
                (signed >> 8).into(),
                POWERS_OF_TEN[usize::from(tag) - 1].into(),
            )),
        }
    }

    /// The fraction of a number that has no [`Self::parts`].
    pub(super) fn big(&self) -> Fraction {
        BIGS.with_borrow(|list| list[self.place()].clone())
    }

    fn place(&self) -> usize {
        (self.0.get() >> 8) as usize
    }

    /// -1, 0 or 1.
    pub(super) fn signum(&self) -> i32 {
        match self.parts() {
            Some((num, _)) => num.signum() as i32,
            None if self.big().is_negative() => -1,
            None => 1,
        }
    }
}

/// Quotient and rest, bit by bit. Few numbers are so large that they need it, and the compiler's
/// own division of 128 bits is 1 kB.
pub(super) fn div_rem(num: u128, den: u128) -> (u128, u128) {
    let mut shift = den.leading_zeros().saturating_sub(num.leading_zeros());
    let (mut quotient, mut rest, mut part) = (0, num, den << shift);
    loop {
        quotient <<= 1;
        if rest >= part {
            (quotient, rest) = (quotient | 1, rest - part);
        }
        if shift == 0 {
            return (quotient, rest);
        }
        (part, shift) = (part >> 1, shift - 1);
    }
}

/// The double nearest to the size of a fraction: 63 bits of the quotient, of which the last also says
/// whether anything is left.
pub(super) fn nearest_size(num: u128, den: u128) -> f64 {
    let exponent = den.leading_zeros() as i32 - num.leading_zeros() as i32;
    let aligned = |n: u128| n << (n.leading_zeros() - 1);
    let (mut quotient, mut rest, den) = (0, aligned(num), aligned(den));
    for _ in 0..63 {
        quotient <<= 1;
        if rest >= den {
            (quotient, rest) = (quotient | 1, rest - den);
        }
        rest <<= 1;
    }
    nearest_scaled(quotient | u64::from(rest != 0), exponent - 62)
}

impl Rational {
    /// This number as functions take it that are not inlined.
    #[inline(always)]
    pub(super) fn arg(&self) -> Arg<'static> {
        self.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_at_the_edges_of_eight_bytes_come_back() {
        let edges = [0, 27, 28, 55, 56, 63, 126].map(|bits| 1_i128 << bits);
        let around = edges.iter().flat_map(|edge| [edge - 1, *edge, edge + 1]);
        let powers = POWERS_OF_TEN.map(i128::from);
        for den in around.clone().chain(powers).filter(|den| *den > 0) {
            for num in around.clone().flat_map(|num| [num, -num]) {
                assert_eq!(Repr::of_parts(num, den).parts(), Some((num, den)));
            }
            forget();
        }
    }

    /// They are kept from one call to the next.
    #[test]
    fn the_figures_of_fats_need_no_list() {
        let are_positive = || {
            crate::fats::catalogue().all(|fat| {
                let figure = &fat.saponification_value;
                let ends = [&figure.low, &figure.high];
                figure.typical.is_positive()
                    && ends.into_iter().flatten().all(Rational::is_positive)
            })
        };
        assert!(are_positive());
        forget();
        assert!(are_positive());
    }

    #[test]
    fn a_long_list_grows_by_reduced_numbers_only() {
        let halves = || Repr::of_parts(1 << 100, 1 << 101);
        for _ in 0..2 * SHORT {
            assert_eq!(Rational(halves()), Rational::decimal(5, 1));
        }
        assert_eq!(WIDES.with_borrow(Vec::len), SHORT);
    }

    #[test]
    fn a_division_bit_by_bit_is_a_division() {
        let around = [0, 1, 63, 64, 65, 127].map(|bits| 1_u128 << bits);
        let around = || around.iter().flat_map(|edge| [edge - 1, *edge, edge + 1]);
        for den in around().filter(|den| *den > 0) {
            for num in around() {
                assert_eq!(div_rem(num, den), (num / den, num % den));
            }
        }
    }

    #[test]
    fn the_list_is_emptied() {
        let third = Rational::of_parts(1 << 60, 3);
        assert!(WIDES.with_borrow(Vec::len) > 0 && third.is_positive());
        forget();
        assert_eq!(WIDES.with_borrow(Vec::len), 0);
    }
}
