use proptest::prelude::*;

use super::*;
use crate::chemistry::Acid;
use crate::exact::Interval;
use crate::fats::{Fat, OwnFat, Saponification, find};
use crate::quantity::Ratio;
use crate::recipe::{
    AcidEffect, AcidLine, Alkali, FatLine, ShareBy, StockSolution, Water, WaterRule,
};

/// A decimal between two whole numbers, of up to four places, or a multiple of a third.
fn between(low: i64, high: i64) -> impl Strategy<Value = Rational> {
    let decimal = (0u8..=4).prop_flat_map(move |places| {
        let scale = 10i64.pow(places.into());
        (low * scale..=high * scale).prop_map(move |mantissa| Rational::decimal(mantissa, places))
    });
    let thirds = (3 * low..=3 * high).prop_map(|n| Rational::ratio(n, 3).unwrap());
    prop_oneof![6 => decimal, 1 => thirds]
}

fn percent(low: i64, high: i64) -> impl Strategy<Value = Share> {
    between(low, high).prop_map(Share::percent)
}

fn fat() -> impl Strategy<Value = Fat> {
    let own = (between(90, 260), between(0, 12), between(0, 12)).prop_map(|(value, low, high)| {
        let range = Interval::new(&value - low, &value + high).unwrap();
        let fat = OwnFat::new("a fat", Saponification::ValueInRange(value, range));
        Fat::own(fat).unwrap()
    });
    let known = prop::sample::select(vec!["olive-oil", "coconut-oil", "castor-oil", "beeswax"]);
    prop_oneof![own, known.prop_map(|id| Fat::from(find(id).unwrap()))]
}

fn water() -> impl Strategy<Value = Water> {
    let rule = prop_oneof![
        percent(20, 50).prop_map(WaterRule::LyeConcentration),
        (25i64..=40).prop_map(|n| WaterRule::LyeConcentration(Share::percent(n.into()))),
        between(1, 3).prop_map(|n| WaterRule::WaterToLye(Ratio::new(n))),
        percent(1, 40).prop_map(WaterRule::OfFats),
    ];
    (rule, any::<bool>()).prop_map(|(rule, count_alkali_water)| Water {
        count_alkali_water,
        ..Water::by(rule)
    })
}

fn citric_acid(of_fats: Share) -> AcidLine {
    AcidLine {
        acid: Acid::find("citric-acid").unwrap(),
        amount: Amount::Share(of_fats),
        strength: Share::WHOLE,
        effect: AcidEffect::default(),
    }
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let koh_share = prop_oneof![Just(Share::NONE), Just(Share::WHOLE), percent(0, 100)];
    let share_by = prop_oneof![Just(ShareBy::Moles), Just(ShareBy::Mass)];
    let alkali = (koh_share, share_by, percent(85, 100), percent(85, 100)).prop_map(
        |(koh_share, share_by, naoh_purity, koh_purity)| Alkali {
            koh_share,
            share_by,
            naoh_purity,
            koh_purity,
        },
    );
    let step = prop_oneof![
        1 => Just(None),
        9 => prop::sample::select(vec!["0.1", "0.01", "0.5", "1", "5", "0.05 oz", "0.1 lb", "1000000"]).prop_map(Some),
    ];
    let fats = prop::collection::vec(fat(), 1..=6);
    let acids = prop::collection::vec(percent(0, 3).prop_map(citric_acid), 0..=1);
    let acids = prop_oneof![9 => Just(Vec::new()), 1 => acids];
    let stock = prop::option::weighted(0.1, percent(40, 50));
    (fats, percent(0, 20), alkali, water(), stock, acids, step).prop_map(
        |(fats, superfat, alkali, water, naoh, acids, step)| Recipe {
            fats: fats
                .into_iter()
                .map(|fat| FatLine::new(fat, Amount::Mass(Mass::default())))
                .collect(),
            total_fats: None,
            superfat,
            alkali,
            water,
            stock_solution: StockSolution { naoh, koh: None },
            acids,
            additives: Vec::new(),
            scale_step: step.map(|step| Mass::parse(step).unwrap()),
        },
    )
}

