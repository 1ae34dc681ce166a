//! The distribution function of a sum of independent parts whose densities are sums of powers.
//!
//! The density of a part is a sum of terms `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!`, so that the
//! distribution function of the sum of parts is `Σ Πweight · (t - Σknot)₊ᴾ / P!`, `P = Σp`, over
//! all choices of one term for each part: the inclusion-exclusion over the corners of a box (for
//! uniform inputs: P. Hall 1927, J. O. Irwin 1927, Biometrika 19). The sum is taken by halves: the
//! knots of one half in ascending order, their moments carried along, against those of the other
//! in descending order.

use super::part::Density;
use crate::exact::{Fraction, Rational, Whole, over};

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
    /// Of parts that vary, and of the masses beside them that lie on the nodes of a grid, of which
    /// `mass` are 1.
    pub fn of(parts: &[Density], masses: &[u64], step: &Rational, mass: &Rational) -> Self {
        let mut unit = Rational::ONE;
        refine(&mut unit, step);
        for part in parts {
            for term in &part.terms {
                refine(&mut unit, &term.knot);
            }
        }
        let cell = whole(&(step * &unit));
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for (i, mass) in masses.iter().enumerate() {
            if *mass != 0 {
                left.push(Product {
                    power: 0,
                    knot: Whole::from(i as u64) * &cell,
                    weight: Whole::from(*mass),
                });
            }
        }
        right.push(Product {
            power: 0,
            knot: Whole::from(0),
            weight: Whole::from(1),
        });
        let mut scale = over(&Rational::ONE, mass);
        for part in parts {
            // Weights as whole numbers without a common factor.
            let first = &part.terms[0].weight;
            let mut weight_unit = Rational::ONE;
            for term in &part.terms {
                refine(&mut weight_unit, &over(&term.weight, first));
            }
            scale = scale * over(first, &weight_unit);
            let mut terms = Vec::new();
            for term in &part.terms {
                terms.push(Product {
                    power: term.power,
                    knot: whole(&(&term.knot * &unit)),
                    weight: whole(&(over(&term.weight, first) * &weight_unit)),
                });
            }
            if right.len() > left.len() {
                std::mem::swap(&mut left, &mut right);
            }
            right = multiplied(&right, &terms);
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
                found = found + sum_of_powers(left, right, &limit, &fine, &unit);
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

/// The products of terms, in ascending order as `half` is.
fn multiplied(half: &[Product], terms: &[Product]) -> Vec<Product> {
    if terms.len() > 1 {
        let (some, others) = terms.split_at(terms.len() / 2);
        return merged(multiplied(half, some), multiplied(half, others));
    }
    let mut products = Vec::new();
    for term in terms {
        for product in half {
            products.push(Product {
                power: product.power + term.power,
                knot: &product.knot + &term.knot,
                weight: &product.weight * &term.weight,
            });
        }
    }
    products
}

/// Two lists in ascending order as one, equal products as one.
fn merged(mut some: Vec<Product>, mut others: Vec<Product>) -> Vec<Product> {
    let mut products: Vec<Product> = Vec::new();
    let order = |a: &Product, b: &Product| (a.power, &a.knot).cmp(&(b.power, &b.knot));
    loop {
        let larger = match (some.last(), others.last()) {
            (Some(a), b) if b.is_none_or(|b| order(a, b).is_ge()) => &mut some,
            _ => &mut others,
        };
        let Some(product) = larger.pop() else {
            products.reverse();
            return products;
        };
        match products.last_mut() {
            Some(last) if order(last, &product).is_eq() => last.weight += &product.weight,
            _ => products.push(product),
        }
    }
}

/// `Σ weight · ((limit - fine · knot)₊ / unit)ⁿ / n!` over all sums of a knot of the left and one of
/// the right, `n` being the power of their products.
fn sum_of_powers(
    left: &[Product],
    right: &[Product],
    limit: &Whole,
    fine: &Whole,
    unit: &Rational,
) -> Rational {
    // (τ - k)ⁿ = Σ C(n, i) · τⁿ⁻ⁱ · (-k)ⁱ: of the right only the moments Σ weight · kⁱ are needed.
    let power = i64::from(left[0].power + right[0].power);
    let (mut binomial, mut divisor) = (1, Rational::ONE);
    let mut moments = vec![(Whole::from(1), Whole::from(0))];
    for i in 1..power + 1 {
        binomial = -binomial * (power + 1 - i) / i;
        divisor = divisor * unit * Rational::integer(i);
        moments.push((Whole::from(binomial), Whole::from(0)));
    }
    let mut waiting = right;
    let mut sum = Whole::from(0);
    for product in left.iter().rev() {
        let reach = limit - fine * &product.knot;
        if reach <= Whole::from(0) {
            continue;
        }
        while let [next, rest @ ..] = waiting {
            let knot = fine * &next.knot;
            if knot >= reach {
                break;
            }
            waiting = rest;
            let mut term = next.weight.clone();
            for (_, moment) in &mut moments {
                *moment += &term;
                term = &term * &knot;
            }
        }
        let mut value = Whole::from(0);
        for (binomial, moment) in &moments {
            value = &value * &reach;
            value += &(moment * binomial);
        }
        sum += &(&value * &product.weight);
    }
    over(&number(sum), &divisor)
}
