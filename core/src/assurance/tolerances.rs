//! From a plan and its tolerances to a batch with ranges.

use super::batch::{Batch, Portion};
use crate::chemistry::Alkali;
use crate::exact::{Interval, Rational};
use crate::fats::Fat;
use crate::fault::Faults;
use crate::plan::Plan;
use crate::quantity::{Mass, Share};
use crate::recipe::Recipe;

/// How far the batch on the bench may be from the plan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tolerances {
    /// For each fat in the order of the recipe, or for none.
    pub fats: Vec<FatTolerance>,
    /// For each acid in the order of the recipe, or for none.
    pub acids: Vec<AcidTolerance>,
    /// Range of the purity of the sodium hydroxide, as fractions; left out: as in the recipe.
    pub naoh_purity: Option<Interval>,
    /// Range of the purity of the potassium hydroxide, as fractions; left out: as in the recipe.
    pub koh_purity: Option<Interval>,
    /// By how much the sodium hydroxide may be misweighed; left out: as everything.
    pub naoh_error: Option<Mass>,
    /// By how much the potassium hydroxide may be misweighed; left out: as everything.
    pub koh_error: Option<Mass>,
    /// By how much every weighing may be off that has no error of its own.
    pub weighing_error: Option<Mass>,
    /// The step of the scale: half of it comes to every weighing, whatever other error it has.
    pub scale_step: Option<Mass>,
}

/// How far a fat may be from what is reckoned with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FatTolerance {
    /// Range of its saponification value in mg KOH/g, such as that of a supplier's certificate;
    /// left out: the published range.
    pub saponification_range: Option<Interval>,
    /// By how much it may be misweighed; left out: as everything.
    pub weighing_error: Option<Mass>,
}

/// How far an acid may be from what is reckoned with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AcidTolerance {
    /// Range of its strength, as fractions; left out: as in the recipe.
    pub strength: Option<Interval>,
    /// By how much it may be misweighed; left out: as everything.
    pub weighing_error: Option<Mass>,
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
        let counts = [
            ("fats", self.fats.len(), recipe.fats.len()),
            ("acids", self.acids.len(), recipe.acids.len()),
        ];
        for (name, count, planned) in counts {
            if count != 0 && count != planned {
                let says = format_args!(
                    "there are {count} tolerances for {planned} {name}; accepted: one for each in \
                     the order of the plan ({{}} for none), or none at all"
                );
                faults.add("wrong_count", name, says);
            }
        }
        for (i, fat) in self.fats.iter().enumerate() {
            let range = fat.saponification_range.as_ref();
            if range.is_some_and(|range| !range.low().is_positive()) {
                faults.add(
                    "out_of_range",
                    format_args!("fats[{i}].saponification_range"),
                    "a saponification value is above 0, mostly between 90 and 270 mg KOH/g",
                );
            }
            let at = format!("fats[{i}].weighing_error");
            not_negative(&fat.weighing_error, &at, &mut faults);
        }
        share(&self.naoh_purity, "naoh_purity", &mut faults);
        share(&self.koh_purity, "koh_purity", &mut faults);
        for (i, acid) in self.acids.iter().enumerate() {
            share(&acid.strength, &format!("acids[{i}].strength"), &mut faults);
        }
        for (i, acid) in self.acids.iter().enumerate() {
            let at = format!("acids[{i}].weighing_error");
            not_negative(&acid.weighing_error, &at, &mut faults);
        }
        let errors = [
            (&self.naoh_error, "naoh_weighing_error"),
            (&self.koh_error, "koh_weighing_error"),
            (&self.weighing_error, "weighing_error"),
            (&self.scale_step, "scale_step"),
        ];
        for (error, at) in errors {
            not_negative(error, at, &mut faults);
        }
        faults.or(())
    }

    fn error(&self, own: Option<&Mass>) -> Rational {
        let grams = |mass: Option<&Mass>| mass.map_or(Rational::ZERO, |mass| mass.grams().clone());
        let half = const { Rational::decimal(5, 1) };
        grams(own.or(self.weighing_error.as_ref())) + grams(self.scale_step.as_ref()) * half
    }
}

