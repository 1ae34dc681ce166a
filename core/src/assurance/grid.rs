//! Many parts put on one grid and convolved there, with every rounding known.
//!
//! Each value of a part is shared out between the two nodes next to it so that the mean stays: the
//! mass of a node is the second difference of `E (x - part)₊`. That is exact but for the last
//! digit, which is always cut off, and so is the last digit of every convolution. What was cut off
//! in all is what the masses lack to 1 in the end, and lies nobody knows where.

use super::part::{Density, shared_out};
use crate::exact::{Rational, over};

/// How many cells all parts together have, about.
const CELLS: i64 = 4_096;

/// The masses of a part are whole numbers of 2⁻³⁰.
const PART_BITS: u32 = 30;

/// While they are added up, of 2⁻⁶⁴.
const SUM_BITS: u32 = 64;

/// The mass 1. With the 30 bits of a part, products stay below 2⁶⁴.
const ALL: u64 = 1 << 33;

/// What is added up for one mass is below this, so that no sum of thousands overflows.
const MOST: i128 = 1 << 104;

/// The same as a number.
pub(super) const WHOLE: Rational = Rational::integer(ALL as i64);

/// The step for parts that are so wide together; 0 for no parts.
pub(super) fn step(width: &Rational) -> Rational {
    short(&over(width, &const { Rational::integer(CELLS) }))
}

/// The sum of some parts on a grid: the mass of each node from 0 on, of which [`WHOLE`] are 1; not
/// more than the true one. None of no parts, or where one of them has a density beyond all measure.
pub(super) fn masses(parts: &[Density], step: &Rational) -> Option<Vec<u64>> {
    if parts.is_empty() {
        return None;
    }
    let mut masses = vec![ALL];
    for part in parts {
        masses = convolved(&masses, &on_nodes(part, step)?);
    }
    Some(masses)
}

/// The mass that was cut off.
pub(super) fn unknown(masses: &[u64]) -> Rational {
    let known: u64 = masses.iter().sum();
    over(&Rational::integer((ALL - known) as i64), &WHOLE)
}

/// A number of few digits that is a little larger; 0 for 0.
pub(super) fn short(step: &Rational) -> Rational {
    const FEW: Rational = Rational::integer(1_000);
    const TENTH: Rational = Rational::decimal(1, 1);
    const TEN: Rational = Rational::integer(10);
    if !step.is_positive() {
        return Rational::ZERO;
    }
    let mut unit = Rational::ONE;
    while &unit * &FEW > *step {
        unit = (&unit * &TENTH).reduced();
    }
    while &unit * &TEN * &FEW < *step {
        unit = &unit * &TEN;
    }
    step.ceil_to(&unit).unwrap_or_default()
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
    let nodes = index(&part.width.checked_div(step)?)? + 1;
    // By how much the rise from node to node changes at each, the first being the one before 0.
    let mut bends = vec![0_i128; nodes + 4];
    for term in &part.terms {
        let at = term.knot.checked_div(step)?.reduced();
        let first = index(&at)?;
        let mut u = Rational::integer(first as i64 - 1) - &at;
        let mut unit = term.weight.clone();
        for _ in 0..term.power {
            unit = (unit * step).reduced();
        }
        let (mut level, mut rise) = (0, 0);
        for bend in &mut bends[first..first + 3] {
            let next = fixed(&(&unit * &shared_out(term.power, &u)))?;
            *bend += next - level - rise;
            (level, rise) = (next, next - level);
            u = u + Rational::ONE;
        }
        let steady = if term.power == 2 { fixed(&unit)? } else { 0 };
        bends[first + 3] += steady - rise;
    }
    // Each number above was cut off downwards, and so are the masses.
    let (mut level, mut rise) = (0, 0);
    let mut masses = Vec::with_capacity(nodes);
    for bend in &bends[1..nodes + 1] {
        rise += bend;
        level += rise;
        masses.push(u64::try_from(level >> (SUM_BITS - PART_BITS)).unwrap_or(0));
    }
    Some(masses)
}

/// The first node that is not before a number of cells.
fn index(cells: &Rational) -> Option<usize> {
    let (node, _) = cells.ceil_to(&Rational::ONE)?.in_lowest_terms()?;
    usize::try_from(node).ok()
}

/// A number in whole units of 2⁻⁶⁴, downwards.
fn fixed(number: &Rational) -> Option<i128> {
    const HALF: Rational = Rational::integer(1 << (SUM_BITS / 2));
    let scaled = number * &HALF * &HALF;
    let (whole, _) = scaled.floor_to(&Rational::ONE)?.in_lowest_terms()?;
    (-MOST..MOST).contains(&whole).then_some(whole)
}
