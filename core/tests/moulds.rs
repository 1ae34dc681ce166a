//! Moulds: what is published, what must be conserved, and round trips over random moulds.
//!
//! The recipes are invented: a small workshop in a harbour town that pours into trays of twelve.

use lixivium::exact::Rational;
use lixivium::mould::density::{LyeDensity, lye_rows};
use lixivium::mould::fill::{Batter, Yield, fill};
use lixivium::mould::{Cavities, ErrOn, Mould, Size, Spread, Waste, pi};
use lixivium::quantity::{Length, Mass, Quantity, Share, Volume};
use lixivium::wire;
use proptest::prelude::*;
use serde_json::{Value, json};

fn call(operation: &str, request: &Value) -> Value {
    let reply = wire::call(operation, &request.to_string());
    serde_json::from_str(&reply.json).unwrap()
}

/// The exact number at a place of an answer.
fn exact(answer: &Value, place: &str) -> Rational {
    let both = answer.pointer(place);
    let exact = both.and_then(|both| both["exact"].as_str());
    Rational::parse(exact.unwrap_or_else(|| panic!("{place} of {answer}"))).unwrap()
}

fn number(text: &str) -> Rational {
    Rational::parse(text).unwrap()
}

fn harbour_bar() -> Value {
    json!({
        "fats": [{"fat": "olive-oil", "share": 60}, {"fat": "coconut-oil", "share": 25},
                 {"fat": "shea-butter", "share": 15}],
        "superfat": 6,
        "water": {"lye_concentration": 31},
        "scale_step": "1 g"
    })
}

// What is published.

#[test]
fn all_strengths_of_a_table_of_lyes_have_the_same_temperatures() {
    let tables = lye_rows().chunk_by(|a, b| a.is_koh == b.is_koh && a.kind == b.kind);
    assert_eq!(tables.clone().count(), 4);
    for table in tables {
        let mut strengths = table.chunk_by(|a, b| a.percent() == b.percent());
        let celsius = |rows: &[LyeDensity]| rows.iter().map(LyeDensity::temperature).collect();
        let first: Vec<_> = celsius(strengths.next().unwrap());
        assert!(first.is_sorted() && strengths.all(|rows| celsius(rows) == first));
    }
}

/// arctan(1/n) is an alternating series, so that two sums in a row are bounds of it; π =
/// 16 arctan(1/5) - 4 arctan(1/239) (Machin 1706).
#[test]
fn pi_lies_between_its_bounds() {
    let arctan = |n: i64, terms: i64| {
        let inverse = Rational::ratio(1, n).unwrap();
        let square = &inverse * &inverse;
        let mut power = inverse;
        let mut sum = Rational::ZERO;
        for k in 0..terms {
            let sign = if k % 2 == 0 { 1 } else { -1 };
            sum = sum + &power * &Rational::ratio(sign, 2 * k + 1).unwrap();
            power = &power * &square;
        }
        sum
    };
    let machin =
        |a, b| Rational::integer(16) * arctan(5, a) - Rational::integer(4) * arctan(239, b);
    // An even number of terms of arctan is too little, an odd one too much.
    let pi = pi();
    assert!(*pi.low() < machin(20, 9) && machin(21, 8) < *pi.high());
    assert!(pi.width() < number("1e-18"));
}

#[test]
fn solids_have_their_volume() {
    let cm = |text| Length::parse(text).unwrap();
    let one = |size| Mould {
        cavities: vec![Cavities {
            count: 2,
            size,
            fill: None,
        }],
        fill: Share::parse("75").unwrap(),
        waste: Waste::none(),
    };
    let tray = one(Size::Box {
        length: cm("10 in"),
        width: cm("4 in"),
        height: cm("2 in"),
    });
    // 2 · 80 in³ · 0.75
    assert_eq!(
        tray.volume().unwrap().middle(),
        number("120") * number("16.387064")
    );
    let tube = one(Size::Cylinder {
        diameter: cm("8"),
        height: cm("25"),
    });
    // 2 · 400π cm³ · 0.75
    assert_eq!(
        tube.volume().unwrap().middle().to_fixed(12),
        "1884.955592153876"
    );
}

