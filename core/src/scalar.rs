//! Single figures of doubles, for spreadsheet cells and for programs that need no more.
//!
//! Every argument is a double and enters as its shortest decimal (0.1 is 1/10); in between
//! everything is exact; what comes out is the double nearest to the exact value. So a cell holds
//! the same digits as the `plan` of the same batch.
//!
//! Shares are in percent. Where a plan would ask whether a fraction was meant, a cell has no room
//! to ask: there a share above 0 and below 1 is refused, since a cell that is formatted as percent
//! holds 0.05 where it shows 5 %.
//!
//! ```
//! use lixivium::chemistry::Alkali;
//! use lixivium::scalar::{Fault, alkali_for_fat};
//! // 500 g of a fat of 190 mg KOH/g, 5 % superfat, 98 % purity, on a scale of 0.1 g
//! assert_eq!(alkali_for_fat(Alkali::Naoh, 500.0, 190.0, 5.0, 98.0, 0.1), Ok(65.6));
//! let fault = alkali_for_fat(Alkali::Naoh, 500.0, 190.0, 5.0, 0.98, 0.1).unwrap_err();
//! assert_eq!(fault, Fault::Purity);
//! assert!(fault.says().contains("98 for 98 %"));
//! ```

use std::ops::RangeInclusive;

use crate::chemistry::{Alkali, saponification::alkali_per_gram};
use crate::exact::Rational;
use crate::{fats, quantity};