/// Masses as they come: weighed, computed, half-way between two steps, left out, and nonsense.
fn mass() -> impl Strategy<Value = f64> {
    let tenths = |n: i64| n as f64 / 10.0;
    prop_oneof![
        8 => (1i64..10_000).prop_map(tenths),
        4 => (1i64..1_000_000).prop_map(|n| n as f64 / 1_000.0),
        4 => (0i64..20_000).prop_map(|n| n as f64 / 20.0),
        4 => 0.0..2_000.0,
        4 => (1i64..20_000, any::<bool>()).prop_map(|(n, up)| {
            let half_way = n as f64 / 20.0;
            if up { half_way.next_up() } else { half_way.next_down() }
        }),
        4 => (1i64..10_000, 1i64..100).prop_map(move |(n, percent)| tenths(n) * percent as f64 / 100.0),
        2 => (1i64..1_000).prop_map(|ounces| ounces as f64 * 28.349523125),
        2 => Just(0.0),
        1 => prop::num::f64::ANY,
        1 => prop::sample::select(vec![
            -0.0, -1.0, f64::NAN, f64::INFINITY, 1e15, 1e16, 1e-15, 1e-16, 0.02, 5e-324, 1e12, 4.5e12,
        ]),
    ]
}

fn superfat() -> impl Strategy<Value = f64> {
    prop_oneof![
        9 => (0i64..200).prop_map(|n| n as f64 / 10.0),
        3 => 0.0..30.0,
        1 => prop::sample::select(vec![-1.0, 100.0, 99.9, f64::NAN, 1e-16]),
    ]
}

/// A setting and so many rows of masses and superfats.
fn frame() -> impl Strategy<Value = (Recipe, Vec<Vec<f64>>, Option<Vec<f64>>)> {
    (recipe(), 1usize..12).prop_flat_map(|(recipe, rows)| {
        let column = prop::collection::vec(mass(), rows);
        let fats = prop::collection::vec(column, recipe.fats.len());
        let superfat = prop::option::of(prop::collection::vec(superfat(), rows));
        (Just(recipe), fats, superfat)
    })
}

/// What the plan of a row says, or the code of its first fault.
fn expected(recipe: &Recipe, masses: &[f64], superfat: Option<f64>) -> Result<Plan, &'static str> {
    let mut recipe = recipe.clone();
    let mut lines = Vec::new();
    for (line, grams) in recipe.fats.drain(..).zip(masses) {
        let mass = Mass::from_f64(*grams).map_err(|fault| fault.code())?;
        if mass.grams().is_negative() {
            return Err("negative");
        }
        let step = recipe.scale_step.as_ref();
        let too_coarse = |step: &Mass| mass.grams() * Rational::integer(2) < *step.grams();
        if !mass.grams().is_zero() && step.is_some_and(too_coarse) {
            return Err("scale_step_too_coarse");
        }
        if !mass.grams().is_zero() {
            lines.push(FatLine::new(line.fat, Amount::Mass(mass)));
        }
    }
    if let Some(percent) = superfat {
        recipe.superfat = Share::from_f64(percent).map_err(|fault| fault.code())?;
    }
    recipe.fats = lines;
    plan(&recipe).map_err(|faults| faults.iter().next().unwrap().code)
}

fn columns(values: &mut [Vec<f64>]) -> Vec<Column<'_>> {
    Output::ALL
        .iter()
        .zip(values)
        .map(|(output, values)| Column {
            output: *output,
            values,
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(800))]

    #[test]
    fn a_row_is_its_plan((recipe, fats, superfat) in frame()) {
        let setting = Setting::new(recipe.clone()).unwrap();
        let count = fats[0].len();
        let fats: Vec<&[f64]> = fats.iter().map(Vec::as_slice).collect();
        let rows = Rows { fats: &fats, superfat: superfat.as_deref() };
        let mut values = vec![vec![-1.0; count]; Output::ALL.len()];
        let mut status = vec![Status::Planned; count];
        setting.plan(&rows, &mut columns(&mut values), &mut status).unwrap();
        for row in 0..count {
            let masses: Vec<f64> = fats.iter().map(|column| column[row]).collect();
            let expected = expected(&recipe, &masses, superfat.as_ref().map(|column| column[row]));
            let code = Status::FAULTS.iter().find(|(known, _)| *known == status[row]);
            prop_assert_eq!(code.map(|(_, code)| *code), expected.as_ref().err().copied());
            for (output, column) in Output::ALL.iter().zip(&values) {
                let expected = expected.as_ref().ok().and_then(|plan| output.of(plan));
                let expected = expected.unwrap_or(f64::NAN);
                prop_assert_eq!(column[row].to_bits(), expected.to_bits(), "{:?}", output);
            }
        }
    }
}

