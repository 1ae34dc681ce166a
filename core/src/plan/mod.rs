//! From a recipe to what is weighed.
//!
//! The alkali is reckoned in grams of potassium hydroxide, the unit of the saponification value
//! itself (ISO 3657), and turned into sodium hydroxide by the molar masses. Rounding happens
//! once, at the scale: fats, acids, additives and water to the nearest step, alkali down to the
//! step below, computed for the fats as they will be weighed; all that the plan then says is
//! computed anew from those weights.

mod cautions;

#[cfg(test)]
pub(crate) use cautions::SMALLEST_LIKELY_PERCENT;
pub(crate) use cautions::{
    at_the_bench as bench_cautions, doubt, fraction_for_percent, fractions as fraction_cautions,
};

use crate::chemistry::Alkali as Hydroxide;
use crate::exact::{Rational, Tally, over};
use crate::fault::{Caution, Faults};
use crate::quantity::{Mass, Ratio, Share};
use crate::recipe::{AcidEffect, Alkali, Amount, Recipe, ShareBy};

/// What is to be weighed, and what it amounts to.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The mass of each fat, in the order of the recipe.
    pub fats: Vec<Mass>,
    /// The mass of all fats.
    pub total_fats: Mass,
    /// Sodium hydroxide as weighed, with what it is not.
    pub naoh_mass: Mass,
    /// Potassium hydroxide as weighed, with what it is not.
    pub koh_mass: Mass,
    /// Sodium hydroxide in it.
    pub naoh_pure_mass: Mass,
    /// Potassium hydroxide in it.
    pub koh_pure_mass: Mass,
    /// All water of the lye, that of the stock solutions included.
    pub water_mass: Mass,
    /// Stock solution of sodium hydroxide to weigh, in place of the solid.
    pub naoh_solution_mass: Option<Mass>,
    /// Stock solution of potassium hydroxide to weigh, in place of the solid.
    pub koh_solution_mass: Option<Mass>,
    /// Water to weigh: `water_mass` without what stock solutions bring.
    pub water_to_add_mass: Mass,
    /// The mass of each acid as bought, in the order of the recipe.
    pub acids: Vec<Mass>,
    /// The mass of each additive, in the order of the recipe.
    pub additives: Vec<Mass>,
    /// Everything together.
    pub batter_mass: Mass,
    /// Share of the fats that stays unsaponified, for the weights above.
    pub superfat: Share,
    /// The same if all fats lie at the lower and at the upper end of their saponification range.
    pub superfat_range: (Share, Share),
    /// Potassium hydroxide in the hydroxide, by amount of substance.
    pub koh_share_by_moles: Share,
    /// alkali as weighed / (alkali as weighed + water).
    pub lye_concentration: Share,
    /// hydroxide / (alkali as weighed + water).
    pub hydroxide_concentration: Share,
    /// water / alkali as weighed.
    pub water_to_lye: Ratio,
}