/// Common practice, no source: 0.40 ounces of fats for each cubic inch. The three usual recipes of
/// the documentation of `mould::size::rule_of_thumb`.
#[test]
fn the_rule_of_thumb_lies_within_a_few_percent() {
    let mould = json!({"box": {"length": "10 in", "width": "3.5 in", "height": "2.5 in"}});
    let fats = |shares: &[(&str, u32)]| -> Value {
        let fats = shares.iter();
        fats.map(|(fat, share)| json!({"fat": fat, "share": share}))
            .collect()
    };
    let third = json!({"lye_concentration": 33});
    let recipes = [
        (
            fats(&[("olive-oil", 60), ("coconut-oil", 25), ("sesame-oil", 15)]),
            &third,
            ["35.4", "1.1", "1.001"],
        ),
        (
            fats(&[("olive-oil", 45), ("coconut-oil", 30), ("palm-oil", 25)]),
            &json!({"lye_concentration": 30}),
            ["34.2", "-2.2", "1.005"],
        ),
        (
            fats(&[("olive-oil", 100)]),
            &json!({"of_fats": 38}),
            ["33.3", "-5.0", "0.995"],
        ),
    ];
    let ounce = number("28.349523125");
    for (fats, water, [ounces, difference, density]) in recipes {
        let request = json!({"fats": fats, "superfat": 5, "water": water, "mould": mould});
        let answer = call("plan", &request);
        let rule = exact(&answer, "/mould/rule_of_thumb/fats");
        assert_eq!(rule, number("35") * &ounce);
        let found = exact(&answer, "/mould/rule_of_thumb/difference");
        assert_eq!(found.to_fixed(1), difference);
        let fats = exact(&answer, "/total_fats");
        assert_eq!(fats.checked_div(&ounce).unwrap().to_fixed(1), ounces);
        assert_eq!(exact(&answer, "/mould/batter_density").to_fixed(3), density);
        let ratio = fats.checked_div(&rule).unwrap() - Rational::ONE;
        assert_eq!(ratio * Rational::HUNDRED, found);
    }
}

// Scenarios.

#[test]
fn ten_and_a_part_scale_to_exactly_twelve() {
    let mut batch = harbour_bar();
    batch["total_fats"] = json!(760);
    let seen = json!({"plan": batch, "full_cavities": 10, "last_cavity": 40});
    let request = json!({"mould": {"cavities": {"count": 12}, "waste": "3 %"}, "batter": seen});
    let answer = call("fill", &request);
    assert_eq!(answer["state"], "short");
    assert_eq!(answer["full_cavities"], 10);
    assert_eq!(answer["empty_cavities"], 1);
    assert_eq!(exact(&answer, "/last_cavity"), number("40"));
    assert_eq!(exact(&answer, "/scale_to_fill"), number("15/13")); // 12 / 10.4

    // Poured again, the scaled batch fills twelve, and never a gram more.
    let before = exact(&answer, "/batter_mass") * number("0.97");
    let after = exact(&answer, "/scaled/batter_mass") * number("0.97");
    let cavity = before.checked_div(&number("10.4")).unwrap();
    let filled = after.checked_div(&cavity).unwrap();
    assert!(
        filled <= number("12") && filled > number("11.97"),
        "{filled}"
    );

    // Without a scale it is exactly twelve.
    let mut unrounded = request.clone();
    unrounded["batter"]["plan"]["scale_step"] = Value::Null;
    let answer = call("fill", &unrounded);
    let ratio = exact(&answer, "/scaled/batter_mass")
        .checked_div(&exact(&answer, "/batter_mass"))
        .unwrap();
    assert_eq!(ratio, number("15/13"));

    // And so without any weights.
    let bare = json!({"mould": {"cavities": {"count": 12}},
                      "batter": {"full_cavities": 10, "last_cavity": 40}});
    let answer = call("fill", &bare);
    assert_eq!(exact(&answer, "/scale_to_fill"), number("15/13"));
    assert!(answer["batter_mass"].is_null());
}

/// Planned for a mould, written down, and entered anew by the weights: it is full, or as near as
/// the scale tells. What was seen is never rounded off.
#[test]
fn a_written_down_batch_is_full_and_what_was_seen_stays() {
    let mut request = harbour_bar();
    request["mould"] = json!({"cavities": {"count": 12, "volume": 90}, "waste": "2 %"});
    let plan = call("plan", &request);
    let mut batch = harbour_bar();
    for i in 0..3 {
        batch["fats"][i] = json!({"fat": plan["fats"][i]["fat"],
                                  "mass": plan["fats"][i]["mass"]["exact"]});
    }
    let again = json!({"mould": request["mould"], "batter": {"plan": batch}});
    let answer = call("fill", &again);
    assert_eq!(answer["state"], "full", "{answer}");

    let mut seen = again.clone();
    seen["batter"]["full_cavities"] = json!(11);
    seen["batter"]["last_cavity"] = json!("99 %");
    let answer = call("fill", &seen);
    assert_eq!(answer["state"], "short");
    assert_eq!(answer["full_cavities"], 11);
    assert_eq!(exact(&answer, "/last_cavity"), number("99"));
}

