//! How likely a superfat below a floor is, as an exact rational number.
//!
//! "Superfat below the floor" is `(1 - floor) · need - alkali + acids < 0`, which is linear in
//! every saponification value, purity and weighing error. For independent inputs, each uniform or
//! triangular on its range, the density of one is a sum of a few powers `weight · (x - knot)₊ᵖ⁻¹ /
//! (p - 1)!`, so that the distribution function of their sum is
//! `Σ Πweight · (t - Σknot)₊ᴾ / P!`, `P = Σp`, over all choices of one knot for each input: the
//! inclusion-exclusion over the corners of a box (for uniform inputs: P. Hall 1927, J. O. Irwin
//! 1927, Biometrika 19). The sum is taken by halves: the corners of one half in ascending order,
//! their moments carried along, against those of the other in descending order.
//!
//! Two things are not linear or too much, and are enclosed between exact bounds instead: where
//! both the mass and the range of one portion vary, their product departs from the linear form by
//! at most `mass error · half the range`; and where there are more than [`MAX_CORNERS`] choices,
//! the inputs of the smallest width are taken at their worst and at their best.

use std::collections::BTreeMap;

use num_bigint::BigInt;
use num_integer::Integer;
use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use super::batch::Batch;
use super::bounds::{Role, check_floor};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::quantity::Share;

/// The most choices of one knot for each input that are summed: 24 uniform inputs, or 15
/// triangular ones.
pub const MAX_CORNERS: u64 = 1 << 24;

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

/// A probability between two exact bounds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Probability {
    /// It is not smaller than this.
    pub low: Share,
    /// It is not larger than this; the same as `low` where it is exact.
    pub high: Share,
    /// How many inputs vary.
    pub inputs: usize,
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
        let mut sum = Sum::default();
        for (role, i, portion) in self.portions() {
            let factor = match role {
                Role::Fat => floor.rest().fraction().clone(),
                Role::Alkali => -Rational::ONE,
                Role::Acid => Rational::ONE,
            };
            let range = &portion.koh_range;
            if distribution == Distribution::Triangular && !range.contains(&portion.koh) {
                return Err(Faults::one(
                    "out_of_range",
                    format!("{}[{i}]", role.list_name()),
                    "a triangular spread has its peak at the value reckoned with, which lies \
                     outside the range here; accepted: a range around that value",
                ));
            }
            let peak = |at: Rational| (distribution == Distribution::Triangular).then_some(at);
            sum.add(
                &(&factor * &portion.mass),
                range.low(),
                range.high(),
                peak(portion.koh.clone()),
            );
            let error = &portion.mass_error;
            sum.add(
                &(&factor * &range.middle()),
                &-error,
                error,
                peak(Rational::ZERO),
            );
            let half = range.width() * const { Rational::decimal(5, 1) };
            sum.slack = sum.slack + (factor * error * half).abs();
        }
        Ok(sum.negative())
    }
}

impl Role {
    const fn list_name(self) -> &'static str {
        match self {
            Self::Fat => "fats",
            Self::Alkali => "alkalis",
            Self::Acid => "acids",
        }
    }
}

/// `start + Σ parts ± slack`, each part from 0 to its width.
#[derive(Default)]
struct Sum {
    start: Rational,
    slack: Rational,
    parts: Vec<Part>,
}

struct Part {
    width: Rational,
    /// Where it is most likely; none if it is uniform.
    peak: Option<Rational>,
}

impl Part {
    const fn knots(&self) -> u64 {
        if self.peak.is_some() { 3 } else { 2 }
    }
}

impl Sum {
    /// Adds `factor` times an input from `low` to `high`.
    fn add(&mut self, factor: &Rational, low: &Rational, high: &Rational, peak: Option<Rational>) {
        let from = if factor.is_negative() { high } else { low };
        self.start = &self.start + &(factor * from);
        let width = (factor * &(high - low)).abs();
        if width.is_positive() {
            let peak = peak.map(|peak| factor * &(peak - from));
            self.parts.push(Part { width, peak });
        }
    }

    /// The probability that the sum is below 0.
    fn negative(mut self) -> Probability {
        let inputs = self.parts.len();
        self.parts.sort_by(|a, b| b.width.cmp(&a.width));
        let mut corners = 1_u64;
        let fits = |part: &&Part| {
            corners = corners.saturating_mul(part.knots());
            corners <= MAX_CORNERS
        };
        let kept = self.parts.iter().take_while(fits).count();
        let rest: Rational = self.parts.drain(kept..).map(|part| part.width).sum();
        let most = &self.slack - &self.start;
        let least = -(&self.start + &self.slack + &rest);
        let low = below(&self.parts, &least);
        let high = if least == most {
            low.clone()
        } else {
            below(&self.parts, &most)
        };
        Probability {
            low: Share::of_one(low),
            high: Share::of_one(high),
            inputs,
        }
    }
}

