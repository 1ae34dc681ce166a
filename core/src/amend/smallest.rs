//! The least that is added or taken back.

use super::targets::{OF_PLAN, sums};
use super::{Actual, Kind, Part, Stage};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::linear;
use crate::recipe::Recipe;

/// The most things that are added or taken back at once.
pub const MOST_THINGS: usize = 32;

/// Something that can be added or taken back.
pub(super) struct Thing<'a> {
    /// What 1 g of it is made of.
    pub of: Vec<Part<'a>>,
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
            add,
            take,
            grams: Rational::ZERO,
        });
    };
    let all_of = |kind| {
        let mass = Rational::ONE;
        vec![Part { kind, mass }]
    };
    for fat in &actual.at_hand {
        push(all_of(Kind::Fat(fat)), actual.add_fats, Rational::ZERO);
    }
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
    let fats_apart = matches!(actual.stage, Stage::Apart | Stage::LyeMade);
    let lye_apart = matches!(actual.stage, Stage::Apart | Stage::FatsMixed);
    for (planned, there) in planned.iter().zip(there) {
        let add = match there.kind {
            Kind::Fat(_) => {
                let take = &there.mass - &planned.mass;
                if fats_apart && take.is_positive() {
                    push(all_of(there.kind), false, take);
                }
                continue;
            }
            Kind::Acid(_) | Kind::Additive(_) => continue,
            Kind::Naoh => actual.add_naoh,
            Kind::Koh => actual.add_koh,
            Kind::Water => actual.add_water,
        };
        let take = match lye_apart {
            true => there.mass.clone(),
            false => Rational::ZERO,
        };
        push(all_of(there.kind), add, take);
    }
    let mut columns = Vec::new();
    for thing in &things {
        columns.push(sums(recipe, actual, &thing.of)?);
    }
    let mut above = sums(recipe, actual, there)?;
    for (above, planned) in above
        .iter_mut()
        .zip(sums(recipe, actual, planned)?)
        .take(OF_PLAN)
    {
        *above = &*above - &planned;
    }
    smallest(&mut things, &columns, &above)?;
    Ok(things)
}

/// What 1 g counts that may be added or taken back.
const ALLOWED: i64 = 1;
/// What 1 g counts that may not be added.
const FORBIDDEN: i64 = 1_000;
/// What 1 g counts that cannot be taken back.
const IMPOSSIBLE: i64 = 1_000_000;

/// Adding of a thing, or taking it back.
struct Move {
    thing: usize,
    /// 1 g that is added, or -1 g.
    gram: Rational,
    /// What it counts.
    cost: i64,
}

/// Finds how much of each thing brings back what is above the targets; `columns` has what 1 g of
/// each adds.
///
/// If nothing does, what would have to be done that may not be: as little as possible of it, and
/// what is only not at hand rather than what cannot be done at all.
fn smallest(
    things: &mut [Thing],
    columns: &[Vec<Rational>],
    above: &[Rational],
) -> Result<(), Faults> {
    if things.len() > MOST_THINGS {
        return Err(Faults::one(
            "too_many",
            "may_add",
            format_args!("accepted: at most {MOST_THINGS} things to add or to take back"),
        ));
    }
    let mut moves = Vec::new();
    let mut push = |thing, gram, cost| {
        let gram = Rational::integer(gram);
        moves.push(Move { thing, gram, cost });
    };
    for (i, thing) in things.iter().enumerate() {
        if thing.add {
            push(i, 1, ALLOWED);
        }
    }
    for (i, thing) in things.iter().enumerate() {
        if thing.take.is_positive() {
            push(i, -1, ALLOWED);
        }
    }
    for (i, thing) in things.iter().enumerate() {
        if !thing.add {
            push(i, 1, FORBIDDEN);
        }
        if !matches!(thing.of[0].kind, Kind::Fat(_)) {
            push(i, -1, IMPOSSIBLE);
        }
    }
    let allowed = moves.iter().filter(|one| one.cost == ALLOWED).count();
    for moves in [&moves[..allowed], &moves[..]] {
        let Some(found) = solve(things, columns, above, moves) else {
            continue;
        };
        let mut faults = Faults::new();
        for (one, grams) in moves.iter().zip(&found) {
            let thing = &mut things[one.thing];
            if one.cost == ALLOWED {
                thing.grams = &thing.grams + &(grams * &one.gram);
            } else if grams.is_positive() {
                thing.refuse(one.cost, grams, &mut faults);
            }
        }
        return faults.or(());
    }
    Err(Faults::one(
        "cannot_be_amended",
        "may_add",
        "nothing that may be added brings the batch to all targets together; accepted: other fats \
         to add, or fewer targets",
    ))
}

impl Thing<'_> {
    /// Says that so much of it would have to be added, or taken back.
    fn refuse(&self, cost: i64, grams: &Rational, faults: &mut Faults) {
        let kind = self.of[0].kind;
        let (at, name) = match kind {
            Kind::Naoh => ("may_add.naoh", kind.name()),
            Kind::Koh => ("may_add.koh", kind.name()),
            Kind::Water => ("may_add.water", kind.name()),
            _ => ("may_add.fats", "fat"),
        };
        let grams = grams.fixed(2);
        if cost == FORBIDDEN {
            faults.add(
                "cannot_be_amended",
                at,
                format_args!(
                    "about {grams} g of {name} would have to be added, which may not be; accepted: \
                     let it be added, or leave a target out"
                ),
            );
        } else {
            faults.add(
                "cannot_be_amended",
                at,
                format_args!(
                    "there is about {grams} g too much {name}, which cannot be taken out again, and \
                     nothing that may be added makes up for it; accepted: other things to add, or \
                     another target"
                ),
            );
        }
    }
}

/// How much of each move brings all back at the least cost.
fn solve(
    things: &[Thing],
    columns: &[Vec<Rational>],
    above: &[Rational],
    moves: &[Move],
) -> Option<Vec<Rational>> {
    // After each move stands what it leaves of what may be taken back.
    let amounts = 2 * moves.len();
    let mut costs = vec![Rational::ZERO; amounts];
    let mut rows = Vec::new();
    for above in above {
        let mut row = vec![Rational::ZERO; amounts];
        row.push(-above);
        rows.push(row);
    }
    for (i, one) in moves.iter().enumerate() {
        costs[i] = Rational::integer(one.cost);
        for (row, sum) in rows.iter_mut().zip(&columns[one.thing]) {
            row[i] = sum * &one.gram;
        }
        if one.cost == ALLOWED && one.gram.is_negative() {
            let mut row = vec![Rational::ZERO; amounts];
            row[i] = Rational::ONE;
            row[moves.len() + i] = Rational::ONE;
            row.push(things[one.thing].take.clone());
            rows.push(row);
        }
    }
    linear::least(costs, rows)
}
