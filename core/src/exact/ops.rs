//! Arithmetic and order.
//!
//! The paths of a few instructions are always inlined; a packed number has none.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use super::Fraction;
use super::lowest::reduce;
use super::rational::{Parts, Rational, Small, narrow};
use super::repr::Arg;
use super::tally::Tally;

/// The product, unless it could need more than 128 bits.
#[cfg_attr(lixivium_packed, inline(never))]
pub(super) fn product(a: i128, b: i128) -> Option<i128> {
    if let (Some(a), Some(b)) = (narrow(a), narrow(b)) {
        return Some(i128::from(a) * i128::from(b));
    }
    let bits = |n: i128| i128::BITS - n.unsigned_abs().leading_zeros();
    (bits(a) + bits(b) < i128::BITS).then(|| a * b)
}

fn total(a: i128, b: i128) -> Option<i128> {
    a.checked_add(b).filter(|n| *n != i128::MIN)
}

fn add_wide((an, ad): Parts, (bn, bd): Parts) -> Option<Parts> {
    // Denominators are mostly powers of ten: keep to the larger one.
    let (by_a, by_b) = match (narrow(ad), narrow(bd)) {
        _ if ad == bd => (1, 1),
        (Some(a), Some(b)) if a > b && a % b == 0 => (1, (a / b).into()),
        (Some(a), Some(b)) if b > a && b % a == 0 => ((b / a).into(), 1),
        _ => (bd, ad),
    };
    let sum = total(product(an, by_a)?, product(bn, by_b)?)?;
    Some((sum, product(ad, by_a)?))
}

fn mul_wide((an, ad): Parts, (bn, bd): Parts) -> Option<Parts> {
    Some((product(an, bn)?, product(ad, bd)?))
}

/// The sum, where it fits in 64 bits and takes a few instructions.
#[inline(always)]
fn add_small((an, ad): Small, (bn, bd): Small) -> Option<Small> {
    if ad == bd {
        Some((an.checked_add(bn)?, ad))
    } else if ad > bd && ad % bd == 0 {
        Some((an.checked_add(bn.checked_mul(ad / bd)?)?, ad))
    } else if bd > ad && bd % ad == 0 {
        Some((bn.checked_add(an.checked_mul(bd / ad)?)?, bd))
    } else {
        let sum = an.checked_mul(bd)?.checked_add(bn.checked_mul(ad)?)?;
        Some((sum, ad.checked_mul(bd)?))
    }
}

/// The product, where it fits in 64 bits.
#[inline(always)]
fn mul_small((an, ad): Small, (bn, bd): Small) -> Option<Small> {
    Some((an.checked_mul(bn)?, ad.checked_mul(bd)?))
}

/// What does not fit in 64 bits: by `wide`, after reducing if it does not fit in 128 bits either,
/// and else by `big`.
fn compute(
    a: Arg,
    b: Arg,
    wide: fn(Parts, Parts) -> Option<Parts>,
    big: fn(Fraction, Fraction) -> Fraction,
) -> Rational {
    if let (Some(a), Some(b)) = (a.parts(), b.parts())
        && let Some((num, den)) = wide(a, b).or_else(|| wide(reduce(a), reduce(b)))
    {
        return Rational::of_parts(num, den);
    }
    Rational::from_fraction(big(a.to_fraction(), b.to_fraction()))
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
    #[inline(always)]
    pub fn checked_div(&self, divisor: &Self) -> Option<Self> {
        if let (Some((an, ad)), Some((bn, bd))) = (self.small(), divisor.small())
            && bn > 0
        {
            // A common denominator, as that of masses on one scale, cancels.
            if ad == bd {
                return Some(Self::of_small((an, bn)));
            }
            if let Some(quotient) = mul_small((an, ad), (bd, bn)) {
                return Some(Self::of_small(quotient));
            }
        }
        quotient(self.arg(), divisor.arg())
    }

    /// `self + a · b` in lowest terms, so that a long sum keeps to short numbers.
    pub(crate) fn plus_product(&self, a: &Self, b: &Self) -> Self {
        (self + &(a * b)).reduced()
    }

    fn inverse(&self) -> Option<Self> {
        match self.parts() {
            Some((0, _)) => None,
            Some((num, den)) if num < 0 => Some(Self::of_parts(-den, -num)),
            Some((num, den)) => Some(Self::of_parts(den, num)),
            None => Some(Self::from_fraction(self.to_fraction().recip())),
        }
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

/// The quotient; 0 where the divisor is 0.
#[inline]
pub(crate) fn over(number: &Rational, divisor: &Rational) -> Rational {
    number.checked_div(divisor).unwrap_or_default()
}

#[inline(never)]
pub(super) fn quotient(a: Arg, b: Arg) -> Option<Rational> {
    Some(&b.inverse()? * a)
}

#[inline(never)]
fn compare(a: Arg, b: Arg) -> Ordering {
    if let (Some((an, ad)), Some((bn, bd))) = (a.parts(), b.parts())
        && let (Some(a), Some(b)) = (product(an, bd), product(bn, ad))
    {
        return a.cmp(&b);
    }
    sub(a, b).signum().cmp(&0)
}

#[inline(never)]
fn add(a: Arg, b: Arg) -> Rational {
    compute(a, b, add_wide, |a, b| a + b)
}

#[inline(never)]
fn sub(a: Arg, b: Arg) -> Rational {
    add(a, (-b).arg())
}

#[inline(never)]
fn mul(a: Arg, b: Arg) -> Rational {
    compute(a, b, mul_wide, |a, b| a * b)
}

macro_rules! operator {
    ($trait:ident, $method:ident, $small:expr) => {
        impl $trait<&Rational> for &Rational {
            type Output = Rational;
            #[inline(always)]
            fn $method(self, other: &Rational) -> Rational {
                if let (Some(a), Some(b)) = (self.small(), other.small())
                    && let Some(result) = $small(a, b)
                {
                    return Rational::of_small(result);
                }
                $method(self.arg(), other.arg())
            }
        }
        impl $trait for Rational {
            type Output = Rational;
            #[inline(always)]
            fn $method(self, other: Rational) -> Rational {
                (&self).$method(&other)
            }
        }
        impl $trait<&Rational> for Rational {
            type Output = Rational;
            #[inline(always)]
            fn $method(self, other: &Rational) -> Rational {
                (&self).$method(other)
            }
        }
        impl $trait<Rational> for &Rational {
            type Output = Rational;
            #[inline(always)]
            fn $method(self, other: Rational) -> Rational {
                self.$method(&other)
            }
        }
    };
}

operator!(Add, add, add_small);
operator!(Sub, sub, |a, (n, d): Small| add_small(
    a,
    (n.checked_neg()?, d)
));
operator!(Mul, mul, mul_small);

impl Neg for &Rational {
    type Output = Rational;
    fn neg(self) -> Rational {
        match self.parts() {
            Some((num, den)) => Rational::of_parts(-num, den),
            None => Rational::from_fraction(-self.to_fraction()),
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
        if let (Some((an, ad)), Some((bn, bd))) = (self.small(), other.small()) {
            if ad == bd {
                return an.cmp(&bn);
            }
            let product = |a: i64, b: i64| i128::from(a) * i128::from(b);
            return product(an, bd).cmp(&product(bn, ad));
        }
        compare(self.arg(), other.arg())
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
