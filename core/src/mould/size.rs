//! How large a batch must be for the mould to be full.

use super::fill::{Yield, water};
use super::{ErrOn, Mould, Takes, quotient};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::plan::{Plan, plan};
use crate::quantity::{Mass, Share};
use crate::recipe::{Amount, Recipe};

/// A batch that fills a mould.
#[derive(Debug, Clone)]
pub struct SizedBatch {
    /// The fats that fill the mould, before anything is rounded at the scale.
    pub total_fats: Mass,
    /// The recipe with its fats by share and the total that is weighed on the scale.
    pub recipe: Recipe,
    /// Its plan.
    pub plan: Plan,
    /// By how much what is poured of it exceeds what the mould takes at the end that decides;
    /// below 0 where it falls short.
    pub excess: Mass,
}

/// What a common rule of thumb makes of a mould of so many cm³: 0.40 oz of fats for each cubic
/// inch. Common practice, no source.
///
/// The rule stands for 0.692 g of fats in each cm³; what it really is, is the density of the
/// batter times the share of fats in it. Three usual recipes in a box of 10 x 3.5 x 2.5 in, for
/// which the rule says 35 oz (superfat 5 %, poured at 40 °C, never to overflow):
///
/// | fats | water | g/cm³ | share of fats | fats that fill it | beside the rule |
/// | --- | --- | ---: | ---: | ---: | ---: |
/// | olive 60, coconut 25, sesame 15 | lye of 33 % | 1.001 | 70.2 % | 35.4 oz | +1.1 % |
/// | olive 45, coconut 30, palm 25 | lye of 30 % | 1.005 | 67.6 % | 34.2 oz | -2.2 % |
/// | olive alone | 38 % of the fats | 0.995 | 66.3 % | 33.3 oz | -5.0 % |
///
/// So the rule holds for strong lye. The more water, the less fat is in each cm³; and it knows
/// nothing of additives, of what stays in the bowl, or of the ends of the published densities.
///
/// ```
/// use lixivium::mould::size::rule_of_thumb;
/// use lixivium::quantity::Volume;
/// let box_of_35_oz = Volume::parse("87.5 in³").unwrap();
/// let fats = rule_of_thumb(box_of_35_oz.cubic_centimetres());
/// assert_eq!(fats.grams().to_fixed(1), "992.2"); // 35 oz
/// ```
pub fn rule_of_thumb(cubic_centimetres: &Rational) -> Mass {
    let ounces = const { Rational::decimal(4, 1) } * &OUNCE;
    let per_cubic_inch = ounces * cubic_centimetres;
    Mass::new(per_cubic_inch.checked_div(&CUBIC_INCH).unwrap_or_default())
}

/// g (NIST Handbook 44, Appendix C)
const OUNCE: Rational = Rational::decimal(28_349_523_125, 9);

/// cm³ (the same)
const CUBIC_INCH: Rational = Rational::decimal(16_387_064, 6);

/// The most trials before a recipe counts as one that cannot be fitted.
const MAX_TRIALS: usize = 40;

/// Up to so many parts all totals within reach are tried; beyond, the reach is halved.
const MAX_PARTS_SCANNED: usize = 40;

/// Where rounding moves the best total further than usual, so many steps to each side are tried.
const WIDEST: i64 = 100;

/// Of more water than so many times the alkali the reach takes no account.
const MOST_WATER: Rational = Rational::integer(20);

/// A batch whose poured part comes this near to the capacity, in g, fills the mould.
const CLOSE: Rational = Rational::decimal(1, 9);

/// The same as a fraction of the capacity: beyond it the density of a batter is not told.
const CLOSE_SHARE: Rational = Rational::decimal(1, 11);

