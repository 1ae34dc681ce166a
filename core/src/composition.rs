//! What the fats of a bar are made of: typical values, and the ranges that are noise.
//!
//! Every figure of one fat is an [`Estimate`]; those of a blend are the sums by mass. (Shares of
//! fatty acids are taken by the mass of the fats: that the acids of 1 g of a triglyceride weigh
//! 0.94 to 0.96 g is left out.) Two blends are compared fat by fat: what both hold of the same fat
//! is the same lot, so that only the difference of the shares brings noise.
//!
//! ```
//! use lixivium::composition::{Blend, Figure};
//! use lixivium::exact::Rational;
//! use lixivium::fats::{Fat, find};
//! let fats = ["olive-oil", "coconut-oil"].map(|name| Fat::from(find(name).unwrap()));
//! let blend = |masses: [i64; 2]| Blend::new(fats.iter().zip(masses.map(Rational::integer)));
//! let (a, b) = (blend([700, 300]), blend([600, 400]));
//! let found = a.figure(Figure::SaturatedC12ToC14).unwrap();
//! assert!(found.range.contains(&found.typical));
//! // A tenth more coconut is sure to have more lauric and myristic acid.
//! let more = b.compared_with(&a).figure(Figure::SaturatedC12ToC14).unwrap();
//! assert!(more.range.low().is_positive());
//! ```

use std::num::NonZeroU32;

use crate::chemistry::saponification::{of_triglyceride, triglyceride_molar_mass};
use crate::chemistry::{FattyAcid, GLYCEROL, POTASSIUM_HYDROXIDE, WATER};
use crate::exact::{Interval, Rational, over};
use crate::fats::{self, Fat, Kind};
use crate::plan::Plan;
use crate::quantity::Share;
use crate::recipe::Recipe;
use crate::sort::sort_by;
use crate::tables::AcidRange;

/// A typical value and the range in which the true one lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Estimate {
    /// The value to reckon with.
    pub typical: Rational,
    /// The range; it holds the typical value.
    pub range: Interval,
}

impl Estimate {
    fn point(value: Rational) -> Self {
        Self {
            range: Interval::point(value.clone()),
            typical: value,
        }
    }

    /// With a range that is widened to the typical value where it does not hold it.
    fn within(typical: Rational, low: Rational, high: Rational) -> Self {
        let (low, high) = (low.min(typical.clone()), high.max(typical.clone()));
        let range = Interval::new(low, high).unwrap_or_else(|| Interval::point(typical.clone()));
        Self { typical, range }
    }

    fn of(figure: &fats::Figure) -> Self {
        let [low, high] = figure.ends();
        Self::within(figure.typical.clone(), low.clone(), high.clone())
    }

    /// Adds so much of another; below 0: takes it away.
    fn add(&mut self, factor: &Rational, other: &Self) {
        self.typical = &self.typical + factor * &other.typical;
        self.range = &self.range + &(&Interval::point(factor.clone()) * &other.range);
    }

    /// What it is more than that of another lot: from the least of the one less the most of the
    /// other; below 0: less.
    pub fn less(&self, other: &Self) -> Self {
        let mut difference = self.clone();
        difference.add(&const { Rational::integer(-1) }, other);
        difference
    }

    fn times(&self, factor: &Rational) -> Self {
        let mut product = Self::point(Rational::ZERO);
        product.add(factor, self);
        product
    }
}

/// A figure of a fat or a blend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// Saturated acids of up to 10 carbon atoms, in percent of the fatty acids.
    SaturatedToC10,
    /// Lauric and myristic acid and what lies between, in percent.
    SaturatedC12ToC14,
    /// Saturated acids of more than 14 carbon atoms, in percent.
    SaturatedFromC15,
    /// Acids of one double bond without hydroxyl groups, in percent.
    Monounsaturated,
    /// Acids of several double bonds without hydroxyl groups, in percent.
    Polyunsaturated,
    /// Acids with hydroxyl groups, such as ricinoleic acid, in percent.
    Hydroxylated,
    /// All saturated acids, the first three groups together, in percent.
    Saturated,
    /// Published saponification value, in mg KOH/g (ISO 3657).
    SaponificationValue,
    /// Saponification value calculated from the composition by stoichiometry, in mg KOH/g; what
    /// is unsaponifiable is left out.
    CalculatedSaponificationValue,
    /// Published iodine value, in g/100 g (ISO 3961).
    IodineValue,
    /// (C18:1 + 10.3 C18:2 + 21.6 C18:3) / 100 (Fatemi and Hammond, Lipids 15 (1980) 379-385;
    /// coefficients from memory).
    Oxidizability,
}

