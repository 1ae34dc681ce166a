//! The distribution function of a sum of independent parts whose densities are sums of powers.
//!
//! The density of a part is a sum of terms `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!`, so that the
//! distribution function of the sum of parts is `Σ Πweight · (t - Σknot)₊ᴾ / P!`, `P = Σp`, over
//! all choices of one term for each part: the inclusion-exclusion over the corners of a box (for
//! uniform inputs: P. Hall 1927, J. O. Irwin 1927, Biometrika 19). The sum is taken by halves: the
//! knots of one half in ascending order, their moments carried along, against those of the other
//! in descending order.

use std::collections::BTreeMap;

use num_bigint::BigInt;
use num_integer::Integer;
use num_rational::BigRational;
use num_traits::{One, Signed, Zero};

use super::grid::Grid;
use crate::exact::Rational;

/// A term `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!` of a density: p, knot, weight.
pub(super) type Term = (u32, Rational, Rational);

/// Knots in ascending order with their weights, for each power.
type Classes = BTreeMap<u32, Vec<(BigInt, BigInt)>>;

/// The parts, multiplied out by halves. Knots are whole numbers of `1 / unit`; all weights are to
/// be divided by `divisor`.
pub(super) struct Powers {
    left: Classes,
    right: Classes,
    unit: BigInt,
    divisor: BigRational,
}

impl Powers {
    /// Of parts that vary, and of what lies on a grid beside them.
    pub fn of(parts: &[&[Term]], grid: Option<&Grid>) -> Self {
        let knots = parts
            .iter()
            .flat_map(|terms| terms.iter().map(|(_, knot, _)| knot));
        let steps = grid.map(|grid| &grid.step);
        let unit = knots.chain(steps).fold(BigInt::one(), |unit, knot| {
            unit.lcm(knot.to_fraction().denom())
        });
        let mut divisor = BigRational::one();
        let (mut left, mut right) = (one(), one());
        for part in parts {
            let weights: Vec<_> = part
                .iter()
                .map(|(.., weight)| weight.to_fraction())
                .collect();
            // Whole numbers without a common factor.
            let common = weights.iter().fold(BigRational::zero(), |common, weight| {
                let numer = common.numer().gcd(weight.numer());
                BigRational::new(numer, common.denom().lcm(weight.denom()))
            });
            let terms = part.iter().zip(&weights).map(|((power, knot, _), weight)| {
                let weight = (weight / &common).to_integer();
                (*power, whole(knot, &unit), weight)
            });
            let terms: Vec<_> = terms.collect();
            divisor *= common;
            let half = if grid.is_some() || right.len() <= left.len() {
                &mut right
            } else {
                &mut left
            };
            *half = multiplied(half, &terms);
        }
        let mut left = classes(left);
        if let Some(grid) = grid {
            let step = whole(&grid.step, &unit);
            let nodes = grid
                .masses
                .iter()
                .enumerate()
                .filter(|(_, mass)| **mass != 0);
            let nodes = nodes.map(|(i, mass)| (BigInt::from(i) * &step, BigInt::from(*mass)));
            left = BTreeMap::from([(0, nodes.collect())]);
            divisor /= BigInt::from(Grid::WHOLE);
        }
        Self {
            left,
            right: classes(right),
            unit,
            divisor,
        }
    }

    /// The probability that the sum of all parts is below `limit`.
    pub fn below(&self, limit: &Rational) -> Rational {
        // The unit as fine as the limit needs it.
        let limit = limit.to_fraction() * &self.unit;
        let fine = limit.denom();
        let mut found = BigRational::zero();
        for (left_power, left) in &self.left {
            for (right_power, right) in &self.right {
                let power = left_power + right_power;
                let sum = sum_of_powers(left, right, limit.numer(), fine, power);
                let factorial: BigInt = (1..=power).map(BigInt::from).product();
                let unit = (&self.unit * fine).pow(power);
                found += BigRational::new(sum, factorial * unit);
            }
        }
        Rational::from_fraction(found * &self.divisor)
    }
}

fn whole(number: &Rational, unit: &BigInt) -> BigInt {
    (number.to_fraction() * unit).to_integer()
}

type Products = BTreeMap<(u32, BigInt), BigInt>;

fn one() -> Products {
    BTreeMap::from([((0, BigInt::zero()), BigInt::one())])
}

/// The products of terms, equal ones merged.
fn multiplied(half: &Products, terms: &[(u32, BigInt, BigInt)]) -> Products {
    let mut products = BTreeMap::new();
    for ((power, knot), weight) in half {
        for (p, k, w) in terms {
            *products
                .entry((power + p, knot + k))
                .or_insert_with(BigInt::zero) += weight * w;
        }
    }
    products
}

fn classes(products: Products) -> Classes {
    let mut classes = Classes::new();
    for ((power, knot), weight) in products {
        classes.entry(power).or_default().push((knot, weight));
    }
    classes
}

/// `Σ weight · (limit - fine · knot)₊ᵖᵒʷᵉʳ` over all sums of a knot of the left and one of the right.
fn sum_of_powers(
    left: &[(BigInt, BigInt)],
    right: &[(BigInt, BigInt)],
    limit: &BigInt,
    fine: &BigInt,
    power: u32,
) -> BigInt {
    // (τ - k)ⁿ = Σ C(n, i) · τⁿ⁻ⁱ · (-k)ⁱ: of the right only Σ weight · (-k)ⁱ is needed.
    let mut moments = vec![BigInt::zero(); power as usize + 1];
    let mut waiting = right.iter().peekable();
    let mut sum = BigInt::zero();
    for (left_knot, left_weight) in left.iter().rev() {
        let reach = limit - fine * left_knot;
        if !reach.is_positive() {
            continue;
        }
        while let Some((knot, weight)) = waiting.next_if(|(knot, _)| fine * knot < reach) {
            let knot = -(fine * knot);
            let mut term = weight.clone();
            for moment in &mut moments {
                *moment += &term;
                term *= &knot;
            }
        }
        let mut binomial = BigInt::one();
        let mut value = BigInt::zero();
        for (i, moment) in (0_u32..).zip(&moments) {
            value = value * &reach + &binomial * moment;
            binomial = binomial * (power - i) / (i + 1);
        }
        sum += value * left_weight;
    }
    sum
}