/// Finds the total of the fats for which the batter, less what stays in the bowl, is what the
/// mould takes at the end that `err_on` names. What the recipe gives by share follows the fats,
/// what it gives by mass stays.
///
/// While nothing is given by mass the batter is proportional to the fats and the second trial is
/// exact. Otherwise a line through two trials gives the next one, until the batter is within
/// 10⁻⁹ g, or 10⁻¹¹ of itself, on the safe side.
///
/// On a scale, totals that are multiples of the step are tried near the exact one, and the batch
/// is that of the largest (`never_overflow`) or smallest (`always_full`) total whose rounded
/// weights keep the promise. The next total differs from it by at most one step of the scale in
/// every fat; so with one step more of every fat (less for `always_full`) the batch breaks the
/// promise, and by that [`fill`](super::fill::fill) knows a full mould.
///
/// ```
/// use lixivium::mould::batter::Pouring;
/// use lixivium::mould::fill::Yield;
/// use lixivium::mould::size::size;
/// use lixivium::mould::{Cavities, ErrOn, Mould, Size, Waste};
/// use lixivium::quantity::{Mass, Share, Temperature, Volume};
/// use lixivium::recipe::{Alkali, Amount, FatLine, Recipe, StockSolution, Water, WaterRule};
///
/// let share = |text| Share::parse(text).unwrap();
/// let fat = |id, text| FatLine::new(lixivium::fats::find(id).unwrap(), Amount::Share(share(text)));
/// let recipe = Recipe {
///     fats: vec![fat("olive-oil", "70"), fat("coconut-oil", "30")],
///     total_fats: None,
///     superfat: share("5"),
///     alkali: Alkali::default(),
///     water: Water::by(WaterRule::LyeConcentration(share("31"))),
///     stock_solution: StockSolution::default(),
///     acids: vec![],
///     additives: vec![],
///     scale_step: Some(Mass::parse("1 g").unwrap()),
/// };
/// let cavity = Size::Volume(Volume::parse("90 mL").unwrap());
/// let mould = Mould {
///     cavities: vec![Cavities { count: 12, size: cavity, fill: None }],
///     fill: Share::WHOLE,
///     waste: Waste::Mass(Mass::parse("15 g").unwrap()),
/// };
/// let pouring = Pouring {
///     temperature: Temperature::parse("40 °C").unwrap(),
///     contraction: Share::NONE,
///     acids: vec![],
///     additives: vec![],
/// };
/// let batch = size(&recipe, &mould, Yield::Parts(&pouring), ErrOn::NeverOverflow).unwrap();
/// assert_eq!(batch.plan.fats[0].grams().to_plain(), "526");
/// assert_eq!(batch.plan.fats[1].grams().to_plain(), "225");
/// // Of the bulkiest batter that the densities allow, so much less than the mould takes.
/// assert_eq!(batch.excess.grams().to_fixed(2), "-0.41");
/// ```
///
/// # Errors
/// Those of [`plan`] and of [`Pouring::density`](super::batter::Pouring::density);
/// `mould_too_small` if what is given by mass alone fills it; `scale_step_too_coarse` if no
/// batch on the scale keeps the promise.
pub fn size(
    recipe: &Recipe,
    mould: &Mould,
    yields: Yield,
    err_on: ErrOn,
) -> Result<Box<SizedBatch>, Faults> {
    mould.check_known()?;
    Goal::new(mould, yields, err_on).size(recipe)
}

/// Gives the fats of the recipe by share.
fn share_out(recipe: &mut Recipe) -> Result<(), Faults> {
    let mut total = Rational::ZERO;
    for line in &recipe.fats {
        let Amount::Mass(mass) = &line.amount else {
            return Ok(());
        };
        total = total + mass.grams();
    }
    recipe.check()?;
    for line in &mut recipe.fats {
        let share = quotient(&line.amount.of(&total), &total);
        line.amount = Amount::Share(Share::of_one(share));
    }
    Ok(())
}

/// Whether all of the recipe follows its fats.
pub(super) fn is_proportional(recipe: &Recipe) -> bool {
    let follows = |amount: &Amount| matches!(amount, Amount::Share(_));
    recipe.acids.iter().all(|line| follows(&line.amount))
        && recipe.additives.iter().all(|line| follows(&line.amount))
}

/// What is weighed beside alkali and water.
fn parts(recipe: &Recipe) -> usize {
    recipe.fats.len() + recipe.acids.len() + recipe.additives.len()
}

