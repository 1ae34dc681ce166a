//! How likely a superfat below a floor is: an exact rational number, or two exact bounds of it.
//!
//! "Superfat below the floor" is `(1 - floor) · need - alkali + acids < 0`, which is linear in
//! every saponification value, purity and weighing error. For independent inputs, each uniform or
//! triangular on its range, the density of one is a sum of a few powers, so that the distribution
//! function of their sum is a sum over all corners of the box of inputs (`powers`).
//!
//! Two things are enclosed between exact bounds instead:
//!
//! - Where the mass and the value of one portion both vary, their product is not linear. One of the
//!   two, `x`, is put on a few points, each value shared out between the two next to it so that the
//!   mean stays; the other, `y`, stays as it is. With cells of width `δ` that moves the
//!   probability by at most `δ² · max f(x) · max f(y) · y / (4 · x)`, the densities at their most,
//!   `y` at its high and `x` at its low end: linear interpolation of a function, whose slope changes
//!   by `V` in all, is off by at most `δ² / 8 · V` when integrated.
//! - Where there are more corners than [`MAX_CORNERS_OF_HALF`], the narrow portions are put on a
//!   grid in the same way and convolved there (`grid`); that moves the probability by at most
//!   `n · h² / 8 · max f(a) · max f(b)` for `n` portions, a grid of step `h` and the two widest of
//!   the portions that stay as they are, since the slope of the density of a sum is nowhere more
//!   than `max f(a) · max f(b)`.

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::One;

use super::batch::{Batch, Portion};
use super::bounds::{Role, check_floor};
use super::grid::{Grid, short};
use super::part::{Density, Input, Part, shift};
use super::powers::Powers;
use crate::exact::Rational;
use crate::fault::Faults;
use crate::quantity::Share;
use crate::sort::sort_by;

/// The corners of the box of inputs are summed by halves: the most of one half. 24 uniform inputs
/// have 2¹² each, 16 triangular ones 3⁸.
pub const MAX_CORNERS_OF_HALF: u64 = 6_561;

/// Beside a grid so many corners are summed.
const CORNERS_BESIDE_GRID: u64 = 1 << 12;

/// How many cells a factor of a product is put on: as many as move a probability by no more than
/// the first number, but no more than the second. For what is summed over corners, and for what
/// lies on the grid, where points cost less.
const FOR_CORNERS: (Rational, i64) = (Rational::decimal(1, 5), 48);
/// For both where the numbers are long even when they were shortened.
const FOR_LONG: (Rational, i64) = (Rational::decimal(1, 5), 12);
const FOR_GRID: (Rational, i64) = (Rational::decimal(1, 6), 256);

/// How an input is spread over its range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Distribution {
    /// Every value equally likely.
    #[default]
    Uniform,
    /// Falling in a straight line to nothing at both ends, from its peak at the value reckoned
    /// with; that value must lie in the range.
    Triangular,
}

/// Where the common denominator of all numbers, to the power of how many are multiplied, is longer
/// than this they are shortened, so that no request takes long.
const MOST_BITS: u64 = 8_000;

/// How a probability was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Summed over all corners of the box of inputs: exact.
    Corners,
    /// Summed over corners, with one factor of each product on a few points: two bounds.
    Points,
    /// Convolved on a grid, the widest inputs summed over corners: two bounds.
    Grid,
}

/// A probability between two exact bounds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Probability {
    /// It is not smaller than this.
    pub low: Share,
    /// It is not larger than this; the same as `low` where it is exact.
    pub high: Share,
    /// How many inputs vary.
    pub inputs: usize,
    /// How it was found.
    pub method: Method,
}

impl Probability {
    /// The probability itself, if both bounds agree.
    pub fn exact(&self) -> Option<&Share> {
        (self.low == self.high).then_some(&self.low)
    }
}

