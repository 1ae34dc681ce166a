//! Quantities: exact numbers with a dimension, and their text with units.
//!
//! Each quantity is a type of its own around a [`Rational`] in its base unit, so that a mass is
//! never taken for a volume. Text may carry any unit of the dimension; a unit of another one is
//! refused and the fault says which was expected.
//!
//! ```
//! use lixivium::quantity::{Mass, Share};
//! let mass = Mass::parse("2 lb 3.5 oz").unwrap();
//! assert_eq!(mass.grams().to_f64(), 1006.4080709375);
//! assert_eq!(Share::parse("5").unwrap(), Share::parse("5 %").unwrap());
//! assert!(Mass::parse("10 mL").unwrap_err().to_string().contains("a mass was expected"));
//! ```

mod text;
mod units;

use std::fmt;

use crate::exact::{NotFinite, NumberFault, Rational};
pub use units::{UNITS, Unit};

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Dimension {
    /// g
    Mass,
    /// cm³
    Volume,
    /// cm
    Length,
    /// °C
    Temperature,
    /// %
    Share,
    /// A plain number such as the ratio of water to alkali.
    Ratio,
    /// g/cm³
    Density,
    /// mg KOH/g
    SaponificationValue,
    /// g of iodine/100 g
    IodineValue,
}

impl Dimension {
    /// Its name with an article, for sentences: `a mass`.
    pub const fn name(self) -> &'static str {
        self.words()[0]
    }

    /// The base unit, in which a bare number is read and an answer is given.
    pub const fn base_unit(self) -> &'static str {
        self.words()[1]
    }

    /// What is accepted, for sentences.
    pub const fn accepted(self) -> &'static str {
        self.words()[2]
    }

    const fn words(self) -> &'static [&'static str; 3] {
        match self {
            Self::Mass => &[
                "a mass",
                "g",
                "a number of grams, or text with a unit: mg, g, kg, oz, lb, as in \"2 lb 3.5 oz\"",
            ],
            Self::Volume => &[
                "a volume",
                "cm³",
                "a number of cm³, or text with a unit: mL, cL, L, cm³, in³, US fl oz, imp fl oz, \
                 US cup, US pt, US qt, US gal, imp pt, imp gal, US tsp, US tbsp",
            ],
            Self::Length => &[
                "a length",
                "cm",
                "a number of cm, or text with a unit: mm, cm, m, in, ft",
            ],
            Self::Temperature => &[
                "a temperature",
                "°C",
                "a number of °C, or text with a unit: °C, °F",
            ],
            Self::Share => &[
                "a share",
                "%",
                "a number of percent (5 means 5 %), or text such as \"5 %\"",
            ],
            Self::Ratio => &[
                "a ratio",
                "",
                "a plain number such as 2 or 2.5, or text such as \"2:1\"",
            ],
            Self::Density => &[
                "a density",
                "g/cm³",
                "a number of g/cm³, or text with a unit: g/cm³, g/mL, kg/L, kg/m³",
            ],
            Self::SaponificationValue => &[
                "a saponification value",
                "mg KOH/g",
                "a number of mg KOH per g, such as 190, or text with the unit mg KOH/g",
            ],
            Self::IodineValue => &[
                "an iodine value",
                "g/100 g",
                "a number of g iodine per 100 g, such as 83, or text with the unit g/100 g",
            ],
        }
    }
}

/// The largest size of a quantity in its base unit, 10¹⁵.
pub const LARGEST: Rational = Rational::integer(1_000_000_000_000_000);

/// The smallest size above 0 of a quantity in its base unit, 10⁻¹⁵.
pub const SMALLEST: Rational = Rational::decimal(1, 15);

/// Absolute zero, -273.15 °C (the definition of the degree Celsius, SI Brochure, 9th edition).
pub const COLDEST: Rational = Rational::decimal(-27_315, 2);

impl Dimension {
    /// The number of base units that `text` stands for.
    pub(crate) fn read(self, text: &str) -> Result<Rational, QuantityFault> {
        self.checked(text::read(text, self)?)
    }

    /// A number of base units, if it is in range.
    pub(crate) fn checked(self, number: Rational) -> Result<Rational, QuantityFault> {
        let size = number.abs();
        let warm_enough = self != Self::Temperature || number >= COLDEST;
        if warm_enough && (size.is_zero() || (size <= LARGEST && size >= SMALLEST)) {
            Ok(number)
        } else {
            Err(QuantityFault::OutOfRange(self))
        }
    }
}