fn share(range: &Option<Interval>, at: &str, faults: &mut Faults) {
    let possible = |range: &Interval| range.low().is_positive() && *range.high() <= Rational::ONE;
    if range.as_ref().is_some_and(|range| !possible(range)) {
        let says = "this share lies above 0 and up to 100 %";
        faults.add("out_of_range", at, says);
    }
}

fn not_negative(mass: &Option<Mass>, at: &str, faults: &mut Faults) {
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
        let mut batch = Self {
            fats: vec![],
            alkalis: vec![],
            acids: vec![],
        };
        for (i, (line, mass)) in recipe.fats.iter().zip(&plan.fats).enumerate() {
            let own = tolerances.fats.get(i);
            let range = own.and_then(|own| own.saponification_range.as_ref());
            let error = own.and_then(|own| own.weighing_error.as_ref());
            batch.fats.push(Portion {
                mass_error: tolerances.error(error),
                ..fat(&line.fat, mass.grams(), range)
            });
        }
        let or_point = |range: Option<&Interval>, purity: &Share| {
            let point = || Interval::point(purity.fraction().clone());
            range.cloned().unwrap_or_else(point)
        };
        let alkalis = [
            (
                Alkali::Naoh,
                &plan.naoh_mass,
                &recipe.alkali.naoh_purity,
                &tolerances.naoh_purity,
                &tolerances.naoh_error,
                &recipe.stock_solution.naoh,
            ),
            (
                Alkali::Koh,
                &plan.koh_mass,
                &recipe.alkali.koh_purity,
                &tolerances.koh_purity,
                &tolerances.koh_error,
                &recipe.stock_solution.koh,
            ),
        ];
        for (alkali, mass, purity, range, error, stock) in alkalis {
            if !mass.grams().is_positive() {
                continue;
            }
            let range = or_point(range.as_ref(), purity);
            let portion = match alkali {
                Alkali::Naoh => Portion::naoh(mass.grams().clone(), purity, &range),
                Alkali::Koh => Portion::koh(mass.grams().clone(), purity, &range),
            };
            let error = tolerances.error(error.as_ref());
            batch.alkalis.push(Portion {
                mass_error: match stock {
                    Some(strength) => error * strength.fraction(),
                    None => error,
                },
                ..portion
            });
        }
        for (i, (line, mass)) in recipe.acids.iter().zip(&plan.acids).enumerate() {
            let own = tolerances.acids.get(i);
            let error = own.and_then(|own| own.weighing_error.as_ref());
            let strength = own.and_then(|own| own.strength.as_ref());
            let range = or_point(strength, &line.strength);
            let mass = mass.grams().clone();
            batch.acids.push(Portion {
                mass_error: tolerances.error(error),
                ..Portion::acid(&line.acid, mass, &line.strength, &range)
            });
        }
        batch.check()?;
        Ok(batch)
    }
}

/// A fat: its mass in g, and its range in mg KOH/g where it is not the published one. An end that
/// is not published is the value reckoned with.
pub(crate) fn fat(fat: &Fat, mass: &Rational, range: Option<&Interval>) -> Portion {
    let thousandth = const { Rational::decimal(1, 3) };
    let figure = fat.saponification_value();
    let end = |end: Option<Rational>| end.unwrap_or_else(|| figure.typical.clone());
    let published = Interval::new(end(figure.low.clone()), end(figure.high.clone()));
    let range = range.cloned().or(published);
    let range = range.unwrap_or_else(|| Interval::point(figure.typical.clone()));
    Portion::exact(
        fat.name(),
        mass.clone(),
        &figure.typical * &thousandth,
        &range * &Interval::point(thousandth),
    )
}
