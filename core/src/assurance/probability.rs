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

use super::batch::{Batch, Portion};
use super::bounds::{Role, check_floor};
use super::grid::{self, short};
use super::part::{Density, Input, Part, shift};
use super::powers::{Powers, refine};
use crate::exact::{Interval, Rational};
use crate::fault::Faults;
use crate::quantity::Share;
use crate::sort::sort_by;

/// The corners of the box of inputs are summed by halves: the most of one half. 24 uniform inputs
/// have 2¹² each, 16 triangular ones 3⁸.
pub const MAX_CORNERS_OF_HALF: usize = 6_561;

/// Beside a grid so many corners are summed.
const CORNERS_BESIDE_GRID: usize = 1 << 12;

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
        for &role in &Role::ALL {
            let factor = match role {
                Role::Fat => floor.rest().fraction().clone(),
                Role::Alkali => const { Rational::integer(-1) },
                Role::Acid => Rational::ONE,
            };
            for (i, portion) in self.list(role).iter().enumerate() {
                if triangular && !portion.koh_range.contains(&portion.koh) {
                    return Err(Faults::one(
                        "out_of_range",
                        format_args!("{}s[{i}]", role.name()),
                        "a triangular spread has its peak at the value reckoned with, which lies \
                         outside the range here; accepted: a range around that value",
                    ));
                }
                sum.add(&factor, portion, triangular);
            }
        }
        Ok(sum.negative())
    }
}

