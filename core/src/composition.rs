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
//! let blend = |olive, coconut| {
//!     let part = |name, mass| (Fat::from(find(name).unwrap()), Rational::integer(mass));
//!     Blend::new([part("olive-oil", olive), part("coconut-oil", coconut)])
//! };
//! let (a, b) = (blend(700, 300), blend(600, 400));
//! let found = a.figure(Figure::SaturatedC12ToC14).unwrap();
//! assert!(found.range.contains(&found.typical));
//! // A tenth more coconut is sure to have more lauric and myristic acid.
//! let more = b.compared_with(&a).figure(Figure::SaturatedC12ToC14).unwrap();
//! assert!(more.range.low().is_positive());
//! ```

use crate::chemistry::saponification::{of_triglyceride, triglyceride_molar_mass};
use crate::chemistry::{FattyAcid, GLYCEROL, POTASSIUM_HYDROXIDE, WATER};
use crate::exact::{Interval, Rational};
use crate::fats::{Fat, Kind};
use crate::plan::Plan;
use crate::recipe::Recipe;
use crate::sort::sort_by;

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

    fn times(&self, factor: &Rational) -> Self {
        Self {
            typical: &self.typical * factor,
            range: &self.range * &Interval::point(factor.clone()),
        }
    }

    fn plus(&self, other: &Self) -> Self {
        Self {
            typical: &self.typical + &other.typical,
            range: &self.range + &other.range,
        }
    }

    fn of(&self, whole: &Rational) -> Self {
        let inverse = Rational::ONE.checked_div(whole).unwrap_or_default();
        self.times(&inverse)
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
        let published = |figure: crate::fats::Figure| {
            let low = figure.low.unwrap_or_else(|| figure.typical.clone());
            let high = figure.high.unwrap_or_else(|| figure.typical.clone());
            Estimate::within(figure.typical, low, high)
        };
        match self {
            Self::SaponificationValue => Some(published(fat.saponification_value().clone())),
            Self::IodineValue => fat.iodine_value().map(published),
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
    let composition = fat.composition()?;
    let typical = composition.iter();
    let typical = typical.map(|(acid, share)| weight(acid) * share).sum();
    Some(match extremes(fat, weight) {
        Some([(low, _), (high, _)]) => Estimate::within(typical, low, high),
        None => Estimate::point(typical),
    })
}

/// The smallest and the largest weighted sum of the acids of a fat of the catalogue, each with the
/// sum of its shares: every acid at its low end, and what is missing to 100 % given to the acids
/// that weigh least, or most.
fn extremes(
    fat: &Fat,
    weight: &dyn Fn(&FattyAcid) -> Rational,
) -> Option<[(Rational, Rational); 2]> {
    let mut acids = Vec::new();
    let (mut lows, mut at_lows) = (Rational::ZERO, Rational::ZERO);
    for range in fat.catalogued()?.composition().iter() {
        let (weight, low) = (weight(range.acid()), range.low());
        lows = lows + &low;
        at_lows = (at_lows + &weight * &low).reduced();
        acids.push((weight, range.high() - low));
    }
    sort_by(&mut acids, |(a, _), (b, _)| a.cmp(b));
    let missing = (Rational::HUNDRED - &lows).max(Rational::ZERO);
    let fill = |acids: &[(Rational, Rational)]| {
        let (mut sum, mut left) = (at_lows.clone(), missing.clone());
        for (weight, room) in acids {
            let more = room.clone().min(left.clone());
            sum = (sum + weight * &more).reduced();
            left = left - more;
        }
        (sum, &lows + &(&missing - &left))
    };
    let low = fill(&acids);
    acids.reverse();
    Some([low, fill(&acids)])
}

/// The ends of a calculated saponification value are moved outwards to this grid, in mg KOH/g, so
/// that the numbers of an answer stay short.
const FINEST_VALUE: Rational = Rational::decimal(1, 6);

/// The saponification value of the pure triglycerides. It rises with the moles of acid in 1 g of
/// acids, `Σ share / molar mass`, so that its ends are those of that sum.
fn calculated(fat: &Fat) -> Option<Estimate> {
    let typical = fat.composition()?.saponification_value();
    let moles = |acid: &FattyAcid| Rational::ONE.checked_div(&acid.molar_mass());
    let Some([low, high]) = extremes(fat, &|acid| moles(acid).unwrap_or_default()) else {
        return Some(Estimate::point(typical));
    };
    let value = |(moles, share): (Rational, Rational)| {
        let mean = share.checked_div(&moles)?;
        of_triglyceride(&triglyceride_molar_mass(&mean))
    };
    let low = value(low)?.floor_to(&FINEST_VALUE)?;
    let high = value(high)?.ceil_to(&FINEST_VALUE)?;
    Some(Estimate::within(typical, low, high))
}

/// Fats with their shares.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend(Vec<(Fat, Rational)>);

impl Blend {
    /// From masses; they become shares of their sum.
    pub fn new(masses: impl IntoIterator<Item = (Fat, Rational)>) -> Self {
        let mut fats: Vec<(Fat, Rational)> = Vec::new();
        for (fat, mass) in masses {
            match fats.iter_mut().find(|(known, _)| *known == fat) {
                Some((_, known)) => *known = &*known + &mass,
                None => fats.push((fat, mass)),
            }
        }
        let total: Rational = fats.iter().map(|(_, mass)| mass).sum();
        for (_, mass) in &mut fats {
            *mass = mass.checked_div(&total).unwrap_or_default();
        }
        Self(fats)
    }

    /// The fats of a plan.
    pub fn of_plan(recipe: &Recipe, plan: &Plan) -> Self {
        let fats = recipe.fats.iter().zip(&plan.fats);
        Self::new(fats.map(|(line, mass)| (line.fat.clone(), mass.grams().clone())))
    }

    /// What it has more of each fat than `other`; below 0: less.
    pub fn compared_with(&self, other: &Self) -> Self {
        let mut fats = self.0.clone();
        for (fat, share) in &other.0 {
            match fats.iter_mut().find(|(known, _)| known == fat) {
                Some((_, known)) => *known = &*known - share,
                None => fats.push((fat.clone(), -share)),
            }
        }
        fats.retain(|(_, share)| !share.is_zero());
        Self(fats)
    }

    /// A figure of the blend, or the difference of a comparison; none if it is not known of one
    /// of the fats.
    pub fn figure(&self, figure: Figure) -> Option<Estimate> {
        let mut sum = Estimate::point(Rational::ZERO);
        for (fat, share) in &self.0 {
            sum = sum.plus(&figure.of(fat)?.times(share));
        }
        Some(sum)
    }

    /// The fats of which a figure is not known.
    pub fn unknown(&self, figure: Figure) -> impl Iterator<Item = &Fat> {
        let fats = self.0.iter().map(|(fat, _)| fat);
        fats.filter(move |fat| figure.of(fat).is_none())
    }
}

/// What a batch amounts to as soap, once all alkali is used up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Soap {
    /// Glycerol that is set free, in g: g KOH used on glycerides · 92.094 / (3 · 56.105).
    pub glycerol: Estimate,
    /// The same in percent of the batter as poured.
    pub glycerol_share: Estimate,
    /// Fat that stays unsaponified, in g: superfat · fats.
    pub free_fat: Estimate,
    /// The same in percent of the batter as poured.
    pub free_fat_share: Estimate,
    /// Total fatty matter of the batter as poured, in percent: what acid would set free of it,
    /// acids, unsaponified fat and unsaponifiable matter (as ISO 685 counts it).
    pub total_fatty_matter: Estimate,
    /// The same once all water of the lye has dried off, in percent.
    pub total_fatty_matter_dry: Estimate,
}

