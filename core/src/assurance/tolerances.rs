//! From a plan and its tolerances to a batch with ranges.

use std::fmt;

use super::batch::{Batch, Portion};
use crate::exact::{Interval, Rational};
use crate::fats::Fat;
use crate::fault::Faults;
use crate::plan::Plan;
use crate::quantity::{Mass, Share};
use crate::recipe::Recipe;

/// How far the batch on the bench may be from the plan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tolerances {
    /// For each fat in the order of the recipe, or for none; the ranges are those of the
    /// saponification values in mg KOH/g, such as those of a supplier's certificate, and the
    /// published ones where they are left out.
    pub fats: Vec<Tolerance>,
    /// For each acid in the order of the recipe, or for none; the ranges are those of the strengths,
    /// as fractions.
    pub acids: Vec<Tolerance>,
    /// For the sodium hydroxide; the range is that of its purity, as fractions.
    pub naoh: Tolerance,
    /// For the potassium hydroxide, likewise.
    pub koh: Tolerance,
    /// By how much every weighing may be off that has no error of its own.
    pub weighing_error: Option<Mass>,
    /// The step of the scale: half of it comes to every weighing, whatever other error it has.
    pub scale_step: Option<Mass>,
}

/// How far one fat, alkali or acid may be from what is reckoned with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tolerance {
    /// The range of its value; left out: as in the recipe.
    pub range: Option<Interval>,
    /// By how much it may be misweighed; left out: as everything.
    pub weighing_error: Option<Mass>,
}

impl Tolerance {
    const NONE: &Self = &Self {
        range: None,
        weighing_error: None,
    };

    fn range_around(&self, reckoned: &Share) -> Interval {
        match &self.range {
            Some(range) => range.clone(),
            None => Interval::point(reckoned.fraction().clone()),
        }
    }

    fn check_share(&self, at: fmt::Arguments, faults: &mut Faults) {
        if let Some(range) = &self.range {
            check_share(range, at, faults);
        }
    }
}

impl Tolerances {
    /// Everything that is wrong with them for a recipe, each at its place.
    ///
    /// # Errors
    /// `out_of_range` for a purity or strength that leaves 0 to 100 % or a saponification value not
    /// above 0, `negative` for an error below 0, `wrong_count` if the fats or the acids are not as
    /// many as those of the recipe.
    pub fn check(&self, recipe: &Recipe) -> Result<(), Faults> {
        let mut faults = Faults::new();
        check_count("fats", self.fats.len(), recipe.fats.len(), &mut faults);
        check_count("acids", self.acids.len(), recipe.acids.len(), &mut faults);
        for (i, fat) in self.fats.iter().enumerate() {
            if let Some(range) = &fat.range
                && !range.low().is_positive()
            {
                faults.add(
                    "out_of_range",
                    format_args!("fats[{i}].saponification_range"),
                    "a saponification value is above 0, mostly between 90 and 270 mg KOH/g",
                );
            }
            let at = format_args!("fats[{i}].weighing_error");
            not_negative(&fat.weighing_error, at, &mut faults);
        }
        let (naoh, koh) = (&self.naoh, &self.koh);
        naoh.check_share(format_args!("naoh_purity"), &mut faults);
        koh.check_share(format_args!("koh_purity"), &mut faults);
        for (i, acid) in self.acids.iter().enumerate() {
            acid.check_share(format_args!("acids[{i}].strength"), &mut faults);
        }
        for (i, acid) in self.acids.iter().enumerate() {
            let at = format_args!("acids[{i}].weighing_error");
            not_negative(&acid.weighing_error, at, &mut faults);
        }
        let mut check = |mass, at| not_negative(mass, at, &mut faults);
        check(&naoh.weighing_error, format_args!("naoh_weighing_error"));
        check(&koh.weighing_error, format_args!("koh_weighing_error"));
        check(&self.weighing_error, format_args!("weighing_error"));
        check(&self.scale_step, format_args!("scale_step"));
        faults.or(())
    }

    /// By how much a weighing may be off in all.
    fn error(&self, of: &Tolerance) -> Rational {
        let grams = |mass: &Option<Mass>| {
            mass.as_ref()
                .map_or(Rational::ZERO, |mass| mass.grams().clone())
        };
        let half = const { Rational::decimal(5, 1) };
        let own = match &of.weighing_error {
            None => &self.weighing_error,
            own => own,
        };
        grams(own) + grams(&self.scale_step) * half
    }
}

