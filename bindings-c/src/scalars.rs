//! Figures for spreadsheet cells: plain functions of doubles, each thin around the core's.
//!
//! Each comes twice: one that gives NaN on a fault, and one that gives a status and writes the
//! figure. `include/lixivium.h` is generated from the comments here.

use std::ffi::c_char;

use lixivium_core::chemistry::Alkali;
use lixivium_core::scalar::{self, Fault};

use crate::boundary::{figure, or_nan, terminated};

/// The mass of the fat is not one from 0 to 10^15 g.
pub const LXV_BAD_FAT_MASS: i32 = 101;

/// The saponification value is not one from 20 to 700 mg KOH/g.
pub const LXV_BAD_SAPONIFICATION_VALUE: i32 = 102;

/// The superfat is neither 0 nor one from 1 to below 100 %.
pub const LXV_BAD_SUPERFAT: i32 = 103;

/// The purity is not one from 1 to 100 %.
pub const LXV_BAD_PURITY: i32 = 104;

/// The scale step is neither 0 nor a mass above 0.
pub const LXV_BAD_SCALE_STEP: i32 = 105;

/// On this scale the alkali would round to nothing.
pub const LXV_SCALE_STEP_TOO_COARSE: i32 = 106;

/// The mass of the alkali is not one from 0 to 10^15 g, or alkali and water are both 0.
pub const LXV_BAD_ALKALI_MASS: i32 = 107;

/// The mass of the water is not one from 0 to 10^15 g.
pub const LXV_BAD_WATER_MASS: i32 = 108;

/// The lye concentration is not one from 1 to below 100 %.
pub const LXV_BAD_LYE_CONCENTRATION: i32 = 109;

/// The volume is not one from 0 to 10^15 cm3.
pub const LXV_BAD_VOLUME: i32 = 110;

/// The density of the batter is not one from 0.1 to 10 g/cm3.
pub const LXV_BAD_BATTER_DENSITY: i32 = 111;

/// The quantity to convert is not between 10^-15 and 10^15 base units in size, nor 0.
pub const LXV_BAD_QUANTITY: i32 = 112;

/// The unit to convert from is not known.
pub const LXV_UNKNOWN_UNIT_FROM: i32 = 113;

/// The unit to convert to is not known.
pub const LXV_UNKNOWN_UNIT_TO: i32 = 114;

/// The two units do not measure the same.
pub const LXV_UNITS_DIFFER: i32 = 115;

/// The fat is not in the catalogue.
pub const LXV_UNKNOWN_FAT: i32 = 116;

/// Sodium hydroxide for a fat, in g as weighed: rounded down to the scale step, as `plan` does.
///
/// fat_g: mass of the fat, in g, from 0. For several fats their sum, with the mean of their
/// saponification values by mass.
/// saponification_value: in mg KOH per g of fat (ISO 3657), from 20 to 700.
/// superfat_percent: 0, or from 1 to below 100; 5 is 5 %.
/// purity_percent: sodium hydroxide in the product as bought, from 1 to 100; 98 is 98 %.
/// scale_step_g: smallest step of the scale, in g; 0 rounds nothing.
///
/// Returns: the mass in g, or NaN; lxv_naoh_for_fat_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_naoh_for_fat(
    fat_g: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    scale_step_g: f64,
) -> f64 {
    // SAFETY: the place is a double.
    or_nan(|place| unsafe {
        lxv_naoh_for_fat_checked(
            fat_g,
            saponification_value,
            superfat_percent,
            purity_percent,
            scale_step_g,
            place,
        )
    })
}

/// The same as lxv_naoh_for_fat(), with a status.
///
/// naoh_g: where the mass goes, in g; NaN if there is none.
///
/// NULL: a NULL naoh_g gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_naoh_for_fat_checked(
    fat_g: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    scale_step_g: f64,
    naoh_g: *mut f64,
) -> i32 {
    // SAFETY: naoh_g is NULL or points to room for a double, as the header's conventions say.
    unsafe {
        figure(naoh_g, || {
            scalar::alkali_for_fat(
                Alkali::Naoh,
                fat_g,
                saponification_value,
                superfat_percent,
                purity_percent,
                scale_step_g,
            )
            .map_err(status_of)
        })
    }
}