impl Figure {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::SaturatedToC10,
        Self::SaturatedC12ToC14,
        Self::SaturatedFromC15,
        Self::Monounsaturated,
        Self::Polyunsaturated,
        Self::Hydroxylated,
        Self::Saturated,
        Self::SaponificationValue,
        Self::CalculatedSaponificationValue,
        Self::IodineValue,
        Self::Oxidizability,
    ];

    /// Stable identifier, such as `iodine_value`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::SaturatedToC10 => "saturated_to_c10",
            Self::SaturatedC12ToC14 => "saturated_c12_to_c14",
            Self::SaturatedFromC15 => "saturated_from_c15",
            Self::Monounsaturated => "monounsaturated",
            Self::Polyunsaturated => "polyunsaturated",
            Self::Hydroxylated => "hydroxylated",
            Self::Saturated => "saturated",
            Self::SaponificationValue => "saponification_value",
            Self::CalculatedSaponificationValue => "calculated_saponification_value",
            Self::IodineValue => "iodine_value",
            Self::Oxidizability => "oxidizability",
        }
    }

    /// Its unit; empty for an index.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::SaponificationValue | Self::CalculatedSaponificationValue => "mg KOH/g",
            Self::IodineValue => "g/100 g",
            Self::Oxidizability => "",
            _ => "% of fatty acids",
        }
    }

    /// Where the figure is defined: its standard, or its paper.
    pub const fn source(self) -> &'static str {
        match self {
            Self::SaponificationValue => "ISO 3657",
            Self::CalculatedSaponificationValue => "stoichiometry, from the fatty acids",
            Self::IodineValue => "ISO 3961",
            Self::Oxidizability => {
                "Fatemi and Hammond, Lipids 15 (1980) 379-385; coefficients from memory"
            }
            _ => "sum of fatty acids as gas chromatography reports them, ISO 12966",
        }
    }

    /// Of one fat; none where it is not known.
    pub fn of(self, fat: &Fat) -> Option<Estimate> {
        match self {
            Self::SaponificationValue => Some(Estimate::of(fat.saponification_value())),
            Self::IodineValue => fat.iodine_value().as_ref().map(Estimate::of),
            Self::CalculatedSaponificationValue => match fat.kind() {
                Kind::Glyceride => calculated(fat),
                _ => None,
            },
            Self::Oxidizability => linear(fat, &|acid| match acid.id {
                "C18:1" => Rational::decimal(1, 2),
                "C18:2" => Rational::decimal(103, 3),
                "C18:3" => Rational::decimal(216, 3),
                _ => Rational::ZERO,
            }),
            group => linear(fat, &|acid| {
                let saturated = group == Self::Saturated && acid.double_bonds == 0;
                match saturated && acid.hydroxyls == 0 || Self::group(acid) == group {
                    true => Rational::ONE,
                    false => Rational::ZERO,
                }
            }),
        }
    }

    fn group(acid: &FattyAcid) -> Self {
        match (acid.hydroxyls, acid.double_bonds, acid.carbon) {
            (1.., _, _) => Self::Hydroxylated,
            (0, 0, ..=10) => Self::SaturatedToC10,
            (0, 0, 11..=14) => Self::SaturatedC12ToC14,
            (0, 0, _) => Self::SaturatedFromC15,
            (0, 1, _) => Self::Monounsaturated,
            (0, 2.., _) => Self::Polyunsaturated,
        }
    }
}

/// A weighted sum of the acids of a fat, over all compositions within the published ranges that
/// come to 100 %. Where the ranges cannot come to 100 %, what is left over has no weight.
fn linear(fat: &Fat, weight: &dyn Fn(&FattyAcid) -> Rational) -> Option<Estimate> {
    let mut typical = Rational::ZERO;
    for (acid, share) in fat.composition()?.iter() {
        typical = typical + weight(acid) * share;
    }
    Some(match extremes(fat, weight) {
        Some((low, high)) => Estimate::within(typical, low, high),
        None => Estimate::point(typical),
    })
}

