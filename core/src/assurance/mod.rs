//! How safe a batch really is: the superfat over everything that is not known exactly.
//!
//! A [`Batch`] is what lies on the bench: portions of fats, alkalis and acids, each with a mass
//! that may be off by so much, and with the potassium hydroxide that 1 g of it takes up or brings,
//! as a range. Over all of that [`Batch::bounds`] gives the smallest and the largest superfat, exactly and
//! with the corner that attains each; [`Batch::spreads`] which input the spread comes from;
//! [`Batch::safe_alkali`] the most alkali that keeps a floor even in the worst case;
//! [`Batch::probability_below`] how likely a superfat below a floor is.
//!
//! ```
//! use lixivium::assurance::{Batch, Portion};
//! use lixivium::exact::{Interval, Rational};
//!
//! let number = |text| Rational::parse(text).unwrap();
//! let range = |low, high| Interval::new(number(low), number(high)).unwrap();
//! // 500 g of a fat that takes up 184 to 196 mg KOH/g, and 90 g KOH.
//! let batch = Batch {
//!     fats: vec![Portion::exact("fat", number("500"), number("0.19"), range("0.184", "0.196"))],
//!     alkalis: vec![Portion::exact("koh", number("90"), number("1"), range("1", "1"))],
//!     acids: vec![],
//! };
//! let bounds = batch.bounds().unwrap();
//! assert_eq!(bounds.low.superfat.fraction().to_string(), "1/46"); // 1 - 90 / 92
//! assert_eq!(bounds.high.superfat.fraction().to_string(), "4/49"); // 1 - 90 / 98
//! ```

mod batch;
mod bounds;
mod grid;
mod part;
mod powers;
mod probability;
mod tolerances;

pub use batch::{Batch, Portion};
pub(crate) use batch::{effect, effect_of, purity};
pub use bounds::{Bounds, Corner, Role, SafeAlkali, Spread, Touch};
pub use probability::{Distribution, MAX_CORNERS_OF_HALF, Method, Probability};
pub use tolerances::{Tolerance, Tolerances};
pub(crate) use tolerances::{check_share, fat};
