//! What is in the pot, and what it amounts to.

use super::recipe::{Actual, Part, Titrated};
use super::{Mixture, enlarge};
use crate::assurance::{self, Batch, Portion, effect, naoh_to_koh};
use crate::audit::{Record, Weight, audit};
use crate::chemistry::Alkali;
use crate::exact::{Interval, Rational};
use crate::fats::Fat;
use crate::fault::Faults;
use crate::plan::Plan;
use crate::quantity::{Mass, Ratio, Share};
use crate::recipe::{AcidEffect, Amount, FatLine, Recipe};

/// What a batch amounts to.
#[derive(Debug, Clone)]
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
    /// The weights as a recipe and its plan, for what asks for those; none for a bar.
    pub planned: Option<Box<(Recipe, Plan)>>,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum AcidsThat {
    AreCompensated,
    AreThere,
}

/// What is in the pot, in g.
#[derive(Clone)]
pub(super) struct Pot {
    pub fats: Vec<Rational>,
    /// Fats that are not in the recipe.
    others: Vec<(Fat, Rational)>,
    pub naoh: Rational,
    pub koh: Rational,
    pub water: Rational,
    acids: Vec<Rational>,
    additives: Vec<Rational>,
}

impl Pot {
    pub fn of(planned: &Plan, actual: &Actual) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let below = "a mass is not below 0; accepted: 0 or more";
        let one = |mass: &Option<Mass>, planned: &Mass, at: &str, faults: &mut Faults| {
            let mass = mass.as_ref().unwrap_or(planned).grams().clone();
            if mass.is_negative() {
                faults.add("negative", format!("actual.{at}"), below);
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
                    faults.add("negative", format!("actual.{at}[{i}]"), below);
                }
            }
            masses.iter().map(|mass| mass.grams().clone()).collect()
        };
        let fats = all(&actual.fats, &planned.fats, "fats");
        let acids = all(&actual.acids, &planned.acids, "acids");
        let additives = all(&actual.additives, &planned.additives, "additives");
        let lye = [
            (&actual.naoh, &planned.naoh_mass, "naoh_mass"),
            (&actual.koh, &planned.koh_mass, "koh_mass"),
            (&actual.water, &planned.water_mass, "water_mass"),
        ];
        let [naoh, koh, water] = lye.map(|(mass, planned, at)| one(mass, planned, at, &mut faults));
        if faults.is_empty() && fats.iter().all(Rational::is_zero) {
            faults.add("no_fats", "actual.fats", "a batch has at least one fat");
        }
        faults.or(Self {
            others: vec![],
            fats,
            naoh,
            koh,
            water,
            acids,
            additives,
        })
    }

    /// As planned.
    pub fn planned_by(plan: &Plan) -> Self {
        let grams = |masses: &[Mass]| masses.iter().map(|mass| mass.grams().clone()).collect();
        Self {
            others: vec![],
            fats: grams(&plan.fats),
            naoh: plan.naoh_mass.grams().clone(),
            koh: plan.koh_mass.grams().clone(),
            water: plan.water_mass.grams().clone(),
            acids: grams(&plan.acids),
            additives: grams(&plan.additives),
        }
    }

    /// With so much alkali, split as it is, that what was titrated is left over of it.
    pub fn titrated(&mut self, recipe: &Recipe, titrated: &Titrated) {
        let batch = self.batch(recipe, AcidsThat::AreThere);
        let free = titrated.mass.grams() * titrated.free_alkali.fraction();
        let all = effect(&batch.fats) + effect(&batch.acids) + free * naoh_to_koh();
        match all.checked_div(&effect(&batch.alkalis)) {
            Some(factor) => {
                self.naoh = &self.naoh * &factor;
                self.koh = &self.koh * &factor;
            }
            None => {
                let pure = Alkali::Naoh.in_place_of(&all, Alkali::Koh);
                let naoh = pure.checked_div(recipe.alkali.naoh_purity.fraction());
                self.naoh = naoh.unwrap_or_default();
            }
        }
    }

    /// The fats with their masses.
    pub fn each_fat<'a>(
        &'a self,
        recipe: &'a Recipe,
    ) -> impl Iterator<Item = (&'a Fat, &'a Rational)> {
        let planned = recipe.fats.iter().map(|line| &line.fat).zip(&self.fats);
        planned.chain(self.others.iter().map(|(fat, mass)| (fat, mass)))
    }

    pub fn mixture(&self, recipe: &Recipe) -> Mixture {
        let mut water = self.water.clone();
        if recipe.water.count_acid_water {
            for (line, mass) in recipe.acids.iter().zip(&self.acids) {
                water = water + mass * line.strength.rest().fraction();
            }
        }
        Mixture {
            batch: self.batch(recipe, AcidsThat::AreCompensated),
            water,
        }
    }

    fn batch(&self, recipe: &Recipe, acids: AcidsThat) -> Batch {
        let fats = self.each_fat(recipe);
        let alkali = &recipe.alkali;
        let point = |purity: &Share| Interval::point(purity.fraction().clone());
        let (naoh, koh) = (&alkali.naoh_purity, &alkali.koh_purity);
        let lines = recipe.acids.iter().zip(&self.acids);
        let lines = lines.filter(|(line, _)| {
            acids == AcidsThat::AreThere || line.effect == AcidEffect::Compensate
        });
        let acids = lines.map(|(line, mass)| {
            let koh = line.strength.fraction() * line.acid.alkali_per_gram(Alkali::Koh);
            let range = Interval::point(koh.clone());
            Portion::exact(line.acid.name, mass.clone(), koh, range)
        });
        Batch {
            fats: fats
                .map(|(fat, mass)| assurance::fat(fat, mass, None))
                .collect(),
            alkalis: vec![
                Portion::naoh(self.naoh.clone(), naoh, &point(naoh)),
                Portion::koh(self.koh.clone(), koh, &point(koh)),
            ],
            acids: acids.collect(),
        }
    }

    /// With more of a fat, or less.
    pub fn add_fat(&mut self, recipe: &Recipe, fat: &Fat, grams: &Rational) {
        let same = recipe.fats.iter().position(|line| line.fat == *fat);
        let mass = match same {
            Some(i) => &mut self.fats[i],
            None => {
                self.others.push((fat.clone(), Rational::ZERO));
                let last = self.others.len() - 1;
                &mut self.others[last].1
            }
        };
        *mass = &*mass + grams;
    }

    pub fn state(&self, recipe: &Recipe, bar: bool) -> Result<State, Faults> {
        let weight = |mass: &Rational| -> Weight { Some(Interval::point(mass.clone())) };
        let weighed = |portions: Vec<Portion>| -> Vec<_> {
            let each = portions.into_iter();
            each.map(|portion| {
                let mass = weight(&portion.mass);
                (portion, mass)
            })
            .collect()
        };
        let batch = self.batch(recipe, AcidsThat::AreThere);
        let others = recipe.additives.iter().zip(&self.additives);
        let others = others.map(|(line, mass)| (line.name.clone(), weight(mass)));
        let found = audit(&Record {
            fats: weighed(batch.fats),
            alkalis: weighed(batch.alkalis),
            acids: weighed(batch.acids),
            others: others.collect(),
            water: weight(&self.water),
            ..Record::default()
        })?;
        let mut state = State {
            superfat: found.superfat,
            superfat_range: found
                .bounds
                .map(|bounds| (bounds.low.superfat, bounds.high.superfat)),
            koh_share: found.koh_share,
            lye_concentration: found.lye_concentration.map(|(low, _)| low),
            water_to_lye: found.water_to_lye.map(|(low, _)| low),
            batter_mass: found.batter_mass.map(|mass| mass.low().clone()),
            planned: None,
        };
        if bar {
            state.lye_concentration = None;
            state.water_to_lye = None;
        } else {
            state.planned = Some(Box::new(self.planned(recipe, &state)));
        }
        Ok(state)
    }

    /// As a recipe and its plan.
    fn planned(&self, recipe: &Recipe, state: &State) -> (Recipe, Plan) {
        let masses = |grams: &[Rational]| -> Vec<Mass> {
            grams.iter().map(|grams| Mass::new(grams.clone())).collect()
        };
        let mut weighed = recipe.clone();
        let more = self.others.iter();
        let more = more
            .map(|(fat, mass)| FatLine::new(fat.clone(), Amount::Mass(Mass::new(mass.clone()))));
        weighed.fats.extend(more);
        let fats: Vec<_> = self
            .each_fat(recipe)
            .map(|(_, mass)| mass.clone())
            .collect();
        let pure = |mass: &Rational, purity: &Share| mass * purity.fraction();
        let (naoh_pure, koh_pure) = (
            pure(&self.naoh, &recipe.alkali.naoh_purity),
            pure(&self.koh, &recipe.alkali.koh_purity),
        );
        let lye = &self.naoh + &self.koh + &self.water;
        let hydroxide = (&naoh_pure + &koh_pure).checked_div(&lye);
        let superfat = state.superfat.clone().unwrap_or(Share::NONE);
        let point = || (superfat.clone(), superfat.clone());
        let plan = Plan {
            total_fats: Mass::new(fats.iter().sum()),
            fats: masses(&fats),
            naoh_mass: Mass::new(self.naoh.clone()),
            koh_mass: Mass::new(self.koh.clone()),
            naoh_pure_mass: Mass::new(naoh_pure),
            koh_pure_mass: Mass::new(koh_pure),
            water_mass: Mass::new(self.water.clone()),
            naoh_solution_mass: None,
            koh_solution_mass: None,
            water_to_add_mass: Mass::new(self.water.clone()),
            acids: masses(&self.acids),
            additives: masses(&self.additives),
            batter_mass: Mass::new(state.batter_mass.clone().unwrap_or_default()),
            superfat_range: state.superfat_range.clone().unwrap_or_else(point),
            superfat,
            koh_share_by_moles: state.koh_share.clone().unwrap_or(Share::NONE),
            lye_concentration: state.lye_concentration.clone().unwrap_or(Share::NONE),
            hydroxide_concentration: Share::of_one(hydroxide.unwrap_or_default()),
            water_to_lye: Ratio::new(
                self.water
                    .checked_div(&(&self.naoh + &self.koh))
                    .unwrap_or_default(),
            ),
        };
        (weighed, plan)
    }

    /// What makes it a larger batch of the same recipe.
    pub fn enlarged(&self, recipe: &Recipe, planned: &Plan) -> Option<super::Amendment> {
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
        Some(super::Amendment {
            naoh: next(),
            koh: next(),
            water: next(),
            fats,
            acids,
            additives,
        })
    }
}