/// Each of several moulds has its own headroom: 4 · 200 · 0.5 + 6 · 100 · 0.9 cm³.
#[test]
fn moulds_that_are_filled_together_have_their_own_headroom() {
    let mould = json!({"several": [{"cavities": {"count": 4, "volume": 200}, "fill": 50},
                                   {"cavities": {"count": 6, "volume": 100}}], "fill": "90 %"});
    let request = json!({"mould": mould, "batter": {"mass": 890, "density": 1}});
    let answer = call("fill", &request);
    assert_eq!(exact(&answer, "/mould_volume"), number("940"));
    assert_eq!(answer["full_cavities"], 9);
    assert_eq!(exact(&answer, "/last_cavity"), number("400/9")); // 40 of 90 g
    assert_eq!(exact(&answer, "/cavities/0/bar_mass"), number("100"));

    // The same seen the other way round: what fits into a cavity to the brim.
    let seen = json!({"mass": 890, "full_cavities": 9, "last_cavity": "400/9 %"});
    let learnt = call("calibrate", &json!({"mould": mould, "batter": seen}));
    assert_eq!(exact(&learnt, "/cavities/0/bar_mass"), number("200"));
    assert_eq!(exact(&learnt, "/cavities/1/bar_mass"), number("100"));
    assert_eq!(exact(&learnt, "/batter_density"), number("1"));
}

/// Headroom given as a fraction, and a batch that does not fit, are asked about and warned of.
#[test]
fn cautions_tell_what_to_mind() {
    let codes = |request: Value| -> Vec<String> {
        let answer = call("fill", &request);
        let cautions = answer["mould_cautions"].as_array().unwrap().iter();
        cautions
            .map(|c| c["code"].as_str().unwrap().to_owned())
            .collect()
    };
    let tray = |fill: &str| json!({"cavities": {"count": 12, "volume": 90}, "fill": fill});
    let batter = json!({"mass": 1000, "density": 1});
    let fraction = codes(json!({"mould": tray("0.9"), "batter": batter}));
    assert_eq!(fraction, ["fraction_for_percent", "left_over"]);
    assert!(codes(json!({"mould": tray("95 %"), "batter": batter})).is_empty());
    let wide = json!({"mass": 1000, "density_range": [0.9, 1.1]});
    let mut mould = tray("100 %");
    mould["err_on"] = json!("always_full");
    let wide = codes(json!({"mould": mould, "batter": wide}));
    assert_eq!(wide, ["may_overflow"]);
    let seen = json!({"mass": 1000, "full_cavities": 3, "last_cavity": "0.4"});
    let seen = codes(json!({"mould": tray("95 %"), "batter": seen}));
    assert_eq!(seen, ["fraction_for_percent"]);
}

#[test]
fn fixed_additives_stay_and_dosed_ones_follow() {
    let mut batch = harbour_bar();
    batch["scale_step"] = Value::Null;
    batch["additives"] = json!([{"name": "tide salt", "mass": 40, "density": 2.16},
                                {"name": "kelp", "of_fats": 2, "density": 1.3}]);
    let mould = |count: u32| json!({"cavities": {"count": count, "volume": 90}, "waste": 12});
    let mut plans = Vec::new();
    for count in [6, 18] {
        batch["mould"] = mould(count);
        plans.push(call("plan", &batch));
    }
    for plan in &plans {
        assert_eq!(exact(plan, "/additives/0/mass"), number("40"));
        let dosed = exact(plan, "/additives/1/mass");
        assert_eq!(dosed, exact(plan, "/total_fats") * number("0.02"));
        assert_eq!(plan["mould"]["state"], "full");
        assert_eq!(exact(plan, "/mould/waste_mass"), number("12"));
    }
    // Three times the mould, but not three times the salt: more than three times the fats.
    let ratio = exact(&plans[1], "/total_fats").checked_div(&exact(&plans[0], "/total_fats"));
    assert!(ratio.unwrap() > number("3"));
}

