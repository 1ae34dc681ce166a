//! A planned batch that went wrong, and what brings it back to its recipe.

use super::pot::{Pot, State, add_to, rounded};
use super::{Kind, Target, Thing, smallest};
use crate::composition::Figure;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::{Caution, Faults};
use crate::plan::{Plan, bench_cautions, koh_by_moles, plan};
use crate::quantity::{Mass, Share};
use crate::recipe::{Amount, Recipe};

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
    /// Whether the superfat is brought back.
    pub keep_superfat: bool,
    /// Whether the split of the alkalis is brought back.
    pub keep_split: bool,
    /// Whether the water is brought back; that of a bar never is.
    pub keep_water: bool,
    /// The fats that may be added, each by itself; none: those of the recipe in their planned
    /// shares.
    pub at_hand: Vec<Fat>,
    /// What the fats shall come to: figures and their values.
    pub figures: Vec<(Figure, Rational)>,
    /// What was titrated in the finished bars.
    pub titrated: Option<Titrated>,
}

/// How far a batch has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Everything stands apart: alkali, water and what is too much of a fat can be taken back.
    Apart,
    /// The fats are mixed, alkali and water still apart: these can be taken back.
    FatsMixed,
    /// The alkali is dissolved, the fats still apart: what is too much of a fat can be taken back.
    LyeMade,
    /// All is mixed: things can only be added.
    Mixed,
    /// A finished bar, to be melted down again; its water is not looked at.
    Bar,
}

/// Free alkali of finished bars.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Titrated {
    /// What all bars of the batch weigh.
    pub mass: Mass,
    /// Free caustic alkali in them, as sodium hydroxide (ISO 456).
    pub free_alkali: Share,
}

/// A name and a mass in g.
pub type Part = (String, Rational);

/// What to add, in g; below 0: what to take back.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
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
    /// All of it, in g: what is added less what is taken back.
    pub fn total(&self) -> Rational {
        let lists = [&self.fats, &self.acids, &self.additives];
        let parts: Rational = lists.into_iter().flatten().map(|(_, mass)| mass).sum();
        parts + &self.naoh + &self.koh + &self.water
    }
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

/// The smallest additions that bring superfat, split and water of a batch back to its recipe, and
/// its fats to the figures that are asked for: those of the least mass, taken back or added.
///
/// A fat can be taken back down to its planned mass. With a scale step the batch is brought back to
/// the plan as it was rounded, and the additions are rounded as a plan is: alkali down, fat up,
/// water to the nearest step; no more is taken back than there is. Of a finished bar the water is
/// gone: water is asked for the added alkali alone.
///
/// # Errors
/// Those of [`plan`] (inside `plan`) and of [`smallest`]; `wrong_count` if a list is not as long as
/// that of the recipe; `figure_unknown` if a figure that is asked for is not known of a fat;
/// `not_needed` for a titration at another stage than that of a bar.
pub fn amend(recipe: &Recipe, actual: &Actual) -> Result<Amended, Faults> {
    let planned = plan(recipe).map_err(|found| found.inside("plan"))?;
    let recipe = &by_mass(recipe, &planned);
    let mut pot = Pot::of(&planned, actual)?;
    let bar = actual.stage == Stage::Bar;
    if let Some(titrated) = &actual.titrated {
        check(titrated, bar)?;
        pot.titrated(recipe, titrated);
    }
    let things = Things::of(recipe, &planned, actual, &pot)?;
    let target = Target {
        superfat: actual.keep_superfat.then(|| recipe.superfat.clone()),
        koh_share: (actual.keep_split).then(|| Share::of_one(koh_by_moles(&recipe.alkali))),
        water: (actual.keep_water && !bar).then(|| recipe.water.clone()),
        figures: sums_above(&pot.each_fat(recipe), &actual.figures)?,
        planned: Some(Pot::planned_by(&planned).mixture(recipe)),
    };
    let found = smallest(&pot.mixture(recipe), &target, &things.each);
    let found = found.map_err(|found| found.inside("may_add"))?;
    let before = pot.state(recipe, bar)?;
    let same_recipe = match bar {
        true => None,
        false => pot.enlarged(recipe, &planned),
    };
    let additions = things.put_in(&mut pot, recipe, &planned, &found, bar);
    let after = pot.state(recipe, bar)?;
    Ok(Amended {
        before,
        cautions: cautions(&additions, &after, bar),
        additions,
        after,
        same_recipe,
    })
}

/// The recipe with acids and additives by their planned mass, which stays whatever the fats weigh.
fn by_mass(recipe: &Recipe, planned: &Plan) -> Recipe {
    let mut recipe = recipe.clone();
    for (line, mass) in recipe.acids.iter_mut().zip(&planned.acids) {
        line.amount = Amount::Mass(mass.clone());
    }
    for (line, mass) in recipe.additives.iter_mut().zip(&planned.additives) {
        line.amount = Amount::Mass(mass.clone());
    }
    recipe
}

fn check(titrated: &Titrated, bar: bool) -> Result<(), Faults> {
    let mut faults = Faults::new();
    if !bar {
        let says = "free alkali is titrated in finished bars; accepted: the stage \"bar\", or no \
                    titration";
        faults.add("not_needed", "bar", says);
    }
    if !titrated.mass.grams().is_positive() {
        faults.add("not_positive", "bar.mass", "bars weigh more than 0");
    }
    let free = titrated.free_alkali.fraction();
    if free.is_negative() || *free >= Rational::ONE {
        let says = "free alkali lies from 0 to below 100 %, mostly below 1 %";
        faults.add("out_of_range", "bar.free_alkali", says);
    }
    faults.or(())
}

