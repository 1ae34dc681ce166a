//! What is measured: one recipe, planned by the library and by the same arithmetic in other kinds
//! of numbers, many recipes as columns, and single operations.

pub mod columns;

use lixivium::exact::{Interval, Rational};
use lixivium::fats::{Fat, OwnFat, Saponification};
use lixivium::quantity::{Mass, Share};
use lixivium::recipe::{Alkali, Amount, FatLine, Recipe, ShareBy, StockSolution, Water, WaterRule};

#[path = "../../core/tests/plain/mod.rs"]
#[allow(missing_docs)]
pub mod plain;

/// Mass in tenths of a gram, and saponification value with its range in tenths of mg KOH/g.
/// Invented for the measurement: eight fats of a batch of about a kilogram.
const FATS: [(i64, i64, i64, i64); 8] = [
    (4_213, 1_899, 1_840, 1_960),
    (2_500, 2_564, 2_480, 2_650),
    (1_507, 1_997, 1_900, 2_090),
    (1_002, 1_284, 1_260, 1_350),
    (754, 1_810, 1_760, 1_870),
    (503, 1_930, 1_860, 2_000),
    (251, 1_915, 1_880, 1_940),
    (126, 925, 880, 1_020),
];

/// The recipe: eight fats, both alkalis, purities, superfat, lye concentration, scale step 0.1 g.
pub fn recipe() -> Recipe {
    let tenths = |n| Rational::decimal(n, 1);
    let percent = |n| Share::percent(tenths(n));
    let fat = |(mass, value, low, high)| {
        let range = Interval::new(tenths(low), tenths(high)).expect("low is below high");
        let fat = OwnFat::new("a fat", Saponification::ValueInRange(tenths(value), range));
        let fat = Fat::own(fat).expect("the fat is sound");
        FatLine::new(fat, Amount::Mass(Mass::new(tenths(mass))))
    };
    Recipe {
        fats: FATS.map(fat).into(),
        total_fats: None,
        superfat: percent(55),
        alkali: Alkali {
            koh_share: percent(100),
            share_by: ShareBy::Moles,
            naoh_purity: percent(985),
            koh_purity: percent(902),
        },
        water: Water::by(WaterRule::LyeConcentration(percent(330))),
        stock_solution: StockSolution::default(),
        acids: Vec::new(),
        additives: Vec::new(),
        scale_step: Some(Mass::new(tenths(1))),
    }
}

/// The same recipe as a request in JSON.
pub fn request() -> String {
    let tenths = |n: i64| format!("{}.{}", n / 10, n % 10);
    let fat = |(mass, value, low, high)| {
        let [mass, value, low, high] = [mass, value, low, high].map(tenths);
        format!(
            r#"{{"fat":{{"name":"a fat","saponification_value":{value},"saponification_range":[{low},{high}]}},"mass":{mass}}}"#
        )
    };
    let fats = FATS.map(fat).join(",");
    format!(
        r#"{{"fats":[{fats}],"superfat":5.5,"alkali":{{"koh_share":10,"naoh_purity":98.5,"koh_purity":90.2}},"water":{{"lye_concentration":33}},"scale_step":0.1}}"#
    )
}

/// The same request with fats of the catalogue.
pub fn catalogue_request() -> String {
    const IDS: [&str; 2] = ["olive-oil", "coconut-oil"];
    let fat = |(i, (mass, ..)): (usize, (i64, i64, i64, i64))| {
        format!(
            r#"{{"fat":"{}","mass":"{}.{} g"}}"#,
            IDS[i % 2],
            mass / 10,
            mass % 10
        )
    };
    let fats: Vec<_> = FATS.into_iter().enumerate().map(fat).collect();
    format!(
        r#"{{"fats":[{}],"superfat":"5.5 %","alkali":{{"koh_share":10,"naoh_purity":98.5,"koh_purity":90.2}},"water":{{"lye_concentration":33}},"scale_step":"0.1 g"}}"#,
        fats.join(",")
    )
}

/// Every number of a plan as a double, which is how it leaves: in lowest terms.
pub fn leaving(plan: &lixivium::plan::Plan) -> plain::PlainPlan<f64> {
    plain::PlainPlan::of(plan)
}

/// Operands as they occur in soap arithmetic: decimals of some places, some thirds.
pub fn operands() -> Vec<[Rational; 4]> {
    let number = |n: i64| {
        let mantissa = n * 7_919 % 99_991 + 1;
        if n % 9 == 0 {
            Rational::ratio(mantissa, 3).unwrap_or_default()
        } else {
            Rational::decimal(mantissa, (n % 4) as u8)
        }
    };
    (0..64)
        .map(|n| [4 * n, 4 * n + 1, 4 * n + 2, 4 * n + 3].map(number))
        .collect()
}