#[test]
fn a_calibrated_mould_is_right_whatever_the_tables_say() {
    let mut batch = harbour_bar();
    batch["total_fats"] = json!(700);
    let weighed = json!({"mould": {"cavities": {"count": 12, "volume": 95}},
                         "batter": {"plan": batch, "full_cavities": 10, "last_cavity": 25}});
    let learnt = call("calibrate", &weighed);
    let bar = exact(&learnt, "/cavities/0/bar_mass");
    let poured = exact(&learnt, "/poured_mass");
    assert_eq!(&bar * &number("10.25"), poured);
    let found = exact(&learnt, "/batter_density");
    assert_eq!(found, bar.checked_div(&number("95")).unwrap());
    let volume = exact(&learnt, "/cavities/0/volume");
    assert_eq!(
        volume,
        bar.checked_div(&exact(&learnt, "/expected_density"))
            .unwrap()
    );

    let mut next = harbour_bar();
    next["scale_step"] = Value::Null;
    let size = json!({"count": 12, "bar_mass": learnt["cavities"][0]["bar_mass"]["exact"]});
    next["mould"] = json!({"cavities": size});
    let plan = call("plan", &next);
    assert_eq!(exact(&plan, "/batter_mass"), bar * number("12"));
}

#[test]
fn headroom_and_waste_count_once() {
    let mut request = harbour_bar();
    request["scale_step"] = Value::Null;
    request["mould"] =
        json!({"cavities": {"count": 10, "bar_mass": 100}, "fill": 80, "waste": "20 %"});
    // 10 · 100 g · 0.8 = 800 g poured of 1000 g
    assert_eq!(
        exact(&call("plan", &request), "/batter_mass"),
        number("1000")
    );
    request["mould"]["waste"] = json!("20 g");
    assert_eq!(
        exact(&call("plan", &request), "/batter_mass"),
        number("820")
    );
}

#[test]
fn a_mould_of_water_is_as_large_as_its_volume() {
    let by = |size: Value| {
        let request = json!({"mould": {"cavities": size}, "batter": {"mass": 500, "density": 1}});
        exact(&call("fill", &request), "/mould_volume")
    };
    let water = json!({"count": 5, "water_mass": "99.8207 g", "water_temperature": "68 °F"});
    assert_eq!(by(water), number("500"));
    assert_eq!(by(json!({"count": 5, "volume": "100 mL"})), number("500"));
}

#[test]
fn faults_stand_at_their_place() {
    let codes = |operation: &str, request: Value| -> Vec<(String, String)> {
        let answer = call(operation, &request);
        let faults = answer["error"]["faults"].as_array();
        let faults = faults.unwrap_or_else(|| panic!("{answer}")).iter();
        let text = |value: &Value| value.as_str().unwrap().to_owned();
        faults.map(|f| (text(&f["code"]), text(&f["at"]))).collect()
    };
    let one = |code: &str, at: &str| vec![(code.to_owned(), at.to_owned())];
    let with = |mould: Value| {
        let mut request = harbour_bar();
        request["mould"] = mould;
        request
    };
    let tray = json!({"count": 12, "volume": 90});
    assert_eq!(codes("plan", with(json!({}))), one("one_of", "mould"));
    assert_eq!(
        codes(
            "plan",
            with(json!({"cavities": {"count": 12, "volume": 0}}))
        ),
        one("not_positive", "mould.cavities.volume")
    );
    assert_eq!(
        codes(
            "plan",
            with(json!({"cavities": {"count": 2.5, "volume": 90}}))
        ),
        one("bad_number", "mould.cavities.count")
    );
    assert_eq!(
        codes(
            "plan",
            with(json!({"cavities": tray, "pour_temperature": 80}))
        ),
        one("out_of_range", "mould.pour_temperature")
    );
    assert_eq!(
        codes(
            "plan",
            with(json!({"cavities": tray, "fill": "120 %", "waste": "100 %"}))
        ),
        [
            one("out_of_range", "mould.fill"),
            one("out_of_range", "mould.waste")
        ]
        .concat()
    );
    let several =
        json!({"several": [{"cavities": tray}, {"box": {"length": 1, "width": 1, "height": -1}}]});
    assert_eq!(
        codes("plan", with(several)),
        one("not_positive", "mould.several[1].box.height")
    );
    let mut both = with(json!({"cavities": tray}));
    both["total_fats"] = json!(500);
    assert_eq!(codes("plan", both), one("total_not_needed", "total_fats"));
    let mut strong = with(json!({"cavities": tray}));
    strong["water"] = json!({"lye_concentration": 52});
    assert_eq!(codes("plan", strong), one("lye_too_strong", "water"));
    let mut heavy = with(json!({"cavities": {"count": 1, "volume": 90}}));
    heavy["additives"] = json!([{"name": "tide salt", "mass": 500, "density": 2.16}]);
    assert_eq!(codes("plan", heavy), one("mould_too_small", "mould"));
    let coarse = with(json!({"cavities": {"count": 1, "volume": 90}, "err_on": "never_overflow"}));
    let coarse = json!({"scale_step": "500 g", "fats": coarse["fats"], "superfat": 6,
        "water": coarse["water"], "mould": coarse["mould"]});
    assert_eq!(
        codes("plan", coarse),
        one("scale_step_too_coarse", "scale_step")
    );
    let batter = json!({"mass": 900});
    assert_eq!(
        codes(
            "fill",
            json!({"mould": {"cavities": tray}, "batter": batter})
        ),
        one("missing", "batter.density")
    );
    let batter = json!({"full_cavities": 13});
    assert_eq!(
        codes(
            "fill",
            json!({"mould": {"cavities": tray}, "batter": batter})
        ),
        one("too_many", "batter.full_cavities")
    );
    let mut part = harbour_bar();
    part["fats"][0]["share"] = json!(50);
    let batter = json!({"plan": part});
    let found = codes(
        "fill",
        json!({"mould": {"cavities": tray}, "batter": batter}),
    );
    assert!(found.contains(&("shares_do_not_sum".into(), "batter.plan.fats".into())));
}

