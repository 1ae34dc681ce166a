//! A planned batch that went wrong, and what brings it back to its recipe.

use super::{Additions, AtHand, Fats, Mixture, Target, enlarge, smallest};
use crate::assurance::{self, Batch, Portion};
use crate::audit::{Record, audit};
use crate::chemistry::Alkali;
use crate::exact::{Interval, Rational};
use crate::fats::Fat;
use crate::fault::{Caution, Faults};
use crate::plan::{Plan, bench_cautions, koh_by_moles, plan};
use crate::quantity::{IodineValue, Mass, Ratio, Share};
use crate::recipe::{AcidEffect, Recipe};

/// What was weighed in truth and what is still possible.
#[derive(Debug, Clone)]
pub struct Actual {
    /// Each fat, in the order of the recipe; left out: as planned.
    pub fats: Option<Vec<Mass>>,
    /// Sodium hydroxide as weighed; left out: as planned.
    pub naoh: Option<Mass>,
    /// Potassium hydroxide as weighed; left out: as planned.
    pub koh: Option<Mass>,
    /// All water of the lye; left out: as planned.
    pub water: Option<Mass>,
    /// Each acid, in the order of the recipe; left out: as planned.
    pub acids: Option<Vec<Mass>>,
    /// Each additive, in the order of the recipe; left out: as planned.
    pub additives: Option<Vec<Mass>>,
    /// How far the batch has come.
    pub stage: Stage,
    /// Whether fat may be added.
    pub add_fats: bool,
    /// Whether sodium hydroxide may be added.
    pub add_naoh: bool,
    /// Whether potassium hydroxide may be added.
    pub add_koh: bool,
    /// Whether water may be added.
    pub add_water: bool,
    /// The fat to add; left out: the fats of the recipe in their planned shares.
    pub fat: Option<Fat>,
    /// The iodine value that the fats shall come to; left out: any.
    pub iodine_value: Option<IodineValue>,
}

/// How far a batch has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Everything stands apart: alkali and water can also be taken back.
    Apart,
    /// The lye is made, or all is mixed: things can only be added.
    Mixed,
    /// A finished bar, to be melted down again; its water is not looked at.
    Bar,
}

/// A name and a mass in g.
pub type Part = (String, Rational);

/// What to add, in g; below 0: what to take back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amendment {
    /// Fats.
    pub fats: Vec<Part>,
    /// Sodium hydroxide as bought.
    pub naoh: Rational,
    /// Potassium hydroxide as bought.
    pub koh: Rational,
    /// Water.
    pub water: Rational,
    /// Acids.
    pub acids: Vec<Part>,
    /// Additives.
    pub additives: Vec<Part>,
}

impl Amendment {
    /// All of it, in g.
    pub fn total(&self) -> Rational {
        let lists = [&self.fats, &self.acids, &self.additives];
        let parts: Rational = lists.into_iter().flatten().map(|(_, mass)| mass).sum();
        parts + &self.naoh + &self.koh + &self.water
    }
}

/// What a batch amounts to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
    /// The superfat; below 0 there is free alkali.
    pub superfat: Option<Share>,
    /// The superfat over the published ranges of the fats.
    pub superfat_range: Option<(Share, Share)>,
    /// Potassium hydroxide in the hydroxide, by moles.
    pub koh_share: Option<Share>,
    /// alkali as weighed / (alkali as weighed + water); none for a bar.
    pub lye_concentration: Option<Share>,
    /// water / alkali as weighed; none for a bar.
    pub water_to_lye: Option<Ratio>,
    /// Everything together, in g.
    pub batter_mass: Option<Rational>,
}

