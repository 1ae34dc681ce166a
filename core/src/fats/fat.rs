//! A fat of a recipe, from the catalogue or one's own.

use std::sync::Arc;

use super::own::Checked;
use super::{CatalogueFat, Figure, Kind, OwnFat, Rule};
use crate::chemistry::Composition;
use crate::exact::{Interval, Rational};
use crate::fault::Faults;

/// A fat as a recipe uses it: one of the catalogue, or one's own.
///
/// Made from a catalogue fat (`Fat::from(find("olive-oil")?)`) it costs nothing. A clone of a
/// fat of one's own shares what is known of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fat(Origin);

#[derive(Debug, Clone, PartialEq, Eq)]
enum Origin {
    Catalogue(&'static CatalogueFat),
    Own(Arc<Checked>),
}

impl Rule {
    /// `mid_range`, `single_value`, `given` or `calculated`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::MidRange => "mid_range",
            Self::SingleValue => "single_value",
            Self::Given => "given",
            Self::Calculated => "calculated",
        }
    }
}

impl Figure {
    /// Both ends; the typical value in place of one that is not known.
    pub(crate) fn ends(&self) -> [&Rational; 2] {
        [&self.low, &self.high].map(|end| end.as_ref().unwrap_or(&self.typical))
    }

    /// The range, if both ends are stated and differ. A single value says nothing of how far
    /// another lot may be from it.
    ///
    /// ```
    /// use lixivium::fats::{Fat, find};
    /// let range = |id| Fat::from(find(id).unwrap()).saponification_value().range();
    /// assert_eq!(range("olive-oil").unwrap().width().to_string(), "12");
    /// assert_eq!(range("pumpkin-seed-oil"), None);
    /// ```
    pub fn range(&self) -> Option<Interval> {
        let (low, high) = (self.low.as_ref()?, self.high.as_ref()?);
        (low != high)
            .then(|| Interval::new(low.clone(), high.clone()))
            .flatten()
    }
}

/// The density of a fat relative to that of water.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RelativeDensity {
    /// The lower end.
    pub low: Rational,
    /// The upper end.
    pub high: Rational,
    /// Temperature of the fat, in °C.
    pub temperature: Rational,
    /// Temperature of the water, in °C.
    pub reference_temperature: Rational,
}

impl From<&'static CatalogueFat> for Fat {
    fn from(fat: &'static CatalogueFat) -> Self {
        Self(Origin::Catalogue(fat))
    }
}

impl Fat {
    /// A fat of one's own.
    ///
    /// # Errors
    /// See [`OwnFat`].
    pub fn own(fat: OwnFat) -> Result<Self, Faults> {
        Ok(Self(Origin::Own(fat.check()?)))
    }

    /// The fat of the catalogue, unless it is one's own.
    pub fn catalogued(&self) -> Option<&'static CatalogueFat> {
        match &self.0 {
            Origin::Catalogue(fat) => Some(fat),
            Origin::Own(_) => None,
        }
    }

    /// Its identifier in the catalogue.
    pub fn id(&self) -> Option<&'static str> {
        self.catalogued().map(|fat| fat.id)
    }

    /// Its identifier in the catalogue, or its name.
    pub(crate) fn id_or_name(&self) -> &str {
        match &self.0 {
            Origin::Catalogue(fat) => fat.id,
            Origin::Own(own) => &own.name,
        }
    }

    /// Its name.
    pub fn name(&self) -> &str {
        match &self.0 {
            Origin::Catalogue(fat) => fat.name,
            Origin::Own(own) => &own.name,
        }
    }

    /// What it is made of.
    pub fn kind(&self) -> Kind {
        match &self.0 {
            Origin::Catalogue(fat) => fat.kind,
            Origin::Own(own) => own.kind,
        }
    }

    /// Its typical saponification value alone, in mg KOH/g.
    pub fn typical_saponification_value(&self) -> Rational {
        self.saponification_value().typical.clone()
    }

    /// Its saponification value, in mg KOH/g.
    pub fn saponification_value(&self) -> &Figure {
        match &self.0 {
            Origin::Catalogue(fat) => &fat.saponification_value,
            Origin::Own(own) => &own.saponification_value,
        }
    }

    /// Its iodine value, in g/100 g, if one is known or can be calculated. The limits of
    /// one-sided published values without a composition are in [`CatalogueFat::published`].
    ///
    /// ```
    /// use lixivium::fats::{Fat, find};
    /// let olive = Fat::from(find("olive-oil").unwrap());
    /// assert_eq!(olive.iodine_value().unwrap().typical.to_fixed(1), "84.5");
    /// ```
    pub fn iodine_value(&self) -> Option<Figure> {
        match &self.0 {
            Origin::Catalogue(fat) => fat.iodine_figure(),
            Origin::Own(own) => own.iodine_value.clone(),
        }
    }

    /// Its relative density, if one is known.
    pub fn relative_density(&self) -> Option<RelativeDensity> {
        match &self.0 {
            Origin::Catalogue(fat) => fat.density(),
            Origin::Own(own) => own.relative_density.clone(),
        }
    }

    /// Its typical fatty-acid composition, if one is known: of a catalogue fat the middle of
    /// each range, scaled to 100 %.
    pub fn composition(&self) -> Option<Composition> {
        match &self.0 {
            Origin::Catalogue(fat) => fat.typical_composition(),
            Origin::Own(own) => own.composition.clone(),
        }
    }
}
