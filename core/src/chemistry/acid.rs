//! Acids that use up alkali.

use super::alkali::scaled;
use super::{Alkali, FattyAcid, Formula};
use crate::exact::Rational;

/// An acid and how many moles of hydroxide a mole of it neutralises.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Acid {
    /// Stable identifier, such as `citric-acid`.
    pub id: &'static str,
    /// Its name, with its water of crystallisation.
    pub name: &'static str,
    /// Its formula, water of crystallisation included.
    pub formula: Formula,
    /// Acid groups.
    pub equivalents: u8,
}

/// Acids that makers add, for their salts or to bind the alkali.
///
/// Lactic and acetic acid are the pure ones: solutions are to be entered with their strength,
/// and commercial lactic acid holds lactoyl esters that use up alkali too.
pub const ACIDS: [Acid; 5] = [
    Acid {
        id: "citric-acid",
        name: "citric acid, anhydrous",
        formula: Formula::organic(6, 8, 7),
        equivalents: 3,
    },
    Acid {
        id: "citric-acid-monohydrate",
        name: "citric acid monohydrate",
        formula: Formula::organic(6, 10, 8),
        equivalents: 3,
    },
    Acid {
        id: "lactic-acid",
        name: "lactic acid",
        formula: Formula::organic(3, 6, 3),
        equivalents: 1,
    },
    Acid {
        id: "acetic-acid",
        name: "acetic acid",
        formula: Formula::organic(2, 4, 2),
        equivalents: 1,
    },
    Acid {
        id: "tartaric-acid",
        name: "tartaric acid",
        formula: Formula::organic(4, 6, 6),
        equivalents: 2,
    },
];

impl Acid {
    /// The acid of [`ACIDS`] with this id.
    pub fn find(id: &str) -> Option<Self> {
        ACIDS.iter().find(|acid| acid.id == id).copied()
    }

    /// The mass of pure alkali that neutralises 1 g of the acid, in g.
    ///
    /// equivalents × M(alkali) / M(acid)
    ///
    /// ```
    /// use lixivium::chemistry::{Acid, Alkali};
    /// let citric = Acid::find("citric-acid").unwrap();
    /// assert_eq!(citric.alkali_per_gram(Alkali::Naoh).to_fixed(4), "0.6246");
    /// ```
    pub fn alkali_per_gram(&self, alkali: Alkali) -> Rational {
        let equivalents = Rational::integer(self.equivalents.into());
        scaled(&equivalents, alkali.formula(), self.formula)
    }
}

impl From<&'static FattyAcid> for Acid {
    /// A free fatty acid, such as stearic acid in a batter.
    ///
    /// ```
    /// use lixivium::chemistry::{Acid, Alkali, FattyAcid};
    /// let stearic = Acid::from(FattyAcid::find("C18:0").unwrap());
    /// assert_eq!(stearic.alkali_per_gram(Alkali::Koh).to_fixed(4), "0.1972");
    /// ```
    fn from(acid: &'static FattyAcid) -> Self {
        Self {
            id: acid.id,
            name: acid.name,
            formula: acid.formula(),
            equivalents: 1,
        }
    }
}
