//! The published figures as static tables, written by the build script from `data/*.tsv`.

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

/// A fatty acid: an unbranched chain with its double bonds and hydroxyl groups.
#[derive(Debug, PartialEq, Eq)]
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
    pub tenths: i64,
    pub source: u8,
    pub seen: bool,
}

/// One published density of water.
#[derive(Debug, PartialEq, Eq)]
pub struct WaterDensity {
    centi_celsius: u16,
    grams_per_m3: i64,
    source: u8,
    seen: bool,
}

impl WaterDensity {
    /// °C
    pub fn temperature(&self) -> Rational {
        Rational::decimal(self.centi_celsius.into(), 2)
    }

    /// g/cm³
    pub fn density(&self) -> Rational {
        Rational::decimal(self.grams_per_m3, 6)
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        &SOURCES[usize::from(self.source)]
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        Provenance::of(self.seen)
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
    pub(crate) concentration: u8,
    temperature: u8,
    centi_kg_per_m3: i64,
    source: u8,
    seen: bool,
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
        Rational::decimal(self.centi_kg_per_m3, 5)
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        &SOURCES[usize::from(self.source)]
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        Provenance::of(self.seen)
    }
}

/// A decimal of a table; a negative scale stands for an end that is not stated.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Decimal {
    mantissa: i32,
    scale: i8,
}

impl Decimal {
    pub const fn get(&self) -> Option<Rational> {
        if self.scale < 0 {
            None
        } else {
            Some(Rational::decimal(self.mantissa as i64, self.scale as u8))
        }
    }
}

/// One published value of a fat.
#[derive(Debug, PartialEq, Eq)]
pub struct PublishedValue {
    low: Decimal,
    high: Decimal,
    note: &'static str,
    property: Property,
    temperature: u8,
    reference_temperature: u8,
    source: u8,
    seen: bool,
}

impl PublishedValue {
    /// What it measures, and so its unit.
    pub fn property(&self) -> Property {
        self.property
    }

    /// The lower end, if one is stated.
    pub fn low(&self) -> Option<Rational> {
        self.low.get()
    }

    /// The upper end, if one is stated.
    pub fn high(&self) -> Option<Rational> {
        self.high.get()
    }

    /// Of a relative density: the temperature of the fat and of the water it is compared with,
    /// in °C.
    pub fn temperatures(&self) -> Option<(u8, u8)> {
        (self.property == Property::RelativeDensity)
            .then_some((self.temperature, self.reference_temperature))
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        &SOURCES[usize::from(self.source)]
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        Provenance::of(self.seen)
    }

    /// What else to know; may be empty.
    pub fn note(&self) -> &'static str {
        self.note
    }
}

/// The published range of one fatty acid in a fat.
#[derive(Debug, PartialEq, Eq)]
pub struct AcidRange {
    acid: u8,
    source: u8,
    seen: bool,
    /// 0.01 %
    low: u16,
    high: u16,
}

impl AcidRange {
    /// The acid.
    pub fn acid(&self) -> &'static FattyAcid {
        &FATTY_ACIDS[usize::from(self.acid)]
    }

    /// The lower end, in percent by mass of the fatty acids.
    pub fn low(&self) -> Rational {
        Rational::decimal(self.low.into(), 2)
    }

    /// The upper end, in percent by mass of the fatty acids.
    pub fn high(&self) -> Rational {
        Rational::decimal(self.high.into(), 2)
    }

    /// Where it was published.
    pub fn source(&self) -> &'static Source {
        &SOURCES[usize::from(self.source)]
    }

    /// Whether it was read there.
    pub fn provenance(&self) -> Provenance {
        Provenance::of(self.seen)
    }
}

/// A fat of the catalogue.
#[derive(Debug, PartialEq, Eq)]
pub struct CatalogueFat {
    /// Stable identifier, such as `olive-oil`.
    pub id: &'static str,
    /// Its name.
    pub name: &'static str,
    /// The plant or animal and the part of it.
    pub origin: &'static str,
    /// What it is made of.
    pub kind: Kind,
    pub(crate) inci: &'static str,
    pub(crate) inci_sodium_soap: &'static str,
    pub(crate) inci_potassium_soap: &'static str,
    pub(crate) inci_seen: bool,
    pub(crate) typical: Decimal,
    pub(crate) values: &'static [PublishedValue],
    pub(crate) composition: &'static [AcidRange],
}

const NONE: Decimal = d(0, -1);

const fn d(mantissa: i32, scale: i8) -> Decimal {
    Decimal { mantissa, scale }
}

#[allow(clippy::too_many_arguments)] // one row of the table, called by generated code only
const fn value(
    property: Property,
    low: Decimal,
    high: Decimal,
    temperature: u8,
    reference_temperature: u8,
    source: u8,
    seen: bool,
    note: &'static str,
) -> PublishedValue {
    PublishedValue {
        low,
        high,
        note,
        property,
        temperature,
        reference_temperature,
        source,
        seen,
    }
}

include!(concat!(env!("OUT_DIR"), "/tables.rs"));
