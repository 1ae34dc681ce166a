//! The units, each with its exact factor.
//!
//! Sources: NIST Special Publication 811 (2008), Appendix B.8 and B.9, and NIST Handbook 44,
//! Appendix C: 1 lb (avoirdupois) = 453.59237 g, 1 in = 2.54 cm, 1 US gal = 231 in³; 1 imperial
//! gallon = 4.54609 L (UK Weights and Measures Act 1985). All others follow exactly.

use super::Dimension;
use crate::exact::Rational;
use crate::spellings::Spellings;

/// A unit of measurement.
#[derive(Debug)]
pub struct Unit {
    /// Its usual spelling.
    pub name: &'static str,
    /// The others, separated by `|`.
    others: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    mantissa: i64,
    scale: u8,
    divisor: u8,
    zero: u8,
}

impl Unit {
    /// Its spellings, the usual one first. Compared without regard to case where that is safe.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        Spellings {
            first: Some(self.name),
            others: self.others,
        }
    }

    /// How many base units one of it is.
    pub fn factor(&self) -> Rational {
        match self.divisor {
            1 => Rational::decimal(self.mantissa, self.scale),
            // °F: 5/9
            divisor => Rational::ratio(self.mantissa, divisor.into()).unwrap_or_default(),
        }
    }

    /// Where the zero of the base unit lies on its scale: 32 for °F (NIST SP 811, B.8).
    pub fn zero(&self) -> Rational {
        Rational::integer(self.zero.into())
    }
}

/// What a list of spellings holds.
pub(super) fn spellings(names: &'static str) -> impl Iterator<Item = &'static str> {
    Spellings {
        first: None,
        others: names,
    }
}

/// The factor is `mantissa` / 10^`scale`.
const fn unit(
    name: &'static str,
    others: &'static str,
    dimension: Dimension,
    mantissa: i64,
    scale: u8,
) -> Unit {
    Unit {
        name,
        others,
        dimension,
        mantissa,
        scale,
        divisor: 1,
        zero: 0,
    }
}

use Dimension::{
    Density, IodineValue, Length, Mass, Ratio, SaponificationValue, Share, Temperature, Volume,
};

/// All units that text may use, the larger ones of a dimension first.
pub static UNITS: [Unit; 41] = [
    unit("kg", "kilogram|kilograms", Mass, 1_000, 0),
    unit("lb", "lbs|pound|pounds", Mass, 45_359_237, 5),
    unit("oz", "ounce|ounces", Mass, 28_349_523_125, 9),
    unit("g", "gram|grams", Mass, 1, 0),
    unit("gr", "grain|grains", Mass, 6_479_891, 8),
    unit("mg", "milligram|milligrams", Mass, 1, 3),
    unit(
        "imp gal",
        "imperial gallon|imperial gallons",
        Volume,
        454_609,
        2,
    ),
    unit("US gal", "US gallon|US gallons", Volume, 3_785_411_784, 6),
    unit("L", "l|litre|litres|liter|liters", Volume, 1_000, 0),
    unit("US qt", "US quart|US quarts", Volume, 946_352_946, 6),
    unit(
        "imp pt",
        "imperial pint|imperial pints",
        Volume,
        56_826_125,
        5,
    ),
    unit("US pt", "US pint|US pints", Volume, 473_176_473, 6),
    unit("US cup", "US cups", Volume, 2_365_882_365, 7),
    unit("dL", "decilitre|decilitres", Volume, 100, 0),
    unit(
        "US fl oz",
        "US fluid ounce|US fluid ounces",
        Volume,
        295_735_295_625,
        10,
    ),
    unit(
        "imp fl oz",
        "imperial fluid ounce|imperial fluid ounces",
        Volume,
        284_130_625,
        7,
    ),
    unit(
        "in³",
        "in3|in^3|cu in|cubic inch|cubic inches",
        Volume,
        16_387_064,
        6,
    ),
    unit(
        "US tbsp",
        "US tablespoon|US tablespoons",
        Volume,
        1_478_676_478_125,
        11,
    ),
    unit("cL", "centilitre|centilitres", Volume, 10, 0),
    unit(
        "US tsp",
        "US teaspoon|US teaspoons",
        Volume,
        492_892_159_375,
        11,
    ),
    unit(
        "cm³",
        "cm3|cm^3|cc|cubic centimetre|cubic centimetres",
        Volume,
        1,
        0,
    ),
    unit(
        "mL",
        "ml|millilitre|millilitres|milliliter|milliliters",
        Volume,
        1,
        0,
    ),
    unit("mm³", "mm3|mm^3", Volume, 1, 3),
    unit("m", "metre|metres|meter|meters", Length, 100, 0),
    unit("ft", "foot|feet", Length, 3_048, 2),
    unit("in", "inch|inches|\"", Length, 254, 2),
    unit(
        "cm",
        "centimetre|centimetres|centimeter|centimeters",
        Length,
        1,
        0,
    ),
    unit(
        "mm",
        "millimetre|millimetres|millimeter|millimeters",
        Length,
        1,
        1,
    ),
    unit("°C", "C|℃|deg C|degrees C|celsius", Temperature, 1, 0),
    Unit {
        divisor: 9,
        zero: 32,
        ..unit("°F", "F|℉|deg F|degrees F|fahrenheit", Temperature, 5, 0)
    },
    unit("%", "percent|per cent", Share, 1, 0),
    unit(":1", ": 1", Ratio, 1, 0),
    unit("g/cm³", "g/cm3|g/cm^3", Density, 1, 0),
    unit("g/mL", "g/ml", Density, 1, 0),
    unit("kg/L", "kg/l", Density, 1, 0),
    unit("g/L", "g/l", Density, 1, 3),
    unit("kg/m³", "kg/m3|kg/m^3", Density, 1, 3),
    unit("mg KOH/g", "", SaponificationValue, 1, 0),
    unit("mg/g", "", SaponificationValue, 1, 0),
    unit("g I2/100 g", "g I2/100g|g I₂/100 g", IodineValue, 1, 0),
    unit("g/100 g", "g/100g", IodineValue, 1, 0),
];

/// Units that differ from place to place, with what to write instead.
pub(super) static AMBIGUOUS: [(&str, &str); 6] = [
    (
        "fl oz|fl. oz|fluid ounce|fluid ounces",
        "\"US fl oz\" or \"imp fl oz\"",
    ),
    (
        "cup|cups",
        "\"US cup\" (236.5882365 mL), or the volume in mL",
    ),
    ("pt|pint|pints", "\"US pt\" or \"imp pt\""),
    ("qt|quart|quarts", "\"US qt\", or the volume in mL"),
    ("gal|gallon|gallons", "\"US gal\" or \"imp gal\""),
    (
        "tsp|tbsp|teaspoon|teaspoons|tablespoon|tablespoons",
        "\"US tsp\", \"US tbsp\", or the volume in mL",
    ),
];
