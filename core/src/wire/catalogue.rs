//! `fats`: the catalogue, each figure with its source.

use std::{ptr, slice};

use super::view::request;
use super::write::{Range, Writer, answer};
use crate::chemistry::{Alkali, Source, sources};
use crate::exact::Rational;
use crate::fats::{self, CatalogueFat};
use crate::fault::Faults;
use crate::quantity::{IodineValue, Ratio, SaponificationValue, Share, Temperature};
use crate::tables::tables;

request! {
    /// Which fats to list.
    FatsRequest<'a> {
        /// The id or another name of one fat; left out: all.
        fat: Option<&'a str>,
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

pub(super) fn run(
    request: FatsRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    unread.or(())?;
    let listed: &'static [CatalogueFat] = match request.fat() {
        None => &tables().fats,
        Some(name) => match fats::find(name) {
            Ok(fat) => slice::from_ref(fat),
            Err(found) => {
                let mut faults = Faults::new();
                faults.add_inside(&"fat", found);
                return Err(faults);
            }
        },
    };
    let named = |source: &Source| {
        let is = |other: &Source| ptr::eq(other, source);
        listed.iter().any(|fat| {
            fat.published().iter().any(|value| is(value.source()))
                || (fat.published_composition().iter()).any(|acid| is(acid.source()))
        })
    };
    to.list("fats", listed, write_fat);
    let sources = sources().iter().filter(|source| named(source));
    to.list("sources", sources, |to, source| {
        to.add("id", source.id);
        to.add("citation", source.citation);
        to.add("part", source.part);
        to.add("remark", source.remark);
    });
    Ok(())
}

fn write_fat(to: &mut impl Writer, fat: &'static CatalogueFat) {
    let saponification = &fat.saponification_value;
    let (low, high) = (saponification.low.as_ref(), saponification.high.as_ref());
    let iodine = fat.iodine_figure();
    let iodine = iodine.as_ref();
    to.add("id", fat.id);
    to.add("name", fat.name);
    to.texts("aliases", fat.aliases());
    to.add("origin", fat.origin);
    to.add("kind", fat.kind.id());
    to.add("inci", &fat.inci());
    to.add("inci_sodium_soap", &fat.inci_soap(Alkali::Naoh));
    to.add("inci_potassium_soap", &fat.inci_soap(Alkali::Koh));
    to.add("inci_provenance", fat.inci_provenance().id());
    to.add("saponification_value", &saponification.typical);
    to.range("saponification_range", low, high);
    to.add("saponification_rule", saponification.rule.id());
    to.add("iodine_value", &iodine.map(|figure| &figure.typical));
    to.add("iodine_rule", &iodine.map(|figure| figure.rule.id()));
    to.list("published", fat.published(), |to, value| {
        let temperatures = value.temperatures();
        let celsius = |degrees: u8| Rational::integer(degrees.into());
        to.add("property", value.property().id());
        to.add("unit", value.property().unit());
        to.range("range", value.low().as_ref(), value.high().as_ref());
        to.add("temperature", &temperatures.map(|(fat, _)| celsius(fat)));
        to.add(
            "reference_temperature",
            &temperatures.map(|(_, water)| celsius(water)),
        );
        to.add("source", value.source().id);
        to.add("provenance", value.provenance().id());
        to.add("note", value.note());
    });
    to.list("fatty_acids", fat.published_composition(), |to, range| {
        to.add("acid", range.acid().id);
        to.add("name", range.acid().name);
        to.range("range", Some(&range.low()), Some(&range.high()));
        to.add("source", range.source().id);
        to.add("provenance", range.provenance().id());
    });
}
