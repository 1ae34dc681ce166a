//! Exact soap arithmetic for people who make soap in small batches and sell it.
//!
//! # A batch, end to end
//!
//! ```
//! use lixivium::exact::Rational;
//! use lixivium::fats;
//! use lixivium::plan::plan;
//! use lixivium::quantity::{Mass, Quantity, Share};
//! use lixivium::recipe::{Alkali, Amount, FatLine, Recipe, StockSolution, Water, WaterRule};
//!
//! let olive = fats::find("olive-oil").unwrap();
//! let coconut = fats::find("coconut-oil").unwrap();
//! let recipe = Recipe {
//!     fats: vec![
//!         FatLine::new(olive, Amount::Mass(Mass::parse("700 g")?)),
//!         FatLine::new(coconut, Amount::Mass(Mass::parse("10 oz")?)),
//!     ],
//!     total_fats: None,
//!     superfat: Share::parse("5 %")?,
//!     alkali: Alkali::default(), // pure sodium hydroxide
//!     water: Water::by(WaterRule::LyeConcentration(Share::parse("33 %")?)),
//!     stock_solution: StockSolution::default(),
//!     acids: vec![],
//!     additives: vec![],
//!     scale_step: Some(Mass::parse("0.1 g")?),
//! };
//! let plan = plan(&recipe)?;
//! assert_eq!(plan.fats[1].grams().to_plain(), "283.5");
//! assert_eq!(plan.naoh_mass.grams().to_plain(), "139.3");
//! assert_eq!(plan.water_mass.grams().to_plain(), "282.8");
//! // From the weights as they will be weighed; never below what was asked.
//! assert!(plan.superfat >= recipe.superfat);
//! for caution in plan.cautions(&recipe) {
//!     println!("{}", caution.says);
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # The modules, lowest first
//!
//! - [`exact`]: rational numbers that never overflow and never lose a digit
//! - [`fault`]: what is wrong with a request, and what to mind in an answer
//! - [`quantity`]: numbers with a dimension, and text with units
//! - [`chemistry`]: molar masses, saponification, acids, solubility
//! - [`fats`]: the catalogue, each figure with its source, and fats of one's own
//! - [`recipe`]: what the maker wants
//! - [`plan`](mod@plan): what is weighed, and what it amounts to
//! - [`mould`]: how much batter a mould takes, how full it will be, how large a batch must be
//! - `picture` (with the feature of that name, on by default): a mould as SVG
//! - [`assurance`]: the superfat over all tolerances, safe alkali, exact probabilities
//! - [`audit`](mod@audit): weights as written down, and what they amount to
//! - [`amend`]: what brings a batch back that went wrong
//! - [`composition`]: what the fats of a bar are made of, typical and as ranges
//! - [`swap`]: one fat in place of another
//! - [`scalar`]: single figures of doubles, for spreadsheet cells
//! - [`wire`]: requests and answers as plain data, the one door of all faces
//!
//! # Limits
//!
//! Numbers in text have at most [`exact::MAX_DIGITS`] digits; quantities lie between
//! [`quantity::SMALLEST`] and [`quantity::LARGEST`]; a request has at most
//! [`wire::MAX_REQUEST_BYTES`] bytes and [`wire::MAX_ITEMS`] items in a list. Beyond a limit there
//! is an error. Nothing panics, nothing is rounded or clamped unsaid.
//!
//! # Safety
//!
//! Lye burns. The cautions of an answer belong where its reader sees them. The library defers to
//! the safety data sheet of the alkali, local rules and licensed practice.

pub mod amend;
pub mod assurance;
pub mod audit;
pub mod chemistry;
pub mod columns;
pub mod composition;
pub mod exact;
pub mod fats;
pub mod fault;
mod linear;
pub mod mould;
#[cfg(feature = "picture")]
pub mod picture;
pub mod plan;
pub mod quantity;
pub mod recipe;
pub mod scalar;
mod sort;
mod spellings;
pub mod swap;
mod tables;
pub mod wire;

/// The version of the library.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");
