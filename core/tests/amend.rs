//! `amend` and then `audit` gives exactly the target; what cannot be done is refused.
//!
//! The batch is invented: a harbour festival, bars sold from a boat.

mod asking;

use asking::{ask, exact, fault};
use lixivium::exact::Rational;
use proptest::prelude::*;
use serde_json::{Value, json};

fn harbour() -> Value {
    json!({
        "fats": [{"fat": "olive-oil", "mass": 600}, {"fat": "coconut-oil", "mass": 250},
                 {"fat": {"name": "boathouse tallow", "saponification_value": 197.5,
                          "saponification_range": [192, 203], "iodine_value": 45}, "mass": 150}],
        "superfat": 6,
        "alkali": {"koh_share": 10, "naoh_purity": 98, "koh_purity": 90},
        "water": {"lye_concentration": 31}
    })
}

/// The weights of `actual` with the additions, audited.
fn audited(actual: &[Rational; 6], answer: &Value) -> Value {
    let added = &answer["additions"];
    let fat = |i: usize| (&actual[i] + &exact(&added["fats"][i]["mass"])).to_string();
    let plus = |i: usize, key: &str| (&actual[i] + &exact(&added[key])).to_string();
    ask(
        "audit",
        &json!({
            "fats": [{"fat": "olive-oil", "mass": fat(0)}, {"fat": "coconut-oil", "mass": fat(1)},
                     {"fat": {"name": "boathouse tallow", "saponification_value": 197.5},
                      "mass": fat(2)}],
            "alkalis": [{"alkali": "naoh", "mass": plus(3, "naoh_mass"), "purity": 98},
                        {"alkali": "koh", "mass": plus(4, "koh_mass"), "purity": 90}],
            "water_mass": plus(5, "water_mass"),
        }),
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn amended_batches_audit_to_the_target(
        fats in [500..800_i64, 200..400, 100..200],
        naoh in 0..200_i64, koh in 0..60_i64, water in 100..600_i64,
        apart in any::<bool>(),
    ) {
        let request = json!({
            "plan": harbour(),
            "actual": {"fats": fats, "naoh_mass": naoh, "koh_mass": koh, "water_mass": water},
            "stage": if apart { "apart" } else { "mixed" },
        });
        let answer = ask("amend", &request);
        let [a, b, c] = fats;
        let actual = [a, b, c, naoh, koh, water].map(Rational::integer);
        let found = audited(&actual, &answer);
        prop_assert_eq!(exact(&found["superfat"]), Rational::integer(6));
        prop_assert_eq!(exact(&found["koh_share_by_moles"]), Rational::integer(10));
        prop_assert_eq!(exact(&found["lye_concentration"]["low"]), Rational::integer(31));
        prop_assert_eq!(exact(&found["superfat"]), exact(&answer["after"]["superfat"]));
        let added = &answer["additions"];
        let fat = exact(&added["fats"][0]["mass"]);
        let others = ["naoh_mass", "koh_mass", "water_mass"].map(|key| exact(&added[key]));
        if apart {
            // A fat can be taken back down to its plan, alkali and water to nothing.
            for (i, planned) in [600, 250, 150].into_iter().enumerate() {
                let after = &actual[i] + &exact(&added["fats"][i]["mass"]);
                prop_assert!(after >= actual[i].clone().min(Rational::integer(planned)));
            }
            for (other, there) in others.iter().zip(&actual[3..]) {
                prop_assert!(!(other + there).is_negative());
            }
        } else {
            prop_assert!(!fat.is_negative());
            prop_assert!(others.iter().all(|other| !other.is_negative()));
            // Smallest: less fat would make one of the others negative.
            prop_assert!(fat.is_zero() || others.iter().any(Rational::is_zero));
        }
    }

    #[test]
    fn the_same_recipe_is_a_multiple_of_the_plan(fats in [500..800_i64, 200..400, 100..200]) {
        let request = json!({"plan": harbour(), "actual": {"fats": fats}});
        let answer = ask("amend", &request);
        let added = &answer["same_recipe"];
        let planned = [600, 250, 150];
        let scales = (0..3).map(|i| {
            let mass = Rational::integer(fats[i]) + exact(&added["fats"][i]["mass"]);
            mass.checked_div(&Rational::integer(planned[i])).unwrap()
        });
        let scales: Vec<_> = scales.collect();
        prop_assert!(scales.iter().all(|scale| scale == &scales[0] && *scale >= Rational::ONE));
    }
}

#[test]
fn nothing_is_added_to_what_is_as_planned() {
    let answer = ask("amend", &json!({"plan": harbour(), "actual": {}}));
    assert!(exact(&answer["additions"]["total_mass"]).is_zero());
    assert!(exact(&answer["same_recipe"]["total_mass"]).is_zero());
    assert_eq!(answer["before"], answer["after"]);
}

#[test]
fn too_much_alkali_without_fat_is_refused_and_says_why() {
    let mut request = json!({"plan": harbour(), "actual": {"naoh_mass": 160},
                             "may_add": ["naoh", "koh", "water"]});
    let (code, at) = fault("amend", &request);
    assert_eq!(
        (code.as_str(), at.as_str()),
        ("cannot_be_amended", "may_add.fats")
    );
    request["may_add"] = json!(["fats", "koh", "water"]);
    let answer = ask("amend", &request);
    assert!(exact(&answer["additions"]["naoh_mass"]).is_zero());
    assert_eq!(exact(&answer["after"]["superfat"]), Rational::integer(6));
    request["may_add"] = json!(["fats", "koh"]);
    assert_eq!(fault("amend", &request).1, "may_add.water");
}

#[test]
fn a_bar_with_free_alkali_takes_fat_and_its_water_is_not_looked_at() {
    let request = json!({"plan": harbour(), "actual": {"naoh_mass": 160}, "stage": "bar",
                         "fat": "sunflower-oil"});
    let answer = ask("amend", &request);
    assert!(exact(&answer["before"]["superfat"]).is_negative());
    assert_eq!(exact(&answer["after"]["superfat"]), Rational::integer(6));
    assert_eq!(answer["additions"]["fats"].as_array().unwrap().len(), 1);
    assert!(answer["after"]["lye_concentration"].is_null());
    let codes = answer["cautions"].as_array().unwrap().iter();
    assert!(
        codes
            .clone()
            .any(|caution| caution["code"] == "measure_first")
    );
    assert!(
        codes
            .clone()
            .any(|caution| caution["code"] == "dissolve_added_alkali")
    );
}

#[test]
fn a_soft_bar_takes_harder_fat_up_to_an_iodine_value() {
    let mut request = json!({"plan": harbour(), "actual": {}, "stage": "bar",
                             "fat": {"name": "hard fat", "saponification_value": 200,
                                     "iodine_value": 10}, "iodine_value": 50});
    let answer = ask("amend", &request);
    let added = exact(&answer["additions"]["fats"][0]["mass"]);
    // (600 · 84.5 + 250 · iv + 150 · 45 + g · 10) / (1000 + g) = 50.
    let coconut = lixivium::fats::Fat::from(lixivium::fats::find("coconut-oil").unwrap());
    let coconut = coconut.iodine_value().unwrap().typical;
    let sum = Rational::integer(50_700 + 6_750)
        + coconut * Rational::integer(250)
        + &added * &Rational::integer(10);
    assert_eq!(
        sum,
        (added + Rational::integer(1_000)) * Rational::integer(50)
    );
    request["iodine_value"] = json!(90);
    assert_eq!(
        fault("amend", &request),
        ("cannot_be_amended".to_owned(), "may_add".to_owned())
    );
    request["iodine_value"] = json!(50);
    request["may_add"] = json!(["naoh", "koh", "water"]);
    assert_eq!(fault("amend", &request).1, "may_add.fats");
    request["may_add"] = json!(["fats", "naoh", "koh"]);
    request["fat"] = json!({"name": "unknown", "saponification_value": 200});
    assert_eq!(
        fault("amend", &request),
        ("figure_unknown".to_owned(), "iodine_value".to_owned())
    );
}

#[test]
fn a_soft_bar_takes_harder_fat_up_to_a_share_of_saturated_acids() {
    let own = |name: &str, hard: i64| json!({"name": name, "fatty_acids": {"C18:0": hard, "C18:1": 100 - hard}});
    let plan = json!({"fats": [{"fat": own("soft", 30), "mass": 900}], "superfat": 5,
                      "water": {"lye_concentration": 33}});
    let request = json!({"plan": plan, "actual": {}, "stage": "bar", "saturated": 40,
                         "fats": [own("hard", 90), own("harder", 100)]});
    let answer = ask("amend", &request);
    // 900 · 10 = g · 60: the hardest takes the least.
    let added = &answer["additions"]["fats"];
    assert!(exact(&added[0]["mass"]).is_zero());
    assert_eq!(exact(&added[1]["mass"]), Rational::integer(150));
    assert_eq!(exact(&answer["after"]["superfat"]), Rational::integer(5));
    assert!(exact(&answer["additions"]["naoh_mass"]).is_positive());
    assert!(exact(&answer["additions"]["water_mass"]).is_positive());
}

#[test]
fn a_titrated_bar_takes_fat_for_what_was_found() {
    let request = json!({"plan": harbour(), "actual": {}, "stage": "bar", "fat": "tallow",
                         "bar": {"mass": 1300, "free_alkali": 0.5}});
    let answer = ask("amend", &request);
    let need: Rational = [("olive-oil", 600), ("coconut-oil", 250)]
        .into_iter()
        .map(|(id, mass)| {
            let fat = lixivium::fats::Fat::from(lixivium::fats::find(id).unwrap());
            fat.typical_saponification_value() * Rational::decimal(mass, 3)
        })
        .sum::<Rational>()
        + Rational::decimal(29_625, 3);
    // 6.5 g NaOH in g KOH.
    let free = Rational::parse("56.105").unwrap() * Rational::decimal(65, 1);
    let free = free
        .checked_div(&Rational::parse("39.997").unwrap())
        .unwrap();
    let superfat = -free.checked_div(&need).unwrap() * Rational::HUNDRED;
    assert_eq!(exact(&answer["before"]["superfat"]), superfat);
    assert_eq!(exact(&answer["after"]["superfat"]), Rational::integer(6));
    let mut early = request.clone();
    early["stage"] = json!("mixed");
    assert_eq!(
        fault("amend", &early),
        ("not_needed".to_owned(), "bar".to_owned())
    );
    early["stage"] = json!("bar");
    early["bar"]["free_alkali"] = json!(-1);
    assert_eq!(fault("amend", &early).1, "bar.free_alkali");
}

#[test]
fn what_is_dissolved_or_mixed_stays_where_it_is() {
    let with = |stage: &str, actual: Value| json!({"plan": harbour(), "actual": actual, "stage": stage, "may_add": []});
    let too_much = json!({"naoh_mass": 160, "water_mass": 400});
    for (stage, possible) in [
        ("apart", true),
        ("fats_mixed", true),
        ("lye_made", false),
        ("mixed", false),
    ] {
        let request = with(stage, too_much.clone());
        if possible {
            let answer = ask("amend", &request);
            assert!(exact(&answer["additions"]["naoh_mass"]).is_negative());
            assert!(exact(&answer["additions"]["water_mass"]).is_negative());
            let planned = ask("plan", &harbour());
            let after = Rational::integer(160) + exact(&answer["additions"]["naoh_mass"]);
            assert_eq!(after, exact(&planned["naoh_mass"]));
        } else {
            assert_eq!(fault("amend", &request).0, "cannot_be_amended");
        }
    }
    let fat = json!({"fats": [700, 250, 150]});
    for (stage, possible) in [
        ("apart", true),
        ("lye_made", true),
        ("fats_mixed", false),
        ("mixed", false),
    ] {
        let mut request = with(stage, fat.clone());
        request["targets"] = json!(["superfat"]);
        if possible {
            let answer = ask("amend", &request);
            let back = exact(&answer["additions"]["fats"][0]["mass"]);
            assert_eq!(back, Rational::integer(-100), "{stage}");
            assert_eq!(exact(&answer["additions"]["naoh_mass"]), Rational::ZERO);
        } else if stage == "mixed" {
            assert_eq!(fault("amend", &request).1, "may_add.naoh");
        }
    }
}

#[test]
fn a_target_that_is_left_out_is_left_alone() {
    let mut request = json!({"plan": harbour(), "actual": {"water_mass": 200, "koh_mass": 30},
                             "may_add": ["fats"], "targets": ["superfat"]});
    let answer = ask("amend", &request);
    assert_eq!(exact(&answer["after"]["superfat"]), Rational::integer(6));
    assert!(exact(&answer["additions"]["water_mass"]).is_zero());
    request["targets"] = json!(["water"]);
    request["may_add"] = json!(["water"]);
    let answer = ask("amend", &request);
    assert_eq!(
        exact(&answer["after"]["lye_concentration"]),
        Rational::integer(31)
    );
    assert!(exact(&answer["after"]["superfat"]) < Rational::integer(6));
}

#[test]
fn the_mould_is_as_full_as_a_plan_of_the_same_weights_says() {
    let mut plan = harbour();
    plan["mould"] = json!({"box": {"length": 30, "width": 8, "height": 6.5}, "waste": "10 g"});
    plan["additives"] = json!([{"name": "clay", "mass": 20, "displaces": "9 mL"}]);
    let actual = json!({"fats": [640, 250, 150]});
    let answer = ask("amend", &json!({"plan": plan, "actual": actual}));
    let after = &answer["after"];
    // The same weights as a plan of their own.
    let mut same = plan.clone();
    for i in 0..3 {
        let added = exact(&answer["additions"]["fats"][i]["mass"]);
        let mass = Rational::parse(&actual["fats"][i].to_string()).unwrap() + added;
        same["fats"][i]["mass"] = json!(mass.to_string());
    }
    let planned = ask("plan", &same);
    assert_eq!(after["batter_mass"], planned["batter_mass"]);
    for key in [
        "mould_filled",
        "mould_filled_range",
        "state",
        "left_over_mass",
        "batter_density",
    ] {
        assert_eq!(after["mould"][key], planned["mould"][key], "{key}");
    }
    let volume = exact(&after["batter_volume"]);
    let mass = exact(&after["batter_mass"]);
    assert_eq!(volume * exact(&after["mould"]["batter_density"]), mass);
    assert!(exact(&answer["before"]["batter_volume"]) < exact(&after["batter_volume"]));
    let bar = ask(
        "amend",
        &json!({"plan": plan, "actual": actual, "stage": "bar"}),
    );
    assert!(bar["after"]["mould"].is_null() && bar["after"]["batter_volume"].is_null());
    let dry = ask("amend", &json!({"plan": plan, "actual": {"water_mass": 0}}));
    assert!(dry["before"]["batter_volume"].is_null());
    assert!(!dry["after"]["batter_volume"].is_null());
}

#[test]
fn one_fat_sixteen_fats_and_no_water_are_amended_alike() {
    let fat = |i: usize| {
        json!({"fat": {"name": format!("fat {i}"), "saponification_value": 180 + 5 * i},
               "mass": 50 + i})
    };
    for count in [1, 16] {
        let fats: Vec<_> = (0..count).map(fat).collect();
        let plan = json!({"fats": fats, "superfat": 0, "water": {"of_fats": 30}});
        let actual: Vec<_> = (0..count).map(|i| 60 + i).collect();
        let request = json!({"plan": plan, "actual": {"fats": actual, "water_mass": 0}});
        let answer = ask("amend", &request);
        assert!(exact(&answer["after"]["superfat"]).is_zero());
        let of_fats: i64 = actual.iter().map(|mass| *mass as i64).sum();
        assert_eq!(
            exact(&answer["additions"]["water_mass"]),
            Rational::decimal(3 * of_fats, 1)
        );
    }
}

#[test]
fn additions_are_rounded_to_the_scale_in_the_safe_direction() {
    let mut plan = harbour();
    plan["scale_step"] = json!("1 g");
    let request = json!({"plan": plan, "actual": {"fats": [620, 250, 150]}, "room": 1400});
    let answer = ask("amend", &request);
    for key in ["naoh_mass", "koh_mass", "water_mass"] {
        assert_eq!(
            exact(&answer["additions"][key])
                .floor_to(&Rational::ONE)
                .unwrap(),
            exact(&answer["additions"][key])
        );
    }
    assert!(exact(&answer["after"]["superfat"]) >= Rational::integer(6));
    let batter = exact(&answer["after"]["batter_mass"]);
    assert_eq!(
        exact(&answer["room_left"]),
        Rational::integer(1400) - batter
    );
}

#[test]
fn no_more_is_taken_back_than_there_is_on_whatever_scale() {
    let plan = json!({
        "fats": [{"fat": "olive-oil", "mass": 500}], "superfat": 5,
        "water": {"lye_concentration": 31}, "scale_step": "0.1 g"
    });
    let actual = json!({"koh_mass": "5.05 g"});
    let request = json!({"plan": plan, "actual": actual, "stage": "fats_mixed"});
    let answer = ask("amend", &request);
    let taken = exact(&answer["additions"]["koh_mass"]);
    assert_eq!(taken, Rational::decimal(-505, 2));
    assert_eq!(
        exact(&answer["after"]["koh_share_by_moles"]),
        Rational::ZERO
    );
}

#[test]
fn the_rounding_of_the_plan_is_not_made_good() {
    let mut plan = harbour();
    plan["scale_step"] = json!("1 g");
    for stage in ["apart", "fats_mixed", "lye_made", "mixed", "bar"] {
        let request = json!({"plan": plan, "actual": {}, "stage": stage, "may_add": []});
        let answer = ask("amend", &request);
        assert!(exact(&answer["additions"]["total_mass"]).is_zero());
    }
    // What is too much goes back to the plan and nothing else moves.
    let planned = ask("plan", &plan);
    let naoh = exact(&planned["naoh_mass"]) + Rational::integer(9);
    let request = json!({"plan": plan, "actual": {"naoh_mass": naoh.to_string()},
                         "stage": "fats_mixed", "may_add": []});
    let answer = ask("amend", &request);
    assert_eq!(
        exact(&answer["additions"]["naoh_mass"]),
        Rational::integer(-9)
    );
    assert!(exact(&answer["additions"]["water_mass"]).is_zero());
    assert_eq!(answer["after"]["superfat"], planned["superfat"]);
}

#[test]
fn bad_actual_weights_are_refused_at_their_place() {
    let with = |actual: Value| json!({"plan": harbour(), "actual": actual});
    let places = [
        (json!({"fats": [1, 2]}), "wrong_count", "actual.fats"),
        (json!({"naoh_mass": -1}), "negative", "actual.naoh_mass"),
        (json!({"fats": [0, 0, 0]}), "no_fats", "actual.fats"),
        (json!({"fats": [1, 2, -3]}), "negative", "actual.fats[2]"),
    ];
    for (actual, code, at) in places {
        assert_eq!(
            fault("amend", &with(actual)),
            (code.to_owned(), at.to_owned())
        );
    }
}

#[test]
fn an_audit_deduces_only_what_follows_and_says_so() {
    let mut request = json!({
        "fats": [{"fat": "olive-oil", "mass": 600}, {"fat": "coconut-oil"}],
        "alkalis": [{"alkali": "naoh", "mass": 121}],
        "water_mass": 260,
        "stated": {"total_fats": 850, "superfat": 5, "lye_concentration": 33, "batter_mass": 1235}
    });
    let answer = ask("audit", &request);
    assert_eq!(answer["deduced"][0]["at"], "fats[1]");
    assert_eq!(
        exact(&answer["deduced"][0]["mass"]["low"]),
        Rational::integer(250)
    );
    assert_eq!(answer["unknown"], json!([]));
    let stated: Vec<_> = answer["inconsistencies"]
        .as_array()
        .unwrap()
        .iter()
        .map(|found| found["stated"].as_str().unwrap())
        .collect();
    assert_eq!(stated, ["lye_concentration"]); // 121 / 381 is 31.76 %
    request["stated"] = json!({});
    let answer = ask("audit", &request);
    assert_eq!(answer["unknown"], json!(["fats[1]"]));
    assert!(answer["superfat"].is_null() && answer["worst"].is_null());
    request["stated"] = json!({"total_fats": 500});
    assert_eq!(
        fault("audit", &request),
        ("negative".to_owned(), "stated.total_fats".to_owned())
    );
}

#[test]
fn an_audit_of_a_stock_solution_is_that_of_what_is_in_it() {
    let mut plan = harbour();
    plan["alkali"]["koh_share"] = json!(0);
    plan["stock_solution"] = json!({"naoh": 50});
    let planned = ask("plan", &plan);
    let solution = exact(&planned["stock_solution"]["naoh_solution_mass"]).to_string();
    let mut record = json!({
        "fats": plan["fats"],
        "alkalis": [{"alkali": "naoh", "mass": solution, "purity": 98, "stock_solution": 50}],
        "water_mass": exact(&planned["water_to_add_mass"]).to_string()
    });
    let found = ask("audit", &record);
    assert_eq!(found["superfat"], planned["superfat"]);
    assert_eq!(
        found["lye_concentration"]["low"],
        planned["lye_concentration"]
    );
    assert_eq!(found["batter_mass"]["high"], planned["batter_mass"]);
    // The water that is missing follows from the concentration, without that of the solution.
    record["water_mass"] = json!(null);
    record["stated"] = json!({"lye_concentration": 31});
    let found = ask("audit", &record);
    assert_eq!(
        found["deduced"][0]["mass"]["low"],
        planned["water_to_add_mass"]
    );
    // A range of the strength is one of the alkali and of the water.
    record["alkalis"][0]["stock_solution"] = json!([49, 51]);
    record["water_mass"] = planned["water_to_add_mass"]["exact"].clone();
    let found = ask("audit", &record);
    assert!(exact(&found["worst"]["superfat"]) < Rational::integer(6));
    assert!(exact(&found["best"]["superfat"]) > Rational::integer(6));
    assert!(exact(&found["lye_concentration"]["high"]) > Rational::integer(31));
}

#[test]
fn an_audit_of_ranges_gives_the_corners() {
    let request = json!({
        "fats": [{"fat": "olive-oil", "mass": [990, 1010], "saponification_range": [186, 190]}],
        "alkalis": [{"alkali": "koh", "mass": [180, 182], "purity": [90, 95]}],
        "water_mass": 400
    });
    let answer = ask("audit", &request);
    let part = |a: &str, b: &str| {
        Rational::HUNDRED
            - (Rational::parse(a)
                .unwrap()
                .checked_div(&Rational::parse(b).unwrap())
                .unwrap()
                * Rational::HUNDRED)
    };
    assert_eq!(exact(&answer["worst"]["superfat"]), part("172.9", "184.14"));
    assert_eq!(exact(&answer["best"]["superfat"]), part("162", "191.9"));
    let mut request = request;
    request["alkalis"][0]["purity"] = json!(0);
    assert_eq!(
        fault("audit", &request),
        ("out_of_range".to_owned(), "alkalis[0].purity".to_owned())
    );
    request["alkalis"][0]["purity"] = json!([95, 90]);
    assert_eq!(fault("audit", &request).0, "bad_range");
}
