//! `swap`: other fats in the place of one.

use super::composition::{Difference, DifferenceAnswer, differences, planned};
use super::plan::{self, PlanAnswer, PlanRequest};
use super::view::{List, OptionalList, request};
use super::write::{Writer, answer};
use crate::composition::Blend;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::Faults;
use crate::quantity::{Mass, Ratio, Share};
use crate::recipe::{Amount, FatLine, Recipe};
use crate::swap::{nearest, nearest_of_few};

request! {
    /// A batch, the fat to take out, and what comes in its place: `by` or `at_hand`.
    SwapRequest<'a> {
        /// The batch, as for the operation plan.
        plan: PlanRequest<'a>,
        /// The fat to take out, one of the plan.
        replace: Fat,
        /// The fats that come in its place, with their shares of it.
        by: Option<List<'a, ShareOfFat<'a>>>,
        /// Fats at hand, of which the nearest blend by fatty acids comes in its place.
        at_hand: Option<List<'a, Fat>>,
        /// Of how many fats at hand the blend may be, 1 to 3; left out: of as many as bring it
        /// nearest.
        most_fats: Option<u32>,
        /// Prices of fats, for the difference in cost.
        prices: OptionalList<'a, PriceRequest<'a>>,
    }

    /// A fat and how much of the fat that is taken out it takes the place of.
    ShareOfFat<'a> {
        /// An id or alias of the catalogue, or a fat of one's own.
        fat: Fat,
        /// Its share; all shares come to 100 %.
        share: Share,
    }

    /// What a fat costs.
    PriceRequest<'a> {
        /// Which fat.
        fat: Fat,
        /// Price of 1 kg, in any one currency.
        per_kg: Ratio,
    }
}

answer! {
    /// A batch with other fats.
    SwapAnswer {
        /// What came in the place of the fat, with its shares.
        by: Vec<ShareAnswer>,
        /// Of the nearest blend: the sum of the squared differences of the fatty acids from those
        /// of the fat, in percent²; null where `by` was given.
        distance: Option<Ratio>,
        /// The batch with the new fats.
        plan: PlanAnswer,
        /// Sodium hydroxide more than before, as weighed; below 0: less.
        naoh_change: Mass,
        /// Potassium hydroxide more than before, as weighed; below 0: less.
        koh_change: Mass,
        /// Water more than before; below 0: less.
        water_change: Mass,
        /// What the new fats have more than the old; below 0: less.
        differences: Vec<DifferenceAnswer>,
        /// What the fats cost more than before, in the currency of the prices; null where a price
        /// is missing.
        cost_change: Option<Ratio>,
    }

    /// A fat and its share.
    ShareAnswer {
        /// Its id in the catalogue, or its name.
        fat: String,
        /// Its share of the fat that it replaces.
        share: Share,
    }
}

pub(super) fn run(
    request: SwapRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let old = planned(request.plan()).map_err(|found| found.inside("plan"));
    let (recipe, old) = unread.with(old)?;
    let out = request.replace();
    if !recipe.fats.iter().any(|line| line.fat == out) {
        return Err(Faults::one(
            "not_in_plan",
            "replace",
            format_args!(
                "{} is not in the plan; accepted: one of its fats, written as there",
                out.name()
            ),
        ));
    }
    let (by, distance) = match (request.by(), request.at_hand()) {
        (Some(by), None) => (given(by)?, None),
        (None, Some(at_hand)) => {
            let fats = at_hand.all();
            let found = match request.most_fats() {
                Some(most) => nearest_of_few(&out, &fats, most as usize)?,
                None => nearest(&out, &fats)?,
            };
            let shares = found.shares.into_iter();
            let shares = shares.map(|(i, share)| (fats[i].clone(), Share::of_one(share)));
            (shares.collect(), Some(found.distance))
        }
        _ => {
            return Err(Faults::one(
                "one_of",
                "",
                "accepted: exactly one of by and at_hand",
            ));
        }
    };
    let changed = replaced(&recipe, &out, &by);
    let new = crate::plan::plan(&changed).map_err(|found| found.inside("by"))?;
    let mut prices = Vec::new();
    for price in request.prices() {
        prices.push((price.fat(), price.per_kg()));
    }
    let cost = |recipe: &Recipe, masses: &[Mass]| -> Option<Rational> {
        let each = recipe.fats.iter().zip(masses).map(|(line, mass)| {
            let (_, per_kg) = prices.iter().find(|(fat, _)| *fat == line.fat)?;
            Some(mass.grams() * per_kg.number() * Rational::decimal(1, 3))
        });
        each.sum::<Option<Rational>>()
    };
    let cost_change = cost(&changed, &new.fats)
        .zip(cost(&recipe, &old.fats))
        .map(|(new, old)| new - old);
    to.list("by", &by, |to, (fat, share)| {
        to.add("fat", fat.id().unwrap_or(fat.name()));
        to.add("share", share);
    });
    to.add("distance", &distance);
    to.object("plan", |to| plan::write(&changed, &new, None, to));
    for (name, new, old) in [
        ("naoh_change", &new.naoh_mass, &old.naoh_mass),
        ("koh_change", &new.koh_mass, &old.koh_mass),
        ("water_change", &new.water_mass, &old.water_mass),
    ] {
        to.add(name, &(new.grams() - old.grams()));
    }
    let (new, old) = (
        Blend::of_plan(&changed, &new),
        Blend::of_plan(&recipe, &old),
    );
    to.list("differences", differences(&new, &old), Difference::write);
    to.add("cost_change", &cost_change);
    Ok(())
}

fn given(by: List<ShareOfFat>) -> Result<Vec<(Fat, Share)>, Faults> {
    let mut faults = Faults::new();
    let mut parts = Vec::new();
    for (i, line) in by.enumerate() {
        let share = line.share();
        if !share.fraction().is_positive() {
            faults.add(
                "not_positive",
                format_args!("by[{i}].share"),
                "the share of a fat is above 0",
            );
        }
        parts.push((line.fat(), share));
    }
    let sum: Rational = parts.iter().map(|(_, share)| share.fraction()).sum();
    if faults.is_empty() && sum != Rational::ONE {
        faults.add(
            "shares_do_not_sum",
            "by",
            format_args!(
                "the shares come to {} %; accepted: shares that come to exactly 100 %",
                (sum * Rational::HUNDRED).fixed(2)
            ),
        );
    }
    faults.or(parts)
}

/// The recipe with each line of a fat shared out among others.
fn replaced(recipe: &Recipe, out: &Fat, by: &[(Fat, Share)]) -> Recipe {
    let part = |amount: &Amount, share: &Share| match amount {
        Amount::Mass(mass) => Amount::Mass(Mass::new(mass.grams() * share.fraction())),
        Amount::Share(all) => Amount::Share(Share::of_one(all.fraction() * share.fraction())),
    };
    let mut changed = recipe.clone();
    changed.fats.clear();
    for line in &recipe.fats {
        if line.fat == *out {
            let parts = by.iter();
            let parts =
                parts.map(|(fat, share)| FatLine::new(fat.clone(), part(&line.amount, share)));
            changed.fats.extend(parts);
        } else {
            changed.fats.push(line.clone());
        }
    }
    changed
}
