//! Many recipes at once, as columns of doubles.
//!
//! `include/lixivium.h` is generated from the comments here. The pointers are looked at by
//! [`arrays`](crate::arrays).

use std::ffi::c_char;
use std::ptr;

use lixivium_core::columns::{Column, Rows, Status};
use lixivium_core::fault::Faults;
use lixivium_core::wire;

use crate::LXV_OK;
use crate::arrays::Given;
use crate::boundary::{self, Outcome};

/// A number of the row is missing: NaN or infinite.
pub const LXV_ROW_BAD_NUMBER: i32 = 201;

/// A mass of the row is not 0 and not from 10^-15 to 10^15 g, or its superfat is not from 0 to
/// below 100 %.
pub const LXV_ROW_OUT_OF_RANGE: i32 = 202;

/// A mass of the row is below 0.
pub const LXV_ROW_NEGATIVE: i32 = 203;

/// All masses of the row are 0.
pub const LXV_ROW_NO_FATS: i32 = 204;

/// A fat or all alkali of the row would round to nothing on the scale.
pub const LXV_ROW_SCALE_STEP_TOO_COARSE: i32 = 205;

/// What is counted as water in the row is more than the water asked for.
pub const LXV_ROW_TOO_MUCH_WATER_COUNTED: i32 = 206;

/// The stock solution of the row brings more water than asked for.
pub const LXV_ROW_STOCK_TOO_WEAK: i32 = 207;

/// The acids of the row take up more alkali than there is.
pub const LXV_ROW_ACIDS_EXCEED_ALKALI: i32 = 208;

/// Plans many recipes at once, from columns of doubles to columns of doubles: for data frames and
/// databases. Each row has the digits that lxv_call("plan", ...) has for its recipe.
///
/// setting: a JSON object, what all rows have in common. It is the request of "plan", but the
/// fats have no masses, and "outputs" names the numbers of the answer that are wanted:
///     {"fats": [{"fat": "olive-oil"}, {"fat": "coconut-oil"}], "superfat": 5,
///      "alkali": {"naoh_purity": 98.5}, "water": {"lye_concentration": 33}, "scale_step": 0.1,
///      "outputs": ["naoh_mass", "water_mass", "superfat", "superfat_range.low"]}
/// Outputs can be: total_fats, naoh_mass, koh_mass, naoh_pure_mass, koh_pure_mass, batter_mass,
/// water_mass, water_to_add_mass, stock_solution.naoh_solution_mass,
/// stock_solution.koh_solution_mass (g), koh_share_by_moles, superfat, superfat_range.low,
/// superfat_range.high, lye_concentration, hydroxide_concentration (percent), water_to_lye.
/// rows: how many doubles each column has.
/// fats, fat_count: a column for each fat of the setting, in its order: the mass in g. With 0 the
/// row is without that fat. A double is taken as its shortest decimal: 0.1 is 1/10.
/// superfat: a column of the superfat in percent, or NULL. Where it is given, the setting has no
/// "superfat".
/// outputs, output_count: a column for each of the outputs, in their order; it is written. Each
/// number is the double nearest to the exact one. In a row that is not planned it is NaN, and so
/// is the mass of a stock solution that there is not.
/// row_status: what became of each row, LXV_OK or one of LXV_ROW_..., which lxv_reason()
/// explains; it is written. May be NULL.
/// answer: where the answer goes; it is set to NULL first, then to the answer:
///     {"planned": {"value": 998.0, "exact": "998"},
///      "faults": [{"code": "negative", "at": "rows[17].fats[1]", "says": "..."}, ...],
///      "cautions": [{"code": "lye_burns", "says": "..."}, ...]}
/// The faults are those of the first 20 rows that are not planned; rows count from 0.
///
/// Columns that are written overlap with no other column. For 0 rows columns may be NULL.
///
/// NULL: a NULL setting or column gives LXV_BAD_ARGUMENT and an answer that says so; a NULL
/// answer gives LXV_BAD_ARGUMENT alone.
/// Owner: all columns stay the caller's, and are not used after the call. The caller owns the
/// answer and releases it with lxv_free().
/// Returns: LXV_OK if the rows were gone through, planned or not; or another status with an error
/// answer, and nothing written to the columns.
/// Threads: any, at the same time too: rows can be split among threads.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_columns(
    setting: *const c_char,
    rows: usize,
    fats: *const *const f64,
    fat_count: usize,
    superfat: *const f64,
    outputs: *const *mut f64,
    output_count: usize,
    row_status: *mut i32,
    answer: *mut *mut c_char,
) -> i32 {
    let given = Given {
        rows,
        fats,
        superfat,
        outputs,
        row_status,
    };
    // SAFETY: the caller keeps to the conventions of the header: each pointer is NULL, or points
    // to text that ends in NUL, to as many pointers or numbers as stated, or to room for a pointer.
    unsafe {
        boundary::answer(answer, ptr::null_mut(), || {
            let text = boundary::terminated(setting, "setting")?;
            let (setting, wanted) = wire::columns::setting(text, !superfat.is_null())
                .map_err(|faults| Outcome::faults(&faults))?;
            same_number("fats", fat_count, setting.fats())?;
            same_number("outputs", output_count, wanted.len())?;
            let mut columns = given.take(fat_count, output_count)?;
            let outputs = wanted.into_iter().zip(&mut columns.outputs);
            let mut outputs: Vec<Column> = outputs
                .map(|(output, values)| Column { output, values })
                .collect();
            let rows = Rows {
                fats: &columns.fats,
                superfat: columns.superfat,
            };
            let mut status = vec![Status::Planned; given.rows];
            setting
                .plan(&rows, &mut outputs, &mut status)
                .map_err(|faults| Outcome::faults(&faults))?;
            for (to, from) in columns.row_status.iter_mut().zip(&status) {
                *to = status_of(*from);
            }
            Ok(Outcome {
                status: LXV_OK,
                json: wire::columns::report(&setting, &rows, &status),
            })
        })
    }
}

fn same_number(name: &str, found: usize, wanted: usize) -> Result<(), Outcome> {
    if found == wanted {
        return Ok(());
    }
    let says = format!("there are {found} columns; accepted: {wanted}, as many as in the setting");
    Err(Outcome::faults(&Faults::one("column_missing", name, says)))
}

statuses! { Status:
    LXV_OK = Planned,
    LXV_ROW_BAD_NUMBER = BadNumber,
    LXV_ROW_OUT_OF_RANGE = OutOfRange,
    LXV_ROW_NEGATIVE = Negative,
    LXV_ROW_NO_FATS = NoFats,
    LXV_ROW_SCALE_STEP_TOO_COARSE = ScaleStepTooCoarse,
    LXV_ROW_TOO_MUCH_WATER_COUNTED = TooMuchWaterCounted,
    LXV_ROW_STOCK_TOO_WEAK = StockTooWeak,
    LXV_ROW_ACIDS_EXCEED_ALKALI = AcidsExceedAlkali,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_row_status_has_a_number_of_its_own_and_its_reason() {
        let mut seen = Vec::new();
        for &(status, _) in Status::FAULTS {
            let number = status_of(status);
            assert!(!seen.contains(&number) && number > 200, "{status:?}");
            assert_eq!(reason(number).unwrap().to_str(), Ok(status.says()));
            seen.push(number);
        }
    }
}