/// The smallest and the largest weighted sum of the acids of a fat of the catalogue.
fn extremes(fat: &Fat, weight: &dyn Fn(&FattyAcid) -> Rational) -> Option<(Rational, Rational)> {
    let ranges = fat.catalogued()?.composition();
    let highest = -smallest(ranges, &|acid| -weight(acid));
    Some((smallest(ranges, weight), highest))
}

/// Every acid at its low end, and what is missing to 100 % given to the acids that weigh least.
fn smallest(ranges: &[AcidRange], weight: &dyn Fn(&FattyAcid) -> Rational) -> Rational {
    let mut acids = Vec::new();
    let (mut sum, mut missing) = (Rational::ZERO, Rational::HUNDRED);
    for range in ranges {
        let (weight, low) = (weight(range.acid()), range.low());
        sum = sum.plus_product(&weight, &low);
        missing = missing - &low;
        acids.push((weight, range.high() - low));
    }
    sort_by(&mut acids, |(a, _), (b, _)| a.cmp(b));
    missing = missing.max(Rational::ZERO);
    for (weight, room) in acids {
        let more = room.min(missing.clone());
        sum = sum.plus_product(&weight, &more);
        missing = missing - more;
    }
    sum
}

/// The ends of a calculated saponification value are moved outwards to this grid, in mg KOH/g, so
/// that the numbers of an answer stay short.
const FINEST_VALUE: Rational = Rational::decimal(1, 6);

/// The saponification value of the pure triglycerides. It rises with the moles of acid in 1 g of
/// acids, `Σ share / molar mass`, so that its ends are those of that sum.
fn calculated(fat: &Fat) -> Option<Estimate> {
    let typical = fat.composition()?.saponification_value();
    let moles = |acid: &FattyAcid| Rational::ONE.checked_div(&acid.molar_mass());
    let Some((low, high)) = extremes(fat, &|acid| moles(acid).unwrap_or_default()) else {
        return Some(Estimate::point(typical));
    };
    let (all, _) = extremes(fat, &|_| Rational::ONE)?;
    let value = |moles| of_triglyceride(&triglyceride_molar_mass(&all.checked_div(moles)?));
    let low = value(&low)?.floor_to(&FINEST_VALUE)?;
    let high = value(&high)?.ceil_to(&FINEST_VALUE)?;
    Some(Estimate::within(typical, low, high))
}

/// Fats with their shares.
#[derive(Debug, Clone)]
pub struct Blend<'a>(Vec<(&'a Fat, Rational)>);

impl<'a> Blend<'a> {
    /// From masses; they become shares of their sum.
    pub fn new(masses: impl IntoIterator<Item = (&'a Fat, Rational)>) -> Self {
        let mut blend = Self(Vec::new());
        let mut total = Rational::ZERO;
        for (fat, mass) in masses {
            total = total + &mass;
            blend.add(fat, mass);
        }
        for (_, mass) in &mut blend.0 {
            *mass = mass.checked_div(&total).unwrap_or_default();
        }
        blend
    }

    /// The fats of a plan.
    pub fn of_plan(recipe: &'a Recipe, plan: &Plan) -> Self {
        let fats = recipe.fats.iter().zip(&plan.fats);
        Self::new(fats.map(|(line, mass)| (&line.fat, mass.grams().clone())))
    }

    fn add(&mut self, fat: &'a Fat, share: Rational) {
        for (known, sum) in &mut self.0 {
            if *known == fat {
                *sum = &*sum + share;
                return;
            }
        }
        self.0.push((fat, share));
    }

    /// What it has more of each fat than `other`; below 0: less.
    pub fn compared_with(&self, other: &Self) -> Self {
        let mut more = self.clone();
        for (fat, share) in &other.0 {
            more.add(fat, -share);
        }
        more
    }

    /// A figure of the blend, or the difference of a comparison; none if it is not known of one
    /// of the fats.
    pub fn figure(&self, figure: Figure) -> Option<Estimate> {
        let mut sum = Estimate::point(Rational::ZERO);
        for (fat, share) in &self.0 {
            if !share.is_zero() {
                sum.add(share, &figure.of(fat)?);
            }
        }
        Some(sum)
    }

    /// The fats of which a figure is not known.
    pub fn unknown(&self, figure: Figure) -> impl Iterator<Item = &'a Fat> {
        let fats = self.0.iter().map(|(fat, _)| *fat);
        fats.filter(move |fat| figure.of(fat).is_none())
    }
}

