//! Plans held against the same arithmetic in big rationals alone, and against doubles.

mod plain;

use lixivium::exact::{Interval, Rational};
use lixivium::fats::{Fat, OwnFat, Saponification};
use lixivium::plan;
use lixivium::quantity::{Mass, Share};
use lixivium::recipe::{Alkali, Amount, FatLine, Recipe, ShareBy, StockSolution, Water, WaterRule};
use num_rational::BigRational;
use plain::{PlainPlan, PlainRecipe};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// A number between two whole ones: a decimal of up to nine places, or a multiple of a third or
/// a seventh.
fn between(low: i64, high: i64) -> impl Strategy<Value = Rational> {
    let decimal = (0u8..=9).prop_flat_map(move |places| {
        let scale = 10i64.pow(places.into());
        (low * scale..=high * scale).prop_map(move |mantissa| Rational::decimal(mantissa, places))
    });
    let fraction = (prop_oneof![Just(3), Just(7)], 0i64..1_000_000).prop_map(move |(den, n)| {
        let part = Rational::ratio(n % (den * (high - low) + 1), den).unwrap();
        Rational::integer(low) + part
    });
    prop_oneof![4 => decimal, 1 => fraction]
}

/// Grams, or ounces of 28.349523125 g.
fn mass() -> impl Strategy<Value = Mass> {
    let ounce = Rational::decimal(28_349_523_125, 9);
    let grams = prop_oneof![
        between(1, 5_000),
        between(1, 200).prop_map(move |ounces| ounces * &ounce),
    ];
    grams.prop_map(Mass::new)
}

fn fat() -> impl Strategy<Value = FatLine> {
    (between(90, 260), between(0, 12), between(0, 12), mass()).prop_map(
        |(value, below, above, mass)| {
            let range = Interval::new(&value - below, &value + above).unwrap();
            let fat = OwnFat::new("a fat", Saponification::ValueInRange(value, range));
            FatLine::new(Fat::own(fat).unwrap(), Amount::Mass(mass))
        },
    )
}

fn percent(low: i64, high: i64) -> impl Strategy<Value = Share> {
    between(low, high).prop_map(Share::percent)
}

fn step() -> impl Strategy<Value = Option<Mass>> {
    let steps = [(1, 1), (5, 1), (1, 0), (28_349_523_125, 10)];
    let step = prop::sample::select(
        steps
            .map(|(n, places)| Rational::decimal(n, places))
            .to_vec(),
    );
    prop::option::of(step.prop_map(Mass::new))
}

fn recipe(most_fats: usize) -> impl Strategy<Value = Recipe> {
    let fats = prop::collection::vec(fat(), 1..=most_fats);
    let alkali = (percent(0, 100), percent(85, 100), percent(85, 100));
    (fats, percent(0, 20), alkali, percent(20, 50), step()).prop_map(
        |(fats, superfat, (koh_share, naoh_purity, koh_purity), lye, step)| Recipe {
            fats,
            total_fats: None,
            superfat,
            alkali: Alkali {
                koh_share,
                share_by: ShareBy::Moles,
                naoh_purity,
                koh_purity,
            },
            water: Water::by(WaterRule::LyeConcentration(lye)),
            stock_solution: StockSolution::default(),
            acids: Vec::new(),
            additives: Vec::new(),
            scale_step: step,
        },
    )
}

proptest! {
    #![proptest_config(Config::with_cases(300))]

    /// Ounces, thirds and thirty fats leave 128 bits behind; nothing of that is seen.
    #[test]
    fn a_plan_is_what_big_rationals_say(recipe in recipe(30)) {
        // A batch so small that a fat rounds to nothing is refused.
        if let Ok(fast) = plan::plan(&recipe) {
            let slow = plain::plan(&PlainRecipe::<BigRational>::of(&recipe).unwrap());
            prop_assert_eq!(PlainPlan::<BigRational>::of(&fast), slow);
        }
    }
}

fn always_the_same() -> TestRunner {
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    TestRunner::new_with_rng(Config::default(), rng)
}

/// Whether the recipes above reach what they are meant to reach.
#[test]
fn some_of_these_plans_need_more_than_128_bits() {
    let mut runner = always_the_same();
    let recipes = (0..50).map(|_| recipe(30).new_tree(&mut runner).unwrap().current());
    let plans = recipes.filter_map(|recipe| plan::plan(&recipe).ok());
    let bits = plans.map(|plan| {
        plan.superfat_range
            .0
            .fraction()
            .to_fraction()
            .denom()
            .bits()
    });
    assert!(bits.max() > Some(128));
}

/// The case for exactness. The recipes are random, but the same ones in every run; the lye has a
/// whole percentage, with which the water can lie half-way between two steps.
#[test]
fn doubles_get_some_rounded_waters_wrong() {
    let mut runner = always_the_same();
    let strategy = (recipe(8), 25i64..=40).prop_map(|(recipe, lye)| Recipe {
        water: Water::by(WaterRule::LyeConcentration(Share::percent(
            Rational::integer(lye),
        ))),
        scale_step: Some(Mass::new(Rational::decimal(1, 1))),
        ..recipe
    });
    let (mut plans, mut wrong) = (0, 0);
    for _ in 0..1_000 {
        let recipe = strategy.new_tree(&mut runner).unwrap().current();
        let Ok(exact) = plan::plan(&recipe) else {
            continue;
        };
        let doubles = plain::plan(&PlainRecipe::<f64>::of(&recipe).unwrap());
        plans += 1;
        // A right one differs by the error of a double, far less than half a step.
        if (doubles.water_mass - exact.water_mass.grams().to_f64()).abs() > 0.05 {
            wrong += 1;
        }
    }
    assert!(plans > 900 && wrong > 0, "{wrong} of {plans}");
    assert!(wrong < plans / 20, "most are right: {wrong} of {plans}");
}