/// Adds a fault unless all of a range of purities or strengths is a share of something.
pub(crate) fn check_share(range: &Interval, at: fmt::Arguments, faults: &mut Faults) {
    if !range.low().is_positive() || range.high().is_above_one() {
        let says = "this share lies above 0 and up to 100 %";
        faults.add("out_of_range", at, says);
    }
}

fn check_count(name: &str, count: usize, planned: usize, faults: &mut Faults) {
    if count != 0 && count != planned {
        let says = format_args!(
            "there are {count} tolerances for {planned} {name}; accepted: one for each in the order \
             of the plan ({{}} for none), or none at all"
        );
        faults.add("wrong_count", name, says);
    }
}

fn not_negative(mass: &Option<Mass>, at: fmt::Arguments, faults: &mut Faults) {
    if mass.as_ref().is_some_and(|mass| mass.grams().is_negative()) {
        let says = "this is below 0; accepted: 0 or more, such as \"0.5 g\"";
        faults.add("negative", at, says);
    }
}

impl Batch {
    /// The batch of a plan, with what is not known exactly about it.
    ///
    /// An alkali that is taken from a stock solution is off by the error of the solution times its
    /// strength.
    ///
    /// # Errors
    /// Those of [`Tolerances::check`] and of [`Batch::check`].
    pub fn of_plan(recipe: &Recipe, plan: &Plan, tolerances: &Tolerances) -> Result<Self, Faults> {
        tolerances.check(recipe)?;
        let (mut fats, mut alkalis, mut acids) = (Vec::new(), Vec::new(), Vec::new());
        for (i, (line, mass)) in recipe.fats.iter().zip(&plan.fats).enumerate() {
            let own = tolerances.fats.get(i).unwrap_or(Tolerance::NONE);
            let mut portion = fat(&line.fat, mass.grams(), own.range.as_ref());
            portion.mass_error = tolerances.error(own);
            fats.push(portion);
        }
        let mut add = |mut portion: Portion, own: &Tolerance, stock: &Option<Share>| {
            if portion.mass.is_positive() {
                portion.mass_error = tolerances.error(own);
                if let Some(strength) = stock {
                    portion.mass_error = portion.mass_error.clone() * strength.fraction();
                }
                alkalis.push(portion);
            }
        };
        let (own, purity) = (&tolerances.naoh, &recipe.alkali.naoh_purity);
        let mass = plan.naoh_mass.grams().clone();
        let naoh = Portion::naoh(mass, purity, &own.range_around(purity));
        add(naoh, own, &recipe.stock_solution.naoh);
        let (own, purity) = (&tolerances.koh, &recipe.alkali.koh_purity);
        let mass = plan.koh_mass.grams().clone();
        let koh = Portion::koh(mass, purity, &own.range_around(purity));
        add(koh, own, &recipe.stock_solution.koh);
        for (i, (line, mass)) in recipe.acids.iter().zip(&plan.acids).enumerate() {
            let own = tolerances.acids.get(i).unwrap_or(Tolerance::NONE);
            let range = own.range_around(&line.strength);
            let mass = mass.grams().clone();
            let mut portion = Portion::acid(&line.acid, mass, &line.strength, &range);
            portion.mass_error = tolerances.error(own);
            acids.push(portion);
        }
        let batch = Self {
            fats,
            alkalis,
            acids,
        };
        batch.check()?;
        Ok(batch)
    }
}

/// A fat: its mass in g, and its range in mg KOH/g where it is not the published one. An end that
/// is not published is the value reckoned with.
pub(crate) fn fat(fat: &Fat, mass: &Rational, range: Option<&Interval>) -> Portion {
    let thousandth = const { Rational::decimal(1, 3) };
    let figure = fat.saponification_value();
    let range = range.cloned().unwrap_or_else(|| {
        let [low, high] = figure.ends();
        let range = Interval::new(low.clone(), high.clone());
        range.unwrap_or_else(|| Interval::point(figure.typical.clone()))
    });
    Portion::exact(
        fat.name(),
        mass.clone(),
        &figure.typical * &thousandth,
        &range * &Interval::point(thousandth),
    )
}
