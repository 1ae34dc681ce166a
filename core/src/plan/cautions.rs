//! What to mind at the bench and in the figures.

use std::fmt;

use super::Plan;
use crate::chemistry::Alkali;
use crate::exact::Rational;
use crate::fault::{Caution, listed};
use crate::quantity::{Mass, Quantity, Share};
use crate::recipe::{Amount, Recipe, WaterRule};

/// Percentages below this were probably meant as fractions: 0.05 for 5 %.
pub(crate) const SMALLEST_LIKELY_PERCENT: Rational = Rational::ONE;

/// Temperature at which the lye must stay clear.
const BENCH_CELSIUS: i64 = 20;

pub(super) fn of(plan: &Plan, recipe: &Recipe) -> Vec<Caution> {
    let mut cautions = at_the_bench();
    corrosive(plan, &mut cautions);
    undissolved(plan, &mut cautions);
    superfat_spread(plan, &mut cautions);
    unknown_range(recipe, &mut cautions);
    fractions(recipe, &mut cautions);
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
fn corrosive(plan: &Plan, cautions: &mut Vec<Caution>) {
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
    let says = format!("The lye holds {shown} % hydroxide{effect}");
    cautions.push(Caution::new(code, says));
}

/// Lye that is stronger than water can dissolve at the bench.
fn undissolved(plan: &Plan, cautions: &mut Vec<Caution>) {
    let water = plan.water_mass.grams();
    // Each alkali takes the water that it needs on its own.
    let needed =
        water_for(Alkali::Naoh, &plan.naoh_pure_mass) + water_for(Alkali::Koh, &plan.koh_pure_mass);
    if needed <= *water {
        return;
    }
    let (needed, water) = (needed.fixed(0), water.fixed(0));
    let says = format!(
        "There is too little water to dissolve the alkali at {BENCH_CELSIUS} °C: it takes about \
         {needed} g and there are {water} g. Use more water."
    );
    cautions.push(Caution::new("will_not_dissolve", says));
}

/// g of water that dissolve so much of an alkali at the bench.
fn water_for(alkali: Alkali, pure: &Mass) -> Rational {
    let strongest = alkali.solubility(&Rational::integer(BENCH_CELSIUS));
    let for_each_gram =
        strongest.and_then(|strongest| (Rational::HUNDRED - &strongest).checked_div(&strongest));
    pure.grams() * for_each_gram.unwrap_or_default()
}

/// A superfat that the spread of the saponification values can use up.
fn superfat_spread(plan: &Plan, cautions: &mut Vec<Caution>) {
    let (low, high) = &plan.superfat_range;
    if !low.fraction().is_negative() {
        return;
    }
    let shown = |share: &Share| share.to_base().fixed(2);
    let (typical, low, high) = (shown(&plan.superfat), shown(low), shown(high));
    let says = format!(
        "The superfat is smaller than the spread of these fats: it is {typical} % for the values \
         reckoned with, but published saponification values are ranges, and over theirs it lies \
         from {low} % to {high} %; below 0 the bar keeps free alkali. A supplier's certificate \
         narrows the range."
    );
    cautions.push(Caution::new("may_be_lye_heavy", says));
}

/// Fats of which no range is known, so that the superfat range is too narrow.
fn unknown_range(recipe: &Recipe, cautions: &mut Vec<Caution>) {
    let mut names = Vec::new();
    for line in &recipe.fats {
        if line.fat.saponification_value().range().is_none() {
            names.push(line.fat.name());
        }
    }
    if names.is_empty() {
        return;
    }
    let says = format!(
        "No range of the saponification value is known for {}, so the true superfat can lie \
         outside the range that is stated.",
        listed(&names, ", ")
    );
    cautions.push(Caution::new("range_unknown", says));
}

/// Shares so small that a fraction was probably meant.
pub(crate) fn fractions(recipe: &Recipe, cautions: &mut Vec<Caution>) {
    let (alkali, stock) = (&recipe.alkali, &recipe.stock_solution);
    let mut look = |share: &Share, at: fmt::Arguments| doubt(share, &at, cautions);
    look(&recipe.superfat, format_args!("superfat"));
    look(&alkali.koh_share, format_args!("alkali.koh_share"));
    look(&alkali.naoh_purity, format_args!("alkali.naoh_purity"));
    look(&alkali.koh_purity, format_args!("alkali.koh_purity"));
    match &recipe.water.rule {
        WaterRule::LyeConcentration(share) => {
            look(share, format_args!("water.lye_concentration"));
        }
        WaterRule::OfFats(share) => look(share, format_args!("water.of_fats")),
        WaterRule::WaterToLye(_) => {}
    }
    if let Some(share) = &stock.naoh {
        look(share, format_args!("stock_solution.naoh"));
    }
    if let Some(share) = &stock.koh {
        look(share, format_args!("stock_solution.koh"));
    }
    for (i, line) in recipe.fats.iter().enumerate() {
        if let Amount::Share(share) = &line.amount
            && recipe.fats.len() < 10
        {
            look(share, format_args!("fats[{i}].share"));
        }
    }
    for (i, line) in recipe.acids.iter().enumerate() {
        look(&line.strength, format_args!("acids[{i}].strength"));
    }
}

/// Adds a caution about a share that is so small that a fraction was probably meant.
pub(crate) fn doubt(share: &Share, at: &dyn fmt::Display, cautions: &mut Vec<Caution>) {
    let percent = share.to_base();
    if percent.is_positive() && percent < SMALLEST_LIKELY_PERCENT {
        cautions.push(fraction_for_percent(share, at));
    }
}

/// Asks whether a share was meant as a fraction.
pub(crate) fn fraction_for_percent(share: &Share, at: &dyn fmt::Display) -> Caution {
    let percent = share.to_base();
    let read = percent.to_plain();
    let meant = (percent * Rational::HUNDRED).to_plain();
    let says = format!(
        "{at} is read as {read} %, since a bare number is percent; if you meant {meant} %, write \
         that."
    );
    Caution::new("fraction_for_percent", says)
}