/// `Σ mass · (figure - target)` of fats, for each figure that is asked for.
fn sums_above(
    fats: &[(&Fat, &Rational)],
    figures: &[(Figure, Rational)],
) -> Result<Vec<Rational>, Faults> {
    let mut sums = vec![Rational::ZERO; figures.len()];
    for (fat, mass) in fats {
        for (sum, (figure, target)) in sums.iter_mut().zip(figures) {
            let Some(found) = figure.of(fat) else {
                let says = format!(
                    "the {} of {} is not known; accepted: a fat of your own that has it, or no \
                     such target",
                    figure.id().replace('_', " "),
                    fat.name()
                );
                return Err(Faults::one("figure_unknown", figure.id(), says));
            };
            *sum = &*sum + &(*mass * &(found.typical - target));
        }
    }
    Ok(sums)
}

/// What may be added or taken back.
struct Things<'a> {
    each: Vec<Thing>,
    /// The fat that each of them is; none for a blend as planned, and for what is no fat.
    fats: Vec<Option<&'a Fat>>,
}

impl<'a> Things<'a> {
    fn of(
        recipe: &'a Recipe,
        planned: &Plan,
        actual: &'a Actual,
        pot: &Pot,
    ) -> Result<Self, Faults> {
        let blend = |fats: &[(&Fat, &Rational)]| -> Result<Kind, Faults> {
            let mut value = Rational::ZERO;
            for (fat, share) in fats {
                value = value + *share * &fat.typical_saponification_value();
            }
            Ok(Kind::Fat {
                koh: value * const { Rational::decimal(1, 3) },
                figures: sums_above(fats, &actual.figures)?,
            })
        };
        let mut things = Self {
            each: vec![],
            fats: vec![],
        };
        for fat in &actual.at_hand {
            let kind = blend(&[(fat, &Rational::ONE)])?;
            things.push(Thing::of(kind, actual.add_fats), Some(fat));
        }
        if actual.at_hand.is_empty() {
            let shares = shares(planned);
            let fats = recipe.fats.iter().map(|line| &line.fat).zip(&shares);
            let kind = blend(&fats.collect::<Vec<_>>())?;
            things.push(Thing::of(kind, actual.add_fats), None);
        }
        if matches!(actual.stage, Stage::Apart | Stage::LyeMade) {
            for (i, line) in recipe.fats.iter().enumerate() {
                let take = &pot.fats[i] - planned.fats[i].grams();
                if take.is_positive() {
                    let kind = blend(&[(&line.fat, &Rational::ONE)])?;
                    let thing = Thing::of(kind, false);
                    things.push(Thing { take, ..thing }, Some(&line.fat));
                }
            }
        }
        let lye_apart = matches!(actual.stage, Stage::Apart | Stage::FatsMixed);
        let naoh = Kind::Naoh(recipe.alkali.naoh_purity.clone());
        let koh = Kind::Koh(recipe.alkali.koh_purity.clone());
        let lye = [
            (naoh, actual.add_naoh, &pot.naoh),
            (koh, actual.add_koh, &pot.koh),
            (Kind::Water, actual.add_water, &pot.water),
        ];
        for (kind, add, there) in lye {
            let mut thing = Thing::of(kind, add);
            if lye_apart {
                thing.take = there.clone();
            }
            things.push(thing, None);
        }
        Ok(things)
    }

    fn push(&mut self, thing: Thing, fat: Option<&'a Fat>) {
        self.each.push(thing);
        self.fats.push(fat);
    }

    /// Puts so much of each into the pot, rounded as it is weighed; what that is.
    fn put_in(
        &self,
        pot: &mut Pot<'a>,
        recipe: &'a Recipe,
        planned: &Plan,
        grams: &[Rational],
        bar: bool,
    ) -> Amendment {
        let step = recipe.scale_step.as_ref().map(Mass::grams);
        let mut amendment = Amendment::default();
        let mut fats = Vec::new();
        for ((thing, fat), grams) in self.each.iter().zip(&self.fats).zip(grams) {
            match (&thing.kind, fat) {
                (Kind::Fat { .. }, Some(fat)) => {
                    add_to(&mut fats, fat, &rounded(grams, step, Rational::ceil_to));
                }
                (Kind::Fat { .. }, None) => {
                    for (line, share) in recipe.fats.iter().zip(shares(planned)) {
                        let mass = rounded(&(share * grams), step, Rational::ceil_to);
                        fats.push((&line.fat, mass));
                    }
                }
                (Kind::Naoh(_), _) => amendment.naoh = rounded(grams, step, Rational::floor_to),
                (Kind::Koh(_), _) => amendment.koh = rounded(grams, step, Rational::floor_to),
                (Kind::Water, _) => amendment.water = grams.clone(),
            }
        }
        if bar {
            let alkali = &amendment.naoh + &amendment.koh;
            amendment.water = alkali * planned.water_to_lye.number();
        }
        amendment.water = rounded(&amendment.water, step, Rational::round_to);
        let lye = [
            (&mut pot.naoh, &mut amendment.naoh),
            (&mut pot.koh, &mut amendment.koh),
            (&mut pot.water, &mut amendment.water),
        ];
        for (there, added) in lye {
            // What is taken back is no more than there is, on whatever scale.
            *added = added.clone().max(-&*there);
            *there = &*there + &*added;
        }
        for (fat, mass) in fats {
            pot.add_fat(recipe, fat, &mass);
            amendment.fats.push((fat.name().to_owned(), mass));
        }
        amendment
    }
}

/// The planned shares of the fats.
fn shares(planned: &Plan) -> Vec<Rational> {
    let total = planned.total_fats.grams();
    let fats = planned.fats.iter();
    let shares = fats.map(|mass| mass.grams().checked_div(total).unwrap_or_default());
    shares.collect()
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