#[cfg(feature = "picture")]
#[test]
fn the_picture_shows_each_cavity() {
    let batter = json!({"full_cavities": 10, "last_cavity": 40});
    let request = json!({"mould": {"cavities": {"count": 12}}, "batter": batter,
                         "title": "Quay <&> \"salt\""});
    let picture = call("picture", &request);
    let svg = picture["svg"].as_str().unwrap();
    assert_eq!(svg.matches(">full</text>").count(), 10);
    assert_eq!(svg.matches(">40 %</text>").count(), 1);
    assert_eq!(svg.matches(">empty</text>").count(), 1);
    assert!(svg.contains("<title>Quay &lt;&amp;&gt; &quot;salt&quot;</title>"));
    let text = picture["text"].as_str().unwrap();
    assert_eq!(
        text,
        "10 of 12 cavities are full; the next is filled to 40 %; 1 stays empty."
    );
    assert!(svg.contains(&format!("<desc>{text}</desc>")));
}

// Over random moulds.

/// A size of each sort.
fn sizes() -> impl Strategy<Value = Value> {
    let length = 20_u32..400;
    let box_sizes = (length.clone(), length.clone(), length.clone(), 1_u32..4);
    let count = 1_u32..30;
    prop_oneof![
        box_sizes.prop_map(|(l, w, h, count)| json!({"box": {"length": l as f64 / 10.0,
            "width": w as f64 / 10.0, "height": h as f64 / 10.0, "count": count}})),
        (length.clone(), length).prop_map(|(d, h)| json!({"cylinder":
            {"diameter": d as f64 / 10.0, "height": h as f64 / 10.0}})),
        (count.clone(), 20_u32..400).prop_map(|(count, v)| json!({"cavities":
            {"count": count, "volume": v}})),
        (count.clone(), 20_u32..400, 10_u32..90).prop_map(|(count, m, t)| json!({"cavities":
            {"count": count, "water_mass": m, "water_temperature": t}})),
        (count, 20_u32..400).prop_map(|(count, m)| json!({"cavities":
            {"count": count, "bar_mass": m}})),
    ]
}

fn moulds() -> impl Strategy<Value = Value> {
    let several = prop::collection::vec(sizes(), 1..4).prop_map(|s| json!({"several": s}));
    let waste = prop_oneof![
        Just(Value::Null),
        (0_u32..30).prop_map(|grams| json!(grams)),
        (0_u32..10).prop_map(|percent| json!(format!("{percent} %"))),
    ];
    let err_on = prop_oneof![Just("never_overflow"), Just("always_full")];
    (
        prop_oneof![sizes(), several],
        60_u32..=100,
        waste,
        err_on,
        15_u32..=55,
    )
        .prop_map(|(mut mould, fill, waste, err_on, temperature)| {
            mould["fill"] = json!(fill);
            mould["waste"] = waste;
            mould["err_on"] = json!(err_on);
            mould["pour_temperature"] = json!(temperature);
            mould
        })
}

