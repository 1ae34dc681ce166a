//! Columns: many recipes at once, for data frames and databases.
//!
//! The rows are arrays of doubles, so this is no operation of the table; the setting that they
//! have in common and the report on them are JSON like the rest.

use super::accepts::Accepts;
use super::json::Json;
use super::plan::{self, AcidRequest, AdditiveRequest, AlkaliRequest, StockRequest, WaterRequest};
use super::read::{self, Given};
use super::shape::{Shape, Shaped};
use super::text::Text;
use super::view::{List, OptionalList, View, request};
use super::write::{self, Writer};
use crate::columns::{Output, Rows, Setting, Status};
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::{Caution, Faults};
use crate::plan::{bench_cautions, fraction_cautions};
use crate::quantity::{Mass, Share};
use crate::recipe::{Amount, FatLine, Recipe};

/// A report explains as many rows that are not planned.
pub const MOST_EXPLAINED: usize = 20;

request! {
    /// What all rows have in common: the request of `plan` without what stands in columns.
    SettingRequest<'a> {
        /// The fats, one for each column of masses.
        fats: List<'a, SettingFat<'a>>,
        /// The superfat; left out where there is a column of it.
        superfat: Option<Share>,
        /// The alkali; left out: sodium hydroxide, purity 100 %.
        alkali: Option<AlkaliRequest<'a>>,
        /// The water.
        water: WaterRequest<'a>,
        /// Lye made up ahead, from which the alkali is taken.
        stock_solution: Option<StockRequest<'a>>,
        /// Acids that take up alkali.
        acids: OptionalList<'a, AcidRequest<'a>>,
        /// Everything else that goes into the batter and takes up no alkali.
        additives: OptionalList<'a, AdditiveRequest<'a>>,
        /// The smallest step of the scale; left out: nothing is rounded.
        scale_step: Option<Mass>,
        /// What is wanted, one for each column that is written: the places of numbers in the
        /// answer of `plan`, such as "naoh_mass" or "superfat_range.low".
        outputs: List<'a, Output>,
    }

    /// A fat of a setting; its masses stand in a column.
    SettingFat<'a> {
        /// An id or alias of the catalogue, or a fat of one's own.
        fat: Fat,
    }
}

impl Shaped for Output {
    const SHAPE: &'static Shape = &Shape::Word(Self::NAMES);
}

impl View<'_> for Output {
    const ACCEPTS: &'static Accepts = &Accepts::Words(Self::NAMES);
    fn of(given: &Given) -> Self {
        Self::ALL[given.word()]
    }
}

/// Reads a setting and what is wanted, from JSON text.
///
/// # Errors
/// All faults of the request; `missing` or `superfluous` at `superfat` unless it stands either
/// there or in a column.
///
/// ```
/// use lixivium::columns::{Column, Rows, Status};
/// use lixivium::wire::columns::{report, setting};
/// let (setting, outputs) = setting(
///     r#"{"fats": [{"fat": "olive-oil"}, {"fat": "coconut-oil"}], "superfat": 5,
///         "water": {"lye_concentration": 33}, "scale_step": 0.1, "outputs": ["naoh_mass"]}"#,
///     false,
/// )?;
/// let rows = Rows { fats: &[&[700.0, 350.0], &[283.5, -1.0]], superfat: None };
/// let (mut naoh, mut status) = ([0.0; 2], [Status::Planned; 2]);
/// setting.plan(&rows, &mut [Column { output: outputs[0], values: &mut naoh }], &mut status)?;
/// assert_eq!(naoh[0], 139.3);
/// assert!(report(&setting, &rows, &status).contains("rows[1].fats[1]"));
/// # Ok::<(), lixivium::fault::Faults>(())
/// ```
pub fn setting(request: &str, superfat_column: bool) -> Result<(Setting, Vec<Output>), Faults> {
    let json = Json::parse(request)?;
    json.check_fractions()?;
    let (given, mut unread) = read::request(&json, SettingRequest::ACCEPTS);
    let request = SettingRequest::of(&given);
    let superfat = request.superfat();
    match (&superfat, superfat_column) {
        (None, false) => unread.add(
            "missing",
            "superfat",
            "this is missing; accepted: a number of percent such as 5, or a column of them",
        ),
        (Some(_), true) => unread.add(
            "superfluous",
            "superfat",
            "there is a column of superfats too; accepted: one of the two",
        ),
        _ => {}
    }
    let fats = request.fats();
    let fats = fats.map(|line| FatLine::new(line.fat(), Amount::Mass(Mass::new(Rational::ONE))));
    let mut faults = Faults::new();
    let recipe = Recipe {
        fats: fats.collect(),
        total_fats: None,
        superfat: superfat.unwrap_or(Share::NONE),
        alkali: plan::alkali(request.alkali()),
        acids: plan::acids(request.acids(), &mut faults),
        additives: plan::additives(request.additives(), &mut faults),
        water: plan::water(request.water(), &mut faults),
        stock_solution: plan::stock(request.stock_solution()),
        scale_step: request.scale_step(),
    };
    if !(unread.is_empty() && faults.is_empty()) {
        faults.add_elsewhere(recipe.check().err());
        unread.add_elsewhere(Some(faults));
        return Err(unread);
    }
    Ok((Setting::new(recipe)?, request.outputs().all()))
}

/// What to say of rows that were planned, as JSON text: how many are, what is wrong with the
/// first [`MOST_EXPLAINED`] that are not, and what to mind:
/// `{"planned": …, "faults": […], "cautions": […]}`, with rows counted from 0 in the place of a
/// fault, `rows[17].fats[2]`.
pub fn report(setting: &Setting, rows: &Rows, status: &[Status]) -> String {
    let is_planned = |status: &&Status| **status == Status::Planned;
    let planned = status.iter().filter(is_planned).count();
    let rejected = status.iter().enumerate();
    let rejected = rejected.filter(|(_, status)| !is_planned(status));
    let mut faults = Faults::new();
    for (row, _) in rejected.take(MOST_EXPLAINED) {
        if let Err(found) = setting.row(rows, row) {
            let at = format!("rows[{row}]");
            faults.add_inside(&at, found);
        }
    }
    let mut cautions = bench_cautions();
    fraction_cautions(setting.recipe(), &mut cautions);
    cautions.extend(small_superfats(rows));
    cautions.push(Caution::new(
        "superfat_is_a_range",
        "Published saponification values are ranges: where superfat_range.low is below 0 the bar \
         can keep free alkali.",
    ));
    let mut text = Text::of_about(1024);
    text.inside(|to| {
        to.add("planned", &Rational::integer(planned as i64));
        to.list("faults", faults.iter(), write::fault);
        to.add("cautions", cautions.as_slice());
    });
    text.complete()
}

fn small_superfats(rows: &Rows) -> Option<Caution> {
    let column = rows.superfat?;
    let small = column
        .iter()
        .filter(|percent| **percent > 0.0 && **percent < 1.0);
    let count = small.count();
    (count > 0).then(|| {
        Caution::new(
            "fraction_for_percent",
            format!(
                "{count} superfats of the column are between 0 and 1 and are read as percent; if \
                 0.05 was meant as 5 %, write 5."
            ),
        )
    })
}
