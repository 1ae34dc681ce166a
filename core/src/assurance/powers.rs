//! The distribution function of a sum of independent parts whose densities are sums of powers.
//!
//! The density of a part is a sum of terms `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!`, so that the
//! distribution function of the sum of parts is `Σ Πweight · (t - Σknot)₊ᴾ / P!`, `P = Σp`, over
//! all choices of one term for each part: the inclusion-exclusion over the corners of a box (for
//! uniform inputs: P. Hall 1927, J. O. Irwin 1927, Biometrika 19). The sum is taken by halves: the
//! knots of one half in ascending order, their moments carried along, against those of the other
//! in descending order.

use super::grid::Grid;
use super::part::{Density, over};
use crate::exact::{Fraction, Rational, Whole};

/// A product of terms, one of each part.
struct Product {
    power: u32,
    knot: Whole,
    weight: Whole,
}

/// The parts, multiplied out by halves, each in ascending order of power and knot. Knots are whole
/// numbers of `1 / unit`, weights of `scale`.
pub(super) struct Powers {
    left: Vec<Product>,
    right: Vec<Product>,
    unit: Rational,
    scale: Rational,
}

impl Powers {
    /// Of parts that vary, and of what lies on a grid beside them.
    pub fn of(parts: Vec<Density>, grid: Option<&Grid>) -> Self {
        let mut unit = Rational::ONE;
        for part in &parts {
            for term in &part.terms {
                refine(&mut unit, &term.knot);
            }
        }
        let one = || Product {
            power: 0,
            knot: Whole::from(0),
            weight: Whole::from(1),
        };
        let (mut left, mut right) = (vec![one()], vec![one()]);
        let mut scale = Rational::ONE;
        if let Some(grid) = grid {
            refine(&mut unit, &grid.step);
            let step = whole(&(&grid.step * &unit));
            left.clear();
            for (i, mass) in grid.masses.iter().enumerate() {
                if *mass != 0 {
                    left.push(Product {
                        power: 0,
                        knot: Whole::from(i as u64) * &step,
                        weight: Whole::from(*mass),
                    });
                }
            }
            scale = over(&scale, &Grid::WHOLE);
        }
        for mut part in parts {
            // Weights as whole numbers without a common factor.
            let first = part.terms[0].weight.clone();
            let mut weight_unit = Rational::ONE;
            for term in &mut part.terms {
                term.weight = over(&term.weight, &first);
                refine(&mut weight_unit, &term.weight);
            }
            let terms = part.terms.iter().map(|term| Product {
                power: term.power,
                knot: whole(&(&term.knot * &unit)),
                weight: whole(&(&term.weight * &weight_unit)),
            });
            let half = if grid.is_some() || right.len() <= left.len() {
                &mut right
            } else {
                &mut left
            };
            *half = multiplied(half, &terms.collect::<Vec<_>>());
            scale = scale * over(&first, &weight_unit);
        }
        Self {
            left,
            right,
            unit,
            scale,
        }
    }

    /// The probability that the sum of all parts is below `limit`.
    pub fn below(&self, limit: &Rational) -> Rational {
        // The unit as fine as the limit needs it.
        let mut unit = self.unit.clone();
        refine(&mut unit, limit);
        let fine = whole(&over(&unit, &self.unit));
        let limit = whole(&(limit * &unit));
        let same_power = |a: &Product, b: &Product| a.power == b.power;
        let mut found = Rational::ZERO;
        for left in self.left.chunk_by(same_power) {
            for right in self.right.chunk_by(same_power) {
                let power = left[0].power + right[0].power;
                let sum = sum_of_powers(left, right, &limit, &fine, power);
                let mut divisor = Rational::ONE;
                for factor in 1..=i64::from(power) {
                    divisor = divisor * &unit * Rational::integer(factor);
                }
                found = found + over(&number(sum), &divisor);
            }
        }
        found * &self.scale
    }
}

/// Makes a unit, of which 1 has so many, fine enough for a number to be a whole multiple of it.
pub(super) fn refine(unit: &mut Rational, of: &Rational) {
    let left_over = (of * &*unit).to_fraction();
    *unit = &*unit * &number(left_over.denom().clone());
}

/// A whole number for what is done thousands of times.
fn whole(number: &Rational) -> Whole {
    number.to_fraction().numer().clone()
}

fn number(whole: Whole) -> Rational {
    Rational::from_fraction(Fraction::from(whole))
}

/// The products of terms, equal ones merged.
fn multiplied(half: &[Product], terms: &[Product]) -> Vec<Product> {
    let mut products = Vec::with_capacity(half.len() * terms.len());
    for a in half {
        for b in terms {
            products.push(Product {
                power: a.power + b.power,
                knot: &a.knot + &b.knot,
                weight: &a.weight * &b.weight,
            });
        }
    }
    products.sort_unstable_by(|a, b| (a.power, &a.knot).cmp(&(b.power, &b.knot)));
    products.dedup_by(|next, kept| {
        let same = next.power == kept.power && next.knot == kept.knot;
        if same {
            kept.weight += &next.weight;
        }
        same
    });
    products
}

/// `Σ weight · (limit - fine · knot)₊ᵖᵒʷᵉʳ` over all sums of a knot of the left and one of the right.
fn sum_of_powers(
    left: &[Product],
    right: &[Product],
    limit: &Whole,
    fine: &Whole,
    power: u32,
) -> Whole {
    // (τ - k)ⁿ = Σ C(n, i) · τⁿ⁻ⁱ · (-k)ⁱ: of the right only the moments Σ weight · kⁱ are needed.
    let mut binomials = Vec::new();
    let mut binomial = 1_i64;
    for i in 0..=i64::from(power) {
        binomials.push(Whole::from(binomial));
        binomial = -binomial * (i64::from(power) - i) / (i + 1);
    }
    let mut moments = vec![Whole::from(0); binomials.len()];
    let mut waiting = right.iter().peekable();
    let mut sum = Whole::from(0);
    for product in left.iter().rev() {
        let reach = limit - fine * &product.knot;
        if reach <= Whole::from(0) {
            continue;
        }
        while let Some(next) = waiting.next_if(|next| fine * &next.knot < reach) {
            let knot = fine * &next.knot;
            let mut term = next.weight.clone();
            for moment in &mut moments {
                *moment += &term;
                term = &term * &knot;
            }
        }
        let mut value = Whole::from(0);
        for (moment, binomial) in moments.iter().zip(&binomials) {
            value = &value * &reach;
            value += &(moment * binomial);
        }
        sum += &(&value * &product.weight);
    }
    sum
}