impl Batch {
    /// The probability that the superfat is below `floor`, where all inputs are independent and
    /// spread over their ranges by `distribution`.
    ///
    /// # Errors
    /// Those of [`Batch::check`]; `out_of_range` if the floor is not below 100 %, or if a
    /// triangular input would have its peak outside its range.
    ///
    /// ```
    /// use lixivium::assurance::{Batch, Distribution, Portion};
    /// use lixivium::exact::{Interval, Rational};
    /// use lixivium::quantity::Share;
    ///
    /// let number = |text| Rational::parse(text).unwrap();
    /// let range = |low, high| Interval::new(number(low), number(high)).unwrap();
    /// let batch = Batch {
    ///     fats: vec![Portion::exact("fat", number("500"), number("0.19"), range("0.184", "0.196"))],
    ///     alkalis: vec![Portion::exact("koh", number("93"), number("1"), range("1", "1"))],
    ///     acids: vec![],
    /// };
    /// // Lye-heavy where 500 g take up less than 93 g: a sixth of the way from 92 g to 98 g.
    /// let chance = batch.probability_below(&Share::NONE, Distribution::Uniform).unwrap();
    /// assert_eq!(chance.exact().unwrap().fraction().to_string(), "1/6");
    /// ```
    pub fn probability_below(
        &self,
        floor: &Share,
        distribution: Distribution,
    ) -> Result<Probability, Faults> {
        self.check()?;
        check_floor(floor)?;
        let triangular = distribution == Distribution::Triangular;
        let mut sum = Sum::default();
        for (role, i, portion) in self.portions() {
            let factor = match role {
                Role::Fat => floor.rest().fraction().clone(),
                Role::Alkali => -Rational::ONE,
                Role::Acid => Rational::ONE,
            };
            if triangular && !portion.koh_range.contains(&portion.koh) {
                return Err(Faults::one(
                    "out_of_range",
                    format!("{}[{i}]", role.list_name()),
                    "a triangular spread has its peak at the value reckoned with, which lies \
                     outside the range here; accepted: a range around that value",
                ));
            }
            sum.add(&factor, portion, triangular);
        }
        Ok(sum.negative())
    }
}

/// Bounds are moved outwards to this grid, so that the numbers of an answer stay short.
const SHORT: Rational = Rational::decimal(1, 12);

impl Role {
    const fn list_name(self) -> &'static str {
        match self {
            Self::Fat => "fats",
            Self::Alkali => "alkalis",
            Self::Acid => "acids",
        }
    }
}

/// `start + Σ parts ± slack`.
#[derive(Default)]
struct Sum {
    start: Rational,
    slack: Rational,
    parts: Vec<Part>,
    inputs: usize,
}

impl Sum {
    /// Adds `factor · mass · value` of a portion.
    fn add(&mut self, factor: &Rational, portion: &Portion, triangular: bool) {
        let peak = |at: &Rational| triangular.then(|| at.clone());
        let (mass, value) = (
            Input {
                range: portion.mass_range(),
                peak: peak(&portion.mass),
            },
            Input {
                range: portion.koh_range.clone(),
                peak: peak(&portion.koh),
            },
        );
        self.inputs += usize::from(mass.varies()) + usize::from(value.varies());
        match (mass.varies(), value.varies()) {
            (false, _) => self.push(&(factor * &portion.mass), None, &value),
            (true, false) => self.push(&(factor * portion.koh_range.low()), None, &mass),
            (true, true) => match (shift(&mass, &value), shift(&value, &mass)) {
                (Some(a), Some(b)) if a <= b => self.push(factor, Some(mass), &value),
                (Some(_), None) => self.push(factor, Some(mass), &value),
                (_, Some(_)) => self.push(factor, Some(value), &mass),
                (None, None) => self.linear(factor, portion, &mass, &value),
            },
        }
    }

    fn push(&mut self, factor: &Rational, x: Option<Input>, y: &Input) {
        let part = Part::new(factor, x, y);
        self.start = &self.start + &part.low;
        if part.width.is_positive() {
            self.parts.push(part);
        }
    }

    /// Where both factors could be 0: the product departs from the linear form by at most the
    /// product of half their widths.
    fn linear(&mut self, factor: &Rational, portion: &Portion, mass: &Input, value: &Input) {
        let half = const { Rational::decimal(5, 1) };
        let middle = portion.koh_range.middle();
        self.push(&(factor * &portion.mass), None, value);
        self.push(&(factor * &middle), None, &mass.less(&portion.mass));
        let slack = (factor * &portion.mass_error * portion.koh_range.width() * half).abs();
        self.slack = &self.slack + &slack;
    }

    /// Where the inputs have numbers of very many digits, moves these to shorter ones; by how much
    /// the sum changes at most comes to the slack. Whether that was needed.
    fn shorten(&mut self) -> bool {
        let numbers = self.parts.iter().flat_map(Part::numbers);
        let numbers = numbers.chain([self.start.clone()]);
        let unit = numbers.fold(BigInt::one(), |unit, number| {
            unit.lcm(number.to_fraction().denom())
        });
        let products = self.parts.iter().any(|part| part.x.is_some());
        let points = if products { FOR_CORNERS.1 as u64 } else { 0 };
        if unit.bits() * (self.parts.len() as u64 + points) <= MOST_BITS {
            return false;
        }
        for part in std::mem::take(&mut self.parts) {
            let (y, y_off) = part.y.times(&part.factor).shortened();
            let (x, off) = match &part.x {
                None => (None, y_off),
                Some(x) => {
                    let (x, x_off) = x.shortened();
                    if !x.range.low().is_positive() {
                        self.slack = &self.slack + &part.width;
                        continue;
                    }
                    let most =
                        |input: &Input| input.range.low().abs().max(input.range.high().abs());
                    let off = most(&x) * y_off + (most(&y) + &x_off) * &x_off;
                    (Some(x), off)
                }
            };
            self.slack = &self.slack + &off;
            self.start = &self.start - &part.low;
            self.push(&Rational::ONE, x, &y);
        }
        true
    }