/// What a batch amounts to as soap, once all alkali is used up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Soap {
    /// Glycerol that is set free, in g: g KOH used on glycerides · 92.094 / (3 · 56.105).
    pub glycerol: Estimate,
    /// Fat that stays unsaponified, in g: superfat · fats.
    pub free_fat: Estimate,
    /// In percent of the batter as poured: glycerol, free fat, total fatty matter; then the last
    /// once all water of the lye has dried off.
    ///
    /// Total fatty matter is what acid would set free of it, acids, unsaponified fat and
    /// unsaponifiable matter (as ISO 685 counts it): the mass of the fats without what turns a
    /// glyceride into acids, g KOH used on it · (92.094 - 3 · 18.015) / (3 · 56.105).
    pub shares: [Estimate; 4],
}

/// g of glycerol that are set free for 1 g KOH.
const GLYCEROL_FOR_KOH: Rational = for_koh(GLYCEROL.ten_thousandths());

/// g by which glycerides are heavier than their acids, for 1 g KOH.
const GLYCERYL_FOR_KOH: Rational =
    for_koh(GLYCEROL.ten_thousandths() - 3 * WATER.ten_thousandths());

/// g for 1 g KOH of what a triglyceride sets free once, of that molar mass in 0.0001 g/mol.
const fn for_koh(ten_thousandths: i64) -> Rational {
    let koh = NonZeroU32::new(3 * POTASSIUM_HYDROXIDE.ten_thousandths() as u32);
    Rational::fraction(ten_thousandths, koh.unwrap())
}

impl Soap {
    /// Of a plan. Waxes, free acids and resins set no glycerol free.
    pub fn of_plan(recipe: &Recipe, plan: &Plan) -> Self {
        let used = used_on_glycerides(recipe, plan);
        let total = plan.total_fats.grams();
        let free = |superfat: &Share| superfat.fraction().clone().max(Rational::ZERO) * total;
        let (low, high) = &plan.superfat_range;
        let glycerol = used.times(&GLYCEROL_FOR_KOH);
        let free_fat = Estimate::within(free(&plan.superfat), free(low), free(high));
        let mut fatty_matter = Estimate::point(total.clone());
        fatty_matter.add(&-GLYCERYL_FOR_KOH, &used);
        let share = |of: &Estimate, whole| {
            let percent = Rational::HUNDRED.checked_div(whole);
            of.times(&percent.unwrap_or_default())
        };
        let batter = plan.batter_mass.grams();
        let dry = batter - plan.water_mass.grams();
        Self {
            shares: [
                share(&glycerol, batter),
                share(&free_fat, batter),
                share(&fatty_matter, batter),
                share(&fatty_matter, &dry),
            ],
            glycerol,
            free_fat,
        }
    }
}

/// g KOH that glycerides take up: all that is free of acids, at most what they need. Where there
/// are other fats as well, each takes its share of it, and the range is an enclosure.
fn used_on_glycerides(recipe: &Recipe, plan: &Plan) -> Estimate {
    let mut need = Estimate::point(Rational::ZERO);
    let mut glycerides = need.clone();
    for (line, mass) in recipe.fats.iter().zip(&plan.fats) {
        let value = Estimate::of(line.fat.saponification_value());
        let kilograms = mass.grams() * const { Rational::decimal(1, 3) };
        need.add(&kilograms, &value);
        if line.fat.kind() == Kind::Glyceride {
            glycerides.add(&kilograms, &value);
        }
    }
    let free = plan.superfat.rest().fraction() * &need.typical;
    let least = |need: &Rational| free.clone().min(need.clone());
    let used = Estimate::within(
        least(&need.typical),
        least(need.range.low()),
        least(need.range.high()),
    );
    if glycerides == need {
        return used;
    }
    Estimate::within(
        &used.typical * &over(&glycerides.typical, &need.typical),
        used.range.low() * &over(glycerides.range.low(), need.range.high()),
        used.range.high() * &over(glycerides.range.high(), need.range.low()).min(Rational::ONE),
    )
}
