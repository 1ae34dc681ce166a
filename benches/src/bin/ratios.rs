//! Prints how many times as long as plain doubles everything takes.
//!
//! All cases take turns in many short rounds, and each is divided by the baseline of its own
//! round, so that what else the machine does falls on all alike. The median of the rounds counts.

use std::hint::black_box;
use std::time::{Duration, Instant};

use lixivium::exact::Rational;
use lixivium::{plan, wire};
use lixivium_benches::columns::{Frame, Plain, ROWS};
use lixivium_benches::{catalogue_request, leaving, operands, plain, recipe, request};
use num_rational::{BigRational, Ratio};

const ROUNDS: usize = 101;
const TURN: Duration = Duration::from_millis(1);

/// One thing to measure.
struct Case<'a> {
    name: &'static str,
    run: Box<dyn FnMut() + 'a>,
}

fn case<'a, T>(name: &'static str, mut run: impl FnMut() -> T + 'a) -> Case<'a> {
    let run = Box::new(move || {
        black_box(run());
    });
    Case { name, run }
}

/// Nanoseconds of one run, over as many runs as fill a turn.
fn time(case: &mut Case, runs: u32) -> f64 {
    let start = Instant::now();
    for _ in 0..runs {
        (case.run)();
    }
    start.elapsed().as_nanos() as f64 / f64::from(runs)
}

fn runs_in_a_turn(case: &mut Case) -> u32 {
    let mut runs = 1;
    while runs < 1 << 20 && time(case, runs) * f64::from(runs) < TURN.as_nanos() as f64 {
        runs *= 2;
    }
    runs
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Measures the cases in turns; the first is the baseline. `inner` operations make one run.
fn compare(title: &str, inner: f64, mut cases: Vec<Case>) {
    let runs: Vec<u32> = cases.iter_mut().map(runs_in_a_turn).collect();
    let mut times = vec![Vec::with_capacity(ROUNDS); cases.len()];
    for _ in 0..ROUNDS {
        for (i, case) in cases.iter_mut().enumerate() {
            times[i].push(time(case, runs[i]));
        }
    }
    println!("{title}");
    for (i, case) in cases.iter().enumerate() {
        let ratios = times[i].iter().zip(&times[0]).map(|(t, base)| t / base);
        let ratio = median(ratios.collect());
        let nanoseconds = median(times[i].clone()) / inner;
        println!("  {:<44} {ratio:>8.2} x {nanoseconds:>12.1} ns", case.name);
    }
}

/// Rows of the same recipe with other masses, as columns.
fn columns() {
    let mut weighed = Frame::weighed();
    let mut computed = Frame::computed();
    let mut unrounded = Frame::unrounded();
    for frame in [&mut weighed, &mut computed, &mut unrounded] {
        frame.plan();
        assert!(frame.is_planned());
    }
    let mut plain = Plain::of(&weighed);
    plain.plan();
    assert!(plain.is_near(&weighed));
    compare(
        "a row of columns: 8 fats in, 6 numbers out, rounded to 0.1 g",
        ROWS as f64,
        vec![
            case("f64, unchecked", || plain.plan()),
            case("Setting::plan, masses weighed to 0.1 g", || weighed.plan()),
            case("Setting::plan, masses with all digits", || computed.plan()),
            case("Setting::plan, without a scale step", || unrounded.plan()),
        ],
    );
}

fn main() {
    let typed = recipe();
    let doubles = plain::PlainRecipe::<f64>::of(&typed).expect("nothing is left out");
    let narrow = plain::PlainRecipe::<Ratio<i128>>::of(&typed).expect("nothing is left out");
    let big = plain::PlainRecipe::<BigRational>::of(&typed).expect("nothing is left out");
    let exact = plan::plan(&typed).expect("the recipe is sound");
    assert_eq!(plain::PlainPlan::of(&exact), plain::plan(&big));
    assert_eq!(plain::PlainPlan::of(&exact), plain::plan(&narrow));
    let (own, catalogue) = (request(), catalogue_request());
    assert!(wire::call("plan", &own).ok && wire::call("plan", &catalogue).ok);
    compare(
        "one plan of 8 fats, both alkalis, rounded to 0.1 g",
        1.0,
        vec![
            case("f64, unchecked", || plain::plan(black_box(&doubles))),
            case("f64, after the checks of a recipe", || {
                (typed.check().is_ok(), plain::plan(black_box(&doubles)))
            }),
            case("plan::plan", || plan::plan(black_box(&typed))),
            case("plan::plan, every number out as a double", || {
                plan::plan(black_box(&typed)).map(|plan| leaving(&plan))
            }),
            case("Ratio<i128>", || plain::plan(black_box(&narrow))),
            case("BigRational", || plain::plan(black_box(&big))),
            case("wire::call, fats of one's own", || {
                wire::call("plan", black_box(&own))
            }),
            case("wire::call, fats of the catalogue", || {
                wire::call("plan", black_box(&catalogue))
            }),
        ],
    );

    columns();

    let exact = operands();
    let convert = |four: &[Rational; 4]| four.each_ref().map(Rational::to_f64);
    let doubles: Vec<[f64; 4]> = exact.iter().map(convert).collect();
    let bigs: Vec<[BigRational; 4]> = exact
        .iter()
        .map(|four| four.each_ref().map(Rational::to_fraction))
        .collect();
    compare(
        "(a + b) · c / d - a",
        exact.len() as f64,
        vec![
            case("f64", || {
                for four in &doubles {
                    let [a, b, c, d] = black_box(four);
                    black_box((a + b) * c / d - a);
                }
            }),
            case("Rational", || {
                for four in &exact {
                    let [a, b, c, d] = black_box(four);
                    black_box(((a + b) * c).checked_div(d).map(|n| n - a));
                }
            }),
            case("Rational, reduced", || {
                for four in &exact {
                    let [a, b, c, d] = black_box(four);
                    black_box(((a + b) * c).checked_div(d).map(|n| (n - a).reduced()));
                }
            }),
            case("BigRational", || {
                for four in &bigs {
                    let [a, b, c, d] = black_box(four);
                    black_box((a + b) * c / d - a);
                }
            }),
        ],
    );
}
