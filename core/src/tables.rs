//! The published figures: tables that the build script makes of `data/*.tsv`.

mod packed;

pub(crate) use packed::tables;

use crate::exact::Rational;

/// Where a figure was published.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// Stable identifier, such as `codex-cxs-210`.
    pub id: &'static str,
    /// The standard, book or paper.
    pub citation: &'static str,
    /// Which table, chapter or part of it; empty if the whole.
    pub part: &'static str,
    /// Licence, or how it was read; may be empty.
    pub remark: &'static str,
}

/// Whether a figure was read in its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Provenance {
    /// Read in the source, or in a public copy of it.
    Seen,
    /// Written down from memory of the source and not verified.
    Memory,
}

impl Provenance {
    pub(crate) const fn of(seen: bool) -> Self {
        if seen { Self::Seen } else { Self::Memory }
    }

    /// `seen` or `memory`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::Memory => "memory",
        }
    }
}

/// Where a figure was published, by number, and in the lowest bit whether it was seen there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Published(u32);

impl Published {
    pub fn source(self) -> &'static Source {
        &tables().sources[(self.0 >> 1) as usize]
    }

    pub const fn provenance(self) -> Provenance {
        Provenance::of(self.0 & 1 == 1)
    }

    pub const fn same_source(self, other: Self) -> bool {
        self.0 >> 1 == other.0 >> 1
    }
}

/// A fatty acid: an unbranched chain with its double bonds and hydroxyl groups.
#[derive(Debug)]
pub struct FattyAcid {
    /// Shorthand: carbon atoms, double bonds, `-OH` for a hydroxyl group, such as `C18:1-OH`.
    pub id: &'static str,
    /// Trivial name, such as `oleic acid`.
    pub name: &'static str,
    /// Systematic name, such as `(9Z)-octadec-9-enoic acid`.
    pub systematic_name: &'static str,
    /// Carbon atoms.
    pub carbon: u8,
    /// Hydrogen atoms.
    pub hydrogen: u8,
    /// Oxygen atoms.
    pub oxygen: u8,
    /// Double bonds in the chain.
    pub double_bonds: u8,
    /// Hydroxyl groups on the chain.
    pub hydroxyls: u8,
}

/// By the identifier.
impl PartialEq for FattyAcid {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl Eq for FattyAcid {}

/// What a published value of a fat measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Property {
    /// mg KOH/g (ISO 3657)
    SaponificationValue,
    /// g of iodine/100 g (ISO 3961)
    IodineValue,
    /// Relative to water, at the stated temperatures.
    RelativeDensity,
    /// g/kg (ISO 3596)
    Unsaponifiable,
}

/// What a fat is made of, as far as soap is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Fatty acids bound to glycerol: oils, butters, tallows.
    Glyceride,
    /// Fatty acids bound to fatty alcohols, which stay unsaponified.
    Wax,
    /// Free fatty acids: no glycerol, neutralised at once.
    FattyAcid,
    /// Resin acids.
    Resin,
}

/// One row of solubility of an alkali in water.
pub(crate) struct Solubility {
    pub is_koh: bool,
    /// °C
    pub temperature: u8,
    /// 0.1 g of alkali per 100 g of water
    pub tenths: u32,
    pub published: Published,
}

/// One published density of water.
#[derive(Debug, PartialEq, Eq)]
pub struct WaterDensity {
    centi_celsius: u32,
    grams_per_m3: u32,
    published: Published,
}

impl WaterDensity {
    /// °C
    pub fn temperature(&self) -> Rational {
        Rational::decimal(self.centi_celsius.into(), 2)
    }

    /// g/cm³
    pub fn density(&self) -> Rational {
        Rational::decimal(self.grams_per_m3.into(), 6)
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        self.published.source()
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        self.published.provenance()
    }
}

/// Where a published density of a lye comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LyeRow {
    /// From a table of measured densities.
    Measured,
    /// From a model, for all strengths and temperatures.
    Model,
}

/// One published density of a lye.
#[derive(Debug, PartialEq, Eq)]
pub struct LyeDensity {
    /// Whether the alkali is potassium hydroxide; else it is sodium hydroxide.
    pub is_koh: bool,
    /// Where it comes from.
    pub kind: LyeRow,
    pub(crate) concentration: u32,
    temperature: u32,
    centi_kg_per_m3: u32,
    published: Published,
}

impl LyeDensity {
    /// Hydroxide in the lye, in percent by mass.
    pub fn percent(&self) -> Rational {
        Rational::integer(self.concentration.into())
    }

