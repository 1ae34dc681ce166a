//! What varies: inputs, products of two of them, and their densities.

use super::grid::short;
use super::powers::refine;
use crate::exact::{Rational, over};

/// An input, uniform on its range or triangular with its peak there.
#[derive(Clone)]
pub(super) struct Input {
    pub low: Rational,
    pub peak: Option<Rational>,
    pub high: Rational,
}

/// A term `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!` of a density, `p` its power: 1 or 2.
pub(super) struct Term {
    pub power: u32,
    pub knot: Rational,
    pub weight: Rational,
}

impl Input {
    /// The number 1, which does not vary.
    pub const ONE: Self = Self {
        low: Rational::ONE,
        peak: None,
        high: Rational::ONE,
    };

    pub fn width(&self) -> Rational {
        &self.high - &self.low
    }

    pub fn varies(&self) -> bool {
        self.low != self.high
    }

    /// How far from 0 it can be.
    pub fn largest(&self) -> Rational {
        self.low.abs().max(self.high.abs())
    }

    /// With each of its numbers put elsewhere by a linear function.
    pub fn moved(&self, to: &dyn Fn(&Rational) -> Rational) -> Self {
        let (low, high) = (to(&self.low), to(&self.high));
        let (low, high) = if low <= high {
            (low, high)
        } else {
            (high, low)
        };
        let peak = self.peak.as_ref().map(to);
        Self { low, peak, high }
    }

    pub fn times(&self, factor: &Rational) -> Self {
        self.moved(&|number| number * factor)
    }

    /// Makes a unit fine enough for its numbers.
    pub fn refine(&self, unit: &mut Rational) {
        refine(unit, &self.low);
        refine(unit, &self.high);
        if let Some(peak) = &self.peak {
            refine(unit, peak);
        }
    }

    /// With numbers of few digits, and by how much any of them was moved at most.
    pub fn shortened(&self) -> (Self, Rational) {
        const FINE: Rational = Rational::decimal(1, 7);
        let grid = short(&(self.width() * FINE));
        let short = self.moved(&|number| number.round_to(&grid).unwrap_or_else(|| number.clone()));
        (short, grid)
    }

    /// The largest density times the width.
    fn height(&self) -> Rational {
        Rational::integer(if self.peak.is_some() { 2 } else { 1 })
    }

    /// The density times `weight`.
    fn terms(&self, weight: &Rational, terms: &mut Vec<Term>) {
        let mut add = |power, knot: &Rational, weight: Rational| {
            if !weight.is_zero() {
                let knot = knot.clone();
                terms.push(Term {
                    power,
                    knot,
                    weight,
                });
            }
        };
        let top = over(&(weight * &self.height()), &self.width());
        // Where it does not rise or fall in a straight line there is a step.
        let slope = |from: &Rational, to: &Rational| top.checked_div(&(to - from));
        let rise = self.peak.as_ref().and_then(|peak| slope(&self.low, peak));
        let fall = self.peak.as_ref().and_then(|peak| slope(peak, &self.high));
        match &rise {
            Some(rise) => add(2, &self.low, rise.clone()),
            None => add(1, &self.low, top.clone()),
        }
        if let Some(peak) = &self.peak {
            let (rise, fall) = (rise.unwrap_or_default(), fall.clone().unwrap_or_default());
            add(2, peak, -(rise + fall));
        }
        match fall {
            Some(fall) => add(2, &self.high, fall),
            None => add(1, &self.high, -top),
        }
    }
}

/// What the term of weight 1 and this power gives to a point `u` cells past its knot, if each value
/// is shared out between the two points next to it: the second difference of `u₊ⁿ / n!`, `n` being
/// the power and 1.
pub(super) fn shared_out(power: u32, u: &Rational) -> Rational {
    if *u >= Rational::ONE {
        return if power == 1 { Rational::ONE } else { u.clone() };
    }
    let raised = |u: &Rational| {
        let square = u * u;
        match u {
            u if u.is_negative() => Rational::ZERO,
            _ if power == 1 => square,
            u => square * u,
        }
    };
    let change = raised(&(u + &Rational::ONE)) - raised(u) * Rational::integer(2);
    over(&change, &Rational::integer(if power == 1 { 2 } else { 6 })).reduced()
}

/// What a portion adds to the sum, from 0 on: `x · y` with an `x` above 0, or `y` alone beside the
/// `x` that is 1.
pub(super) struct Part {
    pub x: Input,
    pub y: Input,
    /// The least of it before it was taken to 0.
    pub low: Rational,
    pub width: Rational,
    /// By how much `x` on the two ends of its range moves a probability at most.
    shift: Rational,
}

/// The density of a part.
pub(super) struct Density {
    /// Its terms.
    pub terms: Vec<Term>,
    /// Where it ends.
    pub width: Rational,
    /// It is nowhere more than this.
    pub most: Rational,
    /// By how much it moves a probability at most.
    pub error: Rational,
}

impl Part {
    pub fn new(x: Input, y: Input) -> Self {
        let low = (&x.low * &y.low).min(&x.high * &y.low);
        let high = (&x.low * &y.high).max(&x.high * &y.high);
        let shift = shift(&x, &y).unwrap_or_default();
        Self {
            x,
            y,
            width: high - &low,
            low,
            shift,
        }
    }

    /// With `x` on the ends of so many cells that it moves a probability by no more than `fine`,
    /// but not on more than `most_cells`; each value of `x` is shared out between the two points
    /// next to it so that the mean stays.
    pub fn density(&self, (fine, most_cells): &(Rational, i64)) -> Density {
        let moved = |cells: i64| over(&self.shift, &Rational::integer(cells * cells));
        let mut cells = 2;
        while cells < *most_cells && moved(cells) > *fine {
            cells += 2;
        }
        let error = moved(cells);
        let (mut terms, mut most, mut x_terms) = (Vec::new(), Rational::ZERO, Vec::new());
        let cell = over(&self.x.width(), &Rational::integer(cells));
        if self.x.varies() {
            let in_cells = self.x.moved(&|x| over(&(x - &self.x.low), &cell));
            in_cells.terms(&Rational::ONE, &mut x_terms);
        } else {
            cells = 0;
        }
        for i in 0..cells + 1 {
            let i = Rational::integer(i);
            let point = (&self.x.low + &cell * &i).reduced();
            let mut weight = Rational::ZERO;
            for term in &x_terms {
                let part = &term.weight * &shared_out(term.power, &(&i - &term.knot));
                weight = (weight + part).reduced();
            }
            if cells == 0 {
                weight = Rational::ONE;
            }
            let input = self.y.moved(&|y| y * &point - &self.low);
            most = most.max(over(&input.height(), &input.width()));
            input.terms(&weight, &mut terms);
        }
        Density {
            terms,
            width: self.width.clone(),
            most,
            error,
        }
    }
}

/// By how much the probability moves at most if `x` is put on the two ends of its range. None if
/// `x` could be 0.
pub(super) fn shift(x: &Input, y: &Input) -> Option<Rational> {
    let quarter = const { Rational::decimal(25, 2) };
    let most = x.height() * y.height() * x.width() * y.largest() * quarter;
    most.checked_div(&(&x.low * &y.width()))
}