/// 1000 rows of three fats: weighed to 0.1 g, and computed with all the digits of a double.
fn batches() -> [Vec<f64>; 3] {
    let column = |fat: i64| {
        (0..1_000).map(move |n| {
            let tenths = ((n * 7_919 + fat * 104_729) % 5_000 + 1_000) as f64 / 10.0;
            if n % 2 == 0 { tenths } else { tenths * 1.1 }
        })
    };
    [0, 1, 2].map(|fat| column(fat).collect())
}

fn three_fats(scale_step: Option<Mass>) -> Recipe {
    let line = |id| FatLine::new(find(id).unwrap(), Amount::Mass(Mass::default()));
    Recipe {
        fats: ["olive-oil", "coconut-oil", "shea-butter"].map(line).into(),
        total_fats: None,
        superfat: Share::percent(Rational::integer(5)),
        alkali: Alkali::default(),
        water: Water::by(WaterRule::WaterToLye(Ratio::new(Rational::decimal(25, 1)))),
        stock_solution: StockSolution::default(),
        acids: Vec::new(),
        additives: Vec::new(),
        scale_step,
    }
}

#[test]
fn rows_on_a_scale_take_the_short_way() {
    let setting = Setting::new(three_fats(Some(Mass::new(Rational::decimal(1, 1))))).unwrap();
    let fats = batches();
    let fats = fats.each_ref().map(Vec::as_slice);
    let superfat: Vec<f64> = (0..1_000).map(|n| f64::from(n % 150) / 10.0).collect();
    for superfat in [None, Some(superfat.as_slice())] {
        let rows = Rows {
            fats: &fats,
            superfat,
        };
        let mut counted = vec![Counted::NOTHING; 1_000];
        setting
            .kernel
            .as_ref()
            .unwrap()
            .count(&rows, 0, &mut counted);
        assert!(counted.iter().all(|row| row.done));
    }
    assert!(Setting::new(three_fats(None)).unwrap().kernel.is_none());
}

#[test]
fn columns_have_the_length_of_the_statuses() {
    let setting = Setting::new(three_fats(None)).unwrap();
    let (long, short) = ([1.0; 3], [1.0; 2]);
    let rows = Rows {
        fats: &[&long, &short],
        superfat: Some(&short),
    };
    let mut values = vec![vec![0.0; 4]];
    let mut status = [Status::Planned; 3];
    let faults = setting.plan(&rows, &mut columns(&mut values), &mut status);
    let found: Vec<_> = faults
        .unwrap_err()
        .iter()
        .map(|f| (f.code, f.at.clone()))
        .collect();
    let length = |at: &str| ("column_length", at.to_owned());
    let missing = ("column_missing", "fats".to_owned());
    assert_eq!(
        found,
        [
            missing,
            length("fats[1]"),
            length("superfat"),
            length("total_fats")
        ]
    );
}

#[test]
fn a_row_says_what_is_wrong_where() {
    let setting = Setting::new(three_fats(Some(Mass::new(Rational::ONE)))).unwrap();
    let rows = Rows {
        fats: &[&[0.0], &[-3.0], &[0.2]],
        superfat: Some(&[f64::NAN]),
    };
    let faults = setting.row(&rows, 0).unwrap_err();
    let found: Vec<_> = faults
        .iter()
        .map(|fault| (fault.code, fault.at.as_str()))
        .collect();
    let expected = [
        ("negative", "fats[1]"),
        ("scale_step_too_coarse", "fats[2]"),
        ("bad_number", "superfat"),
    ];
    assert_eq!(found, expected);
    assert_eq!(
        setting
            .row(&rows, 1)
            .unwrap_err()
            .iter()
            .next()
            .unwrap()
            .code,
        "no_such_row"
    );
}