/// Potassium hydroxide for a fat, in g as weighed: rounded down to the scale step, as `plan` does.
///
/// fat_g: mass of the fat, in g, from 0. For several fats their sum, with the mean of their
/// saponification values by mass.
/// saponification_value: in mg KOH per g of fat (ISO 3657), from 20 to 700.
/// superfat_percent: 0, or from 1 to below 100; 5 is 5 %.
/// purity_percent: potassium hydroxide in the product as bought, from 1 to 100; 90 is 90 %.
/// scale_step_g: smallest step of the scale, in g; 0 rounds nothing.
///
/// Returns: the mass in g, or NaN; lxv_koh_for_fat_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_koh_for_fat(
    fat_g: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    scale_step_g: f64,
) -> f64 {
    // SAFETY: the place is a double.
    or_nan(|place| unsafe {
        lxv_koh_for_fat_checked(
            fat_g,
            saponification_value,
            superfat_percent,
            purity_percent,
            scale_step_g,
            place,
        )
    })
}

/// The same as lxv_koh_for_fat(), with a status.
///
/// koh_g: where the mass goes, in g; NaN if there is none.
///
/// NULL: a NULL koh_g gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_koh_for_fat_checked(
    fat_g: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    scale_step_g: f64,
    koh_g: *mut f64,
) -> i32 {
    // SAFETY: koh_g is NULL or points to room for a double, as the header's conventions say.
    unsafe {
        figure(koh_g, || {
            scalar::alkali_for_fat(
                Alkali::Koh,
                fat_g,
                saponification_value,
                superfat_percent,
                purity_percent,
                scale_step_g,
            )
            .map_err(status_of)
        })
    }
}

/// Water for a lye concentration, in g: alkali * (1 - c) / c, to the nearest scale step.
///
/// alkali_g: mass of the alkali as weighed, in g, from 0.
/// lye_concentration_percent: alkali / (alkali + water), from 1 to below 100; 33 is 33 %.
/// scale_step_g: smallest step of the scale, in g; 0 rounds nothing.
///
/// Returns: the mass in g, or NaN; lxv_water_for_lye_concentration_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_water_for_lye_concentration(
    alkali_g: f64,
    lye_concentration_percent: f64,
    scale_step_g: f64,
) -> f64 {
    // SAFETY: the place is a double.
    or_nan(|place| unsafe {
        lxv_water_for_lye_concentration_checked(
            alkali_g,
            lye_concentration_percent,
            scale_step_g,
            place,
        )
    })
}

/// The same as lxv_water_for_lye_concentration(), with a status.
///
/// water_g: where the mass goes, in g; NaN if there is none.
///
/// NULL: a NULL water_g gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_water_for_lye_concentration_checked(
    alkali_g: f64,
    lye_concentration_percent: f64,
    scale_step_g: f64,
    water_g: *mut f64,
) -> i32 {
    // SAFETY: water_g is NULL or points to room for a double, as the header's conventions say.
    unsafe {
        figure(water_g, || {
            scalar::water_for_lye_concentration(alkali_g, lye_concentration_percent, scale_step_g)
                .map_err(status_of)
        })
    }
}

/// The lye concentration, in percent: alkali / (alkali + water).
///
/// alkali_g: mass of the alkali as weighed, in g, from 0.
/// water_g: mass of the water, in g, from 0; not both are 0.
///
/// Returns: the share in percent, or NaN; lxv_lye_concentration_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_lye_concentration(alkali_g: f64, water_g: f64) -> f64 {
    // SAFETY: the place is a double.
    or_nan(|place| unsafe { lxv_lye_concentration_checked(alkali_g, water_g, place) })
}

/// The same as lxv_lye_concentration(), with a status.
///
/// lye_concentration_percent: where the share goes, in percent; NaN if there is none.
///
/// NULL: a NULL lye_concentration_percent gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_lye_concentration_checked(
    alkali_g: f64,
    water_g: f64,
    lye_concentration_percent: *mut f64,
) -> i32 {
    // SAFETY: the pointer is NULL or points to room for a double, as the header's conventions say.
    unsafe {
        figure(lye_concentration_percent, || {
            scalar::lye_concentration(alkali_g, water_g).map_err(status_of)
        })
    }
}

