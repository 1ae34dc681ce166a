//! What is brought back, as sums over the parts of a batch.
//!
//! Three are brought back to the plan, since it was rounded at the scale: the alkali less what takes
//! it up, `alkali - (1 - superfat) · need - acids`, the potassium hydroxide beyond its share of the
//! alkali, each in g KOH, and the water beyond what the rule asks for. That of each figure of the
//! fats, `Σ mass · (figure - target)`, is brought to 0.

use super::{Actual, Kind, Stage};
use crate::chemistry::Alkali;
use crate::exact::Rational;
use crate::fault::Faults;
use crate::plan::koh_by_moles;
use crate::recipe::{AcidEffect, Recipe, WaterRule};

/// How many sums are brought back to the plan, before those of the figures.
pub(super) const OF_PLAN: usize = 3;

/// What 1 g of a part adds to each sum; 0 to one that is not asked for.
pub(super) fn pulls(recipe: &Recipe, actual: &Actual, kind: Kind) -> Result<Vec<Rational>, Faults> {
    let (mut superfat, mut split, mut water) = (Rational::ZERO, Rational::ZERO, Rational::ZERO);
    match kind {
        Kind::Fat(fat) => {
            let need = fat.typical_saponification_value() * const { Rational::decimal(1, 3) };
            superfat = -(recipe.superfat.rest().fraction() * need);
            if let WaterRule::OfFats(share) = &recipe.water.rule {
                water = -share.fraction();
            }
        }
        Kind::Naoh | Kind::Koh => {
            let share = koh_by_moles(&recipe.alkali);
            let purity = if matches!(kind, Kind::Naoh) {
                let purity = recipe.alkali.naoh_purity.fraction();
                superfat = Alkali::Koh.in_place_of(purity, Alkali::Naoh);
                split = -(&superfat * &share);
                purity
            } else {
                let purity = recipe.alkali.koh_purity.fraction();
                superfat = purity.clone();
                split = purity - &superfat * &share;
                purity
            };
            let ratio = match &recipe.water.rule {
                WaterRule::OfFats(_) => Rational::ZERO,
                WaterRule::WaterToLye(ratio) => ratio.number().clone(),
                WaterRule::LyeConcentration(share) => {
                    let ratio = share.rest().fraction().checked_div(share.fraction());
                    ratio.unwrap_or_default()
                }
            };
            water = match recipe.water.count_alkali_water {
                true => Rational::ONE - purity - ratio * purity,
                false => -ratio,
            };
        }
        Kind::Water => water = Rational::ONE,
        Kind::Acid(line) => {
            if line.effect == AcidEffect::Compensate {
                let takes = line.acid.alkali_per_gram(Alkali::Koh);
                superfat = -(line.strength.fraction() * takes);
            }
            if recipe.water.count_acid_water {
                water = line.strength.rest().fraction().clone();
            }
        }
        Kind::Additive(_) => {}
    }
    let keep = |keep: bool, sum| if keep { sum } else { Rational::ZERO };
    let mut pulls = vec![
        keep(actual.keep_superfat, superfat),
        keep(actual.keep_split, split),
        keep(actual.keep_water && actual.stage != Stage::Bar, water),
    ];
    for (figure, target) in &actual.figures {
        pulls.push(match kind {
            Kind::Fat(fat) => match figure.of(fat) {
                Some(found) => found.typical - target,
                None => {
                    let (id, name) = (figure.id(), fat.name());
                    let says = format_args!(
                        "the {} of {name} is not known; accepted: a fat of your own that has it, or \
                         no such target",
                        id.replace('_', " ")
                    );
                    return Err(Faults::one("figure_unknown", id, says));
                }
            },
            _ => Rational::ZERO,
        });
    }
    Ok(pulls)
}
