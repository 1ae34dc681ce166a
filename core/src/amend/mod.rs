//! What brings a batch back that went wrong: the smallest additions, exactly.
//!
//! All amounts of hydroxide are in g KOH. What a batch shall become are linear equations in what
//! is added or taken back: superfat `f` asks for alkali that comes to `(1 - f) · need + acids`,
//! the split for a fixed ratio of the two alkalis, the water rule for a multiple of the alkali or
//! of the fats, a figure of the fats (such as their iodine value) for their mean. [`smallest`] is
//! the solution of these with the least mass, of which what is added and what is taken back count
//! alike: a linear programme, solved exactly.
//!
//! ```
//! use lixivium::amend::{Mixture, Target, Thing, smallest};
//! use lixivium::assurance::{Batch, Portion};
//! use lixivium::exact::{Interval, Rational};
//! use lixivium::quantity::Share;
//!
//! let number = |text| Rational::parse(text).unwrap();
//! let point = |text| Interval::point(number(text));
//! // 1000 g of a fat that takes up 0.19 g KOH/g were to get 171 g KOH, and got 190 g.
//! let mixture = Mixture {
//!     batch: Batch {
//!         fats: vec![Portion::exact("fat", number("1000"), number("0.19"), point("0.19"))],
//!         alkalis: vec![Portion::exact("koh", number("190"), number("1"), point("1"))],
//!         acids: vec![],
//!     },
//!     water: number("400"),
//! };
//! let target = Target { superfat: Some(Share::percent(number("10"))), ..Target::default() };
//! let more_fat = [Thing::fat(number("0.19"), true)];
//! let additions = smallest(&mixture, &target, &more_fat).unwrap();
//! assert_eq!(additions[0].to_string(), "1000/9"); // 190 / (0.9 · 0.19) - 1000
//! ```

mod pot;
mod recipe;

pub use pot::State;
pub use recipe::{Actual, Amended, Amendment, Part, Stage, Titrated, amend};

use crate::assurance::{Batch, effect, effect_of, naoh_to_koh, purity};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::linear;
use crate::quantity::Share;
use crate::recipe::{Water, WaterRule};

/// The most things that are added or taken back at once.
pub const MOST_THINGS: usize = 32;

/// What is in the pot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mixture {
    /// Fats, alkalis (named `naoh` and `koh`) and acids, as weighed.
    pub batch: Batch,
    /// All water that counts as water of the lye, in g.
    pub water: Rational,
}

/// What it shall become.
#[derive(Debug, Clone, Default)]
pub struct Target {
    /// The superfat; left out: any.
    pub superfat: Option<Share>,
    /// Potassium hydroxide in the hydroxide, by moles; left out: any.
    pub koh_share: Option<Share>,
    /// The water; left out: any. What the alkali is not counts as water if the rule says so.
    pub water: Option<Water>,
    /// For each figure of the fats that is asked for, `Σ mass · (figure - target)` of the fats as
    /// they are.
    pub figures: Vec<Rational>,
    /// The batch as planned: by how much it is off the superfat, the split and the water itself,
    /// since it was rounded at the scale, the mixture may be off as well.
    pub planned: Option<Mixture>,
}

/// Something that can be added or taken back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thing {
    /// What it is.
    pub kind: Kind,
    /// Whether it may be added.
    pub add: bool,
    /// How much of it may be taken back, in g.
    pub take: Rational,
}

/// What a [`Thing`] is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// A fat, or a blend in fixed shares.
    Fat {
        /// g KOH that 1 g of it takes up.
        koh: Rational,
        /// For each figure of [`Target::figures`]: its figure less the target.
        figures: Vec<Rational>,
    },
    /// Sodium hydroxide of this purity.
    Naoh(Share),
    /// Potassium hydroxide of this purity.
    Koh(Share),
    /// Water.
    Water,
}

impl Thing {
    /// A fat of which no figure is asked for.
    pub const fn fat(koh: Rational, add: bool) -> Self {
        let figures = Vec::new();
        Self::of(Kind::Fat { koh, figures }, add)
    }

    /// Of that kind; nothing of it can be taken back.
    pub const fn of(kind: Kind, add: bool) -> Self {
        let take = Rational::ZERO;
        Self { kind, add, take }
    }

    /// Its name in what may be added, and in a sentence.
    const fn names(&self) -> (&'static str, &'static str) {
        match self.kind {
            Kind::Fat { .. } => ("fats", "fat"),
            Kind::Naoh(_) => ("naoh", "sodium hydroxide"),
            Kind::Koh(_) => ("koh", "potassium hydroxide"),
            Kind::Water => ("water", "water"),
        }
    }

    /// g KOH that 1 g of an alkali brings.
    fn brings(&self) -> Rational {
        match &self.kind {
            Kind::Naoh(purity) => purity.fraction() * naoh_to_koh(),
            Kind::Koh(purity) => purity.fraction().clone(),
            _ => Rational::ZERO,
        }
    }
}

