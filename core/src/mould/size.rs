//! How large a batch must be for the mould to be full.

use super::fill::Yield;
use super::{ErrOn, Mould};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::plan::{Plan, plan};
use crate::quantity::{Mass, Share};
use crate::recipe::{Amount, Recipe};

/// A batch that fills a mould.
#[derive(Debug, Clone)]
pub struct SizedBatch {
    /// The fats that fill the mould, before anything is rounded at the scale.
    pub total_fats: Mass,
    /// The recipe with its fats by share and the total that is weighed on the scale.
    pub recipe: Recipe,
    /// Its plan.
    pub plan: Plan,
    /// By how much what is poured of it exceeds what the mould takes at the end that decides;
    /// below 0 where it falls short.
    pub excess: Mass,
}

/// What a common rule of thumb makes of a mould of so many cm³: 0.40 oz of fats for each cubic
/// inch. Common practice, no source.
///
/// The rule holds for one strength of lye and one kind of fats. The more water, the less fat is
/// in each cm³ of batter: with lye of 33 % some 3 % more fats fill the mould than the rule says,
/// with water at 38 % of the fats (lye of some 27 %) some 5 % less. It knows nothing of additives,
/// waste and temperature either.
///
/// ```
/// use lixivium::mould::size::rule_of_thumb;
/// use lixivium::quantity::Volume;
/// let fats = rule_of_thumb(Volume::parse("100 in³").unwrap().cubic_centimetres());
/// assert_eq!(fats.grams().to_fixed(1), "1134.0"); // 40 oz
/// ```
pub fn rule_of_thumb(cubic_centimetres: &Rational) -> Mass {
    let ounces = const { Rational::decimal(4, 1) } * &OUNCE;
    let per_cubic_inch = ounces * cubic_centimetres;
    Mass::new(per_cubic_inch.checked_div(&CUBIC_INCH).unwrap_or_default())
}

/// g (NIST Handbook 44, Appendix C)
const OUNCE: Rational = Rational::decimal(28_349_523_125, 9);

/// cm³ (the same)
const CUBIC_INCH: Rational = Rational::decimal(16_387_064, 6);

/// The most trials before a recipe counts as one that cannot be fitted.
const MAX_TRIALS: usize = 40;

/// Up to so many parts all totals of the window are tried; beyond, it is halved.
const MAX_PARTS_SCANNED: usize = 40;

/// A batch whose poured part comes this near to the capacity, in g, fills the mould.
const CLOSE: Rational = Rational::decimal(1, 9);

/// Finds the total of the fats for which the batter, less what stays in the bowl, is what the
/// mould takes at the end that `err_on` names. What the recipe gives by share follows the fats,
/// what it gives by mass stays.
///
/// While nothing is given by mass the batter is proportional to the fats and the second trial is
/// exact. Otherwise a line through two trials gives the next one, until the batter is within
/// 10⁻⁹ g on the safe side. On a scale, the weighed batch is the largest (`never_overflow`) or smallest
/// (`always_full`) whose rounded weights keep the promise, among totals that are multiples of
/// the step.
///
/// # Errors
/// Those of [`plan`] and of [`Pouring::density`](super::batter::Pouring::density);
/// `mould_too_small` if what is given by mass alone fills it; `scale_step_too_coarse` if no
/// batch on the scale keeps the promise.
pub fn size(
    recipe: &Recipe,
    mould: &Mould,
    yields: &Yield,
    err_on: ErrOn,
) -> Result<SizedBatch, Faults> {
    let fit = Fit {
        recipe: &by_share(recipe)?,
        mould,
        yields,
        err_on,
    };
    let exact = fit.solve()?;
    match &recipe.scale_step {
        None => Ok(SizedBatch {
            total_fats: Mass::new(exact.total),
            recipe: fit.with(&exact.plan.total_fats, None),
            excess: Mass::new(exact.excess),
            plan: exact.plan,
        }),
        Some(step) => fit.weigh(exact.total, step.grams()),
    }
}

/// The recipe with its fats by share.
fn by_share(recipe: &Recipe) -> Result<Recipe, Faults> {
    let masses = recipe.fats.iter().map(|line| match &line.amount {
        Amount::Mass(mass) => Some(mass.grams()),
        Amount::Share(_) => None,
    });
    let Some(masses) = masses.collect::<Option<Vec<_>>>() else {
        return Ok(recipe.clone());
    };
    recipe.check()?;
    let total: Rational = masses.iter().copied().sum();
    let mut shared = recipe.clone();
    for (line, mass) in shared.fats.iter_mut().zip(masses) {
        let share = mass.checked_div(&total).unwrap_or_default();
        line.amount = Amount::Share(Share::of_one(share));
    }
    shared.total_fats = Some(Mass::new(total));
    Ok(shared)
}

/// Whether all of the recipe follows its fats.
pub(super) fn is_proportional(recipe: &Recipe) -> bool {
    let acids = recipe.acids.iter().map(|line| &line.amount);
    let additives = recipe.additives.iter().map(|line| &line.amount);
    acids
        .chain(additives)
        .all(|amount| matches!(amount, Amount::Share(_)))
}

struct Fit<'a> {
    recipe: &'a Recipe,
    mould: &'a Mould,
    yields: &'a Yield,
    err_on: ErrOn,
}

/// A batch, and by how much its poured part exceeds what the mould takes, in g.
struct Trial {
    total: Rational,
    excess: Rational,
    plan: Plan,
}