fn recipes() -> impl Strategy<Value = Value> {
    let step = prop_oneof![
        Just(Value::Null),
        Just(json!("0.1 g")),
        Just(json!("1 g")),
        Just(json!("0.25 oz"))
    ];
    let additive = prop_oneof![
        (0_u32..15).prop_map(|mass| json!({"name": "sand", "mass": mass, "density": 2.6})),
        (0_u32..6).prop_map(|share| json!({"name": "oats", "of_fats": share})),
        (1_u32..10).prop_map(|mass| json!({"name": "kelp", "mass": mass, "displaces": 4})),
    ];
    let additives = prop::collection::vec(additive, 0..3);
    (1_u32..99, 0_u32..=100, 25_u32..45, step, additives).prop_map(
        |(share, koh, concentration, step, additives)| {
            json!({
                "fats": [{"fat": "olive-oil", "share": share},
                         {"fat": "coconut-oil", "share": 100 - share}],
                "superfat": 5,
                "alkali": {"koh_share": koh, "koh_purity": 90},
                "water": {"lye_concentration": concentration},
                "scale_step": step,
                "additives": additives
            })
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// A plan for a mould keeps its promise, and `fill` then says full.
    #[test]
    fn a_plan_for_a_mould_fills_it(mould in moulds(), mut recipe in recipes()) {
        recipe["mould"] = mould.clone();
        let plan = call("plan", &recipe);
        if let Some(faults) = plan["error"]["faults"].as_array() {
            // A tiny mould may have no room for the additives or too coarse a scale.
            let code = faults[0]["code"].as_str().unwrap();
            prop_assert!(["mould_too_small", "scale_step_too_coarse"].contains(&code), "{plan}");
            return Ok(());
        }
        let filled = exact(&plan, "/mould/mould_filled");
        if mould["err_on"] == "always_full" {
            prop_assert!(filled >= Rational::HUNDRED, "{filled}");
        } else {
            prop_assert!(filled <= Rational::HUNDRED, "{filled}");
        }
        let fill = call("fill", &json!({"batter": {"plan": recipe}}));
        prop_assert_eq!(&fill["state"], "full", "{}", &fill);
        prop_assert_eq!(exact(&fill, "/last_cavity"), Rational::ZERO);
        prop_assert_eq!(&fill["empty_cavities"], 0);
        if recipe["scale_step"].is_null() {
            let gap = exact(&fill, "/scale_to_fill") - Rational::ONE;
            prop_assert!(gap.abs() < number("1e-9"), "{gap}");
        }
    }

    /// Nothing is lost: bars, what is left over and what stays in the bowl are the batter.
    #[test]
    fn mass_is_conserved(
        kinds in prop::collection::vec((1_u32..20, 10_i64..500), 1..4),
        batter in 100_i64..20_000,
        density in (900_i64..1_100, 0_i64..50),
        fill_percent in 1_i64..=100,
        waste in 0_i64..50,
        never_overflow: bool,
    ) {
        let cavities = kinds.into_iter().map(|(count, volume)| Cavities {
            count,
            size: Size::Volume(Volume::new(Rational::integer(volume))),
            fill: None,
        });
        let mould = Mould {
            cavities: cavities.collect(),
            fill: Share::from_base(Rational::integer(fill_percent)),
            waste: Waste::Mass(Mass::new(Rational::integer(waste))),
        };
        let low = Rational::decimal(density.0, 3);
        let high = Rational::decimal(density.0 + density.1, 3);
        let range = lixivium::exact::Interval::new(low, high).unwrap();
        let density = Spread { likely: range.middle(), range };
        let batter = Batter {
            planned: None,
            mass: Some(Mass::new(Rational::integer(batter))),
            yields: Yield::Density(&density),
        };
        let err_on = if never_overflow { ErrOn::NeverOverflow } else { ErrOn::AlwaysFull };
        let filling = fill(&mould, &batter, err_on).unwrap();
        let mut sum = filling.left_over_mass.unwrap().grams() + &Rational::integer(waste);
        let mut full = filling.full_cavities;
        for (cavities, bar) in mould.cavities.iter().zip(&filling.bars) {
            let bar = bar.as_ref().unwrap().mass.grams();
            let here = full.min(cavities.count);
            sum = sum + bar * &Rational::integer(here.into());
            if here < cavities.count && full == here {
                // The first that is not full is the last that is begun.
                sum = sum + bar * filling.last_cavity.fraction();
                break;
            }
            full -= here;
        }
        prop_assert_eq!(sum, batter.mass.unwrap().grams().clone());
        let begun = u32::from(!filling.last_cavity.fraction().is_zero());
        prop_assert_eq!(filling.full_cavities + begun + filling.empty_cavities, mould.count());
    }

    /// A batch that was planned for a mould, written down and entered again fills it: by weights
    /// and by shares and total. One that lacks several steps of every fat does not.
    #[test]
    fn the_scale_tells_no_more(
        mould in moulds(),
        fats in prop::collection::vec((0_usize..5, 5_u32..60), 1..6),
        (koh, stock, water) in (0_u32..=100, any::<bool>(), 20_u32..40),
        step in prop_oneof![Just(0.1), Just(1.0), Just(2.0), Just(5.0)],
        additives in prop::collection::vec((0_u32..15, any::<bool>()), 0..3),
        acid in prop::option::of(1_u32..3),
    ) {
        let names = ["olive-oil", "coconut-oil", "lard", "shea-butter", "castor-oil"];
        let whole: u32 = fats.iter().map(|(_, part)| part).sum();
        let fats: Vec<Value> = fats.iter().map(|(i, part)| {
            json!({"fat": names[*i], "share": format!("{}/{whole} %", part * 100)})
        }).collect();
        let additives: Vec<Value> = additives.iter().map(|(amount, is_mass)| match is_mass {
            true => json!({"name": "sand", "mass": amount}),
            false => json!({"name": "oats", "of_fats": amount}),
        }).collect();
        let mut recipe = json!({
            "fats": fats, "superfat": 5,
            "alkali": {"koh_share": koh, "koh_purity": 90},
            "water": {"lye_concentration": water, "count_alkali_water": true},
            "scale_step": step, "additives": additives,
        });
        if stock {
            recipe["stock_solution"] = json!({"naoh": 50});
        }
        if let Some(share) = acid {
            recipe["acids"] = json!([{"acid": "citric-acid", "of_fats": share}]);
        }
        let mut asked = recipe.clone();
        asked["mould"] = mould.clone();
        let plan = call("plan", &asked);
        // On a scale too coarse for the batch a smaller one may have no alkali, or lack a fat.
        let step = Rational::from_f64(step).unwrap();
        let steps = |least: i64| &step * &Rational::integer(least);
        let fats = plan["fats"].as_array().into_iter().flatten();
        if plan["error"].is_object() || exact(&plan, "/total_fats") < steps(30)
            || fats.clone().any(|fat| exact(fat, "/mass") < steps(5)) {
            return Ok(());
        }
        let weights = |less: i64| {
            let mut again = recipe.clone();
            for (i, fat) in fats.clone().enumerate() {
                let mass = exact(fat, "/mass") - steps(less);
                again["fats"][i] = json!({"fat": fat["fat"], "mass": mass.to_string()});
            }
            call("fill", &json!({"mould": mould, "batter": {"plan": again}}))
        };
        let again = weights(0);
        prop_assert_eq!(&again["state"], "full", "{}", &again);

        let mut by_share = recipe.clone();
        by_share["total_fats"] = plan["total_fats"]["exact"].clone();
        let again = call("fill", &json!({"mould": mould, "batter": {"plan": by_share}}));
        let (less, state, factor) = match mould["err_on"] == "always_full" {
            true => (-3, "left_over", "2"),
            false => (3, "short", "1/2"),
        };
        prop_assert_ne!(&again["state"], state, "{}", &again);
        let mass = exact(&plan, "/batter_mass") * number(factor);
        let batter = json!({"plan": by_share, "mass": mass.to_string()});
        let other = call("fill", &json!({"mould": mould, "batter": batter}));
        prop_assert!(other["error"].is_object() || other["state"] == state, "{}", &other);

        let other = weights(less);
        prop_assert!(other["error"].is_object() || other["state"] == state, "{}", &other);
    }
}