    /// °C
    pub fn temperature(&self) -> Rational {
        Rational::integer(self.temperature.into())
    }

    /// g/cm³
    pub fn density(&self) -> Rational {
        Rational::decimal(self.centi_kg_per_m3.into(), 5)
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        self.published.source()
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        self.published.provenance()
    }
}

/// `count` × 0.001
fn thousandths(count: u32) -> Rational {
    Rational::decimal(count.into(), 3)
}

/// One published value of a fat.
#[derive(Debug, PartialEq, Eq)]
pub struct PublishedValue {
    property: Property,
    /// In thousandths.
    low: Option<u32>,
    high: Option<u32>,
    temperature: u8,
    reference_temperature: u8,
    published: Published,
    note: &'static str,
}

impl PublishedValue {
    /// What it measures, and so its unit.
    pub fn property(&self) -> Property {
        self.property
    }

    /// The lower end, if one is stated.
    pub fn low(&self) -> Option<Rational> {
        self.low.map(thousandths)
    }

    /// The upper end, if one is stated.
    pub fn high(&self) -> Option<Rational> {
        self.high.map(thousandths)
    }

    /// The middle of the range; of a one-sided one the end that is stated.
    pub(crate) fn figure(&self) -> Figure {
        let ends = self.low.or(self.high).zip(self.high.or(self.low));
        let sum = ends.map_or(0, |(low, high)| i64::from(low) + i64::from(high));
        let reduced = |end: Option<u32>| end.map(|end| thousandths(end).reduced());
        Figure {
            typical: Rational::decimal(5 * sum, 4).reduced(),
            low: reduced(self.low),
            high: reduced(self.high),
            rule: match self.low == self.high {
                true => Rule::SingleValue,
                false => Rule::MidRange,
            },
        }
    }

    /// Of a relative density: the temperature of the fat and of the water it is compared with,
    /// in °C.
    pub fn temperatures(&self) -> Option<(u8, u8)> {
        (self.property == Property::RelativeDensity)
            .then_some((self.temperature, self.reference_temperature))
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        self.published.source()
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        self.published.provenance()
    }

    /// What else to know; may be empty.
    pub fn note(&self) -> &'static str {
        self.note
    }
}

/// The published range of one fatty acid in a fat.
#[derive(Debug, PartialEq, Eq)]
pub struct AcidRange {
    acid: u32,
    pub(crate) published: Published,
    /// 0.001 %
    low: u32,
    high: u32,
}

impl AcidRange {
    /// The acid.
    pub fn acid(&self) -> &'static FattyAcid {
        &tables().acids[self.acid as usize]
    }

    /// The lower end, in percent by mass of the fatty acids.
    pub fn low(&self) -> Rational {
        thousandths(self.low)
    }

    /// The upper end, in percent by mass of the fatty acids.
    pub fn high(&self) -> Rational {
        thousandths(self.high)
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        self.published.source()
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        self.published.provenance()
    }
}

/// A value of a fat: a typical one, and what is known of its range.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figure {
    /// The value to reckon with.
    pub typical: Rational,
    /// The lower end, if one is stated.
    pub low: Option<Rational>,
    /// The upper end, if one is stated.
    pub high: Option<Rational>,
    /// How the typical value was chosen.
    pub rule: Rule,
}

/// How a typical value was chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// The middle of the published range.
    MidRange,
    /// The only value that is published.
    SingleValue,
    /// Given by whoever described the fat.
    Given,
    /// Calculated from the fatty-acid composition.
    Calculated,
}

/// A fat of the catalogue.
#[derive(Debug)]
pub struct CatalogueFat {
    /// Stable identifier, such as `olive-oil`.
    pub id: &'static str,
    /// Its name.
    pub name: &'static str,
    /// The plant or animal and the part of it.
    pub origin: &'static str,
    /// What it is made of.
    pub kind: Kind,
    /// With `|` between them.
    pub(crate) aliases: &'static str,
    pub(crate) inci: &'static str,
    pub(crate) inci_sodium_soap: &'static str,
    pub(crate) inci_potassium_soap: &'static str,
    pub(crate) inci_seen: bool,
    pub(crate) saponification_value: Figure,
    pub(crate) values: &'static [PublishedValue],
    pub(crate) composition: &'static [AcidRange],
}

/// By the identifier.
impl PartialEq for CatalogueFat {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl Eq for CatalogueFat {}

include!(concat!(env!("OUT_DIR"), "/elements.rs"));
