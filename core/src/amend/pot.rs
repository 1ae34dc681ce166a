//! What is in the pot, and what it amounts to.

use super::recipe::{Actual, Amendment, Titrated};
use super::{Mixture, enlarge};
use crate::assurance::{self, Batch, Portion, effect, effect_of, naoh_to_koh};
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
pub(super) struct Pot<'a> {
    pub fats: Vec<Rational>,
    /// Fats that are not in the recipe.
    others: Vec<(&'a Fat, Rational)>,
    pub naoh: Rational,
    pub koh: Rational,
    pub water: Rational,
    acids: Vec<Rational>,
    additives: Vec<Rational>,
}

const NOT_BELOW: &str = "a mass is not below 0; accepted: 0 or more";

fn grams(masses: &[Mass]) -> Vec<Rational> {
    masses.iter().map(|mass| mass.grams().clone()).collect()
}

fn masses(grams: &[Rational]) -> Vec<Mass> {
    grams.iter().map(|grams| Mass::new(grams.clone())).collect()
}

impl<'a> Pot<'a> {
    pub fn of(planned: &Plan, actual: &Actual) -> Result<Self, Faults> {
        let mut pot = Self::planned_by(planned);
        let mut faults = Faults::new();
        let lists = [
            (&mut pot.fats, &actual.fats, "fats"),
            (&mut pot.acids, &actual.acids, "acids"),
            (&mut pot.additives, &actual.additives, "additives"),
        ];
        for (list, given, at) in lists {
            let Some(given) = given else {
                continue;
            };
            if given.len() != list.len() {
                faults.add(
                    "wrong_count",
                    format_args!("actual.{at}"),
                    format_args!(
                        "{} masses stand here, and the plan has {}; accepted: one for each, in the \
                         order of the plan",
                        given.len(),
                        list.len()
                    ),
                );
            }
            *list = grams(given);
            for (i, mass) in list.iter().enumerate() {
                if mass.is_negative() {
                    faults.add("negative", format_args!("actual.{at}[{i}]"), NOT_BELOW);
                }
            }
        }
        let lye = [
            (&mut pot.naoh, &actual.naoh, "naoh_mass"),
            (&mut pot.koh, &actual.koh, "koh_mass"),
            (&mut pot.water, &actual.water, "water_mass"),
        ];
        for (mass, given, at) in lye {
            if let Some(given) = given {
                *mass = given.grams().clone();
                if mass.is_negative() {
                    faults.add("negative", format_args!("actual.{at}"), NOT_BELOW);
                }
            }
        }
        if faults.is_empty() && pot.fats.iter().all(Rational::is_zero) {
            faults.add("no_fats", "actual.fats", "a batch has at least one fat");
        }
        faults.or(pot)
    }

    /// As planned.
    pub fn planned_by(plan: &Plan) -> Self {
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
    pub fn each_fat<'b>(&'b self, recipe: &'b Recipe) -> Vec<(&'b Fat, &'b Rational)> {
        let mut each = Vec::new();
        for (line, mass) in recipe.fats.iter().zip(&self.fats) {
            each.push((&line.fat, mass));
        }
        for (fat, mass) in &self.others {
            each.push((fat, mass));
        }
        each
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
        let mut batch = Batch {
            fats: vec![],
            alkalis: vec![],
            acids: vec![],
        };
        for (fat, mass) in self.each_fat(recipe) {
            batch.fats.push(assurance::fat(fat, mass, None));
        }
        let point = |purity: &Share| Interval::point(purity.fraction().clone());
        let (naoh, koh) = (&recipe.alkali.naoh_purity, &recipe.alkali.koh_purity);
        batch.alkalis = vec![
            Portion::naoh(self.naoh.clone(), naoh, &point(naoh)),
            Portion::koh(self.koh.clone(), koh, &point(koh)),
        ];
        for (line, mass) in recipe.acids.iter().zip(&self.acids) {
            if acids == AcidsThat::AreThere || line.effect == AcidEffect::Compensate {
                let (mass, strength) = (mass.clone(), &line.strength);
                let acid = Portion::acid(&line.acid, mass, strength, &point(strength));
                batch.acids.push(acid);
            }
        }
        batch
    }