/// How much of each thing to add, in g (below 0: to take back), so that the mixture comes to the
/// target and the mass of all that is added and taken back is the least.
///
/// # Errors
/// Those of [`Batch::check`]; `out_of_range` for a superfat not below 100 % or a lye concentration
/// not above 0; `too_many` for more than [`MOST_THINGS`] things; and `cannot_be_amended`, at a
/// thing that would have to be added and may not be, or taken out and cannot be.
pub fn smallest(
    mixture: &Mixture,
    target: &Target,
    things: &[Thing],
) -> Result<Vec<Rational>, Faults> {
    mixture.batch.check()?;
    if things.len() > MOST_THINGS {
        return Err(Faults::one(
            "too_many",
            "",
            format_args!("accepted: at most {MOST_THINGS} things to add or to take back"),
        ));
    }
    let mut equations = equations(mixture, target, things)?;
    if let Some(planned) = &target.planned {
        let target = Target {
            figures: vec![],
            planned: None,
            ..target.clone()
        };
        let off = self::equations(planned, &target, things)?;
        for (equation, off) in equations.iter_mut().zip(&off) {
            let side = &equation[things.len()] - &off[things.len()];
            equation[things.len()] = side;
        }
    }
    let mut moves = Vec::new();
    for (thing, each) in things.iter().enumerate() {
        if each.add {
            moves.push(Move::add(thing, 1));
        }
    }
    for (thing, each) in things.iter().enumerate() {
        if each.take.is_positive() {
            let most = Some(&each.take);
            moves.push(Move {
                most,
                ..Move::take(thing, 1)
            });
        }
    }
    let Some(found) = solve(&equations, &moves) else {
        return Err(why(&equations, things, moves));
    };
    let mut sums = vec![Rational::ZERO; things.len()];
    for (one, grams) in moves.iter().zip(&found) {
        let sum = &sums[one.thing];
        sums[one.thing] = if one.adds { sum + grams } else { sum - grams };
    }
    Ok(sums)
}

/// Adding of a thing, or taking it back.
struct Move<'a> {
    thing: usize,
    adds: bool,
    /// How much of it at most.
    most: Option<&'a Rational>,
    /// What 1 g of it counts.
    cost: i64,
}

impl Move<'_> {
    const fn add(thing: usize, cost: i64) -> Self {
        Self {
            thing,
            adds: true,
            most: None,
            cost,
        }
    }

    const fn take(thing: usize, cost: i64) -> Self {
        Self {
            adds: false,
            ..Self::add(thing, cost)
        }
    }
}

/// How much of each move meets the equations at the least cost.
fn solve(equations: &[Vec<Rational>], moves: &[Move]) -> Option<Vec<Rational>> {
    let bounds = moves.iter().filter(|one| one.most.is_some()).count();
    let amounts = moves.len() + bounds;
    let mut costs = vec![Rational::ZERO; amounts];
    let mut rows = Vec::new();
    for equation in equations {
        let mut row = vec![Rational::ZERO; amounts];
        for (cell, one) in row.iter_mut().zip(moves) {
            let factor = &equation[one.thing];
            *cell = if one.adds { factor.clone() } else { -factor };
        }
        row.extend(equation.last().cloned());
        rows.push(row);
    }
    // What a move leaves of its most is an amount, too.
    let mut left = moves.len();
    for (i, one) in moves.iter().enumerate() {
        costs[i] = Rational::integer(one.cost);
        if let Some(most) = one.most {
            let mut row = vec![Rational::ZERO; amounts];
            row[i] = Rational::ONE;
            row[left] = Rational::ONE;
            row.push(most.clone());
            rows.push(row);
            left += 1;
        }
    }
    linear::least(&costs, rows)
}

/// What would have to be done that may not be: as little as possible of it, and what is only not
/// at hand rather than what cannot be done at all.
fn why<'a>(equations: &[Vec<Rational>], things: &'a [Thing], mut moves: Vec<Move<'a>>) -> Faults {
    let allowed = moves.len();
    for (i, thing) in things.iter().enumerate() {
        if !thing.add {
            moves.push(Move::add(i, 1_000));
        }
        if !matches!(thing.kind, Kind::Fat { .. }) {
            moves.push(Move::take(i, 1_000_000));
        }
    }
    let found = solve(equations, &moves).unwrap_or_default();
    let mut missing = Faults::new();
    for (one, grams) in moves.iter().zip(&found).skip(allowed) {
        if !grams.is_positive() {
            continue;
        }
        let (at, name) = things[one.thing].names();
        let grams = grams.fixed(2);
        let says = if one.adds {
            format!(
                "about {grams} g of {name} would have to be added, which may not be; accepted: let \
                 it be added, or leave a target out"
            )
        } else {
            format!(
                "there is about {grams} g too much {name}, which cannot be taken out again, and \
                 nothing that may be added makes up for it; accepted: other things to add, or \
                 another target"
            )
        };
        missing.add("cannot_be_amended", at, says);
    }
    if missing.is_empty() {
        missing.add(
            "cannot_be_amended",
            "",
            "nothing that may be added brings the batch to all targets together; accepted: other \
             fats to add, or fewer targets",
        );
    }
    missing
}