/// A batch before and after.
#[derive(Debug, Clone)]
pub struct Amended {
    /// As it is.
    pub before: State,
    /// The smallest additions.
    pub additions: Amendment,
    /// With the additions.
    pub after: State,
    /// Additions that make it a larger batch of the same recipe instead.
    pub same_recipe: Option<Amendment>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// The smallest additions that bring superfat, split and water of a batch back to its recipe.
///
/// With a scale step the additions are rounded as a plan is: alkali down, fat up, water to the
/// nearest step. Of a finished bar the water is gone: water is asked for the added alkali alone.
///
/// # Errors
/// Those of [`plan`] (inside `plan`) and of [`smallest`]; `wrong_count` if a list is not as long as
/// that of the recipe; `iodine_value_unknown`, `iodine_value_out_of_reach`.
pub fn amend(recipe: &Recipe, actual: &Actual) -> Result<Amended, Faults> {
    let planned = plan(recipe).map_err(|found| found.inside("plan"))?;
    let pot = Pot::of(&planned, actual)?;
    let blend = Blend::of(recipe, &planned, actual);
    let at_least = match &actual.iodine_value {
        Some(target) => blend.for_iodine(recipe, &pot, target)?,
        None => Rational::ZERO,
    };
    if at_least.is_positive() && !actual.add_fats {
        return Err(Faults::one(
            "cannot_be_amended",
            "may_add",
            "another iodine value takes fat to add; accepted: a may_add with \"fats\"",
        ));
    }
    let bar = actual.stage == Stage::Bar;
    let purity = |may: bool, purity: &Share| may.then(|| purity.clone());
    let at_hand = AtHand {
        fats: actual.add_fats.then(|| Fats {
            koh: blend.koh(),
            at_least,
        }),
        naoh: purity(actual.add_naoh, &recipe.alkali.naoh_purity),
        koh: purity(actual.add_koh, &recipe.alkali.koh_purity),
        water: actual.add_water,
        apart: actual.stage == Stage::Apart,
    };
    let target = Target {
        superfat: recipe.superfat.clone(),
        koh_share: Some(Share::of_one(koh_by_moles(&recipe.alkali))),
        water: (!bar).then(|| recipe.water.clone()),
    };
    let mixture = Mixture {
        batch: pot.batch(recipe, AcidsThat::AreCompensated),
        water: pot.water_that_counts(recipe),
    };
    let mut additions =
        smallest(&mixture, &target, &at_hand).map_err(|found| found.inside("may_add"))?;
    if bar {
        let alkali = &additions.naoh + &additions.koh;
        additions.water = alkali * planned.water_to_lye.number();
    }
    if let Some(step) = &recipe.scale_step {
        additions = rounded(&additions, step.grams());
    }
    let after = pot.with(&additions, &blend, &at_hand);
    let amendment = Amendment {
        fats: blend.parts(&additions.fats),
        naoh: additions.naoh,
        koh: additions.koh,
        water: additions.water,
        acids: vec![],
        additives: vec![],
    };
    let same_recipe = if bar {
        None
    } else {
        pot.enlarged(recipe, &planned)
    };
    let after = after.state(recipe, bar)?;
    Ok(Amended {
        before: pot.state(recipe, bar)?,
        cautions: cautions(&amendment, &after, bar),
        additions: amendment,
        after,
        same_recipe,
    })
}

fn rounded(additions: &Additions, step: &Rational) -> Additions {
    let down = |mass: &Rational| mass.floor_to(step).unwrap_or_else(|| mass.clone());
    Additions {
        fats: additions
            .fats
            .ceil_to(step)
            .unwrap_or_else(|| additions.fats.clone()),
        naoh: down(&additions.naoh),
        koh: down(&additions.koh),
        water: additions
            .water
            .round_to(step)
            .unwrap_or_else(|| additions.water.clone()),
    }
}

fn cautions(amendment: &Amendment, after: &State, bar: bool) -> Vec<Caution> {
    let mut cautions = bench_cautions();
    if amendment.naoh.is_positive() || amendment.koh.is_positive() {
        cautions.push(Caution::new(
            "dissolve_added_alkali",
            "Dissolve added alkali in water of its own first, let it cool, and pour it in slowly: \
             never put dry alkali into a batter or a melted bar.",
        ));
    }
    if bar {
        cautions.push(Caution::new(
            "measure_first",
            "A finished bar has lost water and may have taken up carbon dioxide: titrate its free \
             alkali before you trust these weights, and again after the rebatch. Do not use or sell \
             a bar with free alkali.",
        ));
    }
    if let Some((low, _)) = &after.superfat_range
        && low.fraction().is_negative()
    {
        cautions.push(Caution::new(
            "may_be_lye_heavy",
            "Even after the additions the published ranges of the fats allow free alkali.",
        ));
    }
    cautions
}

/// The fats that are added, in fixed shares.
struct Blend<'a> {
    /// The fat, its share as a fraction, and its place in the recipe.
    fats: Vec<(&'a Fat, Rational, Option<usize>)>,
}

impl<'a> Blend<'a> {
    fn of(recipe: &'a Recipe, planned: &Plan, actual: &'a Actual) -> Self {
        if let Some(fat) = &actual.fat {
            let same = recipe.fats.iter().position(|line| line.fat == *fat);
            return Self {
                fats: vec![(fat, Rational::ONE, same)],
            };
        }
        let total = planned.total_fats.grams();
        let fats = recipe.fats.iter().zip(&planned.fats).enumerate();
        let fats = fats.map(|(i, (line, mass))| {
            let share = mass.grams().checked_div(total).unwrap_or_default();
            (&line.fat, share, Some(i))
        });
        Self {
            fats: fats.collect(),
        }
    }