/// Why a text or number is not the quantity that was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum QuantityFault {
    /// The number itself cannot be read.
    Number(NumberFault),
    /// NaN or an infinity.
    NotFinite,
    /// No such unit; the text of it, and the dimension that was expected.
    UnknownUnit(String, Dimension),
    /// A unit of another dimension: the unit, what it measures, what was expected.
    WrongDimension(String, Dimension, Dimension),
    /// A unit that means several things: the unit and what to write.
    Ambiguous(String, &'static str),
    /// Parts like `2 lb 3 oz` that do not go from large to small, or lack a unit, or with a sign.
    BadParts(Dimension),
    /// Larger than [`LARGEST`], nearer to 0 than [`SMALLEST`], or a temperature below
    /// [`COLDEST`].
    OutOfRange(Dimension),
}

impl QuantityFault {
    /// The stable code of the fault.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Number(_) | Self::NotFinite => "bad_number",
            Self::UnknownUnit(..) => "unknown_unit",
            Self::WrongDimension(..) => "wrong_dimension",
            Self::Ambiguous(..) => "ambiguous_unit",
            Self::BadParts(_) => "bad_parts",
            Self::OutOfRange(_) => "out_of_range",
        }
    }
}

impl fmt::Display for QuantityFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let expected = match self {
            Self::UnknownUnit(unit, expected) => {
                write!(f, "\"{unit}\" is no unit known here")?;
                expected
            }
            Self::WrongDimension(unit, found, expected) => {
                let (found, name) = (found.name(), expected.name());
                write!(f, "{name} was expected, but \"{unit}\" measures {found}")?;
                expected
            }
            Self::BadParts(expected) => {
                f.write_str(expected.name())?;
                f.write_str(
                    " in several parts goes from the larger unit to the smaller one, each part \
                     with its unit and without a sign",
                )?;
                expected
            }
            Self::Number(fault) => return fault.fmt(f),
            Self::NotFinite => return NotFinite.fmt(f),
            Self::Ambiguous(unit, write) => {
                return write!(f, "\"{unit}\" is not the same everywhere; write {write}");
            }
            Self::OutOfRange(Dimension::Temperature) => {
                return f.write_str(
                    "a temperature is at least absolute zero (-273.15 °C, -459.67 °F) and at most \
                     10^15 °C, and lies at least 10^-15 °C from 0 °C, or is 0 °C",
                );
            }
            Self::OutOfRange(expected) => {
                let (name, unit) = (expected.name(), expected.base_unit());
                return write!(
                    f,
                    "{name} lies between 10^-15 and 10^15 {unit} in size, or is 0"
                );
            }
        };
        f.write_str("; accepted: ")?;
        f.write_str(expected.accepted())
    }
}

impl std::error::Error for QuantityFault {}

impl From<NumberFault> for QuantityFault {
    fn from(fault: NumberFault) -> Self {
        Self::Number(fault)
    }
}

/// A kind of quantity: what the types of this module have in common.
pub trait Quantity: Sized {
    /// What it measures.
    const DIMENSION: Dimension;

    /// From a number in the base unit (a share: in percent).
    fn from_base(number: Rational) -> Self;

    /// The number in the base unit (a share: in percent).
    fn to_base(&self) -> Rational;

    /// From a number in the base unit, if its size is in range.
    ///
    /// # Errors
    /// [`QuantityFault::OutOfRange`].
    fn checked(number: Rational) -> Result<Self, QuantityFault> {
        Self::DIMENSION.checked(number).map(Self::from_base)
    }

    /// From a double in the base unit, taken as its shortest decimal.
    ///
    /// # Errors
    /// [`QuantityFault::NotFinite`], [`QuantityFault::OutOfRange`].
    fn from_f64(number: f64) -> Result<Self, QuantityFault> {
        Self::checked(Rational::from_f64(number).map_err(|_| QuantityFault::NotFinite)?)
    }

    /// From text: a number in the base unit, or with a unit.
    ///
    /// # Errors
    /// [`QuantityFault`] says what is wrong and what is accepted.
    fn parse(text: &str) -> Result<Self, QuantityFault> {
        Self::DIMENSION.read(text).map(Self::from_base)
    }
}