    /// The probability that the sum is below 0.
    fn negative(mut self) -> Probability {
        let (cells, grid_cells) = match self.shorten() {
            true => (&FOR_LONG, &FOR_LONG),
            false => (&FOR_CORNERS, &FOR_GRID),
        };
        sort_by(&mut self.parts, |a, b| b.width.cmp(&a.width));
        let parts = self.parts.iter();
        let mut kept: Vec<Density> = parts.map(|part| part.density(cells)).collect();
        if !fits_halves(&kept) {
            // The slope of a density needs two.
            while kept.len() > 2 && corners(&kept) > CORNERS_BESIDE_GRID {
                kept.pop();
            }
        }
        let mut rest = self.parts.split_off(kept.len());
        let together: Rational = rest.iter().map(|part| &part.width).sum();
        let step = Grid::step(&together).unwrap_or_default();
        // What is too narrow for the grid is taken at its worst and at its best, as is everything
        // that finds no place there.
        let narrow = &step * &const { Rational::decimal(1, 4) };
        let aside = rest.iter().position(|part| part.width < narrow);
        let mut aside = rest.split_off(aside.unwrap_or(rest.len()));
        let on_grid = rest.iter().map(|part| part.density(grid_cells));
        let on_grid: Vec<Density> = on_grid.collect();
        let grid = Grid::of(&on_grid, step);
        let errors = kept.iter().chain(&on_grid).map(|part| &part.error);
        let mut error: Rational = errors.sum();
        if grid.is_none() {
            aside.append(&mut rest);
        }
        let aside: Rational = aside.iter().map(|part| &part.width).sum();
        if let [a, b, ..] = &kept[..]
            && let Some(grid) = &grid
        {
            let eighth = const { Rational::decimal(125, 3) };
            let slope = &a.most * &b.most;
            let count = Rational::integer(rest.len() as i64);
            error = error + count * &grid.step * &grid.step * eighth * slope;
        }
        let limits = [
            -(&self.start + &self.slack + aside),
            &self.slack - &self.start,
        ];
        // Two limits that differ are moved apart to shorter numbers.
        let near = short(&((&limits[1] - &limits[0]) * const { Rational::decimal(1, 3) }));
        let limits = match near {
            None => limits,
            Some(near) => [
                limits[0].floor_to(&near).unwrap_or_default(),
                limits[1].ceil_to(&near).unwrap_or_default(),
            ],
        };
        let all = self.parts.iter().chain(&rest);
        let whole: Rational = all.map(|part| &part.width).sum();
        let terms = kept.iter().map(|part| part.terms.as_slice());
        let powers = Powers::of(&terms.collect::<Vec<_>>(), grid.as_ref());
        let unknown = grid.as_ref().map_or(Rational::ZERO, Grid::unknown);
        let below = |limit: &Rational| {
            if !limit.is_positive() {
                (Rational::ZERO, Rational::ZERO)
            } else if *limit >= whole {
                (Rational::ONE, Rational::ONE)
            } else {
                let found = powers.below(limit);
                if limits[0] == limits[1] && error.is_zero() && unknown.is_zero() {
                    return (found.clone(), found);
                }
                let (low, high) = (&found - &error, found + &error + &unknown);
                let low = low.floor_to(&SHORT).unwrap_or(low).max(Rational::ZERO);
                let high = high.ceil_to(&SHORT).unwrap_or(high).min(Rational::ONE);
                (low, high)
            }
        };
        let (low, mut high) = below(&limits[0]);
        if limits[0] != limits[1] {
            high = below(&limits[1]).1;
        }
        let method = match grid {
            Some(_) => Method::Grid,
            None if low == high => Method::Corners,
            None => Method::Points,
        };
        let inputs = self.inputs;
        let (low, high) = (Share::of_one(low), Share::of_one(high));
        Probability {
            low,
            high,
            inputs,
            method,
        }
    }
}

fn corners(parts: &[Density]) -> u64 {
    let knots = parts.iter().map(|part| part.terms.len() as u64);
    knots.fold(1, u64::saturating_mul)
}

/// Whether the corners can be summed by halves, each part in the smaller one.
fn fits_halves(parts: &[Density]) -> bool {
    let mut halves = [1_u64; 2];
    for part in parts {
        halves.sort_unstable();
        halves[0] = halves[0].saturating_mul(part.terms.len() as u64);
    }
    halves.iter().all(|half| *half <= MAX_CORNERS_OF_HALF)
}
