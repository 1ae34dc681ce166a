//! The fats: a catalogue of published figures, and fats of one's own.
//!
//! Every figure of the catalogue has its source ([`PublishedValue::source`]) and says whether it
//! was read there or written down from memory. Where several sources give a value of a fat, the
//! first is the one that is used and the others are shown beside it.
//!
//! ```
//! use lixivium::exact::Rational;
//! use lixivium::fats::{Fat, OwnFat, Saponification, find};
//! let coconut = Fat::from(find("Coconut oil").unwrap());
//! let value = coconut.saponification_value();
//! assert_eq!(value.typical.to_fixed(1), "256.5"); // the middle of 248 to 265
//! assert_eq!(value.rule.id(), "mid_range");
//!
//! let own = OwnFat::new("house tallow", Saponification::Value(Rational::decimal(197_5, 1)));
//! let own = Fat::own(own).unwrap();
//! assert_eq!(own.saponification_value().rule.id(), "given");
//! ```

mod catalogue;
mod fat;
mod names;
mod own;

pub use crate::tables::{AcidRange, CatalogueFat, Figure, Kind, Property, PublishedValue, Rule};
pub use catalogue::catalogue;
pub use fat::{Fat, RelativeDensity};
pub use names::find;
pub use own::{
    LARGEST_IODINE_VALUE, LARGEST_SAPONIFICATION_VALUE, LONGEST_NAME, OwnFat,
    SMALLEST_SAPONIFICATION_VALUE, Saponification,
};
