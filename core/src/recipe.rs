//! A recipe: what the maker wants, before any weight is worked out.

use crate::chemistry::{self, Acid};
use crate::exact::Rational;
use crate::fats::{Fat, Rule};
use crate::fault::Faults;
use crate::quantity::{Mass, Ratio, Share};

/// The most bits of the denominators of all saponification values that are calculated from
/// compositions: an exact sum of the values has a denominator of up to as many.
const MAX_CALCULATED_BITS: u64 = 10_000;

/// What the maker wants: [`plan`](crate::plan::plan) turns it into weights.
#[derive(Debug, Clone)]
pub struct Recipe {
    /// The fats, at least one: all by mass, or all by share.
    pub fats: Vec<FatLine>,
    /// The mass of all fats together; given exactly when the fats are given by share.
    pub total_fats: Option<Mass>,
    /// Share of the fats that the alkali is too little to saponify: from 0 to below 100 %.
    pub superfat: Share,
    /// The alkali.
    pub alkali: Alkali,
    /// The water.
    pub water: Water,
    /// Lye made up ahead, if any.
    pub stock_solution: StockSolution,
    /// Acids that take up alkali.
    pub acids: Vec<AcidLine>,
    /// Everything else that goes into the batter.
    pub additives: Vec<AdditiveLine>,
    /// The smallest step of the scale; without it nothing is rounded.
    pub scale_step: Option<Mass>,
}

/// A fat of a recipe.
#[derive(Debug, Clone)]
pub struct FatLine {
    /// Which fat.
    pub fat: Fat,
    /// How much of it.
    pub amount: Amount,
}

impl FatLine {
    /// So much of that fat.
    pub fn new(fat: impl Into<Fat>, amount: Amount) -> Self {
        let fat = fat.into();
        Self { fat, amount }
    }

    /// The size of the denominator of a saponification value that is calculated from a
    /// composition. The others are decimals, or fractions that the request itself limits.
    fn calculated_bits(&self) -> u64 {
        let value = self.fat.saponification_value();
        match value.rule {
            Rule::Calculated => value.typical.denominator_bits(),
            _ => 0,
        }
    }
}

/// How much of something: a mass, or a share of all fats.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Amount {
    /// So many grams.
    Mass(Mass),
    /// So much of the mass of all fats.
    Share(Share),
}

impl Amount {
    /// The mass, where all fats together weigh `total`.
    pub fn of(&self, total: &Rational) -> Rational {
        match self {
            Self::Mass(mass) => mass.grams().clone(),
            Self::Share(share) => share.fraction() * total,
        }
    }
}

/// Whether the share of potassium hydroxide counts molecules or grams.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ShareBy {
    /// Of the hydroxide, by amount of substance.
    #[default]
    Moles,
    /// Of the pure alkali, by mass.
    Mass,
}

/// Sodium hydroxide, potassium hydroxide or both.
#[derive(Debug, Clone)]
pub struct Alkali {
    /// How much of the alkali is potassium hydroxide, from 0 to 100 %.
    pub koh_share: Share,
    /// What that share counts.
    pub share_by: ShareBy,
    /// Mass share of sodium hydroxide in the product as bought, above 0 to 100 %.
    pub naoh_purity: Share,
    /// Mass share of potassium hydroxide in the product as bought, above 0 to 100 %.
    pub koh_purity: Share,
}

impl Default for Alkali {
    /// Pure sodium hydroxide.
    fn default() -> Self {
        Self {
            koh_share: Share::NONE,
            share_by: ShareBy::Moles,
            naoh_purity: Share::WHOLE,
            koh_purity: Share::WHOLE,
        }
    }
}

/// How much water.
#[derive(Debug, Clone)]
pub struct Water {
    /// By which rule.
    pub rule: WaterRule,
    /// Whether what the alkali is not (100 % minus purity) counts as water of the lye, so that
    /// less is added, and the rule speaks of pure alkali.
    pub count_alkali_water: bool,
    /// Whether the water that the acids bring counts as water of the lye.
    pub count_acid_water: bool,
}

impl Water {
    /// That rule, with nothing else counted as water.
    pub const fn by(rule: WaterRule) -> Self {
        Self {
            rule,
            count_alkali_water: false,
            count_acid_water: false,
        }
    }
}

