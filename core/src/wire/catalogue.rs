//! `fats`: the catalogue, each figure with its source.

use super::read::request;
use super::write::{Range, answer};
use crate::chemistry::{Alkali, Source, sources};
use crate::exact::Rational;
use crate::fats::{self, AcidRange, CatalogueFat, Fat, PublishedValue};
use crate::fault::Faults;
use crate::quantity::{IodineValue, Ratio, SaponificationValue, Share, Temperature};

request! {
    /// Which fats to list.
    FatsRequest {
        /// The id or another name of one fat; left out: all.
        fat: Option<String>,
    }
}

answer! {
    /// Fats of the catalogue.
    FatsAnswer {
        /// The fats, in the order of the catalogue.
        fats: Vec<FatEntry>,
        /// The sources that the figures name.
        sources: Vec<SourceEntry>,
    }

    /// A fat of the catalogue.
    FatEntry {
        /// Its identifier.
        id: &'static str,
        /// Its name.
        name: &'static str,
        /// Other names under which it is found.
        aliases: Vec<&'static str>,
        /// The plant or animal and the part of it.
        origin: &'static str,
        /// What it is made of: glyceride, wax, fatty-acid or resin.
        kind: &'static str,
        /// Its INCI name.
        inci: Option<&'static str>,
        /// The INCI name of its sodium soap.
        inci_sodium_soap: Option<&'static str>,
        /// The INCI name of its potassium soap.
        inci_potassium_soap: Option<&'static str>,
        /// Whether the INCI names were seen in a glossary or are from memory.
        inci_provenance: &'static str,
        /// The saponification value to reckon with.
        saponification_value: SaponificationValue,
        /// The range in which it lies.
        saponification_range: Range<SaponificationValue>,
        /// How the saponification value was chosen: mid_range is the middle of the range,
        /// single_value the only one published.
        saponification_rule: &'static str,
        /// The iodine value to reckon with, if one is known.
        iodine_value: Option<IodineValue>,
        /// How the iodine value was chosen; calculated means from the composition.
        iodine_rule: Option<&'static str>,
        /// All published values; the first of each property is the one that is used.
        published: Vec<PublishedEntry>,
        /// Published ranges of its fatty acids, in percent by mass of the fatty acids.
        fatty_acids: Vec<AcidEntry>,
    }

    /// A published value.
    PublishedEntry {
        /// What it measures: saponification_value, iodine_value, relative_density or
        /// unsaponifiable.
        property: &'static str,
        /// Its unit; empty for a relative density.
        unit: &'static str,
        /// The range.
        range: Range<Ratio>,
        /// Of a relative density: the temperature of the fat.
        temperature: Option<Temperature>,
        /// Of a relative density: the temperature of the water it is compared with.
        reference_temperature: Option<Temperature>,
        /// The id of its source.
        source: &'static str,
        /// Whether it was seen there or is from memory.
        provenance: &'static str,
        /// What else to know; may be empty.
        note: &'static str,
    }

    /// The published range of a fatty acid.
    AcidEntry {
        /// The acid, such as C18:1.
        acid: &'static str,
        /// Its trivial name.
        name: &'static str,
        /// The range.
        range: Range<Share>,
        /// The id of its source.
        source: &'static str,
        /// Whether it was seen there or is from memory.
        provenance: &'static str,
    }

    /// Where figures were published.
    SourceEntry {
        /// Its identifier.
        id: &'static str,
        /// The standard, book or paper.
        citation: &'static str,
        /// Which table, chapter or part of it.
        part: &'static str,
        /// Licence, or how it was read.
        remark: &'static str,
    }
}

pub(super) fn run(request: FatsRequest, unread: Faults) -> Result<FatsAnswer, Faults> {
    unread.or(())?;
    let listed: Vec<&'static CatalogueFat> = match request.fat {
        None => fats::catalogue().collect(),
        Some(name) => match fats::find(&name) {
            Ok(fat) => vec![fat],
            Err(found) => {
                let mut faults = Faults::new();
                faults.add_inside(&"fat", found);
                return Err(faults);
            }
        },
    };
    let named = |source: &Source| {
        let is = |id: &'static str| id == source.id;
        listed.iter().any(|fat| {
            fat.published().iter().any(|value| is(value.source().id))
                || fat
                    .published_composition()
                    .iter()
                    .any(|acid| is(acid.source().id))
        })
    };
    let sources = sources()
        .iter()
        .filter(|source| named(source))
        .map(SourceEntry::from);
    let sources = sources.collect();
    Ok(FatsAnswer {
        fats: listed.into_iter().map(FatEntry::from).collect(),
        sources,
    })
}

impl From<&'static CatalogueFat> for FatEntry {
    fn from(fat: &'static CatalogueFat) -> Self {
        let figures = Fat::from(fat);
        let saponification = figures.saponification_value();
        let iodine = figures.iodine_value();
        Self {
            id: fat.id,
            name: fat.name,
            aliases: fat.aliases().collect(),
            origin: fat.origin,
            kind: fat.kind.id(),
            inci: fat.inci(),
            inci_sodium_soap: fat.inci_soap(Alkali::Naoh),
            inci_potassium_soap: fat.inci_soap(Alkali::Koh),
            inci_provenance: fat.inci_provenance().id(),
            saponification_rule: saponification.rule.id(),
            saponification_value: SaponificationValue::new(saponification.typical),
            saponification_range: Range {
                low: saponification.low.map(SaponificationValue::new),
                high: saponification.high.map(SaponificationValue::new),
            },
            iodine_rule: iodine.as_ref().map(|figure| figure.rule.id()),
            iodine_value: iodine.map(|figure| IodineValue::new(figure.typical)),
            published: fat.published().iter().map(PublishedEntry::from).collect(),
            fatty_acids: fat
                .published_composition()
                .iter()
                .map(AcidEntry::from)
                .collect(),
        }
    }
}

impl From<&'static PublishedValue> for PublishedEntry {
    fn from(value: &'static PublishedValue) -> Self {
        let celsius = |degrees: u8| Temperature::new(Rational::integer(degrees.into()));
        let temperatures = value.temperatures();
        Self {
            property: value.property().id(),
            unit: value.property().unit(),
            range: Range {
                low: value.low().map(Ratio::new),
                high: value.high().map(Ratio::new),
            },
            temperature: temperatures.map(|(fat, _)| celsius(fat)),
            reference_temperature: temperatures.map(|(_, water)| celsius(water)),
            source: value.source().id,
            provenance: value.provenance().id(),
            note: value.note(),
        }
    }
}

impl From<&'static AcidRange> for AcidEntry {
    fn from(range: &'static AcidRange) -> Self {
        Self {
            acid: range.acid().id,
            name: range.acid().name,
            range: Range {
                low: Some(Share::percent(range.low())),
                high: Some(Share::percent(range.high())),
            },
            source: range.source().id,
            provenance: range.provenance().id(),
        }
    }
}

impl From<&'static Source> for SourceEntry {
    fn from(source: &'static Source) -> Self {
        Self {
            id: source.id,
            citation: source.citation,
            part: source.part,
            remark: source.remark,
        }
    }
}