/// The equations of a target: a coefficient for 1 g of each thing, then what all have to come to.
fn equations(
    mixture: &Mixture,
    target: &Target,
    things: &[Thing],
) -> Result<Vec<Vec<Rational>>, Faults> {
    let batch = &mixture.batch;
    let alkali = effect(&batch.alkalis);
    let koh = effect_of("koh", &batch.alkalis);
    let mut equations = Vec::new();
    let mut equation = |of: &dyn Fn(&Thing) -> Rational, side: Rational| {
        let mut row: Vec<_> = things.iter().map(of).collect();
        row.push(side);
        equations.push(row);
    };
    if let Some(superfat) = &target.superfat {
        if *superfat.fraction() >= Rational::ONE {
            let says = "a superfat lies below 100 %";
            return Err(Faults::one("out_of_range", "superfat", says));
        }
        let used = superfat.rest();
        let need = used.fraction() * effect(&batch.fats) + effect(&batch.acids);
        equation(
            &|thing| match &thing.kind {
                Kind::Fat { koh, .. } => -(used.fraction() * koh),
                _ => thing.brings(),
            },
            need - &alkali,
        );
    }
    if let Some(share) = &target.koh_share {
        let share = share.fraction();
        equation(
            &|thing| {
                let brings = thing.brings();
                match thing.kind {
                    Kind::Koh(_) => &brings - share * &brings,
                    _ => -(share * brings),
                }
            },
            share * &alkali - koh,
        );
    }
    if let Some(water) = &target.water {
        let asked = Asked::of(water)?;
        equation(
            &|thing| match &thing.kind {
                Kind::Fat { .. } => -&asked.for_fat,
                Kind::Naoh(purity) | Kind::Koh(purity) => {
                    -asked.for_alkali(&Rational::ONE, purity.fraction())
                }
                Kind::Water => Rational::ONE,
            },
            asked.of_batch(batch) - &mixture.water,
        );
    }
    for (i, figure) in target.figures.iter().enumerate() {
        equation(
            &|thing| match &thing.kind {
                Kind::Fat { figures, .. } => figures.get(i).cloned().unwrap_or_default(),
                _ => Rational::ZERO,
            },
            -figure,
        );
    }
    Ok(equations)
}

/// The water that a rule asks for, in g, less what it counts as water already.
struct Asked {
    for_fat: Rational,
    for_pure_alkali: Rational,
    for_the_rest_of_alkali: Rational,
}

impl Asked {
    fn of(water: &Water) -> Result<Self, Faults> {
        let (for_fat, ratio) = match &water.rule {
            WaterRule::OfFats(share) => (share.fraction().clone(), Rational::ZERO),
            WaterRule::WaterToLye(ratio) => (Rational::ZERO, ratio.number().clone()),
            WaterRule::LyeConcentration(share) => {
                let ratio = share.rest().fraction().checked_div(share.fraction());
                let outside = || {
                    let says = "a lye concentration lies above 0 and below 100 %";
                    Faults::one("out_of_range", "water.lye_concentration", says)
                };
                (Rational::ZERO, ratio.ok_or_else(outside)?)
            }
        };
        let counted = -Rational::ONE;
        let for_the_rest_of_alkali = if water.count_alkali_water {
            counted
        } else {
            ratio.clone()
        };
        Ok(Self {
            for_fat,
            for_pure_alkali: ratio,
            for_the_rest_of_alkali,
        })
    }

    fn for_alkali(&self, grams: &Rational, pure: &Rational) -> Rational {
        &self.for_pure_alkali * pure + &self.for_the_rest_of_alkali * &(grams - pure)
    }

    fn of_batch(&self, batch: &Batch) -> Rational {
        let fats: Rational = batch.fats.iter().map(|fat| &fat.mass).sum();
        let mut water = &self.for_fat * &fats;
        for alkali in &batch.alkalis {
            let pure = purity(&alkali.name, &alkali.effect());
            water = water + self.for_alkali(&alkali.mass, &pure);
        }
        water
    }
}

/// Additions that make the batch a larger one of the same recipe: every part is brought to its
/// planned proportion to the part that is furthest above it.
///
/// `planned` and `actual` are the masses of the same parts, in g. None if a part is there that was
/// not planned.
///
/// ```
/// use lixivium::amend::enlarge;
/// use lixivium::exact::Rational;
/// let grams = |list: &[i64]| -> Vec<_> { list.iter().map(|g| Rational::integer(*g)).collect() };
/// let added = enlarge(&grams(&[500, 300, 100]), &grams(&[550, 300, 90])).unwrap();
/// assert_eq!(added, grams(&[0, 30, 20]));
/// ```
pub fn enlarge(planned: &[Rational], actual: &[Rational]) -> Option<Vec<Rational>> {
    let mut scale = Rational::ZERO;
    for (planned, actual) in planned.iter().zip(actual) {
        if actual.is_zero() {
            continue;
        }
        scale = scale.max(actual.checked_div(planned)?);
    }
    let each = planned.iter().zip(actual);
    let added = each.map(|(planned, actual)| planned * &scale - actual);
    Some(added.collect())
}
