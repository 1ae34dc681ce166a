//! What varies: inputs, products of two of them, and their densities.

use super::grid::short;
use super::powers::Term;
use crate::exact::{Interval, Rational};

/// An input, uniform on its range or triangular with its peak there.
#[derive(Clone)]
pub(super) struct Input {
    pub range: Interval,
    pub peak: Option<Rational>,
}

impl Input {
    pub fn numbers(&self) -> Vec<Rational> {
        let ends = [self.range.low(), self.range.high()].into_iter();
        ends.chain(&self.peak).cloned().collect()
    }

    pub fn varies(&self) -> bool {
        self.range.width().is_positive()
    }

    /// Times a number.
    pub fn times(&self, factor: &Rational) -> Self {
        Self {
            range: &self.range * &Interval::point(factor.clone()),
            peak: self.peak.as_ref().map(|peak| peak * factor),
        }
    }

    /// Less a number.
    pub fn less(&self, number: &Rational) -> Self {
        Self {
            range: &self.range - &Interval::point(number.clone()),
            peak: self.peak.as_ref().map(|peak| peak - number),
        }
    }

    /// With numbers of few digits, and by how much any of them was moved at most.
    pub fn shortened(&self) -> (Self, Rational) {
        const FINE: Rational = Rational::decimal(1, 7);
        let grid = short(&(self.range.width() * FINE)).unwrap_or_default();
        let move_to = |number: &Rational| number.round_to(&grid).unwrap_or_else(|| number.clone());
        let (low, high) = (move_to(self.range.low()), move_to(self.range.high()));
        let short = Self {
            range: Interval::new(low, high).unwrap_or_else(|| self.range.clone()),
            peak: self.peak.as_ref().map(move_to),
        };
        (short, grid)
    }

    /// The largest density times the width.
    fn height(&self) -> Rational {
        Rational::integer(if self.peak.is_some() { 2 } else { 1 })
    }

    /// The density times `weight`: terms `w · (x - knot)₊ᵖ⁻¹ / (p - 1)!`.
    fn terms(&self, weight: &Rational, terms: &mut Vec<Term>) {
        let (low, high) = (self.range.low(), self.range.high());
        let width = high - low;
        let over = |a: &Rational, b: &Rational| a.checked_div(b).unwrap_or_default();
        let mut add = |power, knot: &Rational, weight| terms.push((power, knot.clone(), weight));
        let Some(peak) = &self.peak else {
            let level = over(weight, &width);
            add(1, low, level.clone());
            add(1, high, -level);
            return;
        };
        // A triangle of height 2 / width; at an end it has a step.
        let (rise, fall) = (peak - low, high - peak);
        let top = over(&(weight * &Rational::integer(2)), &width);
        let (up, down) = (over(&top, &rise), over(&top, &fall));
        if rise.is_zero() {
            add(1, low, top);
            add(2, low, -&down);
        } else {
            add(2, low, up.clone());
            add(2, peak, -(&up + &down));
        }
        if fall.is_zero() {
            add(1, high, -over(&(weight * &Rational::integer(2)), &width));
        } else {
            add(2, high, down);
        }
    }
}

/// What a portion adds to the sum, from 0 on: `factor · y`, or `factor · x · y`.
pub(super) struct Part {
    pub factor: Rational,
    pub x: Option<Input>,
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
    /// The numbers that it is made of.
    pub fn numbers(&self) -> Vec<Rational> {
        let x = self.x.iter().flat_map(Input::numbers);
        let y = self.y.numbers();
        x.chain(y.iter().map(|y| y * &self.factor)).collect()
    }

    pub fn new(factor: &Rational, x: Option<Input>, y: &Input) -> Self {
        let all = match &x {
            Some(x) => &x.range * &y.range,
            None => y.range.clone(),
        };
        let all = &all * &Interval::point(factor.clone());
        Self {
            factor: factor.clone(),
            shift: x.as_ref().and_then(|x| shift(x, y)).unwrap_or_default(),
            x,
            y: y.clone(),
            width: all.width(),
            low: all.low().clone(),
        }
    }

    pub fn density(&self, (fine, most_cells): &(Rational, i64)) -> Density {
        let mut cells = 2_i64;
        let moved = |cells: i64| {
            let moved = self.shift.checked_div(&Rational::integer(cells * cells));
            moved.unwrap_or_default()
        };
        while cells < *most_cells && moved(cells) > *fine {
            cells += 2;
        }
        let points = match &self.x {
            Some(x) => on_points(x, cells),
            None => vec![(Rational::ONE, Rational::ONE)],
        };
        let (mut terms, mut most) = (Vec::new(), Rational::ZERO);
        for (point, weight) in points {
            let input = self.y.times(&(&self.factor * &point)).less(&self.low);
            let height = input.height().checked_div(&input.range.width());
            most = most.max(height.unwrap_or_default());
            input.terms(&weight, &mut terms);
        }
        Density {
            terms,
            width: self.width.clone(),
            most,
            error: moved(cells),
        }
    }
}

/// By how much the probability moves at most if `x` is put on the two ends of its range. None if
/// `x` could be 0.
pub(super) fn shift(x: &Input, y: &Input) -> Option<Rational> {
    let quarter = const { Rational::decimal(25, 2) };
    let most = x.height() * y.height() * x.range.width() * y.range.high() * quarter;
    most.checked_div(&(x.range.low() * &y.range.width()))
}

/// An input put on the ends of so many cells, each value shared out between the two next to it so
/// that the mean stays: points and their weights.
fn on_points(input: &Input, cells: i64) -> Vec<(Rational, Rational)> {
    let cell = input.range.width().checked_div(&Rational::integer(cells));
    let cell = cell.unwrap_or_default();
    let mut terms = Vec::new();
    input.terms(&Rational::ONE, &mut terms);
    // E (x - input)₊ has the terms of the density with their powers raised by 2; its second
    // differences over a cell are the weights.
    let expected = |x: Rational| -> Rational {
        let term = |(power, knot, weight): &Term| {
            let above = (&x - knot).max(Rational::ZERO);
            let sixth = const { Rational::fraction(1, std::num::NonZeroU32::new(6).unwrap()) };
            let half = const { Rational::decimal(5, 1) };
            let square = &above * &above;
            match power {
                1 => weight * &square * half,
                _ => weight * &(square * above) * sixth,
            }
        };
        terms
            .iter()
            .map(term)
            .fold(Rational::ZERO, |sum, term| (sum + term).reduced())
    };
    // Away from the ends and the peak the density is a straight line, and a weight that of the
    // point itself.
    let on_line = |x: &Rational| -> Option<Rational> {
        let (low, high) = (input.range.low(), input.range.high());
        if x - &cell < *low || x + &cell > *high {
            return None;
        }
        let Some(peak) = &input.peak else {
            return Rational::ONE.checked_div(&Rational::integer(cells));
        };
        let (end, way) = match x {
            x if x + &cell <= *peak => (x - low, peak - low),
            x if x - &cell >= *peak => (high - x, high - peak),
            _ => return None,
        };
        let height = end.checked_div(&way)? * Rational::integer(2);
        height.checked_div(&Rational::integer(cells))
    };
    let at = |i: i64| (input.range.low() + &cell * &Rational::integer(i)).reduced();
    let points = (0..=cells).map(|i| {
        let x = at(i);
        let weight = on_line(&x).or_else(|| {
            let around = expected(at(i + 1)) - expected(at(i)) * Rational::integer(2);
            (around + expected(at(i - 1))).checked_div(&cell)
        });
        (x, weight.unwrap_or_default().reduced())
    });
    points.collect()
}