    /// With more of a fat, or less.
    pub fn add_fat(&mut self, recipe: &Recipe, fat: &'a Fat, grams: &Rational) {
        match recipe.fats.iter().position(|line| line.fat == *fat) {
            Some(i) => self.fats[i] = &self.fats[i] + grams,
            None => add_to(&mut self.others, fat, grams),
        }
    }

    pub fn state(&self, recipe: &Recipe, bar: bool) -> Result<State, Faults> {
        let batch = self.batch(recipe, AcidsThat::AreThere);
        let bounds = batch.bounds()?;
        let koh = effect_of("koh", &batch.alkalis);
        let alkali = &self.naoh + &self.koh;
        let lye = &alkali + &self.water;
        let mut state = State {
            superfat: batch.superfat(),
            superfat_range: Some((bounds.low.superfat, bounds.high.superfat)),
            koh_share: koh.checked_div(&effect(&batch.alkalis)).map(Share::of_one),
            lye_concentration: alkali.checked_div(&lye).map(Share::of_one),
            water_to_lye: self.water.checked_div(&alkali).map(Ratio::new),
            batter_mass: Some(self.all().iter().sum()),
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
        let mut weighed = recipe.clone();
        let mut fats = self.fats.clone();
        for (fat, mass) in &self.others {
            let amount = Amount::Mass(Mass::new(mass.clone()));
            weighed.fats.push(FatLine::new((*fat).clone(), amount));
            fats.push(mass.clone());
        }
        let pure = |mass: &Rational, purity: &Share| mass * purity.fraction();
        let (naoh_pure, koh_pure) = (
            pure(&self.naoh, &recipe.alkali.naoh_purity),
            pure(&self.koh, &recipe.alkali.koh_purity),
        );
        let lye = &self.naoh + &self.koh + &self.water;
        let hydroxide = (&naoh_pure + &koh_pure).checked_div(&lye);
        let superfat = state.superfat.clone().unwrap_or(Share::NONE);
        let point = || (superfat.clone(), superfat.clone());
        let none = || Ratio::new(Rational::ZERO);
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
            water_to_lye: state.water_to_lye.clone().unwrap_or_else(none),
        };
        (weighed, plan)
    }

    /// What makes it a larger batch of the same recipe.
    pub fn enlarged(&self, recipe: &Recipe, planned: &Plan) -> Option<Amendment> {
        let planned = Self::planned_by(planned).all();
        let mut added = enlarge(&planned, &self.all())?;
        let step = recipe.scale_step.as_ref().map(Mass::grams);
        for mass in &mut added {
            *mass = rounded(mass, step, Rational::round_to);
        }
        let mut added = added.into_iter();
        let mut next = || added.next().unwrap_or_default();
        let mut amendment = Amendment::default();
        for line in &recipe.fats {
            amendment.fats.push((line.fat.name().to_owned(), next()));
        }
        for line in &recipe.acids {
            amendment.acids.push((line.acid.name.to_owned(), next()));
        }
        for line in &recipe.additives {
            amendment.additives.push((line.name.clone(), next()));
        }
        amendment.naoh = next();
        amendment.koh = next();
        amendment.water = next();
        Some(amendment)
    }

    /// All of it, fats that are not in the recipe last.
    fn all(&self) -> Vec<Rational> {
        let lye = [&self.naoh, &self.koh, &self.water];
        let mut all = self.fats.clone();
        all.extend_from_slice(&self.acids);
        all.extend_from_slice(&self.additives);
        all.extend(lye.map(Clone::clone));
        for (_, mass) in &self.others {
            all.push(mass.clone());
        }
        all
    }
}

/// Adds so much of a fat to a list that may have it already.
pub(super) fn add_to<'a>(list: &mut Vec<(&'a Fat, Rational)>, fat: &'a Fat, grams: &Rational) {
    match list.iter_mut().find(|(known, _)| *known == fat) {
        Some((_, sum)) => *sum = &*sum + grams,
        None => list.push((fat, grams.clone())),
    }
}

/// On the scale, if it has a step.
pub(super) fn rounded(
    mass: &Rational,
    step: Option<&Rational>,
    to: fn(&Rational, &Rational) -> Option<Rational>,
) -> Rational {
    let rounded = step.and_then(|step| to(mass, step));
    rounded.unwrap_or_else(|| mass.clone())
}
