//! Exact numbers: rationals that never overflow, never panic and never lose a digit.
//!
//! [`Rational`] stays on 128-bit machine integers while they fit and falls back to big integers
//! (`num_rational::BigRational`) unseen. Fractions on machine integers are kept unreduced: the
//! greatest common divisor is computed only where a number leaves (as text or as a double) or
//! where a product would no longer fit. [`Interval`] is a pair of such numbers.
//!
//! ```
//! use lixivium::exact::Rational;
//! let third = Rational::parse("1/3").unwrap();
//! let sum = &third + &Rational::parse("0.1").unwrap();
//! assert_eq!(sum.to_string(), "13/30");
//! ```

mod double;
mod interval;
mod lowest;
mod ops;
mod rational;
#[cfg_attr(lixivium_packed, path = "packed.rs")]
#[cfg_attr(not(lixivium_packed), path = "machine.rs")]
mod repr;
mod round;
#[cfg_attr(lixivium_packed, path = "tally_packed.rs")]
mod tally;
mod text;
#[cfg(all(lixivium_packed, target_family = "wasm"))]
mod whole;

pub use double::NotFinite;
pub(crate) use double::{quotient, short_decimal};
pub use interval::Interval;
pub(crate) use ops::over;
pub use rational::Rational;
#[cfg(lixivium_packed)]
pub use repr::forget;
pub use round::Fixed;
pub(crate) use tally::Tally;
pub use text::{MAX_DIGITS, MAX_EXPONENT, NumberFault};
pub(crate) use text::{first, scan, shown};

/// A whole number of any size.
#[cfg(not(all(lixivium_packed, target_family = "wasm")))]
pub(crate) type Whole = num_bigint::BigInt;
#[cfg(all(lixivium_packed, target_family = "wasm"))]
pub(crate) use whole::Whole;

/// A fraction of such numbers in lowest terms.
pub(crate) type Fraction = num_rational::Ratio<Whole>;

#[cfg(test)]
mod tests;
