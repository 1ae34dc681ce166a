//! Sums of many terms, for small code: no fraction is held in 64 bits, so terms are just added.

use super::Rational;

/// A sum that grows.
pub(crate) struct Tally(Rational);

impl Tally {
    /// Nothing yet.
    pub(crate) const NOTHING: Self = Self(Rational::ZERO);

    /// Adds a number.
    pub(crate) fn add(&mut self, term: &Rational) {
        self.0 = &self.0 + term;
    }

    /// Adds to each sum the product of `factor` and its own term.
    pub(crate) fn add_products<const N: usize>(
        sums: &mut [Self; N],
        factor: &Rational,
        terms: [&Rational; N],
    ) {
        for (sum, term) in sums.iter_mut().zip(terms) {
            sum.add(&(factor * term));
        }
    }

    /// The sum.
    pub(crate) fn total(self) -> Rational {
        self.0
    }
}