impl Soap {
    /// Of a plan. Waxes, free acids and resins set no glycerol free.
    ///
    /// The mass of fatty matter is that of the fats without what turns a glyceride into acids:
    /// g KOH used on it · (92.094 - 3 · 18.015) / (3 · 56.105).
    pub fn of_plan(recipe: &Recipe, plan: &Plan) -> Self {
        let used = used_on_glycerides(recipe, plan);
        let koh = POTASSIUM_HYDROXIDE.molar_mass() * Rational::integer(3);
        let for_each = |grams: Rational| grams.checked_div(&koh).unwrap_or_default();
        let glycerol = for_each(GLYCEROL.molar_mass());
        let glyceryl = for_each(GLYCEROL.molar_mass() - WATER.molar_mass() * Rational::integer(3));
        let total = plan.total_fats.grams();
        let (low, high) = &plan.superfat_range;
        let none = Rational::ZERO;
        let free = |superfat: &Rational| superfat.clone().max(none.clone()) * total;
        let fatty = Estimate::point(total.clone()).plus(&used.times(&-glyceryl));
        let glycerol = used.times(&glycerol);
        let free_fat = Estimate::within(
            free(plan.superfat.fraction()),
            free(low.fraction()),
            free(high.fraction()),
        );
        let batter = plan.batter_mass.grams();
        let dry = batter - plan.water_mass.grams();
        let share = |of: &Estimate, whole: &Rational| of.times(&Rational::HUNDRED).of(whole);
        Self {
            glycerol_share: share(&glycerol, batter),
            free_fat_share: share(&free_fat, batter),
            total_fatty_matter: share(&fatty, batter),
            total_fatty_matter_dry: share(&fatty, &dry),
            glycerol,
            free_fat,
        }
    }

    /// What it has more than another in percent of the batter, by name; below 0: less. The lots
    /// of the fats may be others, so that a range runs from the least of the one less the most of
    /// the other.
    pub fn compared_with(&self, other: &Self) -> [(&'static str, Estimate); 4] {
        let more = |name, a: &Estimate, b: &Estimate| (name, a.plus(&b.times(&-Rational::ONE)));
        let dry = "total_fatty_matter_dry";
        [
            more("glycerol", &self.glycerol_share, &other.glycerol_share),
            more("free_fat", &self.free_fat_share, &other.free_fat_share),
            more(
                "total_fatty_matter",
                &self.total_fatty_matter,
                &other.total_fatty_matter,
            ),
            more(
                dry,
                &self.total_fatty_matter_dry,
                &other.total_fatty_matter_dry,
            ),
        ]
    }
}

/// g KOH that glycerides take up: all that is free of acids, at most what they need. Where there
/// are other fats as well, each takes its share of it, and the range is an enclosure.
fn used_on_glycerides(recipe: &Recipe, plan: &Plan) -> Estimate {
    let thousandth = Rational::decimal(1, 3);
    let mut need = Estimate::point(Rational::ZERO);
    let mut glycerides = need.clone();
    for (line, mass) in recipe.fats.iter().zip(&plan.fats) {
        let Some(value) = Figure::SaponificationValue.of(&line.fat) else {
            continue;
        };
        let koh = value.times(&(mass.grams() * &thousandth));
        need = need.plus(&koh);
        if line.fat.kind() == Kind::Glyceride {
            glycerides = glycerides.plus(&koh);
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
    let part = |part: &Rational, whole: &Rational| part.checked_div(whole).unwrap_or_default();
    Estimate::within(
        &used.typical * &part(&glycerides.typical, &need.typical),
        used.range.low() * &part(glycerides.range.low(), need.range.high()),
        used.range.high() * &part(glycerides.range.high(), need.range.low()).min(Rational::ONE),
    )
}
