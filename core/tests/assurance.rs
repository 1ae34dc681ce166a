//! Bounds and probabilities against brute force and closed forms.

use lixivium::assurance::{Batch, Distribution, Portion, Role};
use lixivium::exact::{Interval, Rational};
use lixivium::quantity::Share;
use proptest::prelude::*;

fn n(text: &str) -> Rational {
    Rational::parse(text).unwrap()
}

fn range(low: &str, high: &str) -> Interval {
    Interval::new(n(low), n(high)).unwrap()
}

fn portion(mass: &str, error: &str, koh: &str, low: &str, high: &str) -> Portion {
    Portion {
        mass_error: n(error),
        ..Portion::exact("portion", n(mass), n(koh), range(low, high))
    }
}

fn batch(fats: Vec<Portion>, alkalis: Vec<Portion>) -> Batch {
    Batch {
        fats,
        alkalis,
        acids: vec![],
    }
}

fn below(batch: &Batch, floor: &str, distribution: Distribution) -> (Rational, Rational) {
    let found = batch
        .probability_below(&Share::percent(n(floor)), distribution)
        .unwrap();
    (found.low.fraction().clone(), found.high.fraction().clone())
}

/// The superfat with each portion's mass and value at `at(i)` of the way from low to high.
fn superfat_at(batch: &Batch, mut at: impl FnMut() -> Rational) -> Rational {
    let mut point = |range: &Interval| range.low() + range.width() * at();
    let mut sum = |portions: &[Portion]| -> Rational {
        let each = portions.iter();
        each.map(|p| point(&p.mass_range()) * point(&p.koh_range))
            .sum()
    };
    let (need, alkali, acids) = (sum(&batch.fats), sum(&batch.alkalis), sum(&batch.acids));
    Rational::ONE - (alkali - acids).checked_div(&need).unwrap()
}

fn any_portion(largest: i64) -> impl Strategy<Value = Portion> {
    (1..largest, 0..50_i64, 0..=100_i64, 150..200_i64, 0..20_i64).prop_map(
        |(mass, error, peak, low, width)| {
            let mass = Rational::integer(mass);
            let low = Rational::decimal(low, 3);
            let high = &low + &Rational::decimal(width, 3);
            let at = &low + &(Rational::decimal(width, 3) * Rational::decimal(peak, 2));
            Portion {
                mass_error: &mass * &Rational::decimal(error, 3),
                ..Portion::exact("portion", mass, at, Interval::new(low, high).unwrap())
            }
        },
    )
}