/// By how many steps of the scale rounding can usually move a batch: half a step for each part, a
/// whole one for each alkali, and the water that follows the alkali.
fn reach(recipe: &Recipe, plan: &Plan) -> i64 {
    let is_weighed = |mass: &Mass| i64::from(!mass.grams().is_zero());
    let alkalis = is_weighed(&plan.naoh_mass) + is_weighed(&plan.koh_mass);
    let water = plan.water_to_lye.number().clone().min(MOST_WATER);
    let water = water.to_f64() as i64 + 1;
    parts(recipe) as i64 / 2 + alkalis * (1 + water) + 1
}

/// A mould to be filled, the sizes of which are known.
pub(super) struct Goal<'a> {
    mould: &'a Mould,
    yields: Yield<'a>,
    err_on: ErrOn,
    /// What all cavities take.
    pub together: Takes,
}

impl<'a> Goal<'a> {
    pub fn new(mould: &'a Mould, yields: Yield<'a>, err_on: ErrOn) -> Self {
        Self {
            mould,
            yields,
            err_on,
            together: mould.takes(&mould.counts()),
        }
    }

    /// As [`size`].
    pub fn size(&self, recipe: &Recipe) -> Result<Box<SizedBatch>, Faults> {
        let mut shared = recipe.clone();
        share_out(&mut shared)?;
        let guess = Mass::new(self.guess());
        shared.total_fats = Some(guess.clone());
        shared.scale_step = None;
        let plan = plan(&shared)?;
        let mut batch = Box::new(SizedBatch {
            total_fats: guess,
            excess: Mass::new(self.excess(&shared, &plan)?),
            recipe: shared,
            plan,
        });
        self.solve(&mut batch)?;
        if let Some(step) = &recipe.scale_step {
            let exact = batch.total_fats.clone();
            batch.recipe.scale_step = Some(step.clone());
            self.weigh(&mut batch, step.grams())?;
            batch.total_fats = exact;
        }
        Ok(batch)
    }

    /// By how much what is poured of that plan of the recipe exceeds what the mould takes, in g.
    fn excess(&self, recipe: &Recipe, plan: &Plan) -> Result<Rational, Faults> {
        let density = self.yields.density(self.mould, Some((recipe, plan)))?;
        let capacity = self.together.grams(&density);
        let poured = self.mould.waste.poured(plan.batter_mass.grams());
        Ok(poured - self.err_on.of(&capacity))
    }

    /// By how much, in g, a batch can miss a full mould without the scale telling: what one step
    /// more of every fat (less for `always_full`) adds to it beyond what the mould takes. Where the
    /// recipe asks for as much of the fats as the best batch weighs, it is what the batch misses.
    pub fn untold(
        &self,
        recipe: &Recipe,
        plan: &Plan,
        best: &SizedBatch,
    ) -> Result<Rational, Faults> {
        let excess = self.excess(recipe, plan)?;
        let asked = recipe.total_fats.as_ref().unwrap_or(&plan.total_fats);
        let lacking = best.plan.total_fats.grams() - asked.grams();
        let step = match &recipe.scale_step {
            Some(step) if !self.err_on.is_kept(&lacking) => self.err_on.inwards(step.grams()),
            _ => return Ok(excess.abs()),
        };
        let mut recipe = recipe.clone();
        recipe.total_fats = None;
        for (line, mass) in recipe.fats.iter_mut().zip(&plan.fats) {
            let moved = mass.grams() - &step;
            line.amount = Amount::Mass(if moved.is_positive() {
                Mass::new(moved)
            } else {
                mass.clone() // None is taken away altogether.
            });
        }
        // Where there is no such batch the scale tells all.
        let moved = self::plan(&recipe).and_then(|plan| self.excess(&recipe, &plan));
        Ok(moved.map_or(Rational::ZERO, |moved| (moved - excess).abs()))
    }

    /// Two thirds of what the mould takes, or would take of water.
    fn guess(&self) -> Rational {
        let capacity = self.together.grams(&water()).likely;
        (capacity * const { Rational::decimal(65, 2) })
            .round_to(&Rational::ONE)
            .filter(Rational::is_positive)
            .unwrap_or(Rational::ONE)
    }

    fn try_total(&self, batch: &mut SizedBatch, total: Rational) -> Result<(), Faults> {
        batch.total_fats = Mass::new(total);
        batch.recipe.total_fats = Some(batch.total_fats.clone());
        batch.plan = plan(&batch.recipe)?;
        batch.excess = Mass::new(self.excess(&batch.recipe, &batch.plan)?);
        Ok(())
    }

