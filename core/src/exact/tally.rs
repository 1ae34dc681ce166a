//! Sums of many terms.

use super::ops::{mul_fast, total};
use super::rational::{Rational, Repr};

/// A sum that grows. Terms with the denominator of the one before are added on machine integers.
pub(crate) struct Tally {
    num: i128,
    den: i128,
    rest: Option<Rational>,
}

impl Tally {
    /// Nothing yet.
    pub(crate) const NOTHING: Self = Self {
        num: 0,
        den: 1,
        rest: None,
    };

    /// Adds a number.
    #[inline]
    pub(crate) fn add(&mut self, term: &Rational) {
        match &term.0 {
            Repr::Small(num, den) => self.add_small(*num, *den),
            Repr::Big(_) => self.put_aside(term.clone()),
        }
    }

    /// Adds the product of two numbers.
    #[inline]
    pub(crate) fn add_product(&mut self, a: &Rational, b: &Rational) {
        match (&a.0, &b.0) {
            (Repr::Small(an, ad), Repr::Small(bn, bd)) => match mul_fast((*an, *ad), (*bn, *bd)) {
                Some((num, den)) => self.add_small(num, den),
                None => self.put_aside(a * b),
            },
            _ => self.put_aside(a * b),
        }
    }

    #[inline]
    fn add_small(&mut self, num: i128, den: i128) {
        match total(self.num, num) {
            Some(sum) if den == self.den => self.num = sum,
            _ => {
                if self.num != 0 {
                    self.put_aside(Rational::small(self.num, self.den));
                }
                (self.num, self.den) = (num, den);
            }
        }
    }

    #[inline(never)]
    fn put_aside(&mut self, number: Rational) {
        self.rest = Some(match self.rest.take() {
            Some(rest) => rest + number,
            None => number,
        });
    }

    /// The sum.
    #[inline]
    pub(crate) fn total(self) -> Rational {
        let last = Rational::small(self.num, self.den);
        match self.rest {
            Some(rest) => rest + last,
            None => last,
        }
    }
}