macro_rules! faults {
    ($( $(#[doc = $doc:literal])* $name:ident: $says:literal; )*) => {
        /// Which argument is not accepted, or why there is no answer.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum Fault { $( $(#[doc = $doc])* $name, )* }

        impl Fault {
            /// All of them.
            pub const ALL: &[Self] = &[ $(Self::$name),* ];

            /// What is wrong and what is accepted.
            pub const fn says(self) -> &'static str {
                match self { $(Self::$name => $says,)* }
            }
        }
    };
}

faults! {
    /// The mass of a fat.
    FatMass: "the mass of the fat is a number of grams from 0 to 10^15; for a superfat it is above 0";
    /// A saponification value.
    SaponificationValue: "a saponification value is a number of mg KOH per g of fat, from 20 to 700";
    /// A superfat.
    Superfat: "a superfat is a number of percent: 0, or from 1 to below 100 (write 5 for 5 %; a cell formatted as percent holds 0.05)";
    /// A purity.
    Purity: "a purity is a number of percent, from 1 to 100 (write 98 for 98 %; a cell formatted as percent holds 0.98)";
    /// A scale step.
    ScaleStep: "a scale step is a number of grams above 0, such as 0.1, or 0 so that nothing is rounded";
    /// On the scale there would be nothing to weigh.
    TooCoarse: "on this scale step the alkali would round to nothing; use a finer scale or a larger batch";
    /// The mass of an alkali.
    AlkaliMass: "the mass of an alkali is a number of grams from 0 to 10^15; for a lye concentration alkali and water are not both 0";
    /// The mass of the water.
    WaterMass: "the mass of the water is a number of grams from 0 to 10^15";
    /// A lye concentration.
    LyeConcentration: "a lye concentration is a number of percent, from 1 to below 100, mostly from 25 to 40 (write 33 for 33 %; a cell formatted as percent holds 0.33)";
    /// A volume.
    Volume: "a volume is a number of cm³ from 0 to 10^15";
    /// The density of a batter.
    BatterDensity: "the density of a batter is a number of g per cm³ from 0.1 to 10, mostly near 1";
    /// The quantity to convert.
    Quantity: "the quantity to convert is a number between 10^-15 and 10^15 base units in size, or 0, and no temperature below absolute zero";
    /// The unit to convert from.
    UnitFrom: "the unit to convert from is not known here; known are g, kg, oz, lb, mL, L, cm³, US fl oz, imp fl oz, cm, in, °C, °F and others";
    /// The unit to convert to.
    UnitTo: "the unit to convert to is not known here; known are g, kg, oz, lb, mL, L, cm³, US fl oz, imp fl oz, cm, in, °C, °F and others";
    /// Two units that do not measure the same.
    UnitsDiffer: "the two units do not measure the same; a mass goes to a mass, a volume to a volume";
    /// A fat that the catalogue does not have.
    UnknownFat: "this fat is not in the catalogue; the operation fats lists all of them, such as olive-oil";
}

/// A double as its shortest decimal, if it lies in a range.
///
/// Doubles decide that as their shortest decimals would: the ends are doubles themselves, and of
/// two doubles the larger one has the larger decimal.
fn number(value: f64, accepted: RangeInclusive<f64>, fault: Fault) -> Result<Rational, Fault> {
    if !accepted.contains(&value) {
        return Err(fault);
    }
    Rational::from_f64(value).map_err(|_| fault)
}

/// The largest size of a quantity, [`quantity::LARGEST`], and the smallest above 0.
const LARGEST: f64 = 1e15;
const SMALLEST: f64 = 1e-15;

/// A size from 0 in the base unit.
fn amount(value: f64, fault: Fault) -> Result<Rational, Fault> {
    if value == 0.0 {
        return Ok(Rational::ZERO);
    }
    number(value, SMALLEST..=LARGEST, fault)
}

/// The smallest percentage that is not taken for a fraction: as where a plan asks
/// (`SMALLEST_LIKELY_PERCENT`).
const SMALLEST_PERCENT: f64 = 1.0;

/// The whole in percent, and the double below it.
const WHOLE: f64 = 100.0;
const BELOW_WHOLE: f64 = WHOLE.next_down();

fn purity(percent: f64) -> Result<Rational, Fault> {
    number(percent, SMALLEST_PERCENT..=WHOLE, Fault::Purity).map(|percent| percent.percent())
}

fn lye_concentration_of(percent: f64) -> Result<Rational, Fault> {
    let accepted = SMALLEST_PERCENT..=BELOW_WHOLE;
    number(percent, accepted, Fault::LyeConcentration).map(|percent| percent.percent())
}

fn saponification_value_of(milligrams: f64) -> Result<Rational, Fault> {
    number(
        milligrams,
        LOWEST_VALUE..=HIGHEST_VALUE,
        Fault::SaponificationValue,
    )
}

/// As for a fat of one's own: [`SMALLEST_SAPONIFICATION_VALUE`](crate::fats::SMALLEST_SAPONIFICATION_VALUE)
/// and [`LARGEST_SAPONIFICATION_VALUE`](crate::fats::LARGEST_SAPONIFICATION_VALUE).
const LOWEST_VALUE: f64 = 20.0;
const HIGHEST_VALUE: f64 = 700.0;

/// What the superfat leaves to the alkali.
fn saponified(superfat_percent: f64) -> Result<Rational, Fault> {
    if superfat_percent == 0.0 {
        return Ok(Rational::ONE);
    }
    let superfat = number(
        superfat_percent,
        SMALLEST_PERCENT..=BELOW_WHOLE,
        Fault::Superfat,
    )?;
    Ok((Rational::HUNDRED - superfat).percent())
}

/// The scale step; `None` where nothing is rounded.
fn step(grams: f64) -> Result<Option<Rational>, Fault> {
    let step = amount(grams, Fault::ScaleStep)?;
    Ok((!step.is_zero()).then_some(step))
}

/// Alkali as weighed for one fat, in g: mass · SV / 1000 · M(alkali) / M(KOH) · (1 − superfat) /
/// purity, down to the scale step.
///
/// `fat_g` from 0; `saponification_value` in mg KOH/g (ISO 3657), from 20 to 700;
/// `superfat_percent` 0, or from 1 to below 100; `purity_percent` from 1 to 100; `scale_step_g` 0
/// for no rounding.
///
/// # Errors
/// The [`Fault`] of the first argument that is not accepted; [`Fault::TooCoarse`].
pub fn alkali_for_fat(
    alkali: Alkali,
    fat_g: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    scale_step_g: f64,
) -> Result<f64, Fault> {
    let fat = amount(fat_g, Fault::FatMass)?;
    let value = saponification_value_of(saponification_value)?;
    let pure = fat * alkali_per_gram(&value, alkali) * saponified(superfat_percent)?;
    let exact = pure
        .checked_div(&purity(purity_percent)?)
        .unwrap_or_default();
    let Some(step) = step(scale_step_g)? else {
        return Ok(exact.to_f64());
    };
    let weighed = exact.floor_to(&step).unwrap_or_default();
    if weighed.is_zero() && !exact.is_zero() {
        return Err(Fault::TooCoarse);
    }
    Ok(weighed.to_f64())
}

/// Water for a lye concentration, in g: alkali · (1 − c) / c, to the nearest scale step.
///
/// `alkali_g` as weighed, from 0; `lye_concentration_percent` (alkali / all lye) from 1 to below
/// 100; `scale_step_g` 0 for no rounding.
///
/// # Errors
/// The [`Fault`] of the first argument that is not accepted.
///
/// ```
/// use lixivium::scalar::water_for_lye_concentration;
/// assert_eq!(water_for_lye_concentration(65.6, 33.0, 0.1), Ok(133.2));
/// ```
pub fn water_for_lye_concentration(
    alkali_g: f64,
    lye_concentration_percent: f64,
    scale_step_g: f64,
) -> Result<f64, Fault> {
    let alkali = amount(alkali_g, Fault::AlkaliMass)?;
    let concentration = lye_concentration_of(lye_concentration_percent)?;
    let water = (alkali * (Rational::ONE - &concentration))
        .checked_div(&concentration)
        .unwrap_or_default();
    let rounded = step(scale_step_g)?.and_then(|step| water.round_to(&step));
    Ok(rounded.unwrap_or(water).to_f64())
}

/// The lye concentration, in percent: alkali / (alkali + water), both as weighed, in g.
///
/// # Errors
/// The [`Fault`] of the first argument that is not accepted; not both can be 0.
///
/// ```
/// use lixivium::scalar::lye_concentration;
/// assert_eq!(lye_concentration(100.0, 300.0), Ok(25.0));
/// ```
pub fn lye_concentration(alkali_g: f64, water_g: f64) -> Result<f64, Fault> {
    let alkali = amount(alkali_g, Fault::AlkaliMass)?;
    let lye = amount(water_g, Fault::WaterMass)? + &alkali;
    let concentration = alkali.checked_div(&lye).ok_or(Fault::AlkaliMass)?;
    Ok((concentration * Rational::HUNDRED).to_f64())
}

/// The superfat that weights amount to, in percent: 1 − alkali / need, both as moles. Below 0
/// there is more alkali than the fat takes up.
///
/// `fat_g` above 0, in g; `saponification_value` in mg KOH/g, from 20 to 700, of several fats the
/// mean by mass; `naoh_g` and `koh_g` as weighed, from 0; each purity from 1 to 100 %.
///
/// # Errors
/// The [`Fault`] of the first argument that is not accepted.
///
/// ```
/// use lixivium::scalar::superfat;
/// // 1000 g of a fat of 200 mg KOH/g take 200 g of potassium hydroxide.
/// assert_eq!(superfat(1000.0, 200.0, 0.0, 100.0, 190.0, 100.0), Ok(5.0));
/// ```
pub fn superfat(
    fat_g: f64,
    saponification_value: f64,
    naoh_g: f64,
    naoh_purity_percent: f64,
    koh_g: f64,
    koh_purity_percent: f64,
) -> Result<f64, Fault> {
    let fat = amount(fat_g, Fault::FatMass)?;
    let value = saponification_value_of(saponification_value)?;
    let naoh = amount(naoh_g, Fault::AlkaliMass)? * purity(naoh_purity_percent)?;
    let koh = amount(koh_g, Fault::AlkaliMass)? * purity(koh_purity_percent)?;
    let used = Alkali::Koh.in_place_of(&naoh, Alkali::Naoh) + koh;
    let need = fat * alkali_per_gram(&value, Alkali::Koh);
    let taken = used.checked_div(&need).ok_or(Fault::FatMass)?;
    Ok(((Rational::ONE - taken) * Rational::HUNDRED).to_f64())
}

/// The fats whose batter fills a volume, in g, with sodium hydroxide: volume · density / (1 +
/// alkali per g of fat / lye concentration).
///
/// `volume_cm3` from 0; `batter_density` in g/cm³, as measured; `saponification_value` in mg
/// KOH/g, of several fats the mean by mass; the others as in [`alkali_for_fat`] and
/// [`water_for_lye_concentration`]. What rounding at the scale changes is not in it.
///
/// # Errors
/// The [`Fault`] of the first argument that is not accepted.
///
/// ```
/// use lixivium::scalar::fats_for_volume;
/// let fats = fats_for_volume(1000.0, 1.0, 190.0, 5.0, 98.0, 33.0).unwrap();
/// assert_eq!(format!("{fats:.1}"), "715.4");
/// ```
pub fn fats_for_volume(
    volume_cm3: f64,
    batter_density: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    lye_concentration_percent: f64,
) -> Result<f64, Fault> {
    let volume = amount(volume_cm3, Fault::Volume)?;
    let accepted = LIGHTEST_BATTER..=HEAVIEST_BATTER;
    let density = number(batter_density, accepted, Fault::BatterDensity)?;
    let value = saponification_value_of(saponification_value)?;
    let pure = alkali_per_gram(&value, Alkali::Naoh) * saponified(superfat_percent)?;
    let strength = purity(purity_percent)? * lye_concentration_of(lye_concentration_percent)?;
    let lye = pure.checked_div(&strength).unwrap_or_default();
    let fats = (volume * density).checked_div(&(Rational::ONE + lye));
    Ok(fats.unwrap_or_default().to_f64())
}

/// g/cm³; lighter than any foam and heavier than any lye, so that other units are noticed.
const LIGHTEST_BATTER: f64 = 0.1;
const HEAVIEST_BATTER: f64 = 10.0;

/// A quantity in another unit of the same dimension.
///
/// # Errors
/// [`Fault::UnitFrom`], [`Fault::UnitTo`], [`Fault::UnitsDiffer`], [`Fault::Quantity`].
///
/// ```
/// use lixivium::scalar::{Fault, convert};
/// assert_eq!(convert(10.0, "oz", "g"), Ok(283.49523125));
/// assert_eq!(convert(10.0, "oz", "mL"), Err(Fault::UnitsDiffer));
/// ```
pub fn convert(quantity: f64, from: &str, to: &str) -> Result<f64, Fault> {
    let from = quantity::unit(from).ok_or(Fault::UnitFrom)?;
    let to = quantity::unit(to).ok_or(Fault::UnitTo)?;
    if from.dimension != to.dimension {
        return Err(Fault::UnitsDiffer);
    }
    let number = Rational::from_f64(quantity).map_err(|_| Fault::Quantity)?;
    let converted = quantity::convert_number(&number, from, to).map_err(|_| Fault::Quantity)?;
    Ok(converted.to_f64())
}

/// The saponification value of a fat of the catalogue that is reckoned with, in mg KOH/g: the
/// middle of the published range. A supplier's certificate is better.
///
/// # Errors
/// [`Fault::UnknownFat`].
///
/// ```
/// use lixivium::scalar::saponification_value;
/// assert_eq!(saponification_value("olive-oil"), saponification_value("Olive oil"));
/// ```
pub fn saponification_value(fat: &str) -> Result<f64, Fault> {
    let fat = fats::find(fat).map_err(|_| Fault::UnknownFat)?;
    Ok(fat.typical_saponification_value().to_f64())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fats::{LARGEST_SAPONIFICATION_VALUE, SMALLEST_SAPONIFICATION_VALUE};
    use crate::plan::SMALLEST_LIKELY_PERCENT;

    #[test]
    fn the_limits_are_those_of_a_plan() {
        assert_eq!(LARGEST, quantity::LARGEST.to_f64());
        assert_eq!(SMALLEST, quantity::SMALLEST.to_f64());
        assert_eq!(LOWEST_VALUE, SMALLEST_SAPONIFICATION_VALUE.to_f64());
        assert_eq!(HIGHEST_VALUE, LARGEST_SAPONIFICATION_VALUE.to_f64());
        assert_eq!(SMALLEST_PERCENT, SMALLEST_LIKELY_PERCENT.to_f64());
    }

    #[test]
    fn what_lies_just_outside_is_refused() {
        let naoh = |fat: f64, value: f64, superfat: f64, purity: f64, step: f64| {
            alkali_for_fat(Alkali::Naoh, fat, value, superfat, purity, step)
        };
        assert!(naoh(1e15, 700.0, 1.0, 1.0, 1e-15).is_ok());
        assert_eq!(
            naoh(1e15_f64.next_up(), 190.0, 5.0, 98.0, 0.0),
            Err(Fault::FatMass)
        );
        assert_eq!(naoh(9e-16, 190.0, 5.0, 98.0, 0.0), Err(Fault::FatMass));
        let below = 20_f64.next_down();
        assert_eq!(
            naoh(1.0, below, 5.0, 98.0, 0.0),
            Err(Fault::SaponificationValue)
        );
        assert_eq!(
            naoh(1.0, 190.0, 1_f64.next_down(), 98.0, 0.0),
            Err(Fault::Superfat)
        );
        assert!(naoh(1.0, 190.0, 100_f64.next_down(), 98.0, 0.0).unwrap() > 0.0);
        assert_eq!(
            naoh(1.0, 190.0, 5.0, 100_f64.next_up(), 0.0),
            Err(Fault::Purity)
        );
        assert_eq!(
            naoh(1.0, 190.0, 5.0, 98.0, f64::INFINITY),
            Err(Fault::ScaleStep)
        );
    }
}