/// Plans a batch.
///
/// Hydroxide, in g KOH: `(1 - superfat) · Σ massᵢ · SVᵢ / 1000`, and for each acid that is
/// compensated its own need; `NaOH = KOH · 39.997 / 56.105`; as weighed: divided by the purity.
///
/// # Errors
/// All faults of the recipe ([`Recipe::check`]); and `scale_step_too_coarse` if a fat or all
/// alkali would round to nothing, `stock_too_weak` if a stock solution alone brings more water
/// than asked, `too_much_water_counted` if what is counted as water is more than asked,
/// `acids_exceed_alkali` if acids that are left uncompensated take up more alkali than there is.
pub fn plan(recipe: &Recipe) -> Result<Plan, Faults> {
    recipe.check()?;
    let scale = Scale(recipe.scale_step.as_ref().map(Mass::grams));

    let fats = weigh_fats(recipe, &scale)?;
    let total_fats: Rational = fats.iter().map(Mass::grams).sum();
    let need = Need::of(recipe, &fats);
    let mut others = Tally::NOTHING;
    let mut weigh = |amount: &Amount| {
        let mass = scale.nearest(&amount.of(&total_fats));
        others.add(&mass);
        Mass::new(mass)
    };
    let mut acids = Vec::with_capacity(recipe.acids.len());
    for line in &recipe.acids {
        acids.push(weigh(&line.amount));
    }
    let mut additives = Vec::with_capacity(recipe.additives.len());
    for line in &recipe.additives {
        additives.push(weigh(&line.amount));
    }
    let acids_take = Taken::by(recipe, &acids);

    let hydroxide = recipe.superfat.rest().fraction() * &need.typical + &acids_take.compensated;
    let koh_share = koh_by_moles(&recipe.alkali);
    let koh = &hydroxide * &koh_share;
    let naoh = Hydroxide::Naoh.in_place_of(&(&hydroxide - &koh), Hydroxide::Koh);
    let stock = &recipe.stock_solution;
    let naoh = Portion::weigh(
        &naoh,
        &recipe.alkali.naoh_purity,
        stock.naoh.as_ref(),
        &scale,
    );
    let koh = Portion::weigh(&koh, &recipe.alkali.koh_purity, stock.koh.as_ref(), &scale);
    let alkali = &naoh.mass + &koh.mass;
    if !alkali.is_positive() {
        return Err(too_coarse("scale_step", "the alkali"));
    }

    let water = Waters::weigh(recipe, &total_fats, [&naoh, &koh], &acids, &scale)?;
    let used = Hydroxide::Koh.in_place_of(&naoh.pure, Hydroxide::Naoh) + &koh.pure;
    let free = &used - &acids_take.all;
    if free.is_negative() {
        return Err(Faults::one(
            "acids_exceed_alkali",
            "acids",
            "the acids take up more alkali than the batch has; accepted: less acid, or acids \
             that are compensated (\"alkali\": \"compensate\")",
        ));
    }

    let lye = &alkali + &water.all;
    let superfat_at = |need: &Rational| Share::of_one(Rational::ONE - over(&free, need));
    let superfat = superfat_at(&need.typical);
    let superfat_range = (superfat_at(&need.low), superfat_at(&need.high));
    let hydroxide_mass = &naoh.pure + &koh.pure;
    Ok(Plan {
        superfat,
        superfat_range,
        koh_share_by_moles: Share::of_one(over(&koh.pure, &used)),
        lye_concentration: Share::of_one(over(&alkali, &lye)),
        hydroxide_concentration: Share::of_one(over(&hydroxide_mass, &lye)),
        water_to_lye: Ratio::new(over(&water.all, &alkali)),
        batter_mass: Mass::new(&total_fats + &lye + others.total()),
        total_fats: Mass::new(total_fats),
        fats,
        naoh_mass: Mass::new(naoh.mass),
        koh_mass: Mass::new(koh.mass),
        naoh_pure_mass: Mass::new(naoh.pure),
        koh_pure_mass: Mass::new(koh.pure),
        naoh_solution_mass: naoh.solution.map(Mass::new),
        koh_solution_mass: koh.solution.map(Mass::new),
        water_mass: Mass::new(water.all),
        water_to_add_mass: Mass::new(water.to_add),
        acids,
        additives,
    })
}

impl Plan {
    /// What to mind at the bench and in the figures.
    pub fn cautions(&self, recipe: &Recipe) -> Vec<Caution> {
        cautions::of(self, recipe)
    }
}

/// The scale: its step, or none.
struct Scale<'a>(Option<&'a Rational>);

impl Scale<'_> {
    #[cfg_attr(not(target_family = "wasm"), inline(always))]
    fn nearest(&self, mass: &Rational) -> Rational {
        match self.0.map(|step| mass.round_to(step)) {
            Some(Some(rounded)) => rounded,
            _ => mass.clone(),
        }
    }

    #[inline]
    fn down(&self, mass: &Rational) -> Rational {
        match self.0.map(|step| mass.floor_to(step)) {
            Some(Some(rounded)) => rounded,
            _ => mass.clone(),
        }
    }
}

pub(crate) fn too_coarse(at: impl std::fmt::Display, what: &str) -> Faults {
    Faults::one(
        "scale_step_too_coarse",
        at,
        format_args!(
            "on this scale_step {what} would round to nothing; accepted: a finer scale_step or a larger batch"
        ),
    )
}

fn weigh_fats(recipe: &Recipe, scale: &Scale) -> Result<Vec<Mass>, Faults> {
    let total = recipe
        .total_fats
        .as_ref()
        .map_or(const { &Rational::ZERO }, Mass::grams);
    let mut fats = Vec::with_capacity(recipe.fats.len());
    for (i, line) in recipe.fats.iter().enumerate() {
        let mass = match &line.amount {
            Amount::Mass(mass) => scale.nearest(mass.grams()),
            Amount::Share(share) => scale.nearest(&(share.fraction() * total)),
        };
        if mass.is_zero() {
            return Err(too_coarse(format_args!("fats[{i}]"), "this fat"));
        }
        fats.push(Mass::new(mass));
    }
    Ok(fats)
}

/// g KOH that saponify all fats.
pub(crate) struct Need {
    /// By the values reckoned with.
    pub typical: Rational,
    /// If all fats lie at the lower end of their range; one without a range stays as it is.
    pub low: Rational,
    /// The same at the upper end.
    pub high: Rational,
}

