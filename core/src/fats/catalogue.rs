//! The fats of the catalogue.

use super::{
    AcidRange, CatalogueFat, Figure, Kind, Property, PublishedValue, RelativeDensity, Rule,
};
use crate::chemistry::{Alkali, Basis, Composition, Provenance};
use crate::exact::Rational;
use crate::spellings::Spellings;
use crate::tables::tables;

/// The fats of the catalogue, in the order of its file.
///
/// ```
/// use lixivium::fats::catalogue;
/// assert!(catalogue().len() > 60);
/// assert!(catalogue().any(|fat| fat.id == "olive-oil"));
/// ```
pub fn catalogue() -> impl ExactSizeIterator<Item = &'static CatalogueFat> {
    tables().fats.iter()
}

impl Kind {
    /// `glyceride`, `wax`, `fatty-acid` or `resin`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Glyceride => "glyceride",
            Self::Wax => "wax",
            Self::FattyAcid => "fatty-acid",
            Self::Resin => "resin",
        }
    }
}

impl Property {
    /// Stable identifier, such as `saponification_value`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::SaponificationValue => "saponification_value",
            Self::IodineValue => "iodine_value",
            Self::RelativeDensity => "relative_density",
            Self::Unsaponifiable => "unsaponifiable",
        }
    }

    /// Its unit; empty for a relative density.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::SaponificationValue => "mg KOH/g",
            Self::IodineValue => "g/100 g",
            Self::RelativeDensity => "",
            Self::Unsaponifiable => "g/kg",
        }
    }
}

impl CatalogueFat {
    /// The other names under which it is found, in kebab-case.
    ///
    /// ```
    /// use lixivium::fats::find;
    /// let peanut = find("peanut-oil").unwrap();
    /// assert!(peanut.aliases().any(|alias| alias == "groundnut-oil"));
    /// ```
    pub fn aliases(&self) -> impl Iterator<Item = &'static str> {
        Spellings {
            first: None,
            others: self.aliases,
        }
    }

    /// Its name in the international nomenclature of cosmetic ingredients (INCI).
    pub fn inci(&self) -> Option<&'static str> {
        filled(self.inci)
    }

    /// The INCI name of its soap with an alkali, where one is established.
    ///
    /// ```
    /// use lixivium::chemistry::Alkali;
    /// use lixivium::fats::find;
    /// let olive = find("olive-oil").unwrap();
    /// assert_eq!(olive.inci_soap(Alkali::Naoh), Some("Sodium Olivate"));
    /// ```
    pub fn inci_soap(&self, alkali: Alkali) -> Option<&'static str> {
        filled(match alkali {
            Alkali::Naoh => self.inci_sodium_soap,
            Alkali::Koh => self.inci_potassium_soap,
        })
    }

    /// Whether the INCI names were read in a glossary or written down from memory.
    pub fn inci_provenance(&self) -> Provenance {
        Provenance::of(self.inci_seen)
    }

    /// Its typical saponification value, in mg KOH/g: the middle of the range that is used. A
    /// constant of the table, at no cost.
    pub fn typical_saponification_value(&self) -> Rational {
        self.saponification_value.typical.clone()
    }

    /// All published values, the saponification values first. The first of each property is the
    /// one that is used.
    pub fn published(&self) -> &'static [PublishedValue] {
        self.values
    }

    /// The published ranges of its fatty acids, those of the source that is used first; empty
    /// where none is known.
    pub fn published_composition(&self) -> &'static [AcidRange] {
        self.composition
    }

    /// The ranges of the source that is used.
    pub fn composition(&self) -> &'static [AcidRange] {
        let same = |range: &&AcidRange| range.published.same_source(self.composition[0].published);
        &self.composition[..self.composition.iter().take_while(same).count()]
    }

    /// The middle of each range of [`composition`](Self::composition), scaled to 100 %; `None`
    /// where no composition is known.
    ///
    /// ```
    /// use lixivium::fats::find;
    /// let olive = find("olive-oil").unwrap().typical_composition().unwrap();
    /// assert_eq!(olive.saponification_value().to_fixed(1), "193.0");
    /// ```
    pub fn typical_composition(&self) -> Option<Composition> {
        let half = const { Rational::decimal(5, 1) };
        let mut middles = Vec::new();
        for range in self.composition() {
            middles.push((range.acid(), (range.low() + range.high()) * &half));
        }
        Composition::normalised(middles)
    }

    fn first(&self, property: Property) -> Option<&'static PublishedValue> {
        self.values
            .iter()
            .find(|value| value.property() == property)
    }

    pub(crate) fn iodine_figure(&self) -> Option<Figure> {
        let used = self.first(Property::IodineValue)?;
        let mut figure = used.figure();
        if figure.low.is_none() || figure.high.is_none() {
            let basis = match self.kind {
                Kind::FattyAcid => Basis::FreeAcid,
                _ => Basis::Triglyceride,
            };
            figure.typical = self.typical_composition()?.iodine_value(basis);
            figure.rule = Rule::Calculated;
        }
        Some(figure)
    }

    pub(super) fn density(&self) -> Option<RelativeDensity> {
        let used = self.first(Property::RelativeDensity)?;
        let (temperature, reference_temperature) = used.temperatures()?;
        Some(RelativeDensity {
            low: used.low()?,
            high: used.high()?,
            temperature: Rational::integer(temperature.into()),
            reference_temperature: Rational::integer(reference_temperature.into()),
        })
    }
}

fn filled(text: &'static str) -> Option<&'static str> {
    (!text.is_empty()).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fat_has_a_typical_value_inside_its_range() {
        for fat in catalogue() {
            let figure = fat.saponification_value.clone();
            let (low, high) = (figure.low.unwrap(), figure.high.unwrap());
            assert!(
                low <= figure.typical && figure.typical <= high,
                "{}",
                fat.id
            );
            assert_eq!(figure.typical, (low + high) * Rational::decimal(5, 1));
        }
    }

    #[test]
    fn the_composition_used_is_that_of_one_source() {
        for fat in catalogue() {
            let used = fat.composition();
            assert_eq!(used.is_empty(), fat.published_composition().is_empty());
            assert_eq!(used.is_empty(), fat.typical_composition().is_none());
            for (i, range) in used.iter().enumerate() {
                let again = used[..i].iter().any(|other| other.acid() == range.acid());
                assert!(!again, "{} {}", fat.id, range.acid().id);
            }
        }
    }

    #[test]
    fn a_one_sided_iodine_value_is_completed_by_the_composition() {
        let figure = |id: &str| super::super::find(id).unwrap().iodine_figure();
        let olein = figure("palm-olein").unwrap();
        assert_eq!((olein.low, olein.high), (Some(Rational::integer(56)), None));
        assert_eq!(olein.rule, Rule::Calculated);
        assert_eq!(olein.typical.to_fixed(1), "57.1");
        assert!(figure("hydrogenated-castor-oil").is_none());
        assert_eq!(figure("stearic-acid").unwrap().typical, Rational::ZERO);
    }
}