/// The superfat that weights amount to, in percent. Below 0 there is more alkali than the fat
/// takes up: such soap keeps free alkali.
///
/// fat_g: mass of the fat, in g, above 0. For several fats their sum.
/// saponification_value: in mg KOH per g of fat, from 20 to 700; of several fats the mean by mass.
/// naoh_g, naoh_purity_percent: sodium hydroxide as weighed, in g, from 0, and its purity, from 1
/// to 100; give 100 where there is none.
/// koh_g, koh_purity_percent: the same of potassium hydroxide.
///
/// Returns: the share in percent, or NaN; lxv_superfat_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_superfat(
    fat_g: f64,
    saponification_value: f64,
    naoh_g: f64,
    naoh_purity_percent: f64,
    koh_g: f64,
    koh_purity_percent: f64,
) -> f64 {
    // SAFETY: the place is a double.
    or_nan(|place| unsafe {
        lxv_superfat_checked(
            fat_g,
            saponification_value,
            naoh_g,
            naoh_purity_percent,
            koh_g,
            koh_purity_percent,
            place,
        )
    })
}

/// The same as lxv_superfat(), with a status.
///
/// superfat_percent: where the share goes, in percent; NaN if there is none.
///
/// NULL: a NULL superfat_percent gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_superfat_checked(
    fat_g: f64,
    saponification_value: f64,
    naoh_g: f64,
    naoh_purity_percent: f64,
    koh_g: f64,
    koh_purity_percent: f64,
    superfat_percent: *mut f64,
) -> i32 {
    // SAFETY: the pointer is NULL or points to room for a double, as the header's conventions say.
    unsafe {
        figure(superfat_percent, || {
            scalar::superfat(
                fat_g,
                saponification_value,
                naoh_g,
                naoh_purity_percent,
                koh_g,
                koh_purity_percent,
            )
            .map_err(status_of)
        })
    }
}

/// The fats whose batter fills a volume, in g, with sodium hydroxide; nothing is rounded, and
/// additives are not counted. The operation `plan` with a `mould` knows more.
///
/// volume_cm3: what the mould takes, in cm3 (mL), from 0.
/// batter_density: in g per cm3, as measured, from 0.1 to 10.
/// saponification_value: in mg KOH per g of fat, from 20 to 700; of several fats the mean by mass.
/// superfat_percent: 0, or from 1 to below 100.
/// purity_percent: sodium hydroxide in the product as bought, from 1 to 100.
/// lye_concentration_percent: alkali / (alkali + water), from 1 to below 100.
///
/// Returns: the mass in g, or NaN; lxv_fats_for_volume_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_fats_for_volume(
    volume_cm3: f64,
    batter_density: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    lye_concentration_percent: f64,
) -> f64 {
    // SAFETY: the place is a double.
    or_nan(|place| unsafe {
        lxv_fats_for_volume_checked(
            volume_cm3,
            batter_density,
            saponification_value,
            superfat_percent,
            purity_percent,
            lye_concentration_percent,
            place,
        )
    })
}

/// The same as lxv_fats_for_volume(), with a status.
///
/// fats_g: where the mass goes, in g; NaN if there is none.
///
/// NULL: a NULL fats_g gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_fats_for_volume_checked(
    volume_cm3: f64,
    batter_density: f64,
    saponification_value: f64,
    superfat_percent: f64,
    purity_percent: f64,
    lye_concentration_percent: f64,
    fats_g: *mut f64,
) -> i32 {
    // SAFETY: fats_g is NULL or points to room for a double, as the header's conventions say.
    unsafe {
        figure(fats_g, || {
            scalar::fats_for_volume(
                volume_cm3,
                batter_density,
                saponification_value,
                superfat_percent,
                purity_percent,
                lye_concentration_percent,
            )
            .map_err(status_of)
        })
    }
}