/// Three ways to say how much water.
#[derive(Debug, Clone)]
pub enum WaterRule {
    /// alkali / (alkali + water), above 0 and below 100 %.
    LyeConcentration(Share),
    /// water / alkali, above 0.
    WaterToLye(Ratio),
    /// water / fats, above 0.
    OfFats(Share),
}

impl WaterRule {
    /// The water that goes with so much of the fats and of the alkali, all in g.
    #[inline]
    pub(crate) fn asked(&self, fats: &Rational, alkali: &Rational) -> Rational {
        match self {
            Self::LyeConcentration(share) => {
                let ratio = share.rest().fraction().checked_div(share.fraction());
                ratio.map(|ratio| ratio * alkali).unwrap_or_default()
            }
            Self::WaterToLye(ratio) => ratio.number() * alkali,
            Self::OfFats(share) => share.fraction() * fats,
        }
    }
}

/// Lye made up ahead: its lye concentration, for each alkali that is taken from one.
#[derive(Debug, Clone, Default)]
pub struct StockSolution {
    /// alkali as bought / solution, for sodium hydroxide.
    pub naoh: Option<Share>,
    /// alkali as bought / solution, for potassium hydroxide.
    pub koh: Option<Share>,
}

/// What becomes of the alkali that an acid takes up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AcidEffect {
    /// Alkali is added for it, the superfat stays as asked.
    #[default]
    Compensate,
    /// None is added, so that the superfat rises.
    RaiseSuperfat,
}

/// An acid of a recipe.
#[derive(Debug, Clone)]
pub struct AcidLine {
    /// Which.
    pub acid: Acid,
    /// How much of the product as bought.
    pub amount: Amount,
    /// Mass share of the acid in it, above 0 to 100 %; the rest is taken for water.
    pub strength: Share,
    /// What becomes of the alkali that it takes up.
    pub effect: AcidEffect,
}

impl AcidLine {
    /// The alkali that so much of the product as bought takes up, in g KOH.
    pub(crate) fn takes(&self, grams: &Rational) -> Rational {
        grams * self.strength.fraction() * self.acid.alkali_per_gram(chemistry::Alkali::Koh)
    }

    /// The water in so much of it, in g.
    pub(crate) fn water(&self, grams: &Rational) -> Rational {
        grams * self.strength.rest().fraction()
    }
}

/// Anything else in the batter that takes up no alkali.
#[derive(Debug, Clone)]
pub struct AdditiveLine {
    /// Its name.
    pub name: String,
    /// How much.
    pub amount: Amount,
}

impl Recipe {
    /// Everything that is wrong with the recipe, each at its place.
    ///
    /// # Errors
    /// All faults at once.
    pub fn check(&self) -> Result<(), Faults> {
        let mut faults = Faults::new();
        self.check_fats(&mut faults);
        self.check_shares_of_alkali(&mut faults);
        self.check_water(&mut faults);
        for (i, line) in self.acids.iter().enumerate() {
            not_negative("acids", i, &line.amount, &mut faults);
            if !is_part(&line.strength) {
                let at = format_args!("acids[{i}].strength");
                faults.add("out_of_range", at, NOT_A_PART);
            }
        }
        for (i, line) in self.additives.iter().enumerate() {
            not_negative("additives", i, &line.amount, &mut faults);
        }
        if let Some(step) = &self.scale_step
            && !step.grams().is_positive()
        {
            let says = "a scale step is above 0, such as \"0.1 g\"";
            faults.add("not_positive", "scale_step", says);
        }
        faults.or(())
    }

    fn check_fats(&self, faults: &mut Faults) {
        if self.fats.is_empty() {
            faults.add("no_fats", "fats", "a recipe has at least one fat");
            return;
        }
        let mut shares = 0;
        let mut sum = Rational::ZERO;
        let mut bits = 0;
        for line in &self.fats {
            if let Amount::Share(share) = &line.amount {
                shares += 1;
                sum = sum + share.fraction();
            }
            bits += line.calculated_bits();
        }
        if shares == self.fats.len() {
            self.check_shares(sum, faults);
        } else if shares > 0 {
            let says = "some fats are given by mass and some by share; accepted: all by mass, or \
                        all by share with total_fats";
            faults.add("mass_and_share", "fats", says);
        } else if self.total_fats.is_some() {
            let says = "the fats are given by mass, which decides their total: leave total_fats \
                        out, or give the fats by share";
            faults.add("total_not_needed", "total_fats", says);
        }
        if bits > MAX_CALCULATED_BITS {
            let says = "the saponification values of so many fats by their composition are more \
                        than can be added up in a moment; accepted: fewer such fats, shares of \
                        fewer digits, or saponification values";
            faults.add("compositions_too_long", "fats", says);
        }
        for (i, line) in self.fats.iter().enumerate() {
            let (number, field) = match &line.amount {
                Amount::Mass(mass) => (mass.grams(), "mass"),
                Amount::Share(share) => (share.fraction(), "share"),
            };
            if !number.is_positive() {
                let at = format_args!("fats[{i}].{field}");
                let says = format_args!("the {field} of a fat is above 0");
                faults.add("not_positive", at, says);
            }
        }
    }

