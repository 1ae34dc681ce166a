//! Many parts put on one grid and convolved there, with every rounding known.
//!
//! Each value of a part is shared out between the two nodes next to it so that the mean stays: the
//! mass of a node is the second difference of `E (x - part)₊`. That is exact but for the last
//! digit, which is always cut off, and so is the last digit of every convolution. What was cut off
//! in all is what the masses lack to 1 in the end, and lies nobody knows where.

use num_traits::ToPrimitive;

use super::part::Density;
use crate::exact::Rational;

/// How many cells all parts together have, about.
const CELLS: i64 = 4_096;

/// The masses of a part are whole numbers of 2⁻³⁰.
const PART_BITS: u32 = 30;

/// While they are added up, of 2⁻⁶⁴.
const SUM_BITS: u32 = 64;

/// What is added up for one mass is below this, so that no sum of thousands overflows.
const MOST: i128 = 1 << 104;

/// The sum of some parts on a grid.
pub(super) struct Grid {
    /// The distance of two nodes.
    pub step: Rational,
    /// The mass of each node from 0 on, in units of 1 / [`Grid::WHOLE`]: not more than the true one.
    pub masses: Vec<u64>,
}

impl Grid {
    /// The mass 1. With the 30 bits of a part, products stay below 2⁶⁴.
    pub const WHOLE: u64 = 1 << 33;

    /// The step for parts that are so wide together. None of no parts.
    pub fn step(width: &Rational) -> Option<Rational> {
        short(&width.checked_div(&const { Rational::integer(CELLS) })?)
    }

    /// None of no parts, or where one of them has a density beyond all measure.
    pub fn of(parts: &[Density], step: Rational) -> Option<Self> {
        if parts.is_empty() {
            return None;
        }
        let mut masses = vec![Self::WHOLE];
        for part in parts {
            masses = convolved(&masses, &on_nodes(part, &step)?);
        }
        Some(Self { step, masses })
    }

    /// The mass that was cut off.
    pub fn unknown(&self) -> Rational {
        let known: u64 = self.masses.iter().sum();
        let unknown = i64::try_from(Self::WHOLE - known).unwrap_or(i64::MAX);
        let whole = const { Rational::integer(Self::WHOLE as i64) };
        Rational::integer(unknown)
            .checked_div(&whole)
            .unwrap_or_default()
    }
}

/// A number of few digits that is a little larger. None of 0.
pub(super) fn short(step: &Rational) -> Option<Rational> {
    const FEW: Rational = Rational::integer(1_000);
    const TENTH: Rational = Rational::decimal(1, 1);
    const TEN: Rational = Rational::integer(10);
    if !step.is_positive() {
        return None;
    }
    let mut unit = Rational::ONE;
    while &unit * &FEW > *step {
        unit = (&unit * &TENTH).reduced();
    }
    while &unit * &TEN * &FEW < *step {
        unit = &unit * &TEN;
    }
    step.ceil_to(&unit)
}

fn convolved(masses: &[u64], more: &[u64]) -> Vec<u64> {
    let mut sums = vec![0_u64; masses.len() + more.len() - 1];
    for (i, mass) in masses.iter().enumerate() {
        if *mass != 0 {
            for (sum, more) in sums[i..].iter_mut().zip(more) {
                *sum += mass * more;
            }
        }
    }
    for sum in &mut sums {
        *sum >>= PART_BITS;
    }
    sums
}

/// The masses of a part on the nodes.
///
/// With `u` cells from the knot to a node a term `weight · (x - knot)₊ᵖ⁻¹ / (p - 1)!` of the density
/// adds `weight · stepᵖ · uᵖ⁻¹` from `u = 1` on, and a polynomial where the knot is nearer.
fn on_nodes(part: &Density, step: &Rational) -> Option<Vec<u64>> {
    let index = |number: &Rational| number.ceil_to(&Rational::ONE)?.to_fraction().to_usize();
    let nodes = index(&part.width.checked_div(step)?)? + 1;
    // What each node has of its own, what the level rises by there, and what its rise changes by.
    let mut changes = vec![[0_i128; 3]; nodes + 3];
    for (power, knot, weight) in &part.terms {
        let at = knot.checked_div(step)?.reduced();
        let first = index(&at)?;
        let mut unit = (weight * step).reduced();
        if *power == 2 {
            unit = (unit * step).reduced();
        }
        let u = Rational::integer(first as i64) - &at;
        let near = |u: &Rational| fixed(&(&unit * &near(*power, u)));
        if first > 0 {
            changes[first - 1][0] += near(&(&u - &Rational::ONE))?;
        }
        changes[first][0] += near(&u)?;
        match power {
            1 => changes[first + 1][1] += fixed(&unit)?,
            _ => {
                changes[first + 1][1] += fixed(&(&unit * &(&u + &Rational::ONE)))?;
                changes[first + 2][2] += fixed(&unit)?;
            }
        }
    }
    // Each number above was cut off downwards, and so are the masses.
    let (mut level, mut rise) = (0, 0);
    let masses = changes[..nodes].iter().map(|[own, more, steeper]| {
        rise += steeper;
        level += more + rise;
        u64::try_from((level + own) >> (SUM_BITS - PART_BITS)).unwrap_or(0)
    });
    Some(masses.collect())
}

/// `((u + 1)₊ⁿ - 2 u₊ⁿ) / n!` with `n = p + 1`, for `u` from -1 to 1.
fn near(power: u32, u: &Rational) -> Rational {
    let raised = |u: Rational| {
        let u = u.max(Rational::ZERO);
        let square = &u * &u;
        if power == 1 { square } else { square * u }
    };
    let factorial = Rational::integer(if power == 1 { 2 } else { 6 });
    let sum = raised(u + &Rational::ONE) - raised(u.clone()) * Rational::integer(2);
    sum.checked_div(&factorial).unwrap_or_default().reduced()
}

/// A number in whole units of 2⁻⁶⁴, downwards.
fn fixed(number: &Rational) -> Option<i128> {
    let scaled = number.to_fraction() * num_bigint::BigInt::from(1_u128 << SUM_BITS);
    let whole = scaled.floor().to_integer().to_i128()?;
    (-MOST..MOST).contains(&whole).then_some(whole)
}
