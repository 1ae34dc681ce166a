//! Arithmetic and order.
//!
//! The paths of a few instructions are always inlined, but not in WASM, where size counts.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use num_rational::BigRational;

use super::lowest::reduce;
use super::rational::{Rational, Repr};
use super::tally::Tally;

/// A fraction on machine integers: numerator, positive denominator.
pub(super) type Small = (i128, i128);

/// The number as 64 bits, if it fits.
#[cfg_attr(not(target_family = "wasm"), inline(always))]
pub(super) fn narrow(n: i128) -> Option<i64> {
    // By halves: compared as a whole it would go through a vector register, which is slower.
    let (low, high) = (n as i64, (n >> 64) as i64);
    (high == low >> 63).then_some(low)
}

/// The product of two numbers of 64 bits, which 128 bits always hold.
#[cfg_attr(not(target_family = "wasm"), inline(always))]
pub(super) fn wide(a: i64, b: i64) -> i128 {
    match a.checked_mul(b) {
        Some(product) => product.into(),
        None => i128::from(a) * i128::from(b),
    }
}

/// The product, unless it needs more than 128 bits.
#[inline]
pub(super) fn product(a: i128, b: i128) -> Option<i128> {
    match (narrow(a), narrow(b)) {
        (Some(a), Some(b)) => Some(wide(a, b)),
        _ => a.checked_mul(b).filter(|n| *n != i128::MIN),
    }
}

#[cfg_attr(not(target_family = "wasm"), inline(always))]
pub(super) fn total(a: i128, b: i128) -> Option<i128> {
    a.checked_add(b).filter(|n| *n != i128::MIN)
}

/// Four numbers of 64 bits, if they are that: then no product of two of them overflows, and no
/// sum of two such products.
#[cfg_attr(not(target_family = "wasm"), inline(always))]
fn all_narrow((an, ad): Small, (bn, bd): Small) -> Option<[i64; 4]> {
    Some([narrow(an)?, narrow(ad)?, narrow(bn)?, narrow(bd)?])
}

fn add_small((an, ad): Small, (bn, bd): Small) -> Option<Small> {
    if ad == bd {
        return Some((total(an, bn)?, ad));
    }
    // Denominators are mostly powers of ten: keep to the larger one.
    if let (Some(a), Some(b)) = (narrow(ad), narrow(bd)) {
        let (a, b) = (a as u64, b as u64);
        if a > b && a % b == 0 {
            return Some((total(an, product(bn, (a / b) as i128)?)?, ad));
        }
        if b > a && b % a == 0 {
            return Some((total(bn, product(an, (b / a) as i128)?)?, bd));
        }
    }
    Some((total(product(an, bd)?, product(bn, ad)?)?, product(ad, bd)?))
}

fn mul_small((an, ad): Small, (bn, bd): Small) -> Option<Small> {
    Some((product(an, bn)?, product(ad, bd)?))
}

/// The sum, where it takes a few instructions. Denominators are mostly powers of ten: it keeps to
/// the larger one where it can.
#[cfg_attr(not(target_family = "wasm"), inline(always))]
fn add_fast(a: Small, b: Small) -> Option<Small> {
    let [an, ad, bn, bd] = all_narrow(a, b)?;
    if ad == bd {
        Some((i128::from(an) + i128::from(bn), i128::from(ad)))
    } else if ad == 1 || bd == 1 {
        Some((wide(an, bd) + wide(bn, ad), wide(ad, bd)))
    } else if ad > bd && ad % bd == 0 {
        Some((i128::from(an) + wide(bn, ad / bd), i128::from(ad)))
    } else if bd > ad && bd % ad == 0 {
        Some((i128::from(bn) + wide(an, bd / ad), i128::from(bd)))
    } else {
        Some((wide(an, bd) + wide(bn, ad), wide(ad, bd)))
    }
}

/// The product, where it takes a few instructions.
#[cfg_attr(not(target_family = "wasm"), inline(always))]
pub(super) fn mul_fast(a: Small, b: Small) -> Option<Small> {
    let [an, ad, bn, bd] = all_narrow(a, b)?;
    Some((wide(an, bn), wide(ad, bd)))
}

/// What is not done in a few instructions: by `small`, after reducing if it does not fit, and
/// else by `big`.
#[inline(never)]
fn compute(
    a: &Rational,
    b: &Rational,
    small: fn(Small, Small) -> Option<Small>,
    big: fn(BigRational, BigRational) -> BigRational,
) -> Rational {
    if let (Repr::Small(an, ad), Repr::Small(bn, bd)) = (&a.0, &b.0) {
        let found =
            small((*an, *ad), (*bn, *bd)).or_else(|| small(reduce(*an, *ad), reduce(*bn, *bd)));
        if let Some((num, den)) = found {
            return Rational::small(num, den);
        }
    }
    Rational::from_big(big(a.to_big(), b.to_big()))
}