fn any_batch() -> impl Strategy<Value = Batch> {
    let list = |largest, most| prop::collection::vec(any_portion(largest), 1..=most);
    (
        list(500, 3),
        list(400, 2),
        prop::collection::vec(any_portion(900), 0..=1),
    )
        .prop_map(|(fats, alkalis, acids)| Batch {
            fats,
            alkalis,
            acids,
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn all_corners_lie_inside_the_bounds_and_attain_them(batch in any_batch()) {
        let bounds = batch.bounds().unwrap();
        let (low, high) = (bounds.low.superfat.fraction(), bounds.high.superfat.fraction());
        let inputs = 2 * (batch.fats.len() + batch.alkalis.len() + batch.acids.len());
        let corners = (0..1_u32 << inputs).map(|corner| {
            let mut input = 0;
            superfat_at(&batch, || {
                input += 1;
                Rational::integer((corner >> (input - 1) & 1).into())
            })
        });
        let corners: Vec<_> = corners.collect();
        prop_assert_eq!(corners.iter().min().unwrap(), low);
        prop_assert_eq!(corners.iter().max().unwrap(), high);
    }

    #[test]
    fn samples_lie_inside_the_bounds(batch in any_batch(), seed in 0..u64::MAX) {
        let bounds = batch.bounds().unwrap();
        let mut state = seed;
        for _ in 0..200 {
            let superfat = superfat_at(&batch, || {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                Rational::decimal((state >> 44) as i64 % 1_001, 3)
            });
            prop_assert!(bounds.low.superfat.fraction() <= &superfat);
            prop_assert!(&superfat <= bounds.high.superfat.fraction());
        }
    }

    #[test]
    fn the_corners_told_give_the_superfat_told(batch in any_batch()) {
        let bounds = batch.bounds().unwrap();
        for corner in [bounds.low, bounds.high] {
            let sum = |role: Role| -> Rational {
                let each = corner.at.iter().filter(|touch| touch.role == role);
                each.map(|touch| &touch.mass * &touch.koh).sum()
            };
            let used = (sum(Role::Alkali) - sum(Role::Acid)).checked_div(&sum(Role::Fat)).unwrap();
            prop_assert_eq!(corner.superfat, Share::of_one(Rational::ONE - used));
        }
    }

    #[test]
    fn safe_alkali_has_its_worst_case_at_the_floor(batch in any_batch(), floor in 0..20_i64) {
        let floor = Share::percent(Rational::integer(floor));
        let bare = Batch {
            alkalis: batch.alkalis.iter().map(|p| Portion { mass_error: Rational::ZERO, ..p.clone() }).collect(),
            ..batch
        };
        let Some(safe) = bare.safe_alkali(&floor).unwrap() else {
            return Err(TestCaseError::fail("every batch without misweighed alkali has safe alkali"));
        };
        let mut safest = bare.clone();
        for alkali in &mut safest.alkalis {
            alkali.mass = &alkali.mass * &safe.times;
        }
        let bounds = safest.bounds().unwrap();
        prop_assert_eq!(&bounds.low.superfat, &floor);
        prop_assert_eq!(safest.superfat().unwrap(), safe.nominal);
        let step = Rational::decimal(1, 1);
        for alkali in &mut safest.alkalis {
            alkali.mass = alkali.mass.floor_to(&step).unwrap();
        }
        prop_assert!(safest.bounds().unwrap().low.superfat >= floor);
    }

    #[test]
    fn shares_of_the_spread_come_to_the_whole(batch in any_batch()) {
        let spreads = batch.spreads().unwrap();
        let sum: Rational = spreads.iter().map(|spread| spread.share.fraction()).sum();
        prop_assert!(spreads.is_empty() || sum == Rational::ONE);
        let (bounds, reckoned) = (batch.bounds().unwrap(), batch.superfat().unwrap());
        for spread in spreads {
            let (low, high) = spread.alone;
            prop_assert!(bounds.low.superfat <= low && low <= reckoned);
            prop_assert!(reckoned <= high && high <= bounds.high.superfat);
            prop_assert!(low < high);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3))]

    #[test]
    fn probabilities_grow_with_the_floor_from_0_to_1(batch in any_batch()) {
        for distribution in [Distribution::Uniform, Distribution::Triangular] {
            let bounds = batch.bounds().unwrap();
            let (low, high) = (bounds.low.superfat, bounds.high.superfat);
            let chance = |floor: &Share| batch.probability_below(floor, distribution).unwrap();
            prop_assume!(*high.fraction() < Rational::ONE);
            prop_assert_eq!(chance(&low).low, Share::NONE);
            let between = |tenths| Share::of_one(low.fraction() + (high.fraction() - low.fraction()) * Rational::decimal(tenths, 1));
            let mut last = Rational::ZERO;
            for tenths in [2, 7] {
                let now = chance(&between(tenths));
                prop_assert!(now.low.fraction() <= now.high.fraction());
                prop_assert!(*now.high.fraction() <= Rational::ONE);
                prop_assert!(now.high.fraction() >= &last);
                last = now.high.fraction().clone();
            }
        }
    }
}

#[test]
fn one_uniform_input_is_a_straight_line() {
    // Free alkali where 1000 g take up less than 190 g: (190 - 184) / (196 - 184).
    let batch = batch(
        vec![portion("1000", "0", "0.19", "0.184", "0.196")],
        vec![portion("190", "0", "1", "1", "1")],
    );
    let half = (n("1/2"), n("1/2"));
    assert_eq!(below(&batch, "0", Distribution::Uniform), half);
    assert_eq!(below(&batch, "0", Distribution::Triangular), half);
    // At a floor of 5 %: need < 200, which is always so.
    assert_eq!(below(&batch, "5", Distribution::Uniform).0, Rational::ONE);
    // 184 · (1 - f) = 190 at f = -6/184, below which nothing lies.
    assert!(below(&batch, "-4", Distribution::Uniform).1.is_zero());
}

#[test]
fn one_triangular_input_is_a_parabola() {
    // From 180 to 200 with its peak at 185: F(x) = (x - 180)² / (20 · 5), then
    // 1 - (200 - x)² / (20 · 15).
    let with = |alkali| {
        batch(
            vec![portion("1000", "0", "0.185", "0.18", "0.2")],
            vec![portion(alkali, "0", "1", "1", "1")],
        )
    };
    let chance = |alkali| below(&with(alkali), "0", Distribution::Triangular).0;
    assert_eq!(chance("183"), n("9/100"));
    assert_eq!(chance("185"), n("1/4"));
    assert_eq!(chance("190"), n("2/3"));
}

#[test]
fn a_peak_at_an_end_is_half_a_parabola() {
    let with = |peak| {
        batch(
            vec![portion("1000", "0", peak, "0.18", "0.2")],
            vec![portion("185", "0", "1", "1", "1")],
        )
    };
    let chance = |peak| below(&with(peak), "0", Distribution::Triangular).0;
    assert_eq!(chance("0.18"), n("7/16")); // 1 - (15/20)²
    assert_eq!(chance("0.2"), n("1/16")); // (5/20)²
}

#[test]
fn two_uniform_inputs_of_one_width_are_a_triangle() {
    // Each takes up 180 to 200 g: below 370 g lies 10² / 2 of 20².
    let fat = || portion("1000", "0", "0.19", "0.18", "0.2");
    let two = batch(vec![fat(), fat()], vec![portion("370", "0", "1", "1", "1")]);
    assert_eq!(below(&two, "0", Distribution::Uniform).0, n("1/8"));
    // One fat with a triangle of twice the width is the same.
    let one = batch(
        vec![portion("2000", "0", "0.19", "0.18", "0.2")],
        vec![portion("370", "0", "1", "1", "1")],
    );
    assert_eq!(below(&one, "0", Distribution::Triangular).0, n("1/8"));
}

#[test]
fn three_uniform_inputs_cut_a_simplex_off_a_box() {
    // Two fats and an alkali of 90 to 100 % purity, cut 5 g above the lowest corner: 5³ / 6.
    let three = batch(
        vec![
            portion("1000", "0", "0.18", "0.18", "0.19"),
            portion("1000", "0", "0.18", "0.18", "0.2"),
        ],
        vec![portion("400", "0", "0.95", "0.9", "1")],
    );
    // The lowest need is 360 g and the most alkali 400 g, just enough at a floor of -1/9.
    let floor = Share::of_one(n("-1/9"));
    let chance = three
        .probability_below(&floor, Distribution::Uniform)
        .unwrap();
    assert!(chance.exact().unwrap().fraction().is_zero());
    // 10/9 · (360 + a + b) - 400 + c < 5 with a ≤ 10, b ≤ 20 scaled by 10/9, c ≤ 40.
    let mut more = three.clone();
    more.alkalis.push(portion("5", "0", "1", "1", "1"));
    let chance = more
        .probability_below(&floor, Distribution::Uniform)
        .unwrap();
    let volume = n("125/6");
    let whole = n("100/9") * n("200/9") * n("40");
    assert_eq!(
        chance.exact().unwrap().fraction(),
        &volume.checked_div(&whole).unwrap()
    );
}

#[test]
fn sixteen_equal_fats_with_the_cut_in_the_middle_are_even() {
    let fats = vec![portion("100", "0", "0.19", "0.18", "0.2"); 16];
    let even = batch(fats, vec![portion("304", "0", "1", "1", "1")]);
    assert_eq!(below(&even, "0", Distribution::Uniform).0, n("1/2"));
    // Only the lowest corner is cut off, 2 g above its 288 g, each 2 g wide: (2/2)¹⁶ / 16!.
    let low = batch(
        vec![portion("100", "0", "0.19", "0.18", "0.2"); 16],
        vec![portion("290", "0", "1", "1", "1")],
    );
    let factorial: Rational =
        (1..=16).fold(Rational::ONE, |product, i| product * Rational::integer(i));
    assert_eq!(
        below(&low, "0", Distribution::Uniform).0,
        Rational::ONE.checked_div(&factorial).unwrap()
    );
}

/// The Irwin-Hall distribution: Σ (-1)ᵏ C(n, k) (x - k)ⁿ / n! over k < x.
fn irwin_hall(n: i64, x: &Rational) -> Rational {
    let mut sum = Rational::ZERO;
    let mut chosen = Rational::ONE;
    for k in 0..=n {
        let above = x - &Rational::integer(k);
        if above.is_positive() {
            let power = (0..n).fold(Rational::ONE, |power, _| power * &above);
            let term = &chosen * &power;
            sum = if k % 2 == 0 { sum + term } else { sum - term };
        }
        let next = Rational::integer(n - k) * &chosen;
        chosen = next.checked_div(&Rational::integer(k + 1)).unwrap();
    }
    let factorial = (1..=n).fold(Rational::ONE, |product, i| product * Rational::integer(i));
    sum.checked_div(&factorial).unwrap()
}

#[test]
fn more_inputs_than_can_be_summed_are_enclosed_narrowly() {
    // Each takes up 18 to 20 g; cut so many widths above the lowest corner.
    for (count, above) in [
        (2, "0.7"),
        (12, "5.1"),
        (24, "11"),
        (30, "13.3"),
        (40, "23"),
    ] {
        let fats = vec![portion("100", "0", "0.19", "0.18", "0.2"); count as usize];
        let koh = n(above) * n("2") + n("18") * Rational::integer(count);
        let many = batch(
            fats,
            vec![Portion::exact("koh", koh, n("1"), range("1", "1"))],
        );
        let (low, high) = below(&many, "0", Distribution::Uniform);
        let true_one = irwin_hall(count, &n(above));
        assert!(low <= true_one && true_one <= high, "{count}");
        if count <= 24 {
            assert_eq!(low, high);
        } else {
            assert!(low < high && high - low < n("0.001"), "{count}");
        }
    }
}

#[test]
fn many_triangular_inputs_are_enclosed_narrowly() {
    // A triangle with its peak in the middle is the sum of two uniform inputs of half its width.
    for (count, above, wide) in [(3, "2.9", "0"), (16, "14.5", "0"), (20, "19.1", "0.002")] {
        let fats = vec![portion("100", "0", "0.19", "0.18", "0.2"); count as usize];
        let koh = n(above) + n("18") * Rational::integer(count);
        let many = batch(
            fats,
            vec![Portion::exact("koh", koh, n("1"), range("1", "1"))],
        );
        let (low, high) = below(&many, "0", Distribution::Triangular);
        let true_one = irwin_hall(2 * count, &n(above));
        assert!(low <= true_one && true_one <= high, "{count}");
        assert!(high - low <= n(wide), "{count}");
    }
}

#[test]
fn inputs_of_very_different_width_are_enclosed() {
    let mut fats = vec![portion("100", "0", "0.19", "0.18", "0.2"); 20];
    for width in ["0.19001", "0.1900000001", "0.190000000000000001"] {
        fats.extend(vec![portion("0.01", "0", "0.19", "0.19", width); 4]);
    }
    let even = batch(fats, vec![portion("380.0228", "0", "1", "1", "1")]);
    for distribution in [Distribution::Uniform, Distribution::Triangular] {
        let (low, high) = below(&even, "0", distribution);
        assert!(low <= n("0.5") && n("0.4999") <= high, "{low} {high}");
        assert!(high - low < n("0.002"));
    }
}

/// P(M · K < z) for both uniform, by the closed form with logarithms.
fn product_below(mass: [f64; 2], value: [f64; 2], z: f64) -> f64 {
    // ∫ over the mass of the share of values below z / mass.
    let [from, to] = mass;
    let [low, high] = value;
    let (all, none) = ((z / high).clamp(from, to), (z / low).clamp(from, to));
    let between = z * (none / all).ln() - low * (none - all);
    ((all - from) + between / (high - low)) / (to - from)
}

#[test]
fn a_product_of_two_inputs_is_enclosed_narrowly() {
    for (mass, error, low, high) in [
        (1_000.0, 100.0, "0.18", "0.2"),
        (1_000.0, 1.0, "0.18", "0.2"),
        (1_000.0, 0.05, "0.184", "0.196"),
        (1_000.0, 50.0, "0.1899", "0.1901"),
        (1_000.0, 1_000.0, "0.18", "0.2"),
    ] {
        for alkali in ["185", "189.9", "190", "190.01", "196"] {
            let text = |number: f64| number.to_string();
            let both = batch(
                vec![portion(&text(mass), &text(error), "0.19", low, high)],
                vec![
                    portion(alkali, "0", "1", "1", "1"),
                    portion("0", "0", "1", "1", "1"),
                ],
            );
            if error == mass {
                assert!(
                    both.probability_below(&Share::NONE, Distribution::Uniform)
                        .is_err()
                );
                continue;
            }
            let (least, most) = below(&both, "0", Distribution::Uniform);
            let value = [low, high].map(|end| n(end).to_f64());
            let z = n(alkali).to_f64();
            let true_one = product_below([mass - error, mass + error], value, z);
            let (least, most) = (least.to_f64(), most.to_f64());
            assert!(
                least - 1e-9 <= true_one && true_one <= most + 1e-9,
                "{mass} {error} {alkali}: {least} {true_one} {most}"
            );
            assert!(
                most - least < 0.001,
                "{mass} {error} {alkali}: {least} {most}"
            );
        }
    }
}

#[test]
fn numbers_of_very_many_digits_are_enclosed_in_a_moment() {
    for distribution in [Distribution::Uniform, Distribution::Triangular] {
        for error in ["0", "0.5"] {
            let fats = (0..12).map(|i| {
                let end = format!("0.18{}{}", "0".repeat(30 + i), 10_i64.pow(17) + i as i64);
                let mass = format!("100.{}{}", "3".repeat(20), 7 + i);
                let high = n("0.38") - n(&end);
                Portion {
                    mass_error: n(error),
                    ..Portion::exact(
                        "fat",
                        n(&mass),
                        n("0.19"),
                        Interval::new(n(&end), high).unwrap(),
                    )
                }
            });
            let fats: Vec<_> = fats.collect();
            let need: Rational = fats.iter().map(Portion::effect).sum();
            let even = batch(
                fats,
                vec![Portion::exact("koh", need, n("1"), range("1", "1"))],
            );
            let (low, high) = below(&even, "0", distribution);
            assert!(low < n("0.5001") && n("0.4999") < high && high - low < n("0.03"));
        }
    }
}

#[test]
fn misweighed_alkali_of_very_many_digits_is_enclosed() {
    let mass = n(&format!("1000.{}7", "3".repeat(35))) * n(&format!("1.{}1", "0".repeat(35)));
    let fat = Portion::exact("fat", mass, n("0.19"), range("0.185", "0.195"));
    let alkali = Portion {
        mass_error: n("1"),
        ..Portion::exact(
            "koh",
            fat.effect().checked_div(&n("0.98")).unwrap(),
            n("0.98"),
            range("0.97", "0.99"),
        )
    };
    let even = batch(vec![fat], vec![alkali]);
    let (low, high) = below(&even, "0", Distribution::Uniform);
    assert!(low < n("0.501") && n("0.499") < high);
    assert!(low < high && high - low < n("0.03"));
}

#[test]
fn a_portion_that_could_be_nothing_is_enclosed() {
    // The second fat may weigh 0 to 2 g: its product is taken as its linear form.
    let both = batch(
        vec![
            portion("1000", "0", "0.19", "0.18", "0.2"),
            portion("1", "1", "0.19", "0.18", "0.2"),
            portion("1", "1", "0.1", "0", "0.2"),
        ],
        vec![portion("190.29", "0", "1", "1", "1")],
    );
    let (low, high) = below(&both, "0", Distribution::Uniform);
    assert!(low < n("0.5") && n("0.5") < high && high - low < n("0.02"));
}

#[test]
fn what_does_not_vary_is_certain() {
    let fixed = |alkali| {
        batch(
            vec![portion("1000", "0", "0.19", "0.19", "0.19")],
            vec![portion(alkali, "0", "1", "1", "1")],
        )
    };
    assert!(below(&fixed("190"), "0", Distribution::Uniform).1.is_zero());
    assert_eq!(
        below(&fixed("190.1"), "0", Distribution::Uniform).0,
        Rational::ONE
    );
    let bounds = fixed("190").bounds().unwrap();
    assert_eq!(bounds.low.superfat, bounds.high.superfat);
    assert!(!bounds.lye_heavy_possible());
    assert!(fixed("190").spreads().unwrap().is_empty());
}

#[test]
fn bad_batches_are_refused_at_their_place() {
    let code = |batch: Batch| {
        let faults = batch.bounds().unwrap_err();
        let fault = faults.iter().next().unwrap();
        (fault.code, fault.at.clone())
    };
    let alkali = || vec![portion("100", "0", "1", "1", "1")];
    let fat = || portion("1000", "0", "0.19", "0.18", "0.2");
    let heavy = portion("100", "101", "0.19", "0.18", "0.2");
    assert_eq!(
        code(batch(vec![], alkali())),
        ("no_fats", "fats".to_owned())
    );
    assert_eq!(
        code(batch(vec![fat(), heavy], alkali())),
        ("out_of_range", "fats[1]".to_owned())
    );
    let ok = batch(vec![fat()], alkali());
    let whole = ok.probability_below(&Share::WHOLE, Distribution::Uniform);
    assert_eq!(whole.unwrap_err().iter().next().unwrap().at, "floor");
    assert!(ok.safe_alkali(&Share::WHOLE).is_err());
    let outside = batch(vec![portion("1000", "0", "0.3", "0.18", "0.2")], alkali());
    let peak = outside.probability_below(&Share::NONE, Distribution::Triangular);
    assert_eq!(peak.unwrap_err().iter().next().unwrap().at, "fats[0]");
}

#[test]
fn no_alkali_is_safe_where_its_error_alone_is_too_much() {
    let odd = batch(
        vec![portion("1", "0", "0.19", "0.18", "0.2")],
        vec![portion("5", "5", "1", "1", "1")],
    );
    assert_eq!(odd.safe_alkali(&Share::NONE).unwrap(), None);
}

fn assure(request: &serde_json::Value) -> serde_json::Value {
    let reply = lixivium::wire::call("assure", &request.to_string());
    serde_json::from_str(&reply.json).unwrap()
}

#[test]
fn a_plan_is_assured_through_the_door() {
    let request = serde_json::json!({
        "plan": {
            "fats": [{"fat": "olive-oil", "mass": 480}, {"fat": "coconut-oil", "mass": 200}],
            "superfat": 3, "alkali": {"naoh_purity": 98}, "water": {"lye_concentration": 30},
            "scale_step": 1
        },
        "tolerances": {
            "fats": [{"saponification_range": [186, 192]}, {"weighing_error": 5}],
            "naoh_purity": [97, 99], "scale_step": 1
        },
        "floor": 1, "distribution": "uniform"
    });
    let answer = assure(&request);
    assert_eq!(answer["below_floor"]["method"], "grid");
    let exact = |value: &serde_json::Value| n(value["exact"].as_str().unwrap());
    assert_eq!(answer["lye_heavy_possible"], true);
    // The safe mass is on the scale; one step more is not safe any longer.
    let safe = exact(&answer["safe_naoh_mass"]);
    assert_eq!(safe.floor_to(&Rational::ONE).unwrap(), safe);
    let lowest = n("479.5") * n("0.186") + n("194.5") * n("0.248");
    let naoh_to_koh = n("56.105").checked_div(&n("39.997")).unwrap();
    let worst = |naoh: &Rational| {
        let alkali = (naoh + &n("0.5")) * n("0.99") * &naoh_to_koh;
        Rational::ONE - alkali.checked_div(&lowest).unwrap()
    };
    assert!(worst(&safe) >= n("0.01"));
    assert!(worst(&(safe + Rational::ONE)) < n("0.01"));
    let below = &answer["below_floor"];
    assert!(below["exact"].is_null() && exact(&below["at_least"]) < exact(&below["at_most"]));
    assert!(exact(&answer["superfat_for_floor"]) > exact(&answer["superfat_for_zero"]));
    assert_eq!(answer["worst"]["at"].as_array().unwrap().len(), 3);
    let codes = |answer: &serde_json::Value| -> Vec<String> {
        let cautions = answer["cautions"].as_array().unwrap().iter();
        cautions
            .map(|caution| caution["code"].as_str().unwrap().to_owned())
            .collect()
    };
    assert!(codes(&answer).contains(&"below_floor_possible".to_owned()));
    assert!(!codes(&answer).contains(&"reckoned_outside_range".to_owned()));
    let mut other = request.clone();
    other["tolerances"]["naoh_purity"] = serde_json::json!([95, 97]);
    assert!(codes(&assure(&other)).contains(&"reckoned_outside_range".to_owned()));
}

#[test]
fn an_acid_of_uncertain_strength_widens_the_superfat() {
    let request = |tolerance: serde_json::Value| {
        serde_json::json!({
            "plan": {
                "fats": [{"fat": {"name": "fat", "saponification_value": 190}, "mass": 1000}],
                "superfat": 5, "water": {"lye_concentration": 30},
                "acids": [{"acid": "acetic-acid", "mass": 100, "strength": 5}]
            },
            "tolerances": {"acids": [tolerance]}
        })
    };
    let answer = assure(&request(serde_json::json!({"strength": [4, 6]})));
    let exact = |value: &serde_json::Value| n(value["exact"].as_str().unwrap());
    // 1 g of acetic acid more or less is 56.105 / 60.052 g KOH of 190 g.
    let off = n("5610.5").checked_div(&(n("60.052") * n("190"))).unwrap();
    assert_eq!(exact(&answer["worst"]["superfat"]), n("5") - &off);
    assert_eq!(exact(&answer["best"]["superfat"]), n("5") + off);
    assert_eq!(answer["spreads"][0]["input"], "koh_per_gram");
    let answer = assure(&request(serde_json::json!({"weighing_error": 100})));
    assert_eq!(answer["spreads"][0]["input"], "weighing");
    let answer = assure(&request(serde_json::json!({"strength": [0, 6]})));
    let fault = &answer["error"]["faults"][0];
    assert_eq!(fault["at"], "tolerances.acids[0].strength");
}

#[test]
fn bad_tolerances_are_refused_at_their_place() {
    let plan = serde_json::json!({
        "fats": [{"fat": "olive-oil", "mass": 480}], "superfat": 3,
        "water": {"lye_concentration": 30}
    });
    let place = |tolerances: serde_json::Value| {
        let answer = assure(&serde_json::json!({"plan": plan, "tolerances": tolerances}));
        let fault = &answer["error"]["faults"][0];
        (
            fault["code"].as_str().unwrap().to_owned(),
            fault["at"].as_str().unwrap().to_owned(),
        )
    };
    let cases = [
        (
            serde_json::json!({"naoh_purity": [0, 99]}),
            "out_of_range",
            "tolerances.naoh_purity",
        ),
        (
            serde_json::json!({"naoh_purity": [99, 98]}),
            "bad_range",
            "tolerances.naoh_purity",
        ),
        (
            serde_json::json!({"weighing_error": -1}),
            "negative",
            "tolerances.weighing_error",
        ),
        (
            serde_json::json!({"fats": [{}, {}]}),
            "wrong_count",
            "tolerances.fats",
        ),
        (
            serde_json::json!({"acids": [{"strength": [4, 6]}]}),
            "wrong_count",
            "tolerances.acids",
        ),
        (
            serde_json::json!({"weighing_error": 481}),
            "out_of_range",
            "tolerances.fats[0]",
        ),
    ];
    for (tolerances, code, at) in cases {
        assert_eq!(place(tolerances), (code.to_owned(), at.to_owned()));
    }
    let mut broken = plan.clone();
    broken["fats"][0]["mass"] = serde_json::json!(-1);
    let answer = assure(&serde_json::json!({"plan": broken}));
    assert_eq!(answer["error"]["faults"][0]["at"], "plan.fats[0].mass");
}