impl Fit<'_> {
    fn with(&self, total: &Mass, step: Option<&Mass>) -> Recipe {
        Recipe {
            total_fats: Some(total.clone()),
            scale_step: step.cloned(),
            ..self.recipe.clone()
        }
    }

    fn trial(&self, total: Rational, step: Option<&Mass>) -> Result<Trial, Faults> {
        let recipe = self.with(&Mass::new(total.clone()), step);
        let plan = plan(&recipe)?;
        let each = self.yields.capacities(self.mould, Some((&recipe, &plan)))?;
        let capacity = self.mould.together(&each);
        let poured = self.mould.waste.poured(plan.batter_mass.grams());
        Ok(Trial {
            excess: (poured - self.err_on.of(&capacity)).reduced(),
            total,
            plan,
        })
    }

    fn keeps(&self, excess: &Rational) -> bool {
        match self.err_on {
            ErrOn::NeverOverflow => !excess.is_positive(),
            ErrOn::AlwaysFull => !excess.is_negative(),
        }
    }

    /// Two thirds of what the mould would take of water.
    fn guess(&self) -> Rational {
        let water = Yield::Density(super::Spread::point(Rational::ONE));
        let each = water.capacities(self.mould, None).unwrap_or_default();
        let grams = self.mould.together(&each).likely * const { Rational::decimal(65, 2) };
        grams
            .round_to(&Rational::ONE)
            .filter(Rational::is_positive)
            .unwrap_or(Rational::ONE)
    }

    fn solve(&self) -> Result<Trial, Faults> {
        let first = self.trial(self.guess(), None)?;
        // As if the batter were proportional to the fats.
        let batter = first.plan.batter_mass.grams();
        let poured = self.mould.waste.poured(batter);
        let needed = self.mould.waste.batter(&(poured - &first.excess));
        let total = (&needed * &first.total).checked_div(batter);
        let mut before = first;
        let total = positive(total)?.reduced();
        let total = match is_proportional(self.recipe) {
            true => total,
            false => positive(Some(self.short(total)))?,
        };
        let mut latest = self.trial(total, None)?;
        for _ in 0..MAX_TRIALS {
            if self.keeps(&latest.excess) && latest.excess.abs() <= CLOSE {
                return Ok(latest);
            }
            let rise =
                (&latest.excess - &before.excess).checked_div(&(&latest.total - &before.total));
            let back = rise.and_then(|rise| latest.excess.checked_div(&rise));
            let total = positive(back.map(|back| &latest.total - back))?;
            let total = positive(Some(self.short(total)))?;
            let next = self.trial(total, None)?;
            before = std::mem::replace(&mut latest, next);
        }
        Err(too_small())
    }

    /// The number on a fine grid next to `total` on the safe side: short numbers are fast ones.
    fn short(&self, total: Rational) -> Rational {
        let grid = const { Rational::decimal(1, 11) };
        let rounded = match self.err_on {
            ErrOn::NeverOverflow => total.floor_to(&grid),
            ErrOn::AlwaysFull => total.ceil_to(&grid),
        };
        rounded.unwrap_or(total)
    }

    /// The best batch on the scale near the exact total.
    fn weigh(&self, total: Rational, step: &Rational) -> Result<SizedBatch, Faults> {
        let recipe = self.recipe;
        let parts = recipe.fats.len() + recipe.acids.len() + recipe.additives.len() + 3;
        // Rounding moves each part by less than a step, and the batter outgrows its fats.
        let window = Rational::integer(parts as i64) * step;
        // From the far end of the window, where the promise is hardest to keep, to the near one.
        let (far, inwards) = match self.err_on {
            ErrOn::NeverOverflow => (&total + &window, -step),
            ErrOn::AlwaysFull => (&total - &window, step.clone()),
        };
        let far = far.floor_to(step).unwrap_or_default();
        let on_scale = Mass::new(step.clone());
        let try_at = |index: usize| {
            let candidate = &far + &inwards * &Rational::integer(index as i64);
            let trial = candidate
                .is_positive()
                .then(|| self.trial(candidate, Some(&on_scale)));
            trial?.ok().filter(|trial| self.keeps(&trial.excess))
        };
        let last = 2 * parts + 1;
        let found = if parts <= MAX_PARTS_SCANNED {
            (0..=last).find_map(try_at)
        } else {
            // Rounded weights hardly ever fall when the total rises: halve the window.
            let (mut breaks, mut found) = (0, try_at(last).map(|trial| (last, trial)));
            while let Some((keeps, _)) = &found
                && keeps - breaks > 1
            {
                let middle = (keeps + breaks) / 2;
                match try_at(middle) {
                    Some(trial) => found = Some((middle, trial)),
                    None => breaks = middle,
                }
            }
            found.map(|(_, trial)| trial)
        };
        if let Some(trial) = found {
            return Ok(SizedBatch {
                total_fats: Mass::new(total),
                recipe: self.with(&Mass::new(trial.total), Some(&on_scale)),
                excess: Mass::new(trial.excess),
                plan: trial.plan,
            });
        }
        Err(Faults::one(
            "scale_step_too_coarse",
            "scale_step",
            "no batch that can be weighed on this scale_step fits the mould; accepted: a finer \
             scale_step or a larger mould",
        ))
    }
}

fn positive(total: Option<Rational>) -> Result<Rational, Faults> {
    total.filter(Rational::is_positive).ok_or_else(too_small)
}

fn too_small() -> Faults {
    Faults::one(
        "mould_too_small",
        "mould",
        "what the recipe gives by mass leaves no room for fats in this mould; accepted: a larger \
         mould, or additives and acids by of_fats",
    )
}