/// The probability that the sum of independent parts is below `limit`.
fn below(parts: &[Part], limit: &Rational) -> Rational {
    let whole: Rational = parts.iter().map(|part| &part.width).sum();
    if !limit.is_positive() {
        return Rational::ZERO;
    }
    if *limit >= whole {
        return Rational::ONE;
    }
    // Everything as whole numbers of one small unit.
    let numbers = parts
        .iter()
        .flat_map(|part| [Some(&part.width), part.peak.as_ref()]);
    let numbers = numbers.flatten().chain([limit]);
    let unit = numbers.fold(BigInt::one(), |unit, n| unit.lcm(n.to_fraction().denom()));
    let whole = |n: &Rational| (n.to_fraction() * &unit).to_integer();
    let mut divisor = BigInt::one();
    let (mut left, mut right) = (Terms::one(), Terms::one());
    for (i, part) in parts.iter().enumerate() {
        let knots = Knots::of(&whole(&part.width), part.peak.as_ref().map(&whole));
        divisor *= knots.divisor;
        let half = if i % 2 == 0 { &mut left } else { &mut right };
        half.multiply(&knots.terms);
    }
    let mut found = BigRational::zero();
    for (left_power, left) in left.by_power() {
        for (right_power, right) in right.by_power() {
            let power = left_power + right_power;
            let sum = sum_of_powers(&left, &right, &whole(limit), power);
            let factorial: BigInt = (1..=power).map(BigInt::from).product();
            found += BigRational::new(sum, factorial);
        }
    }
    Rational::from_fraction(found / divisor)
}

/// A term `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!` of a density, by power and knot.
type Term = (u32, BigInt, BigInt);

/// The density of one part: its terms, to be divided by `divisor`.
struct Knots {
    terms: Vec<Term>,
    divisor: BigInt,
}

impl Knots {
    fn of(width: &BigInt, peak: Option<BigInt>) -> Self {
        let (zero, one) = (BigInt::zero, BigInt::one);
        let Some(peak) = peak else {
            return Self {
                terms: vec![(1, zero(), one()), (1, width.clone(), -one())],
                divisor: width.clone(),
            };
        };
        let rest = width - &peak;
        // The slopes 2/(width · peak) and -2/(width · rest) of a triangle; at an end it has a step.
        let (terms, divisor) = if peak.is_zero() {
            let terms = vec![
                (1, zero(), width.clone()),
                (2, zero(), -one()),
                (2, width.clone(), one()),
            ];
            (terms, width * width)
        } else if rest.is_zero() {
            let terms = vec![
                (2, zero(), one()),
                (2, width.clone(), -one()),
                (1, width.clone(), -width),
            ];
            (terms, width * width)
        } else {
            let divisor = width * &peak * &rest;
            let terms = vec![
                (2, zero(), rest),
                (2, peak.clone(), -width),
                (2, width.clone(), peak),
            ];
            (terms, divisor)
        };
        let doubled = |(power, knot, weight): Term| (power, knot, weight * 2);
        Self {
            terms: terms.into_iter().map(doubled).collect(),
            divisor,
        }
    }
}

/// The products of terms, equal ones merged.
struct Terms(BTreeMap<(u32, BigInt), BigInt>);

impl Terms {
    fn one() -> Self {
        Self(BTreeMap::from([((0, BigInt::zero()), BigInt::one())]))
    }

    fn multiply(&mut self, terms: &[Term]) {
        let mut products = BTreeMap::new();
        for ((power, knot), weight) in &self.0 {
            for (p, k, w) in terms {
                *products
                    .entry((power + p, knot + k))
                    .or_insert_with(BigInt::zero) += weight * w;
            }
        }
        self.0 = products;
    }

    /// Knots in ascending order with their weights, for each power.
    fn by_power(&self) -> BTreeMap<u32, Vec<(&BigInt, &BigInt)>> {
        let mut classes: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for ((power, knot), weight) in &self.0 {
            classes.entry(*power).or_default().push((knot, weight));
        }
        classes
    }
}

/// `Σ weight · (limit - knot)₊ᵖᵒʷᵉʳ` over all sums of a knot of the left and one of the right.
fn sum_of_powers(
    left: &[(&BigInt, &BigInt)],
    right: &[(&BigInt, &BigInt)],
    limit: &BigInt,
    power: u32,
) -> BigInt {
    // (τ - k)ⁿ = Σ C(n, i) · τⁿ⁻ⁱ · (-k)ⁱ: of the right only Σ weight · (-k)ⁱ is needed.
    let mut moments = vec![BigInt::zero(); power as usize + 1];
    let mut waiting = right.iter().peekable();
    let mut sum = BigInt::zero();
    for (left_knot, left_weight) in left.iter().rev() {
        let reach = limit - *left_knot;
        if !reach.is_positive() {
            continue;
        }
        while let Some((knot, weight)) = waiting.next_if(|(knot, _)| **knot < reach) {
            let mut term = (*weight).clone();
            for moment in &mut moments {
                *moment += &term;
                term *= -*knot;
            }
        }
        let mut binomial = BigInt::one();
        let mut value = BigInt::zero();
        for (i, moment) in (0_u32..).zip(&moments) {
            value = value * &reach + &binomial * moment;
            binomial = binomial * (power - i) / (i + 1);
        }
        sum += value * *left_weight;
    }
    sum
}