    /// g KOH for 1 g of it.
    fn koh(&self) -> Rational {
        let milligrams: Rational = self
            .fats
            .iter()
            .map(|(fat, share, _)| share * &fat.typical_saponification_value())
            .sum();
        milligrams * const { Rational::decimal(1, 3) }
    }

    fn parts(&self, grams: &Rational) -> Vec<Part> {
        let part = |(fat, share, _): &(&Fat, Rational, _)| (fat.name().to_owned(), share * grams);
        self.fats.iter().map(part).collect()
    }

    /// Grams of it that bring the iodine value of all fats to the target:
    /// `mass · (iodine value - target) / (target - iodine value of the blend)`.
    fn for_iodine(
        &self,
        recipe: &Recipe,
        pot: &Pot,
        target: &IodineValue,
    ) -> Result<Rational, Faults> {
        let known = |fat: &Fat| {
            let unknown = || {
                Faults::one(
                    "iodine_value_unknown",
                    "iodine_value",
                    format!(
                        "no iodine value of {} is known; accepted: a fat of your own with an \
                         iodine_value, or no target",
                        fat.name()
                    ),
                )
            };
            let figure = fat.iodine_value().ok_or_else(unknown)?;
            Ok(figure.typical)
        };
        let target = target.grams_per_100_grams();
        let (mut above, mut blend) = (Rational::ZERO, Rational::ZERO);
        for (line, mass) in recipe.fats.iter().zip(&pot.fats) {
            above = above + mass * &(known(&line.fat)? - target);
        }
        for (fat, share, _) in &self.fats {
            blend = blend + share * &known(fat)?;
        }
        if above.is_zero() {
            return Ok(Rational::ZERO);
        }
        match above.checked_div(&(target - &blend)) {
            Some(grams) if grams.is_positive() => Ok(grams),
            _ => Err(Faults::one(
                "iodine_value_out_of_reach",
                "iodine_value",
                format!(
                    "fat of iodine value {} cannot bring the batch there; accepted: a fat on the \
                     other side of the target",
                    blend.to_fixed(1)
                ),
            )),
        }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum AcidsThat {
    AreCompensated,
    AreThere,
}

/// What is in the pot, in g.
#[derive(Clone)]
struct Pot {
    fats: Vec<Rational>,
    /// A fat that is not in the recipe, and how much of it.
    other_fat: Option<(Fat, Rational)>,
    naoh: Rational,
    koh: Rational,
    water: Rational,
    acids: Vec<Rational>,
    additives: Vec<Rational>,
}

impl Pot {
    fn of(planned: &Plan, actual: &Actual) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let one = |mass: &Option<Mass>, planned: &Mass, at: &str, faults: &mut Faults| {
            let mass = mass.as_ref().unwrap_or(planned).grams().clone();
            if mass.is_negative() {
                let says = "a mass is not below 0; accepted: 0 or more";
                faults.add("negative", format!("actual.{at}"), says);
            }
            mass
        };
        let mut all = |masses: &Option<Vec<Mass>>, planned: &[Mass], at: &str| -> Vec<Rational> {
            let masses = masses.as_deref().unwrap_or(planned);
            if masses.len() != planned.len() {
                faults.add(
                    "wrong_count",
                    format!("actual.{at}"),
                    format!(
                        "{} masses stand here, and the plan has {}; accepted: one for each, in the \
                         order of the plan",
                        masses.len(),
                        planned.len()
                    ),
                );
            }
            for (i, mass) in masses.iter().enumerate() {
                if mass.grams().is_negative() {
                    let says = "a mass is not below 0; accepted: 0 or more";
                    faults.add("negative", format!("actual.{at}[{i}]"), says);
                }
            }
            masses.iter().map(|mass| mass.grams().clone()).collect()
        };
        let fats = all(&actual.fats, &planned.fats, "fats");
        let acids = all(&actual.acids, &planned.acids, "acids");
        let additives = all(&actual.additives, &planned.additives, "additives");
        let pot = Self {
            other_fat: None,
            naoh: one(&actual.naoh, &planned.naoh_mass, "naoh_mass", &mut faults),
            koh: one(&actual.koh, &planned.koh_mass, "koh_mass", &mut faults),
            water: one(
                &actual.water,
                &planned.water_mass,
                "water_mass",
                &mut faults,
            ),
            fats,
            acids,
            additives,
        };
        if faults.is_empty() && pot.fats.iter().all(Rational::is_zero) {
            faults.add("no_fats", "actual.fats", "a batch has at least one fat");
        }
        faults.or(pot)
    }

    fn fat_portions(&self, recipe: &Recipe) -> Vec<Portion> {
        let planned = recipe.fats.iter().map(|line| &line.fat).zip(&self.fats);
        let other = self.other_fat.iter().map(|(fat, mass)| (fat, mass));
        let portions = planned.chain(other);
        portions
            .map(|(fat, mass)| assurance::fat(fat, mass, None))
            .collect()
    }

    fn alkali_portions(&self, recipe: &Recipe) -> Vec<Portion> {
        let alkali = &recipe.alkali;
        let point = |purity: &Share| Interval::point(purity.fraction().clone());
        let (naoh, koh) = (&alkali.naoh_purity, &alkali.koh_purity);
        vec![
            Portion::naoh(self.naoh.clone(), naoh, &point(naoh)),
            Portion::koh(self.koh.clone(), koh, &point(koh)),
        ]
    }

    fn acid_portions(&self, recipe: &Recipe, which: AcidsThat) -> Vec<Portion> {
        let acids = recipe.acids.iter().zip(&self.acids);
        let acids = acids.filter(|(line, _)| {
            which == AcidsThat::AreThere || line.effect == AcidEffect::Compensate
        });
        let acids = acids.map(|(line, mass)| {
            let koh = line.strength.fraction() * line.acid.alkali_per_gram(Alkali::Koh);
            let range = Interval::point(koh.clone());
            Portion::exact(line.acid.name, mass.clone(), koh, range)
        });
        acids.collect()
    }

    fn batch(&self, recipe: &Recipe, acids: AcidsThat) -> Batch {
        Batch {
            fats: self.fat_portions(recipe),
            alkalis: self.alkali_portions(recipe),
            acids: self.acid_portions(recipe, acids),
        }
    }

    fn water_that_counts(&self, recipe: &Recipe) -> Rational {
        let mut water = self.water.clone();
        if recipe.water.count_acid_water {
            for (line, mass) in recipe.acids.iter().zip(&self.acids) {
                water = water + mass * line.strength.rest().fraction();
            }
        }
        water
    }

    fn with(&self, additions: &Additions, blend: &Blend, at_hand: &AtHand) -> Self {
        let mut pot = self.clone();
        if at_hand.fats.is_some() {
            for (fat, share, place) in &blend.fats {
                let mass = share * &additions.fats;
                match place {
                    Some(i) => pot.fats[*i] = &pot.fats[*i] + &mass,
                    None => pot.other_fat = Some(((*fat).clone(), mass)),
                }
            }
        }
        pot.naoh = pot.naoh + &additions.naoh;
        pot.koh = pot.koh + &additions.koh;
        pot.water = pot.water + &additions.water;
        pot
    }

    fn state(&self, recipe: &Recipe, bar: bool) -> Result<State, Faults> {
        let weighed = |portions: Vec<Portion>| -> Vec<_> {
            let each = portions.into_iter();
            each.map(|portion| {
                let mass = Interval::point(portion.mass.clone());
                (portion, Some(mass))
            })
            .collect()
        };
        let others = recipe.additives.iter().zip(&self.additives);
        let others =
            others.map(|(line, mass)| (line.name.clone(), Some(Interval::point(mass.clone()))));
        let found = audit(&Record {
            fats: weighed(self.fat_portions(recipe)),
            alkalis: weighed(self.alkali_portions(recipe)),
            acids: weighed(self.acid_portions(recipe, AcidsThat::AreThere)),
            others: others.collect(),
            water: Some(Interval::point(self.water.clone())),
            ..Record::default()
        })?;
        Ok(State {
            superfat: found.superfat,
            superfat_range: found
                .bounds
                .map(|bounds| (bounds.low.superfat, bounds.high.superfat)),
            koh_share: found.koh_share,
            lye_concentration: found.lye_concentration.filter(|_| !bar).map(|(low, _)| low),
            water_to_lye: found.water_to_lye.filter(|_| !bar).map(|(low, _)| low),
            batter_mass: found.batter_mass.map(|mass| mass.low().clone()),
        })
    }

    /// What makes it a larger batch of the same recipe.
    fn enlarged(&self, recipe: &Recipe, planned: &Plan) -> Option<Amendment> {
        let grams = |masses: &[Mass]| -> Vec<Rational> {
            masses.iter().map(|mass| mass.grams().clone()).collect()
        };
        let mut plan = grams(&planned.fats);
        plan.extend(grams(&planned.acids));
        plan.extend(grams(&planned.additives));
        let lye = [&planned.naoh_mass, &planned.koh_mass, &planned.water_mass];
        plan.extend(lye.map(|mass| mass.grams().clone()));
        let lists = [&self.fats, &self.acids, &self.additives];
        let mut actual: Vec<Rational> = lists.into_iter().flatten().cloned().collect();
        actual.extend([&self.naoh, &self.koh, &self.water].map(Clone::clone));
        let mut added = enlarge(&plan, &actual)?.into_iter();
        if let Some(step) = &recipe.scale_step {
            let round = |mass: Rational| mass.round_to(step.grams()).unwrap_or(mass);
            added = added.map(round).collect::<Vec<_>>().into_iter();
        }
        let mut named = |names: Vec<String>| -> Vec<Part> {
            let parts = names.into_iter().map(|name| (name, added.next()));
            let parts = parts.map(|(name, mass)| (name, mass.unwrap_or_default()));
            parts.collect()
        };
        let fats = recipe.fats.iter().map(|line| line.fat.name().to_owned());
        let fats = named(fats.collect());
        let acids = recipe.acids.iter().map(|line| line.acid.name.to_owned());
        let acids = named(acids.collect());
        let additives = recipe.additives.iter().map(|line| line.name.clone());
        let additives = named(additives.collect());
        let mut next = || added.next().unwrap_or_default();
        Some(Amendment {
            naoh: next(),
            koh: next(),
            water: next(),
            fats,
            acids,
            additives,
        })
    }
}