    /// Goes from a first guess to the exact batch.
    fn solve(&self, batch: &mut SizedBatch) -> Result<(), Faults> {
        // As if the batter were proportional to the fats.
        let batter = batch.plan.batter_mass.grams();
        let waste = &self.mould.waste;
        let needed = waste.batter(&(waste.poured(batter) - batch.excess.grams()));
        let mut total = quotient(&(needed * batch.total_fats.grams()), batter);
        if !is_proportional(&batch.recipe) {
            total = self.short(total);
        }
        for _ in 0..MAX_TRIALS {
            if !total.is_positive() {
                break;
            }
            let (fats, before) = (batch.total_fats.clone(), batch.excess.clone());
            self.try_total(batch, total)?;
            let (tried, excess) = (batch.total_fats.grams(), batch.excess.grams());
            let close = batch.plan.batter_mass.grams() * &CLOSE_SHARE;
            if self.err_on.is_kept(excess) && excess.abs() <= close.max(CLOSE) {
                return Ok(());
            }
            let rise = quotient(&(excess - before.grams()), &(tried - fats.grams()));
            let back = quotient(excess, &rise);
            total = self.short(tried - back);
        }
        Err(too_small())
    }

    /// The number on a fine grid next to `total` on the safe side: short numbers are fast ones.
    fn short(&self, total: Rational) -> Rational {
        let grid = const { Rational::decimal(1, 11) };
        let rounded = match self.err_on {
            ErrOn::NeverOverflow => total.floor_to(&grid),
            ErrOn::AlwaysFull => total.ceil_to(&grid),
        };
        rounded.unwrap_or(total)
    }

    /// Goes from the exact batch to the best one on the scale near it.
    fn weigh(&self, batch: &mut SizedBatch, step: &Rational) -> Result<(), Faults> {
        let grid = Grid {
            nearest: batch.total_fats.grams().floor_to(step).unwrap_or_default(),
            inwards: self.err_on.inwards(step),
        };
        let reach = reach(&batch.recipe, &batch.plan);
        let widest = WIDEST.max(reach);
        // From where the promise is hardest to keep to where it is easy.
        let mut far = -reach;
        let mut kept = self.keeps(batch, &grid, far);
        while kept && far > -widest {
            far = (2 * far).max(-widest);
            kept = self.keeps(batch, &grid, far);
        }
        let scans = parts(&batch.recipe) <= MAX_PARTS_SCANNED;
        let mut near = far;
        while !kept && near < widest {
            near = match scans {
                true => near + 1,
                false => (2 * near).max(reach),
            };
            kept = self.keeps(batch, &grid, near);
        }
        if !kept {
            return Err(Faults::one(
                "scale_step_too_coarse",
                "scale_step",
                "no batch that can be weighed on this scale_step fits the mould; accepted: a \
                 finer scale_step or a larger mould",
            ));
        }
        // Rounded weights hardly ever fall when the total rises: halve what was leapt over.
        while !scans && near - far > 1 {
            let middle = far + (near - far) / 2;
            if self.keeps(batch, &grid, middle) {
                near = middle;
            } else {
                far = middle;
            }
        }
        if !scans {
            self.keeps(batch, &grid, near);
        }
        Ok(())
    }

    /// Tries the total at that place of the grid: whether it keeps the promise.
    fn keeps(&self, batch: &mut SizedBatch, grid: &Grid, index: i64) -> bool {
        let total = &grid.nearest + &grid.inwards * &Rational::integer(index);
        total.is_positive()
            && self.try_total(batch, total).is_ok()
            && self.err_on.is_kept(batch.excess.grams())
    }
}

/// Totals that are multiples of the scale's step, counted inwards from the exact one.
struct Grid {
    nearest: Rational,
    inwards: Rational,
}

fn too_small() -> Faults {
    Faults::one(
        "mould_too_small",
        "mould",
        "what the recipe gives by mass leaves no room for fats in this mould; accepted: a larger \
         mould, or additives and acids by of_fats",
    )
}
