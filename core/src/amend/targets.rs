//! What is brought back, as sums over the parts of a batch, linear in their masses.

use super::{Actual, Kind, Part, Stage};
use crate::chemistry::Alkali;
use crate::exact::Rational;
use crate::fault::Faults;
use crate::plan::koh_by_moles;
use crate::recipe::{AcidEffect, Recipe};

/// How many sums are brought back to the plan, which was rounded at the scale: the superfat, the
/// split and the water. Those of the figures follow, which are brought to 0.
pub(super) const OF_PLAN: usize = 3;

/// By how much those parts are above each target; 0 for one that is not asked for.
///
/// - Superfat: `alkali - (1 - superfat) · need - acids`, in g KOH.
/// - Split: potassium hydroxide less its share of the alkali, in g KOH.
/// - Water: what there is less what the rule asks for, in g.
/// - Each figure of the fats: `Σ mass · (figure - target)`.
pub(super) fn sums(
    recipe: &Recipe,
    actual: &Actual,
    parts: &[Part],
) -> Result<Vec<Rational>, Faults> {
    let rule = &recipe.water;
    let (mut fats, mut need) = (Rational::ZERO, Rational::ZERO);
    let (mut alkali, mut koh, mut acids) = (Rational::ZERO, Rational::ZERO, Rational::ZERO);
    let (mut lye, mut water) = (Rational::ZERO, Rational::ZERO);
    let mut sums = vec![Rational::ZERO; OF_PLAN + actual.figures.len()];
    for Part { kind, mass } in parts {
        let purity = match kind {
            Kind::Fat(fat) => {
                fats = fats + mass;
                need = need + mass * &fat.typical_saponification_value();
                for ((figure, target), sum) in actual.figures.iter().zip(&mut sums[OF_PLAN..]) {
                    let Some(found) = figure.of(fat) else {
                        let (id, name) = (figure.id(), fat.name());
                        let says = format_args!(
                            "the {} of {name} is not known; accepted: a fat of your own that has \
                             it, or no such target",
                            id.replace('_', " ")
                        );
                        return Err(Faults::one("figure_unknown", id, says));
                    };
                    *sum = &*sum + &(mass * &(found.typical - target));
                }
                continue;
            }
            Kind::Acid(line) => {
                if line.effect == AcidEffect::Compensate {
                    acids = acids + line.takes(mass);
                }
                if rule.count_acid_water {
                    water = water + line.water(mass);
                }
                continue;
            }
            Kind::Additive(_) => continue,
            Kind::Water => {
                water = water + mass;
                continue;
            }
            Kind::Naoh => recipe.alkali.naoh_purity.fraction(),
            Kind::Koh => recipe.alkali.koh_purity.fraction(),
        };
        let pure = mass * purity;
        if rule.count_alkali_water {
            water = water + (mass - &pure);
            lye = lye + &pure;
        } else {
            lye = lye + mass;
        }
        if matches!(kind, Kind::Koh) {
            koh = koh + &pure;
            alkali = alkali + pure;
        } else {
            alkali = alkali + Alkali::Koh.in_place_of(&pure, Alkali::Naoh);
        }
    }
    if actual.keep_superfat {
        let need = need * const { Rational::decimal(1, 3) };
        sums[0] = &alkali - recipe.superfat.rest().fraction() * need - acids;
    }
    if actual.keep_split {
        sums[1] = koh - koh_by_moles(&recipe.alkali) * alkali;
    }
    if actual.keep_water && actual.stage != Stage::Bar {
        sums[2] = water - rule.rule.asked(&fats, &lye);
    }
    Ok(sums)
}
