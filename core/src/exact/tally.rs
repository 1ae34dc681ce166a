//! Sums of many terms.

use super::Rational;

/// A sum that grows. Terms with the denominator of the one before are added in 64 bits, which
/// the numbers of a recipe mostly fit; all others are put aside and added as they are.
pub(crate) struct Tally {
    num: i64,
    den: i64,
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
        match term.small() {
            Some((num, den)) => self.add_small(num, den),
            None => self.put_aside(term.clone()),
        }
    }

    /// Adds to each sum the product of `factor` and its own term.
    #[inline(always)]
    pub(crate) fn add_products<const N: usize>(
        sums: &mut [Self; N],
        factor: &Rational,
        terms: [&Rational; N],
    ) {
        for (sum, term) in sums.iter_mut().zip(terms) {
            if let (Some((an, ad)), Some((bn, bd))) = (factor.small(), term.small())
                && let (Some(num), Some(den)) = (an.checked_mul(bn), ad.checked_mul(bd))
            {
                sum.add_small(num, den);
            } else {
                sum.put_aside(factor * term);
            }
        }
    }

    #[inline(always)]
    fn add_small(&mut self, num: i64, den: i64) {
        match self.num.checked_add(num) {
            Some(sum) if den == self.den => self.num = sum,
            _ => self.begin_again(num, den),
        }
    }

    /// Puts the sum so far aside and goes on with another denominator.
    #[inline(never)]
    fn begin_again(&mut self, num: i64, den: i64) {
        if self.num != 0 {
            self.put_aside(Rational::of_small((self.num, self.den)));
        }
        (self.num, self.den) = (num, den);
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
        let last = Rational::of_small((self.num, self.den));
        match self.rest {
            Some(rest) => rest + last,
            None => last,
        }
    }
}
