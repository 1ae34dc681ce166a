//! What brings a batch back that went wrong: the smallest additions, exactly.
//!
//! What a batch shall become are linear equations in what is added or taken back: each sum of
//! `targets` shall be what it is in the plan. Of all that meets them the least mass is taken, of
//! which what is added and what is taken back count alike: a linear programme, solved exactly.
//!
//! ```
//! use lixivium::amend::{Actual, amend};
//! use lixivium::exact::Rational;
//! use lixivium::fats::{Fat, find};
//! use lixivium::plan::plan;
//! use lixivium::quantity::{Mass, Ratio, Share};
//! use lixivium::recipe::{Amount, FatLine, Recipe, Water, WaterRule};
//!
//! let number = |text| Rational::parse(text).unwrap();
//! let fat = Fat::from(find("olive-oil").unwrap());
//! let recipe = Recipe {
//!     fats: vec![FatLine::new(fat, Amount::Mass(Mass::new(number("900"))))],
//!     total_fats: None,
//!     superfat: Share::percent(number("5")),
//!     alkali: Default::default(),
//!     water: Water::by(WaterRule::WaterToLye(Ratio::new(number("2")))),
//!     stock_solution: Default::default(),
//!     acids: vec![],
//!     additives: vec![],
//!     scale_step: None,
//! };
//! let planned = plan(&recipe).unwrap();
//! // A tenth too much of the alkali, and of the water as well: that makes a batch of 990 g fat.
//! let too_much = |mass: &Mass| Mass::new(mass.grams() * number("1.1"));
//! let mut weighed = planned.clone();
//! weighed.naoh_mass = too_much(&planned.naoh_mass);
//! weighed.water_mass = too_much(&planned.water_mass);
//! let actual = Actual::default();
//! let amended = amend(&recipe, &planned, weighed, &actual).unwrap();
//! assert_eq!(amended.additions[0].kind.name(), "Olive oil");
//! assert_eq!(amended.additions[0].mass.to_string(), "90");
//! ```

mod pot;
mod smallest;
mod targets;

use crate::composition::Figure;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::{Caution, Faults};
use crate::plan::{Plan, bench_cautions};
use crate::quantity::{Mass, Share};
use crate::recipe::{AcidLine, AdditiveLine, Recipe};

pub use smallest::MOST_THINGS;

/// What happened, and what is still possible.
#[derive(Debug, Clone)]
pub struct Actual {
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

/// All is mixed, everything may be added, and all is brought back.
impl Default for Actual {
    fn default() -> Self {
        Self {
            stage: Stage::Mixed,
            add_fats: true,
            add_naoh: true,
            add_koh: true,
            add_water: true,
            keep_superfat: true,
            keep_split: true,
            keep_water: true,
            at_hand: vec![],
            figures: vec![],
            titrated: None,
        }
    }
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

/// A part of a batch.
#[derive(Debug, Clone)]
pub struct Part<'a> {
    /// What it is.
    pub kind: Kind<'a>,
    /// Its mass, in g; of what is added: below 0 if it is taken back.
    pub mass: Rational,
}

/// What a [`Part`] is.
#[derive(Debug, Clone, Copy)]
pub enum Kind<'a> {
    /// A fat.
    Fat(&'a Fat),
    /// Sodium hydroxide as bought.
    Naoh,
    /// Potassium hydroxide as bought.
    Koh,
    /// Water of the lye.
    Water,
    /// An acid.
    Acid(&'a AcidLine),
    /// An additive.
    Additive(&'a AdditiveLine),
}

impl<'a> Kind<'a> {
    /// Its name.
    pub fn name(self) -> &'a str {
        match self {
            Self::Fat(fat) => fat.name(),
            Self::Naoh => "sodium hydroxide",
            Self::Koh => "potassium hydroxide",
            Self::Water => "water",
            Self::Acid(line) => line.acid.name,
            Self::Additive(line) => &line.name,
        }
    }
}

/// Weights as a recipe and its plan.
#[derive(Debug, Clone)]
pub struct State {
    /// The recipe with every fat that is in the batch; acids and additives by their planned mass,
    /// which stays whatever the fats weigh.
    pub recipe: Recipe,
    /// What was weighed, and what it amounts to: with a superfat below 0 there is free alkali. Of
    /// a bar the water is that with which it was poured.
    pub plan: Plan,
}

/// A batch before and after.
#[derive(Debug, Clone)]
pub struct Amended<'a> {
    /// As it is.
    pub before: State,
    /// The smallest additions.
    pub additions: Vec<Part<'a>>,
    /// With the additions.
    pub after: State,
    /// Additions that make it a larger batch of the same recipe instead; none for a bar, or where
    /// something is in it that was not planned.
    pub same_recipe: Option<Vec<Part<'a>>>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// The smallest additions that bring superfat, split and water of a batch back to its recipe, and
/// its fats to the figures that are asked for: those of the least mass, taken back or added.
///
/// `weighed` has the masses as they were weighed in truth; what else it says is not looked at.
///
/// A fat can be taken back down to its planned mass. The batch is brought back to the plan as it
/// was rounded at the scale, and the additions are rounded as a plan is: alkali down, fat up, water
/// to the nearest step; no more is taken back than there is. Of a finished bar the water is gone:
/// water is asked for the added alkali alone.
///
/// # Errors
/// `wrong_count` if a list is not as long as that of the recipe; `negative` and `no_fats` for
/// masses that cannot be; `not_needed` for a titration at another stage than that of a bar, and
/// `not_positive` or `out_of_range` for one that cannot be; `figure_unknown` if a figure that is
/// asked for is not known of a fat; `too_many` for more than [`MOST_THINGS`] things to add or to
/// take back; and `cannot_be_amended`, at something that would have to be added and may not be, or
/// taken out and cannot be.
pub fn amend<'a>(
    recipe: &'a Recipe,
    planned: &Plan,
    weighed: Plan,
    actual: &'a Actual,
) -> Result<Amended<'a>, Faults> {
    let bar = actual.stage == Stage::Bar;
    pot::check(&weighed, planned)?;
    let mut batch = State::of(recipe, planned, weighed);
    if let Some(titrated) = &actual.titrated {
        batch.titrate(titrated, bar)?;
    }
    let (parts, there) = (pot::parts(recipe, planned), pot::parts(recipe, &batch.plan));
    let things = smallest::things(recipe, actual, &parts, planned.total_fats.grams(), &there)?;
    let same_recipe = match bar {
        true => None,
        false => pot::enlarged(recipe, &parts, &there),
    };
    batch.settle();
    let before = batch.clone();
    let additions = batch.put_in(&things, planned, bar);
    batch.settle();
    Ok(Amended {
        before,
        cautions: cautions(&additions, &batch.plan, bar),
        additions,
        after: batch,
        same_recipe,
    })
}

fn cautions(additions: &[Part], after: &Plan, bar: bool) -> Vec<Caution> {
    let mut cautions = bench_cautions();
    let is_alkali = |part: &Part| matches!(part.kind, Kind::Naoh | Kind::Koh);
    if additions
        .iter()
        .any(|part| is_alkali(part) && part.mass.is_positive())
    {
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
    if after.superfat_range.0.fraction().is_negative() {
        cautions.push(Caution::new(
            "may_be_lye_heavy",
            "Even after the additions the published ranges of the fats allow free alkali.",
        ));
    }
    cautions
}
