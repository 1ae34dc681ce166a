//! Arithmetic and order.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use num_rational::BigRational;

use super::rational::{Rational, Repr, reduce};

/// A fraction on machine integers: numerator, positive denominator.
type Small = (i128, i128);

fn fits_i64(n: i128) -> bool {
    n as i64 as i128 == n
}

/// The product, unless it needs more than 128 bits.
pub(super) fn product(a: i128, b: i128) -> Option<i128> {
    if fits_i64(a) && fits_i64(b) {
        Some(a * b)
    } else {
        a.checked_mul(b).filter(|n| *n != i128::MIN)
    }
}

fn total(a: i128, b: i128) -> Option<i128> {
    a.checked_add(b).filter(|n| *n != i128::MIN)
}

fn add_small((an, ad): Small, (bn, bd): Small) -> Option<Small> {
    if ad == bd {
        return Some((total(an, bn)?, ad));
    }
    // Denominators are mostly powers of ten: keep to the larger one.
    if let (Ok(a), Ok(b)) = (u64::try_from(ad), u64::try_from(bd)) {
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

/// By `small` if it fits, after reducing if it does not, and else by `big`.
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
    pub fn checked_div(&self, divisor: &Self) -> Option<Self> {
        let inverse = match &divisor.0 {
            Repr::Small(0, _) => return None,
            Repr::Small(num, den) if *num < 0 => Self::small(-den, -num),
            Repr::Small(num, den) => Self::small(*den, *num),
            Repr::Big(big) => Self::from_big(big.recip()),
        };
        Some(self * &inverse)
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
    ($trait:ident, $method:ident, $small:expr, $big:expr) => {
        impl $trait<&Rational> for &Rational {
            type Output = Rational;
            #[inline]
            fn $method(self, other: &Rational) -> Rational {
                compute(self, other, $small, $big)
            }
        }
        impl $trait for Rational {
            type Output = Rational;
            #[inline]
            fn $method(self, other: Rational) -> Rational {
                (&self).$method(&other)
            }
        }
        impl $trait<&Rational> for Rational {
            type Output = Rational;
            #[inline]
            fn $method(self, other: &Rational) -> Rational {
                (&self).$method(other)
            }
        }
        impl $trait<Rational> for &Rational {
            type Output = Rational;
            #[inline]
            fn $method(self, other: Rational) -> Rational {
                self.$method(&other)
            }
        }
    };
}

operator!(Add, add, add_small, |a, b| a + b);
operator!(Sub, sub, |a, (n, d)| add_small(a, (-n, d)), |a, b| a - b);
operator!(Mul, mul, mul_small, |a, b| a * b);

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
        numbers.fold(Rational::ZERO, |sum, n| sum + n)
    }
}

impl Ord for Rational {
    fn cmp(&self, other: &Self) -> Ordering {
        if let (Repr::Small(an, ad), Repr::Small(bn, bd)) = (&self.0, &other.0) {
            if ad == bd {
                return an.cmp(bn);
            }
            if let (Some(a), Some(b)) = (product(*an, *bd), product(*bn, *ad)) {
                return a.cmp(&b);
            }
        }
        self.to_big().cmp(&other.to_big())
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