    /// Of fats that are all given by share, `sum` together.
    fn check_shares(&self, sum: Rational, faults: &mut Faults) {
        if sum != Rational::ONE {
            let percent = sum * Rational::HUNDRED;
            let missing = Rational::HUNDRED - &percent;
            let (before, after) = match missing.is_positive() {
                true => ("", " % is missing"),
                false => ("that is ", " % too much"),
            };
            let says = format_args!(
                "the shares come to {} %, {before}{}{after}; accepted: shares that come to exactly \
                 100 % (a third is written \"100/3 %\")",
                percent.to_plain(),
                missing.abs().to_plain()
            );
            faults.add("shares_do_not_sum", "fats", says);
        }
        match &self.total_fats {
            None => {
                let says = "the fats are given by share, so their total is needed; accepted: a \
                            mass such as 1000 or \"2 lb 3 oz\"";
                faults.add("missing", "total_fats", says);
            }
            Some(total) if !total.grams().is_positive() => {
                let says = "the total of the fats is above 0";
                faults.add("not_positive", "total_fats", says);
            }
            Some(_) => {}
        }
    }

    fn check_shares_of_alkali(&self, faults: &mut Faults) {
        let superfat = self.superfat.fraction();
        if superfat.is_negative() || !superfat.is_below_one() {
            let says = "a superfat lies from 0 to below 100 %: below 0 the bar would keep free \
                        alkali";
            faults.add("out_of_range", "superfat", says);
        }
        let koh = self.alkali.koh_share.fraction();
        if koh.is_negative() || koh.is_above_one() {
            let says = "the share of potassium hydroxide lies from 0 to 100 %";
            faults.add("out_of_range", "alkali.koh_share", says);
        }
        let stock = &self.stock_solution;
        let mut part = |share: &Share, at: &str| {
            if !is_part(share) {
                faults.add("out_of_range", at, NOT_A_PART);
            }
        };
        part(&self.alkali.naoh_purity, "alkali.naoh_purity");
        part(&self.alkali.koh_purity, "alkali.koh_purity");
        if let Some(share) = &stock.naoh {
            part(share, "stock_solution.naoh");
        }
        if let Some(share) = &stock.koh {
            part(share, "stock_solution.koh");
        }
    }

    fn check_water(&self, faults: &mut Faults) {
        match &self.water.rule {
            WaterRule::LyeConcentration(share) => {
                let share = share.fraction();
                if !share.is_positive() || !share.is_below_one() {
                    let says = "a lye concentration lies above 0 and below 100 %, mostly from 25 \
                                to 40 %";
                    faults.add("out_of_range", "water.lye_concentration", says);
                }
            }
            WaterRule::WaterToLye(ratio) => {
                if !ratio.number().is_positive() {
                    let says = "the ratio of water to alkali is above 0, mostly from 1.5 to 3";
                    faults.add("not_positive", "water.water_to_lye", says);
                }
            }
            WaterRule::OfFats(share) => {
                if !share.fraction().is_positive() {
                    let says =
                        "the water as a share of the fats is above 0, mostly from 20 to 40 %";
                    faults.add("not_positive", "water.of_fats", says);
                }
            }
        }
    }
}

fn not_negative(list: &str, index: usize, amount: &Amount, faults: &mut Faults) {
    let (number, field) = match amount {
        Amount::Mass(mass) => (mass.grams(), "mass"),
        Amount::Share(share) => (share.fraction(), "of_fats"),
    };
    if number.is_negative() {
        let says = "this amount is below 0; accepted: 0 or more";
        faults.add("negative", format_args!("{list}[{index}].{field}"), says);
    }
}

const NOT_A_PART: &str = "this share lies above 0 and up to 100 %";

fn is_part(share: &Share) -> bool {
    share.fraction().is_positive() && !share.fraction().is_above_one()
}
