//! Whole numbers of any size as the browser has them, so that the browser package need not bring
//! code for them. As much of the interface of `num_bigint::BigInt` as the library uses.

use std::fmt;
use std::mem;
use std::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Rem, Shl, Shr, Sub};

use js_sys::{BigInt, Object};
use num_integer::Integer;
use num_traits::{Num, One, Signed, ToPrimitive, Zero};

/// A whole number of any size.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Whole(BigInt);

impl Whole {
    /// The number of binary digits.
    pub fn bits(&self) -> u64 {
        let (mut rest, mut bits) = (self.abs(), 0);
        loop {
            if let Some(last) = rest.to_u64() {
                return bits + u64::from(u64::BITS - last.leading_zeros());
            }
            (rest, bits) = (rest >> 64, bits + 64);
        }
    }
}

macro_rules! from {
    ($($type:ty)*) => { $(
        impl From<$type> for Whole {
            fn from(number: $type) -> Self {
                Self(BigInt::from(number as i128))
            }
        }
    )* };
}

from!(i8 i32 u32 i64 u64 i128);

macro_rules! operator {
    ($($trait:ident $method:ident)*) => { $(
        impl $trait for &Whole {
            type Output = Whole;
            fn $method(self, other: &Whole) -> Whole {
                Whole((&self.0).$method(&other.0))
            }
        }
        impl $trait for Whole {
            type Output = Whole;
            fn $method(self, other: Whole) -> Whole {
                (&self).$method(&other)
            }
        }
        impl $trait<&Whole> for Whole {
            type Output = Whole;
            fn $method(self, other: &Whole) -> Whole {
                (&self).$method(other)
            }
        }
        impl $trait<Whole> for &Whole {
            type Output = Whole;
            fn $method(self, other: Whole) -> Whole {
                self.$method(&other)
            }
        }
    )* };
}

operator!(Add add Sub sub Mul mul Div div Rem rem);

impl Shl<i32> for &Whole {
    type Output = Whole;
    fn shl(self, bits: i32) -> Whole {
        Whole(&self.0 << &Whole::from(bits).0)
    }
}

impl Shr<i32> for Whole {
    type Output = Whole;
    fn shr(self, bits: i32) -> Whole {
        Whole(&self.0 >> &Whole::from(bits).0)
    }
}

impl AddAssign<&Whole> for Whole {
    fn add_assign(&mut self, other: &Whole) {
        *self = &*self + other;
    }
}

impl MulAssign<&Whole> for Whole {
    fn mul_assign(&mut self, other: &Whole) {
        *self = &*self * other;
    }
}

impl Neg for Whole {
    type Output = Self;
    fn neg(self) -> Self {
        Self::zero() - self
    }
}

impl Zero for Whole {
    fn zero() -> Self {
        Self::from(0)
    }
    fn is_zero(&self) -> bool {
        self.0.is_falsy()
    }
}

impl One for Whole {
    fn one() -> Self {
        Self::from(1)
    }
}

impl Num for Whole {
    type FromStrRadixErr = ();
    fn from_str_radix(text: &str, radix: u32) -> Result<Self, ()> {
        let number = i128::from_str_radix(text, radix);
        number.map(Self::from).map_err(|_| ())
    }
}

impl Signed for Whole {
    fn abs(&self) -> Self {
        if self.is_negative() {
            -self.clone()
        } else {
            self.clone()
        }
    }
    fn abs_sub(&self, other: &Self) -> Self {
        (self - other).max(Self::zero())
    }
    fn signum(&self) -> Self {
        Self::from(i32::from(self.is_positive()) - i32::from(self.is_negative()))
    }
    fn is_positive(&self) -> bool {
        *self > Self::zero()
    }
    fn is_negative(&self) -> bool {
        *self < Self::zero()
    }
}

impl Integer for Whole {
    fn div_floor(&self, other: &Self) -> Self {
        self.div_mod_floor(other).0
    }
    fn mod_floor(&self, other: &Self) -> Self {
        self.div_mod_floor(other).1
    }
    fn div_mod_floor(&self, other: &Self) -> (Self, Self) {
        let (quotient, rest) = self.div_rem(other);
        if rest.is_zero() || rest.is_negative() == other.is_negative() {
            (quotient, rest)
        } else {
            (quotient - Self::one(), rest + other)
        }
    }
    fn div_rem(&self, other: &Self) -> (Self, Self) {
        (self / other, self % other)
    }
    fn gcd(&self, other: &Self) -> Self {
        let (mut a, mut b) = (self.clone(), other.clone());
        while !b.is_zero() {
            let rest = &a % &b;
            a = mem::replace(&mut b, rest);
        }
        a.abs()
    }
    fn lcm(&self, other: &Self) -> Self {
        if self.is_zero() {
            return Self::zero();
        }
        (self / self.gcd(other) * other).abs()
    }
    fn is_multiple_of(&self, other: &Self) -> bool {
        (self % other).is_zero()
    }
    fn is_even(&self) -> bool {
        self.is_multiple_of(&Self::from(2))
    }
    fn is_odd(&self) -> bool {
        !self.is_even()
    }
}

impl ToPrimitive for Whole {
    fn to_i64(&self) -> Option<i64> {
        self.to_i128()?.try_into().ok()
    }
    fn to_u64(&self) -> Option<u64> {
        self.to_i128()?.try_into().ok()
    }
    fn to_i128(&self) -> Option<i128> {
        self.0.clone().try_into().ok()
    }
    fn to_u128(&self) -> Option<u128> {
        self.0.clone().try_into().ok()
    }
}

impl fmt::Display for Whole {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&String::from(Object::to_string(&self.0)))
    }
}