/// A quantity in another unit of the same kind: lxv_convert(10, "oz", "g") is 283.49523125.
///
/// quantity: how many of the unit `from`.
/// from, to: units such as "g", "oz", "lb", "mL", "US fl oz", "cm", "in", "C", "F".
///
/// NULL: a NULL from or to gives NaN.
/// Returns: how many of the unit `to`, or NaN; lxv_convert_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_convert(quantity: f64, from: *const c_char, to: *const c_char) -> f64 {
    // SAFETY: each text is NULL or ends in NUL, as the header's conventions say, and the place is
    // a double.
    or_nan(|place| unsafe { lxv_convert_checked(quantity, from, to, place) })
}

/// The same as lxv_convert(), with a status.
///
/// converted: where the number goes; NaN if there is none.
///
/// NULL: a NULL from, to or converted gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_convert_checked(
    quantity: f64,
    from: *const c_char,
    to: *const c_char,
    converted: *mut f64,
) -> i32 {
    // SAFETY: each text is NULL or ends in NUL, and converted is NULL or points to room for a
    // double, as the header's conventions say.
    unsafe {
        figure(converted, || {
            let from = terminated(from, "from").map_err(|outcome| outcome.status)?;
            let to = terminated(to, "to").map_err(|outcome| outcome.status)?;
            scalar::convert(quantity, from, to).map_err(status_of)
        })
    }
}

/// The saponification value of a fat of the catalogue, in mg KOH per g: the middle of the
/// published range. The operation `fats` has the range and its source; a supplier's certificate
/// is better than either.
///
/// fat: an id or alias of the catalogue, such as "olive-oil".
///
/// NULL: a NULL fat gives NaN.
/// Returns: the value, or NaN; lxv_saponification_value_checked() tells why.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_saponification_value(fat: *const c_char) -> f64 {
    // SAFETY: each text is NULL or ends in NUL, as the header's conventions say, and the place is
    // a double.
    or_nan(|place| unsafe { lxv_saponification_value_checked(fat, place) })
}

/// The same as lxv_saponification_value(), with a status.
///
/// saponification_value: where the value goes; NaN if there is none.
///
/// NULL: a NULL fat or saponification_value gives LXV_BAD_ARGUMENT.
/// Returns: LXV_OK, or a status that lxv_reason() explains.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_saponification_value_checked(
    fat: *const c_char,
    saponification_value: *mut f64,
) -> i32 {
    // SAFETY: the text is NULL or ends in NUL, and the other pointer is NULL or points to room
    // for a double, as the header's conventions say.
    unsafe {
        figure(saponification_value, || {
            let fat = terminated(fat, "fat").map_err(|outcome| outcome.status)?;
            scalar::saponification_value(fat).map_err(status_of)
        })
    }
}

statuses! { Fault:
    LXV_BAD_FAT_MASS = FatMass,
    LXV_BAD_SAPONIFICATION_VALUE = SaponificationValue,
    LXV_BAD_SUPERFAT = Superfat,
    LXV_BAD_PURITY = Purity,
    LXV_BAD_SCALE_STEP = ScaleStep,
    LXV_SCALE_STEP_TOO_COARSE = TooCoarse,
    LXV_BAD_ALKALI_MASS = AlkaliMass,
    LXV_BAD_WATER_MASS = WaterMass,
    LXV_BAD_LYE_CONCENTRATION = LyeConcentration,
    LXV_BAD_VOLUME = Volume,
    LXV_BAD_BATTER_DENSITY = BatterDensity,
    LXV_BAD_QUANTITY = Quantity,
    LXV_UNKNOWN_UNIT_FROM = UnitFrom,
    LXV_UNKNOWN_UNIT_TO = UnitTo,
    LXV_UNITS_DIFFER = UnitsDiffer,
    LXV_UNKNOWN_FAT = UnknownFat,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_fault_has_a_status_of_its_own_and_its_reason() {
        let mut seen = Vec::new();
        for &fault in Fault::ALL {
            let number = status_of(fault);
            assert!(!seen.contains(&number) && number > 100, "{fault:?}");
            assert_eq!(reason(number).unwrap().to_str(), Ok(fault.says()));
            seen.push(number);
        }
    }
}