impl Rational {
    /// `self / divisor`, or `None` if the divisor is 0.
    ///
    /// ```
    /// use lixivium::exact::Rational;
    /// let three = Rational::integer(3);
    /// assert_eq!(Rational::ONE.checked_div(&three).unwrap().to_string(), "1/3");
    /// assert!(three.checked_div(&Rational::ZERO).is_none());
    /// ```
    #[cfg_attr(not(target_family = "wasm"), inline(always))]
    pub fn checked_div(&self, divisor: &Self) -> Option<Self> {
        match (&self.0, &divisor.0) {
            (_, Repr::Small(0, _)) => None,
            // A common denominator, as that of masses on one scale, cancels.
            (Repr::Small(an, ad), Repr::Small(bn, bd)) if ad == bd && *bn > 0 => {
                Some(Self::small(*an, *bn))
            }
            (_, Repr::Small(num, den)) if *num < 0 => Some(self * Self::small(-den, -num)),
            (_, Repr::Small(num, den)) => Some(self * Self::small(*den, *num)),
            (_, Repr::Big(big)) => Some(self * Self::from_big(big.recip())),
        }
    }

    fn cmp_wide(&self, other: &Self) -> Ordering {
        if let (Repr::Small(an, ad), Repr::Small(bn, bd)) = (&self.0, &other.0)
            && let (Some(a), Some(b)) = (product(*an, *bd), product(*bn, *ad))
        {
            return a.cmp(&b);
        }
        self.to_big().cmp(&other.to_big())
    }

    /// The number without its sign.
    pub fn abs(&self) -> Self {
        if self.is_negative() {
            -self
        } else {
            self.clone()
        }
    }

    /// Divided by 100: a percentage as a fraction.
    pub fn percent(&self) -> Self {
        self * &const { Rational::decimal(1, 2) }
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $fast:expr, $small:expr, $big:expr) => {
        impl $trait<&Rational> for &Rational {
            type Output = Rational;
            #[cfg_attr(not(target_family = "wasm"), inline(always))]
            fn $method(self, other: &Rational) -> Rational {
                if let (Repr::Small(an, ad), Repr::Small(bn, bd)) = (&self.0, &other.0)
                    && let Some((num, den)) = $fast((*an, *ad), (*bn, *bd))
                {
                    return Rational::small(num, den);
                }
                compute(self, other, $small, $big)
            }
        }
        impl $trait for Rational {
            type Output = Rational;
            #[cfg_attr(not(target_family = "wasm"), inline(always))]
            fn $method(self, other: Rational) -> Rational {
                (&self).$method(&other)
            }
        }
        impl $trait<&Rational> for Rational {
            type Output = Rational;
            #[cfg_attr(not(target_family = "wasm"), inline(always))]
            fn $method(self, other: &Rational) -> Rational {
                (&self).$method(other)
            }
        }
        impl $trait<Rational> for &Rational {
            type Output = Rational;
            #[cfg_attr(not(target_family = "wasm"), inline(always))]
            fn $method(self, other: Rational) -> Rational {
                self.$method(&other)
            }
        }
    };
}

operator!(Add, add, add_fast, add_small, |a, b| a + b);
operator!(
    Sub,
    sub,
    |a, (n, d): Small| add_fast(a, (-n, d)),
    |a, (n, d)| add_small(a, (-n, d)),
    |a, b| a - b
);
operator!(Mul, mul, mul_fast, mul_small, |a, b| a * b);

impl Neg for &Rational {
    type Output = Rational;
    fn neg(self) -> Rational {
        match &self.0 {
            Repr::Small(num, den) => Rational::small(-num, *den),
            Repr::Big(big) => Rational::from_big(-(**big).clone()),
        }
    }
}

impl Neg for Rational {
    type Output = Rational;
    fn neg(self) -> Rational {
        -&self
    }
}

impl Sum for Rational {
    fn sum<I: Iterator<Item = Rational>>(numbers: I) -> Rational {
        numbers.fold(Rational::ZERO, |sum, n| sum + n)
    }
}

impl<'a> Sum<&'a Rational> for Rational {
    fn sum<I: Iterator<Item = &'a Rational>>(numbers: I) -> Rational {
        let mut sum = Tally::NOTHING;
        for n in numbers {
            sum.add(n);
        }
        sum.total()
    }
}

impl Ord for Rational {
    #[inline]
    fn cmp(&self, other: &Self) -> Ordering {
        if let (Repr::Small(an, ad), Repr::Small(bn, bd)) = (&self.0, &other.0) {
            if ad == bd {
                return an.cmp(bn);
            }
            if let Some([an, ad, bn, bd]) = all_narrow((*an, *ad), (*bn, *bd)) {
                return wide(an, bd).cmp(&wide(bn, ad));
            }
        }
        self.cmp_wide(other)
    }
}

impl PartialOrd for Rational {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Rational {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Rational {}