impl Need {
    /// Σ mass · saponification value / 1000.
    pub fn of(recipe: &Recipe, fats: &[Mass]) -> Self {
        let mut sums = [Tally::NOTHING; 3];
        for (line, mass) in recipe.fats.iter().zip(fats) {
            let value = line.fat.saponification_value();
            let [low, high] = value.ends();
            Tally::add_products(&mut sums, mass.grams(), [&value.typical, low, high]);
        }
        let [typical, low, high] = sums;
        let grams = |milligrams: Tally| milligrams.total() * const { Rational::decimal(1, 3) };
        Self {
            typical: grams(typical),
            low: grams(low),
            high: grams(high),
        }
    }
}

/// The share of potassium hydroxide by moles.
pub(crate) fn koh_by_moles(alkali: &Alkali) -> Rational {
    let share = alkali.koh_share.fraction();
    match alkali.share_by {
        ShareBy::Moles => share.clone(),
        ShareBy::Mass => {
            let koh = share * &Hydroxide::Naoh.molar_mass();
            let naoh = alkali.koh_share.rest().fraction() * &Hydroxide::Koh.molar_mass();
            koh.checked_div(&(&koh + &naoh)).unwrap_or_default()
        }
    }
}

/// g KOH that acids take up.
pub(crate) struct Taken {
    compensated: Rational,
    pub all: Rational,
}

impl Taken {
    pub fn by(recipe: &Recipe, masses: &[Mass]) -> Self {
        let mut taken = Self {
            compensated: Rational::ZERO,
            all: Rational::ZERO,
        };
        for (line, mass) in recipe.acids.iter().zip(masses) {
            let koh = line.takes(mass.grams());
            if line.effect == AcidEffect::Compensate {
                taken.compensated = &taken.compensated + &koh;
            }
            taken.all = &taken.all + &koh;
        }
        taken
    }
}

/// One alkali as it is weighed.
struct Portion {
    /// As bought.
    mass: Rational,
    /// The hydroxide in it.
    pure: Rational,
    /// The stock solution that holds it.
    solution: Option<Rational>,
}

impl Portion {
    fn weigh(pure: &Rational, purity: &Share, stock: Option<&Share>, scale: &Scale) -> Self {
        let as_bought = pure.checked_div(purity.fraction()).unwrap_or_default();
        let (mass, solution) = match stock {
            None => (scale.down(&as_bought), None),
            Some(strength) => {
                let solution = as_bought
                    .checked_div(strength.fraction())
                    .unwrap_or_default();
                let solution = scale.down(&solution);
                (&solution * strength.fraction(), Some(solution))
            }
        };
        Self {
            pure: &mass * purity.fraction(),
            mass,
            solution,
        }
    }

    /// What the alkali is not.
    fn rest(&self) -> Rational {
        &self.mass - &self.pure
    }

    fn stock_water(&self) -> Rational {
        self.solution
            .as_ref()
            .map_or(Rational::ZERO, |solution| solution - &self.mass)
    }
}

/// The water of the lye.
struct Waters {
    all: Rational,
    to_add: Rational,
}

impl Waters {
    fn weigh(
        recipe: &Recipe,
        total_fats: &Rational,
        portions: [&Portion; 2],
        acids: &[Mass],
        scale: &Scale,
    ) -> Result<Self, Faults> {
        let rule = &recipe.water;
        let mut counted = Rational::ZERO;
        let mut alkali = &portions[0].mass + &portions[1].mass;
        if rule.count_alkali_water {
            let rest = portions[0].rest() + portions[1].rest();
            alkali = alkali - &rest;
            counted = counted + rest;
        }
        if rule.count_acid_water {
            for (line, mass) in recipe.acids.iter().zip(acids) {
                counted = counted + line.water(mass.grams());
            }
        }
        let asked = rule.rule.asked(total_fats, &alkali);
        let needed = &asked - &counted;
        if needed.is_negative() {
            return Err(Faults::one(
                "too_much_water_counted",
                "water",
                format_args!(
                    "{} g of water were asked for, but what is counted as water is {} g already; \
                     accepted: more water, or less counted as water",
                    asked.fixed(1),
                    counted.fixed(1)
                ),
            ));
        }
        let in_stock = portions[0].stock_water() + portions[1].stock_water();
        if in_stock > needed {
            return Err(Faults::one(
                "stock_too_weak",
                "stock_solution",
                format_args!(
                    "the stock solution brings {} g of water, but only {} g were asked for; \
                     accepted: a stronger stock solution, or more water",
                    in_stock.fixed(1),
                    needed.fixed(1)
                ),
            ));
        }
        let to_add = scale.nearest(&(&needed - &in_stock));
        Ok(Self {
            all: &to_add + &in_stock,
            to_add,
        })
    }
}
