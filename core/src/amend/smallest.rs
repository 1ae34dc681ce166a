//! The least that is added or taken back.

use super::targets::{OF_PLAN, sums};
use super::{Actual, Kind, Part, Stage};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::linear;
use crate::recipe::Recipe;

/// The most things that are added or taken back at once.
pub const MOST_THINGS: usize = 32;

/// What 1 g counts that may not be added, where 1 g that may be moved counts 1.
const FORBIDDEN: Rational = Rational::integer(1_000);

/// What 1 g counts that cannot be taken out.
const IMPOSSIBLE: Rational = Rational::integer(1_000_000);

/// Something that can be added or taken back.
pub(super) struct Thing<'a> {
    /// What 1 g of it is made of.
    pub of: Vec<Part<'a>>,
    /// What 1 g of it adds to each sum.
    sums: Vec<Rational>,
    /// Whether it may be added.
    add: bool,
    /// How much of it may be taken back, in g.
    take: Rational,
    /// How much of it is added, in g; below 0: taken back.
    pub grams: Rational,
}

/// All that may be added or taken back, with so much of each that the batch comes to its targets
/// and the mass of all that is added and taken back is the least.
pub(super) fn things<'a>(
    recipe: &Recipe,
    actual: &'a Actual,
    planned: &[Part<'a>],
    total_fats: &Rational,
    there: &[Part<'a>],
) -> Result<Vec<Thing<'a>>, Faults> {
    let mut things = Vec::new();
    let mut push = |of, add, take| {
        things.push(Thing {
            of,
            sums: vec![],
            add,
            take,
            grams: Rational::ZERO,
        });
    };
    if actual.at_hand.is_empty() {
        let mut blend = Vec::new();
        for Part { kind, mass } in planned {
            if let Kind::Fat(_) = kind {
                let mass = mass.checked_div(total_fats).unwrap_or_default();
                blend.push(Part { kind: *kind, mass });
            }
        }
        push(blend, actual.add_fats, Rational::ZERO);
    }
    let mut push = |kind, add, take| {
        let mass = Rational::ONE;
        push(vec![Part { kind, mass }], add, take);
    };
    for fat in &actual.at_hand {
        push(Kind::Fat(fat), actual.add_fats, Rational::ZERO);
    }
    let fats_apart = matches!(actual.stage, Stage::Apart | Stage::LyeMade);
    let lye_apart = matches!(actual.stage, Stage::Apart | Stage::FatsMixed);
    for (planned, there) in planned.iter().zip(there) {
        let (add, apart, stays) = match there.kind {
            Kind::Fat(_) => (false, fats_apart, &planned.mass),
            Kind::Naoh => (actual.add_naoh, lye_apart, &Rational::ZERO),
            Kind::Koh => (actual.add_koh, lye_apart, &Rational::ZERO),
            Kind::Water => (actual.add_water, lye_apart, &Rational::ZERO),
            Kind::Acid(_) | Kind::Additive(_) => continue,
        };
        let take = match apart {
            true => &there.mass - stays,
            false => Rational::ZERO,
        };
        if take.is_positive() || !matches!(there.kind, Kind::Fat(_)) {
            push(there.kind, add, take);
        }
    }
    for thing in &mut things {
        thing.sums = sums(recipe, actual, &thing.of)?;
    }
    let mut above = sums(recipe, actual, there)?;
    let sums = sums(recipe, actual, planned)?;
    for (above, planned) in above.iter_mut().zip(sums).take(OF_PLAN) {
        *above = &*above - &planned;
    }
    smallest(&mut things, &above)?;
    Ok(things)
}

/// Finds how much of each thing brings back what is above the targets.
///
/// If nothing does, what would have to be done that may not be: as little as possible of it, and
/// what is only not at hand rather than what cannot be done at all.
fn smallest(things: &mut [Thing], above: &[Rational]) -> Result<(), Faults> {
    let count = things.len();
    if count > MOST_THINGS {
        return Err(Faults::one(
            "too_many",
            "may_add",
            format_args!("accepted: at most {MOST_THINGS} things to add or to take back"),
        ));
    }
    let found = solve(things, above, true);
    let Some(found) = found.or_else(|| solve(things, above, false)) else {
        return Err(Faults::one(
            "cannot_be_amended",
            "may_add",
            "nothing that may be added brings the batch to all targets together; accepted: other \
             fats to add, or fewer targets",
        ));
    };
    let mut faults = Faults::new();
    for (i, thing) in things.iter_mut().enumerate() {
        thing.grams = &found[i] - &found[count + i];
        thing.refuse(&found[2 * count + i], &found[3 * count + i], &mut faults);
    }
    faults.or(())
}

impl Thing<'_> {
    /// Says how much of it would have to be added that may not be, or taken out that cannot be.
    fn refuse(&self, forbidden: &Rational, impossible: &Rational, faults: &mut Faults) {
        let (at, name) = match self.of.first().map(|part| part.kind) {
            Some(kind @ Kind::Naoh) => ("may_add.naoh", kind.name()),
            Some(kind @ Kind::Koh) => ("may_add.koh", kind.name()),
            Some(kind @ Kind::Water) => ("may_add.water", kind.name()),
            _ => ("may_add.fats", "fat"),
        };
        if forbidden.is_positive() {
            let grams = forbidden.fixed(2);
            let says = format_args!(
                "about {grams} g of {name} would have to be added, which may not be; accepted: let \
                 it be added, or leave a target out"
            );
            faults.add("cannot_be_amended", at, says);
        }
        if impossible.is_positive() {
            let grams = impossible.fixed(2);
            let says = format_args!(
                "there is about {grams} g too much {name}, which cannot be taken out again, and \
                 nothing that may be added makes up for it; accepted: other things to add, or \
                 another target"
            );
            faults.add("cannot_be_amended", at, says);
        }
    }
}

/// The amounts at the least cost that bring all back: how much of each thing is added, then how
/// much of each is taken back, then what of each is added that may not be, then what is taken out
/// that cannot be, then what is left of that which may be taken back.
fn solve(things: &[Thing], above: &[Rational], only_allowed: bool) -> Option<Vec<Rational>> {
    let count = things.len();
    let none = || vec![Rational::ZERO; 5 * count];
    let mut costs = none();
    let mut rows = Vec::new();
    for above in above {
        let mut row = none();
        row.push(-above);
        rows.push(row);
    }
    for (i, thing) in things.iter().enumerate() {
        let mut put = |at: usize, gram: Rational, cost| {
            costs[at] = cost;
            for (row, sum) in rows.iter_mut().zip(&thing.sums) {
                row[at] = sum * &gram;
            }
        };
        let back = const { Rational::integer(-1) };
        if thing.add {
            put(i, Rational::ONE, Rational::ONE);
        } else if !only_allowed {
            put(2 * count + i, Rational::ONE, FORBIDDEN);
        }
        let is_fat = |part: &Part| matches!(part.kind, Kind::Fat(_));
        if !only_allowed && !thing.of.iter().all(is_fat) {
            put(3 * count + i, back.clone(), IMPOSSIBLE);
        }
        if thing.take.is_positive() {
            put(count + i, back, Rational::ONE);
            let mut row = none();
            row[count + i] = Rational::ONE;
            row[4 * count + i] = Rational::ONE;
            row.push(thing.take.clone());
            rows.push(row);
        }
    }
    linear::least(costs, rows)
}
