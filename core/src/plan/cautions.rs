//! What to mind at the bench and in the figures.

use super::Plan;
use crate::chemistry::Alkali;
use crate::exact::Rational;
use crate::fault::Caution;
use crate::quantity::{Mass, Quantity, Share};
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
    let shown = percent.to_fixed(1);
    if percent >= Rational::integer(2) {
        Caution::new(
            "corrosive",
            format!(
                "The lye holds {shown} % hydroxide and causes severe skin burns and eye damage \
                 (H314; Regulation (EC) 1272/2008, Annex VI, from 2 %)."
            ),
        )
    } else {
        Caution::new(
            "irritant",
            format!(
                "The lye holds {shown} % hydroxide; from 0.5 % it irritates skin and eyes, from \
                 2 % it burns (Regulation (EC) 1272/2008, Annex VI)."
            ),
        )
    }
}

/// Lye that is stronger than water can dissolve at the bench.
fn undissolved(plan: &Plan) -> Option<Caution> {
    let water = plan.water_mass.grams();
    // Each alkali takes the water that it needs on its own.
    let takes = |pure: &Mass, alkali: Alkali| {
        let strongest = alkali.solubility(&Rational::integer(BENCH_CELSIUS))?;
        let water_per_alkali = (Rational::HUNDRED - &strongest).checked_div(&strongest)?;
        Some(pure.grams() * &water_per_alkali)
    };
    let needed =
        takes(&plan.naoh_pure_mass, Alkali::Naoh)? + takes(&plan.koh_pure_mass, Alkali::Koh)?;
    (needed > *water).then(|| {
        Caution::new(
            "will_not_dissolve",
            format!(
                "There is too little water to dissolve the alkali at {BENCH_CELSIUS} °C: it takes \
                 about {} g and there are {} g. Use more water.",
                needed.to_fixed(0),
                water.to_fixed(0)
            ),
        )
    })
}

/// A superfat that the spread of the saponification values can use up.
fn superfat_spread(plan: &Plan) -> Option<Caution> {
    let (low, high) = &plan.superfat_range;
    low.fraction().is_negative().then(|| {
        Caution::new(
            "may_be_lye_heavy",
            format!(
                "The superfat is smaller than the spread of these fats: it is {} % for the values \
                 reckoned with, but published saponification values are ranges, and over theirs it \
                 lies from {} % to {} %; below 0 the bar keeps free alkali. A supplier's \
                 certificate narrows the range.",
                percent(&plan.superfat),
                percent(low),
                percent(high),
            ),
        )
    })
}

/// Fats of which no range is known, so that the superfat range is too narrow.
fn unknown_range(recipe: &Recipe) -> Option<Caution> {
    let without = recipe
        .fats
        .iter()
        .filter(|line| line.fat.saponification_value().range().is_none());
    let names: Vec<_> = without.map(|line| line.fat.name()).collect();
    (!names.is_empty()).then(|| {
        Caution::new(
            "range_unknown",
            format!(
                "No range of the saponification value is known for {}, so the true superfat can \
                 lie outside the range that is stated.",
                names.join(", ")
            ),
        )
    })
}

fn percent(share: &Share) -> String {
    share.to_base().to_fixed(2)
}

/// Shares so small that a fraction was probably meant.
pub(crate) fn fractions(recipe: &Recipe) -> Vec<Caution> {
    let water = match &recipe.water.rule {
        WaterRule::LyeConcentration(share) => Some((share, "water.lye_concentration")),
        WaterRule::OfFats(share) => Some((share, "water.of_fats")),
        WaterRule::WaterToLye(_) => None,
    };
    let stock = &recipe.stock_solution;
    let fixed = [
        Some((&recipe.superfat, "superfat")),
        Some((&recipe.alkali.koh_share, "alkali.koh_share")),
        Some((&recipe.alkali.naoh_purity, "alkali.naoh_purity")),
        Some((&recipe.alkali.koh_purity, "alkali.koh_purity")),
        water,
        stock
            .naoh
            .as_ref()
            .map(|share| (share, "stock_solution.naoh")),
        stock
            .koh
            .as_ref()
            .map(|share| (share, "stock_solution.koh")),
    ];
    let fixed = fixed
        .into_iter()
        .flatten()
        .map(|(share, at)| (share, at.to_owned()));
    let fats = recipe
        .fats
        .iter()
        .enumerate()
        .filter_map(|(i, line)| match &line.amount {
            Amount::Share(share) if recipe.fats.len() < 10 => {
                Some((share, format!("fats[{i}].share")))
            }
            _ => None,
        });
    let acids = recipe.acids.iter().enumerate();
    let acids = acids.map(|(i, line)| (&line.strength, format!("acids[{i}].strength")));
    fixed
        .chain(fats)
        .chain(acids)
        .filter(|(share, _)| {
            let percent = share.to_base();
            percent.is_positive() && percent < SMALLEST_LIKELY_PERCENT
        })
        .map(|(share, at)| fraction_for_percent(share, &at))
        .collect()
}

/// Asks whether a share was meant as a fraction.
pub(crate) fn fraction_for_percent(share: &Share, at: &str) -> Caution {
    let percent = share.to_base();
    Caution::new(
        "fraction_for_percent",
        format!(
            "{at} is read as {} %, since a bare number is percent; if you meant {} %, write \
             that.",
            percent.to_plain(),
            (&percent * &Rational::HUNDRED).to_plain()
        ),
    )
}