/// Bounds are moved outwards to this grid, so that the numbers of an answer stay short.
const SHORT: Rational = Rational::decimal(1, 12);

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
        let input = |range: &Interval, peak: &Rational| Input {
            low: range.low().clone(),
            peak: triangular.then(|| peak.clone()),
            high: range.high().clone(),
        };
        let mass = input(&portion.mass_range(), &portion.mass);
        let value = input(&portion.koh_range, &portion.koh);
        self.inputs += usize::from(mass.varies()) + usize::from(value.varies());
        let (x, y) = match (shift(&mass, &value), shift(&value, &mass)) {
            (Some(a), b) if b.as_ref().is_none_or(|b| a <= *b) => (&mass, &value),
            (_, Some(_)) => (&value, &mass),
            (_, None) => return self.add_linear(factor, portion, &mass, &value),
        };
        self.push(x, y.times(factor));
    }

    fn push(&mut self, x: &Input, y: Input) {
        let part = if x.varies() {
            Part::new(x.clone(), y)
        } else {
            Part::new(Input::ONE, y.times(&x.low))
        };
        self.start = &self.start + &part.low;
        if part.width.is_positive() {
            self.parts.push(part);
        }
    }

    /// Where both factors could be 0, or neither varies: the product departs from the linear form
    /// by at most the product of half their widths.
    fn add_linear(&mut self, factor: &Rational, portion: &Portion, mass: &Input, value: &Input) {
        let half = const { Rational::decimal(5, 1) };
        let middle = factor * &portion.koh_range.middle();
        self.push(&Input::ONE, value.times(&(factor * &portion.mass)));
        self.push(
            &Input::ONE,
            mass.moved(&|mass| &middle * &(mass - &portion.mass)),
        );
        let slack = (factor * &portion.mass_error * value.width() * half).abs();
        self.slack = &self.slack + &slack;
    }

    /// Where the inputs have numbers of very many digits, moves these to shorter ones; by how much
    /// the sum changes at most comes to the slack. Whether that was needed.
    fn shorten(&mut self) -> bool {
        let mut unit = Rational::ONE;
        refine(&mut unit, &self.start);
        let mut points = 0;
        for part in &self.parts {
            if part.x.varies() {
                points = FOR_CORNERS.1;
            }
            part.x.refine(&mut unit);
            part.y.refine(&mut unit);
        }
        let factors = self.parts.len() as u64 + points as u64;
        if unit.to_fraction().numer().bits() * factors <= MOST_BITS {
            return false;
        }
        for part in std::mem::take(&mut self.parts) {
            let (x, x_off) = part.x.shortened();
            let (y, y_off) = part.y.shortened();
            if !x.low.is_positive() {
                self.slack = &self.slack + &part.width;
                continue;
            }
            let off = x.largest() * y_off + (y.largest() + &x_off) * &x_off;
            self.slack = &self.slack + &off;
            self.start = &self.start - &part.low;
            self.push(&x, y);
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
        let all = densities(&self.parts, cells);
        let kept = &all[..summed_over_corners(&all)];
        let rest = &self.parts[kept.len()..];
        let step = grid::step(&width(rest));
        // What is too narrow for the grid is taken at its worst and at its best, as is everything
        // that finds no place there.
        let narrow = &step * &const { Rational::decimal(25, 2) };
        let wide = rest.iter().take_while(|part| part.width >= narrow).count();
        let on_grid = densities(&rest[..wide], grid_cells);
        let mut error = Rational::ZERO;
        for part in kept.iter().chain(&on_grid) {
            error = error + &part.error;
        }
        let mut inside = kept.len();
        let (mut masses, mut mass, mut unknown) = (&[1][..], Rational::ONE, Rational::ZERO);
        let found = grid::masses(&on_grid, &step);
        if let (Some(found), [a, b, ..]) = (&found, kept) {
            let eighth = const { Rational::decimal(125, 3) };
            let count = Rational::integer(wide as i64);
            error = error + count * &step * &step * eighth * (&a.most * &b.most);
            unknown = grid::unknown(found);
            (masses, mass) = (found, grid::WHOLE);
            inside += wide;
        }
        let (inside, aside) = self.parts.split_at(inside);
        let (low_limit, high_limit) = self.limits(&width(aside));
        let whole = width(inside);
        let powers = Powers::of(kept, masses, &step, &mass);
        let below = |limit: &Rational| {
            if !limit.is_positive() {
                (Rational::ZERO, Rational::ZERO)
            } else if *limit >= whole {
                (Rational::ONE, Rational::ONE)
            } else {
                let found = powers.below(limit);
                (&found - &error, found + &error + &unknown)
            }
        };
        let (mut low, mut high) = below(&low_limit);
        let certain = low_limit == high_limit;
        if !certain {
            high = below(&high_limit).1;
        }
        if !certain || error.is_positive() || unknown.is_positive() {
            low = low.floor_to(&SHORT).unwrap_or(low).max(Rational::ZERO);
            high = high.ceil_to(&SHORT).unwrap_or(high).min(Rational::ONE);
        }
        let method = if inside.len() > kept.len() {
            Method::Grid
        } else if low == high {
            Method::Corners
        } else {
            Method::Points
        };
        Probability {
            low: Share::of_one(low),
            high: Share::of_one(high),
            inputs: self.inputs,
            method,
        }
    }

    /// The sum is below 0 surely where its parts, without those aside, are below the first number,
    /// and surely not where they are above the second. Where the two differ they are moved apart to
    /// shorter ones.
    fn limits(&self, aside: &Rational) -> (Rational, Rational) {
        let low = -(&self.start + &self.slack + aside);
        let high = &self.slack - &self.start;
        let near = short(&((&high - &low) * const { Rational::decimal(1, 3) }));
        match (low.floor_to(&near), high.ceil_to(&near)) {
            (Some(low), Some(high)) => (low, high),
            _ => (low, high),
        }
    }
}

fn densities(parts: &[Part], cells: &(Rational, i64)) -> Vec<Density> {
    parts.iter().map(|part| part.density(cells)).collect()
}

/// How wide parts are together.
fn width(parts: &[Part]) -> Rational {
    let mut width = Rational::ZERO;
    for part in parts {
        width = width + &part.width;
    }
    width
}

/// How many parts from the widest on are summed over their corners: all, if that can be done by
/// halves, each part in the smaller one; else those that can be beside a grid.
fn summed_over_corners(parts: &[Density]) -> usize {
    let (mut small, mut large, mut beside_grid) = (1_usize, 1_usize, 0);
    for part in parts {
        small = small.saturating_mul(part.terms.len());
        (small, large) = (small.min(large), small.max(large));
        // The slope of a density needs two.
        if beside_grid < 2 || small.saturating_mul(large) <= CORNERS_BESIDE_GRID {
            beside_grid += 1;
        }
    }
    if large <= MAX_CORNERS_OF_HALF {
        parts.len()
    } else {
        beside_grid
    }
}
