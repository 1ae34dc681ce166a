//! The chemistry of saponification: formulas, molar masses, and what follows from them.
//!
//! All numbers are exact. Molar masses are sums of the abridged standard atomic weights of IUPAC
//! 2021; a mass is in g, a molar mass in g/mol, a volume in mL, a concentration in mol/L, a
//! saponification, acid or ester value in mg KOH/g, an iodine value in g/100 g.
//!
//! ```
//! use lixivium::chemistry::{Alkali, saponification};
//! use lixivium::exact::Rational;
//! // 0.13545 g of sodium hydroxide for each g of a fat with saponification value 190
//! let naoh = saponification::alkali_per_gram(&Rational::integer(190), Alkali::Naoh);
//! assert_eq!(naoh.to_fixed(5), "0.13545");
//! ```
//!
//! - [`Formula`] and the constants: what substances are made of and what a mole weighs
//! - [`Alkali`]: sodium and potassium hydroxide, their equivalence, oxides and solubility
//! - [`Acid`]: acids that a batter may hold, and the alkali they use up
//! - [`FattyAcid`]: the acids of the fats
//! - [`saponification`]: from the saponification value to alkali, soap and glycerol
//! - [`Composition`]: values calculated from a fatty-acid composition
//! - [`titration`]: values from the laboratory bench

mod acid;
mod alkali;
mod composition;
mod fatty_acid;
mod formula;
pub mod saponification;
pub mod titration;

pub use crate::tables::{Element, FattyAcid, Provenance, Source};
pub use acid::{ACIDS, Acid};
pub use alkali::{Alkali, SolubilityRow};
pub use composition::{Basis, Composition, SUM_TOLERANCE, Shares};
pub use formula::{
    CALCIUM_HYDROXIDE, CALCIUM_OXIDE, Formula, GLYCEROL, IODINE, POTASSIUM_HYDROXIDE,
    SODIUM_CARBONATE, SODIUM_HYDROXIDE, WATER,
};

use crate::tables::tables;

/// The sources of all published figures of the library.
///
/// ```
/// use lixivium::chemistry::sources;
/// assert!(sources().iter().any(|s| s.id == "codex-cxs-210"));
/// ```
pub fn sources() -> &'static [Source] {
    &tables().sources
}
