//! What to mind at the bench and in the figures.

use std::fmt;

use super::Plan;
use crate::chemistry::Alkali;
use crate::exact::Rational;
use crate::fault::{Caution, listed};
use crate::quantity::{Quantity, Share};
use crate::recipe::{Amount, Recipe, WaterRule};

/// Percentages below this were probably meant as fractions: 0.05 for 5 %.
pub(crate) const SMALLEST_LIKELY_PERCENT: Rational = Rational::ONE;

/// Temperature at which the lye must stay clear.
const BENCH_CELSIUS: i64 = 20;

pub(super) fn of(plan: &Plan, recipe: &Recipe) -> Vec<Caution> {
    let mut cautions = at_the_bench();
    cautions.push(corrosive(plan));
    cautions.extend(undissolved(plan));
    cautions.extend(superfat_spread(plan));
    cautions.extend(unknown_range(recipe));
    cautions.extend(fractions(recipe));
    cautions
}

/// Whatever the figures, where there is lye.
pub(crate) fn at_the_bench() -> Vec<Caution> {
    vec![
        Caution::new(
            "lye_burns",
            "Lye burns skin and eyes: wear chemical splash goggles, gloves and long sleeves, keep \
             children and animals away, and follow the safety data sheet of your alkali and the \
             rules of your place.",
        ),
        Caution::new(
            "alkali_into_water",
            "Add the alkali to the water in small portions, never water to the alkali: it heats \
             strongly and can spit.",
        ),
    ]
}

/// Regulation (EC) 1272/2008, Annex VI: sodium and potassium hydroxide from 5 % are Skin Corr.
/// 1A, from 2 % Skin Corr. 1B, from 0.5 % irritant.
fn corrosive(plan: &Plan) -> Caution {
    let percent = plan.hydroxide_concentration.to_base();
    let (code, effect) = if percent >= Rational::integer(2) {
        let effect = " and causes severe skin burns and eye damage (H314; Regulation (EC) \
                      1272/2008, Annex VI, from 2 %).";
        ("corrosive", effect)
    } else {
        let effect = "; from 0.5 % it irritates skin and eyes, from 2 % it burns (Regulation (EC) \
                      1272/2008, Annex VI).";
        ("irritant", effect)
    };
    let shown = percent.fixed(1);
    Caution::new(code, format!("The lye holds {shown} % hydroxide{effect}"))
}

/// Lye that is stronger than water can dissolve at the bench.
fn undissolved(plan: &Plan) -> Option<Caution> {
    let water = plan.water_mass.grams();
    let mut needed = Rational::ZERO;
    // Each alkali takes the water that it needs on its own.
    for (alkali, pure) in [
        (Alkali::Naoh, &plan.naoh_pure_mass),
        (Alkali::Koh, &plan.koh_pure_mass),
    ] {
        let strongest = alkali.solubility(&Rational::integer(BENCH_CELSIUS))?;
        let water_per_alkali = (Rational::HUNDRED - &strongest).checked_div(&strongest)?;
        needed = needed + pure.grams() * &water_per_alkali;
    }
    if needed <= *water {
        return None;
    }
    let (needed, water) = (needed.fixed(0), water.fixed(0));
    let says = format!(
        "There is too little water to dissolve the alkali at {BENCH_CELSIUS} °C: it takes about \
         {needed} g and there are {water} g. Use more water."
    );
    Some(Caution::new("will_not_dissolve", says))
}

/// A superfat that the spread of the saponification values can use up.
fn superfat_spread(plan: &Plan) -> Option<Caution> {
    let (low, high) = &plan.superfat_range;
    if !low.fraction().is_negative() {
        return None;
    }
    let [typical, low, high] = [&plan.superfat, low, high].map(|share| share.to_base().fixed(2));
    let says = format!(
        "The superfat is smaller than the spread of these fats: it is {typical} % for the values \
         reckoned with, but published saponification values are ranges, and over theirs it lies \
         from {low} % to {high} %; below 0 the bar keeps free alkali. A supplier's certificate \
         narrows the range."
    );
    Some(Caution::new("may_be_lye_heavy", says))
}

/// Fats of which no range is known, so that the superfat range is too narrow.
fn unknown_range(recipe: &Recipe) -> Option<Caution> {
    let mut names = Vec::new();
    for line in &recipe.fats {
        if line.fat.saponification_value().range().is_none() {
            names.push(line.fat.name());
        }
    }
    if names.is_empty() {
        return None;
    }
    let says = format!(
        "No range of the saponification value is known for {}, so the true superfat can lie \
         outside the range that is stated.",
        listed(&names, ", ")
    );
    Some(Caution::new("range_unknown", says))
}

/// Shares so small that a fraction was probably meant.
pub(crate) fn fractions(recipe: &Recipe) -> Vec<Caution> {
    let mut found = Vec::new();
    let (alkali, stock) = (&recipe.alkali, &recipe.stock_solution);
    let (lye_concentration, of_fats) = match &recipe.water.rule {
        WaterRule::LyeConcentration(share) => (Some(share), None),
        WaterRule::OfFats(share) => (None, Some(share)),
        WaterRule::WaterToLye(_) => (None, None),
    };
    let fixed = [
        (Some(&recipe.superfat), "superfat"),
        (Some(&alkali.koh_share), "alkali.koh_share"),
        (Some(&alkali.naoh_purity), "alkali.naoh_purity"),
        (Some(&alkali.koh_purity), "alkali.koh_purity"),
        (lye_concentration, "water.lye_concentration"),
        (of_fats, "water.of_fats"),
        (stock.naoh.as_ref(), "stock_solution.naoh"),
        (stock.koh.as_ref(), "stock_solution.koh"),
    ];
    for (share, at) in fixed {
        if let Some(share) = share {
            look(&mut found, share, format_args!("{at}"));
        }
    }
    for (i, line) in recipe.fats.iter().enumerate() {
        if let Amount::Share(share) = &line.amount
            && recipe.fats.len() < 10
        {
            look(&mut found, share, format_args!("fats[{i}].share"));
        }
    }
    for (i, line) in recipe.acids.iter().enumerate() {
        let at = format_args!("acids[{i}].strength");
        look(&mut found, &line.strength, at);
    }
    found
}

fn look(found: &mut Vec<Caution>, share: &Share, at: fmt::Arguments) {
    let percent = share.to_base();
    if percent.is_positive() && percent < SMALLEST_LIKELY_PERCENT {
        found.push(fraction_for_percent(share, &at.to_string()));
    }
}

/// Asks whether a share was meant as a fraction.
pub(crate) fn fraction_for_percent(share: &Share, at: &str) -> Caution {
    let percent = share.to_base();
    let read = percent.to_plain();
    let meant = (percent * Rational::HUNDRED).to_plain();
    let says = format!(
        "{at} is read as {read} %, since a bare number is percent; if you meant {meant} %, write \
         that."
    );
    Caution::new("fraction_for_percent", says)
}
