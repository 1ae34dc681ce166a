//! Straight lines over the grams of fat that are added, and how little they may be.

use super::words;
use crate::exact::Rational;

/// `start + slope · grams`.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub start: Rational,
    pub slope: Rational,
}

impl Line {
    pub fn flat(start: Rational) -> Self {
        let slope = Rational::ZERO;
        Self { start, slope }
    }

    pub fn at(&self, grams: &Rational) -> Rational {
        &self.start + &(&self.slope * grams)
    }

    pub fn times(&self, factor: &Rational) -> Self {
        Self {
            start: &self.start * factor,
            slope: &self.slope * factor,
        }
    }

    pub fn over(&self, divisor: &Rational) -> Option<Self> {
        Some(self.times(&Rational::ONE.checked_div(divisor)?))
    }

    pub fn plus(&self, other: &Self) -> Self {
        Self {
            start: &self.start + &other.start,
            slope: &self.slope + &other.slope,
        }
    }

    pub fn minus(&self, other: &Self) -> Self {
        self.plus(&other.times(&-Rational::ONE))
    }

    pub fn less(&self, constant: &Rational) -> Self {
        Self {
            start: &self.start - constant,
            slope: self.slope.clone(),
        }
    }

    /// The smallest grams of fat, not below `least`, at which the line keeps its limit.
    pub fn reach(
        &self,
        limit: &Limit,
        least: &Rational,
        fats_at_hand: bool,
    ) -> Result<Rational, Why> {
        let now = self.at(least);
        if limit.holds(&now) {
            return Ok(least.clone());
        }
        if now.is_positive() {
            // More fat asks for more of it still.
            return Err(Why::NotAtHand(now));
        }
        let low = limit.low();
        let missing = low - now;
        match missing.checked_div(&self.slope) {
            Some(more) if fats_at_hand && more.is_positive() => Ok(least + &more),
            _ => Err(Why::TooMuch(missing)),
        }
    }
}

/// What may be added of a thing.
#[derive(Debug, Clone)]
pub(super) enum Limit {
    /// At least so much, below 0 where some can be taken back; more than 0 only if it is at hand.
    AtLeast(Rational, bool),
    /// Neither added nor taken back.
    Nothing,
}

impl Limit {
    pub fn holds(&self, grams: &Rational) -> bool {
        match self {
            Self::AtLeast(low, at_hand) => grams >= low && (*at_hand || !grams.is_positive()),
            Self::Nothing => grams.is_zero(),
        }
    }

    fn low(&self) -> Rational {
        match self {
            Self::AtLeast(low, _) => low.clone(),
            Self::Nothing => Rational::ZERO,
        }
    }
}

/// Why a line cannot keep its limit.
pub(super) enum Why {
    /// So much would have to be added.
    NotAtHand(Rational),
    /// There is so much too much of it.
    TooMuch(Rational),
}

impl Why {
    pub fn says(&self, name: &str) -> String {
        let name = words(name);
        match self {
            Self::NotAtHand(grams) => format!(
                "about {} g of {name} would have to be added, which is not at hand; accepted: have \
                 it at hand, or leave its target out",
                grams.to_fixed(2)
            ),
            Self::TooMuch(grams) => format!(
                "there is about {} g too much {name}, which cannot be taken out again, and no fat \
                 at hand makes up for it; accepted: fat to add, or another target",
                grams.to_fixed(2)
            ),
        }
    }
}
