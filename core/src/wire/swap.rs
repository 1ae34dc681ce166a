//! `swap`: other fats in the place of one.

use super::composition::{DifferenceAnswer, differences};
use super::plan::{self, PlanAnswer, PlanRequest};
use super::view::{List, OptionalList, request};
use super::write::{Writer, answer};
use crate::composition::Blend;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::Faults;
use crate::plan::Plan;
use crate::quantity::{Mass, Ratio, Share};
use crate::recipe::{Amount, FatLine, Recipe};
use crate::swap::nearest;

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
    let old = plan::batch_inside("plan", request.plan(), unread)?;
    let out = request.replace();
    if !old.recipe.fats.iter().any(|line| line.fat == out) {
        return Err(Faults::one(
            "not_in_plan",
            "replace",
            format_args!(
                "{} is not in the plan; accepted: one of its fats, written as there",
                out.name()
            ),
        ));
    }
    let mut fats = Vec::new();
    let mut distance = None;
    let shares = match (request.by(), request.at_hand()) {
        (Some(by), None) => {
            let mut faults = Faults::new();
            let shares = given(by, &mut fats, &mut faults);
            faults.or(())?;
            shares
        }
        (None, Some(at_hand)) => {
            fats = at_hand.all();
            let most = request.most_fats().map(|most| most as usize);
            let found = nearest(&out, &fats, most)?;
            distance = Some(found.distance);
            found.shares
        }
        _ => {
            let says = "accepted: exactly one of by and at_hand";
            return Err(Faults::one("one_of", "", says));
        }
    };
    let recipe = replaced(&old.recipe, &out, &fats, &shares);
    let new = crate::plan::plan(&recipe).map_err(|found| found.inside("by"))?;
    let cost = |recipe: &Recipe, plan: &Plan| {
        let mut cost = Rational::ZERO;
        for (line, mass) in recipe.fats.iter().zip(&plan.fats) {
            let mut prices = request.prices().into_iter();
            let price = prices.find(|price| price.fat() == line.fat)?;
            let kilograms = mass.grams() * const { Rational::decimal(1, 3) };
            cost = cost + kilograms * price.per_kg().number();
        }
        Some(cost)
    };
    let cost_change = cost(&recipe, &new)
        .zip(cost(&old.recipe, &old.plan))
        .map(|(new, old)| new - old);
    to.list("by", &shares, |to, (i, share)| {
        to.add("fat", fats[*i].id_or_name());
        to.add("share", &Share::of_one(share.clone()));
    });
    to.add("distance", &distance);
    to.object("plan", |to| plan::write(&recipe, &new, None, to));
    let mut change = |name, new: &Mass, old: &Mass| to.add(name, &(new.grams() - old.grams()));
    change("naoh_change", &new.naoh_mass, &old.plan.naoh_mass);
    change("koh_change", &new.koh_mass, &old.plan.koh_mass);
    change("water_change", &new.water_mass, &old.plan.water_mass);
    let after = Blend::of_plan(&recipe, &new);
    let before = Blend::of_plan(&old.recipe, &old.plan);
    to.items("differences", |to| differences(&after, &before, to));
    to.add("cost_change", &cost_change);
    Ok(())
}

/// The fats and, by their places among them, their shares as fractions.
fn given(by: List<ShareOfFat>, fats: &mut Vec<Fat>, faults: &mut Faults) -> Vec<(usize, Rational)> {
    let (mut shares, mut sum) = (Vec::new(), Rational::ZERO);
    for (i, line) in by.enumerate() {
        let share = line.share().fraction().clone();
        if !share.is_positive() {
            faults.add(
                "not_positive",
                format_args!("by[{i}].share"),
                "the share of a fat is above 0",
            );
        }
        sum = sum + &share;
        fats.push(line.fat());
        shares.push((i, share));
    }
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
    shares
}

/// The recipe with each line of a fat shared out among others.
fn replaced(recipe: &Recipe, out: &Fat, by: &[Fat], shares: &[(usize, Rational)]) -> Recipe {
    let mut fats = Vec::new();
    for line in &recipe.fats {
        if line.fat != *out {
            fats.push(line.clone());
            continue;
        }
        for (i, share) in shares {
            let amount = match &line.amount {
                Amount::Mass(mass) => Amount::Mass(Mass::new(mass.grams() * share)),
                Amount::Share(all) => Amount::Share(Share::of_one(all.fraction() * share)),
            };
            fats.push(FatLine::new(by[*i].clone(), amount));
        }
    }
    let mut changed = recipe.clone();
    changed.fats = fats;
    changed
}