macro_rules! quantities {
    ($($(#[doc = $doc:literal])* $name:ident, $unit:ident, $example:literal;)*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
        pub struct $name(Rational);

        impl $name {
            #[doc = concat!("From a number of ", $example, ".")]
            pub const fn new(number: Rational) -> Self {
                Self(number)
            }

            #[doc = concat!("Reads text; see [`Quantity::parse`].")]
            ///
            /// # Errors
            /// [`QuantityFault`] says what is wrong and what is accepted.
            pub fn parse(text: &str) -> Result<Self, QuantityFault> {
                <Self as Quantity>::parse(text)
            }

            #[doc = concat!("The number of ", $example, ".")]
            pub const fn $unit(&self) -> &Rational {
                &self.0
            }
        }

        impl Quantity for $name {
            const DIMENSION: Dimension = Dimension::$name;
            fn from_base(number: Rational) -> Self {
                Self(number)
            }
            fn to_base(&self) -> Rational {
                self.0.clone()
            }
        }
    )* };
}

quantities! {
    /// A mass, in grams.
    Mass, grams, "g";
    /// A volume, in cm³ (1 mL).
    Volume, cubic_centimetres, "cm³";
    /// A length, in cm.
    Length, centimetres, "cm";
    /// A temperature, in °C.
    Temperature, celsius, "°C";
    /// A plain ratio of two numbers of the same kind.
    Ratio, number, "one";
    /// A density, in g/cm³.
    Density, grams_per_cubic_centimetre, "g/cm³";
    /// A saponification value, in mg KOH per g of fat (ISO 3657).
    SaponificationValue, milligrams_per_gram, "mg KOH/g";
    /// An iodine value, in g of iodine per 100 g of fat (ISO 3961).
    IodineValue, grams_per_100_grams, "g/100 g";
}

/// The unit of that name.
pub fn unit(name: &str) -> Option<&'static Unit> {
    text::unit(name.trim())
}

/// The quantity in `text`, as a number of `unit`.
///
/// # Errors
/// [`QuantityFault`] says what is wrong and what is accepted.
///
/// ```
/// use lixivium::quantity::{convert, unit};
/// let ounces = convert("1 lb", unit("oz").unwrap()).unwrap();
/// assert_eq!(ounces.to_string(), "16");
/// assert_eq!(convert("100 °C", unit("°F").unwrap()).unwrap().to_string(), "212");
/// ```
pub fn convert(text: &str, unit: &Unit) -> Result<Rational, QuantityFault> {
    in_unit(text::read(text, unit.dimension)?, unit)
}

/// A number of `from` as a number of `to`.
///
/// # Errors
/// [`QuantityFault::WrongDimension`], [`QuantityFault::OutOfRange`].
pub fn convert_number(
    number: &Rational,
    from: &Unit,
    to: &Unit,
) -> Result<Rational, QuantityFault> {
    if from.dimension != to.dimension {
        let name = from.name.to_owned();
        return Err(QuantityFault::WrongDimension(
            name,
            from.dimension,
            to.dimension,
        ));
    }
    in_unit(text::in_base(number, from), to)
}

fn in_unit(base: Rational, unit: &Unit) -> Result<Rational, QuantityFault> {
    Ok(text::in_unit(&unit.dimension.checked(base)?, unit))
}

/// A share of a whole. Held as a fraction (0.05), read and written in percent (5 %).
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Share(Rational);

impl Share {
    /// Nothing.
    pub const NONE: Self = Self(Rational::ZERO);
    /// The whole.
    pub const WHOLE: Self = Self(Rational::ONE);

    /// From a fraction of the whole: 0.05 is 5 %.
    pub const fn of_one(fraction: Rational) -> Self {
        Self(fraction)
    }

    /// From percent: 5 is 5 %.
    pub fn percent(percent: Rational) -> Self {
        Self(percent.percent())
    }

    /// The fraction of the whole: 0.05 for 5 %.
    pub const fn fraction(&self) -> &Rational {
        &self.0
    }

    /// What is left of the whole.
    pub fn rest(&self) -> Self {
        Self(Rational::ONE - &self.0)
    }

    /// Reads text in percent; see [`Quantity::parse`].
    ///
    /// # Errors
    /// [`QuantityFault`] says what is wrong and what is accepted.
    pub fn parse(text: &str) -> Result<Self, QuantityFault> {
        <Self as Quantity>::parse(text)
    }
}

impl Quantity for Share {
    const DIMENSION: Dimension = Dimension::Share;
    fn from_base(number: Rational) -> Self {
        Self::percent(number)
    }
    fn to_base(&self) -> Rational {
        &self.0 * &Rational::HUNDRED
    }
}

#[cfg(test)]
mod tests;
