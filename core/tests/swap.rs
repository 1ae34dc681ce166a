//! Composition and swap against samples, grids and closed forms.
//!
//! The batch is invented: a harbour festival, bars sold from a boat.

mod asking;

use asking::{ask, exact, fault};
use lixivium::composition::{Blend, Figure};
use lixivium::exact::Rational;
use lixivium::fats::{self, Fat, find};
use lixivium::swap::nearest;
use serde_json::{Value, json};

fn fat(name: &str) -> Fat {
    Fat::from(find(name).unwrap())
}

fn harbour() -> Value {
    json!({
        "fats": [{"fat": "olive-oil", "mass": 600}, {"fat": "coconut-oil", "mass": 250},
                 {"fat": "palm-oil", "mass": 150}],
        "superfat": 6, "water": {"lye_concentration": 31}
    })
}

const GROUPS: [Figure; 6] = [
    Figure::SaturatedToC10,
    Figure::SaturatedC12ToC14,
    Figure::SaturatedFromC15,
    Figure::Monounsaturated,
    Figure::Polyunsaturated,
    Figure::Hydroxylated,
];

#[test]
fn the_groups_of_every_fat_share_out_its_acids() {
    for entry in fats::catalogue() {
        let fat = Fat::from(entry);
        let Some(composition) = fat.composition() else {
            continue;
        };
        let sum: Rational = GROUPS
            .iter()
            .map(|group| group.of(&fat).unwrap().typical)
            .sum();
        assert_eq!(sum, composition.sum(), "{}", entry.id);
        for group in GROUPS {
            let found = group.of(&fat).unwrap();
            assert!(
                found.range.contains(&found.typical),
                "{} {group:?}",
                entry.id
            );
            assert!(!found.range.low().is_negative());
        }
    }
}

/// Compositions within the published ranges, filled up to 100 % in many orders, never leave the
/// range of the monounsaturated acids, and some of them are its ends.
#[test]
fn the_range_of_a_group_is_attained_and_never_left() {
    let olive = fat("olive-oil");
    let found = Figure::Monounsaturated.of(&olive).unwrap();
    let acids = olive.catalogued().unwrap().composition();
    let mut seen: Vec<Rational> = Vec::new();
    let mut state = 7_u64;
    for _ in 0..2_000 {
        let mut order: Vec<usize> = (0..acids.len()).collect();
        for i in (1..order.len()).rev() {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            order.swap(i, (state >> 33) as usize % (i + 1));
        }
        let lows: Rational = acids.iter().map(|acid| acid.low()).sum();
        let mut missing = Rational::HUNDRED - lows;
        let mut shares: Vec<Rational> = acids.iter().map(|acid| acid.low()).collect();
        for i in order {
            let more = (acids[i].high() - acids[i].low()).min(missing.clone());
            shares[i] = &shares[i] + &more;
            missing = missing - more;
        }
        assert!(missing.is_zero());
        let mono = acids
            .iter()
            .zip(&shares)
            .filter(|(acid, _)| acid.acid().double_bonds == 1 && acid.acid().hydroxyls == 0);
        let mono: Rational = mono.map(|(_, share)| share).sum();
        assert!(found.range.contains(&mono));
        seen.push(mono);
    }
    assert_eq!(seen.iter().min().unwrap(), found.range.low());
    assert_eq!(seen.iter().max().unwrap(), found.range.high());
}

#[test]
fn a_blend_compared_with_itself_has_no_difference_and_no_noise() {
    let blend = Blend::new([
        (fat("olive-oil"), Rational::integer(3)),
        (fat("coconut-oil"), Rational::ONE),
    ]);
    for figure in Figure::ALL {
        let none = blend.compared_with(&blend).figure(figure).unwrap();
        assert!(none.typical.is_zero() && none.range.width().is_zero());
    }
}

#[test]
fn glycerol_and_fatty_matter_follow_from_the_alkali() {
    let answer = ask(
        "composition",
        &json!({"plan": {
        "fats": [{"fat": {"name": "pure fat", "saponification_value": 200}, "mass": 1000}],
        "superfat": 10, "water": {"water_to_lye": 2}}}),
    );
    // 180 g KOH: glycerol 92.094 / (3 · 56.105) of it.
    let koh = Rational::integer(180);
    let third = |grams: &str| {
        let grams = Rational::parse(grams).unwrap();
        (grams * &koh)
            .checked_div(&Rational::parse("168.315").unwrap())
            .unwrap()
    };
    assert_eq!(
        exact(&answer["glycerol_mass"]["typical"]).to_fixed(6),
        third("92.094").to_fixed(6)
    );
    assert_eq!(
        exact(&answer["free_fat_mass"]["typical"]),
        Rational::HUNDRED
    );
    let fatty = Rational::integer(1_000) - third("38.049");
    let naoh = (koh * Rational::parse("39.997").unwrap())
        .checked_div(&Rational::parse("56.105").unwrap())
        .unwrap();
    let dry = (fatty * Rational::HUNDRED)
        .checked_div(&(Rational::integer(1_000) + naoh))
        .unwrap();
    assert_eq!(
        exact(&answer["total_fatty_matter_dry"]["typical"]).to_fixed(6),
        dry.to_fixed(6)
    );
}

#[test]
fn two_batches_are_compared_beyond_noise() {
    let mut other = harbour();
    other["fats"][0]["mass"] = json!(595);
    other["fats"][2]["mass"] = json!(155);
    let answer = ask("composition", &json!({"plan": harbour(), "other": other}));
    let named = |figure: &str| {
        answer["differences"]
            .as_array()
            .unwrap()
            .iter()
            .find(|found| found["figure"] == figure)
            .unwrap()
            .clone()
    };
    assert!(exact(&named("monounsaturated")["typical"]).is_positive());
    assert_eq!(named("saponification_value")["sure"], false);
    assert_eq!(answer["unknown"], json!([]));
    let broken = json!({"plan": harbour(), "other": {"fats": []}});
    assert_eq!(fault("composition", &broken).1, "other.superfat");
}

#[test]
fn no_blend_on_a_grid_is_nearer_than_the_nearest() {
    let at_hand = ["palm-kernel-oil", "olive-oil", "palm-oil", "tallow"].map(fat);
    let target = fat("coconut-oil");
    let found = nearest(&target, &at_hand).unwrap();
    let sum: Rational = found.shares.iter().map(|(_, share)| share).sum();
    assert_eq!(sum, Rational::ONE);
    let distance = |shares: &[i64]| -> Rational {
        let acids = lixivium::chemistry::FattyAcid::all().iter().map(|acid| {
            let of = |fat: &Fat| fat.composition().unwrap().share(acid.id);
            let blend: Rational = at_hand
                .iter()
                .zip(shares)
                .map(|(fat, share)| of(fat) * Rational::decimal(*share, 1))
                .sum();
            let difference = blend - of(&target);
            &difference * &difference
        });
        acids.sum()
    };
    for a in 0..=10 {
        for b in 0..=10 - a {
            for c in 0..=10 - a - b {
                assert!(distance(&[a, b, c, 10 - a - b - c]) >= found.distance);
            }
        }
    }
}

#[test]
fn a_fat_half_way_between_two_is_half_of_each() {
    let own = |name: &str, oleic: i64| {
        json!({"name": name,
        "fatty_acids": {"C18:1": oleic, "C16:0": 100 - oleic}})
    };
    let plan = json!({"fats": [{"fat": own("middle", 50), "mass": 100}], "superfat": 5,
                      "water": {"lye_concentration": 33}});
    let answer = ask(
        "swap",
        &json!({"plan": plan, "replace": own("middle", 50),
        "at_hand": [own("soft", 70), own("hard", 30), own("softer", 90)]}),
    );
    assert!(exact(&answer["distance"]).is_zero());
    let shares: Vec<_> = answer["by"]
        .as_array()
        .unwrap()
        .iter()
        .map(|by| exact(&by["share"]))
        .collect();
    assert_eq!(shares, [Rational::integer(50), Rational::integer(50)]);
}

#[test]
fn a_swap_is_the_plan_of_the_new_fats() {
    let request = json!({"plan": harbour(), "replace": "palm-oil",
        "by": [{"fat": "tallow", "share": 60}, {"fat": "olive-oil", "share": 40}],
        "prices": [{"fat": "palm-oil", "per_kg": 3}, {"fat": "tallow", "per_kg": 5},
                   {"fat": "olive-oil", "per_kg": 8}, {"fat": "coconut-oil", "per_kg": 4}]});
    let answer = ask("swap", &request);
    let mut new = harbour();
    new["fats"].as_array_mut().unwrap().pop();
    new["fats"]
        .as_array_mut()
        .unwrap()
        .push(json!({"fat": "tallow", "mass": 90}));
    new["fats"]
        .as_array_mut()
        .unwrap()
        .push(json!({"fat": "olive-oil", "mass": 60}));
    let plan = ask("plan", &new);
    assert_eq!(answer["plan"], plan);
    let before = exact(&ask("plan", &harbour())["naoh_mass"]);
    assert_eq!(
        exact(&answer["naoh_change"]),
        exact(&plan["naoh_mass"]) - before
    );
    // 0.09 kg · 5 + 0.06 kg · 8 - 0.15 kg · 3
    assert_eq!(exact(&answer["cost_change"]), Rational::decimal(48, 2));
    let mut cheaper = request.clone();
    cheaper["prices"] = json!([{"fat": "palm-oil", "per_kg": 3}]);
    assert!(ask("swap", &cheaper)["cost_change"].is_null());
}

#[test]
fn bad_swaps_are_refused_at_their_place() {
    let with = |more: Value| {
        let mut request = json!({"plan": harbour(), "replace": "palm-oil"});
        for (key, value) in more.as_object().unwrap() {
            request[key] = value.clone();
        }
        fault("swap", &request)
    };
    let cases = [
        (json!({}), "one_of", ""),
        (
            json!({"replace": "tallow", "at_hand": ["olive-oil"]}),
            "not_in_plan",
            "replace",
        ),
        (
            json!({"by": [{"fat": "tallow", "share": 90}]}),
            "shares_do_not_sum",
            "by",
        ),
        (
            json!({"by": [{"fat": "tallow", "share": 0}]}),
            "not_positive",
            "by[0].share",
        ),
        (json!({"at_hand": []}), "empty", "at_hand"),
        (
            json!({"at_hand": [{"name": "unknown", "saponification_value": 190}]}),
            "composition_unknown",
            "at_hand[0]",
        ),
    ];
    for (more, code, at) in cases {
        assert_eq!(with(more), (code.to_owned(), at.to_owned()));
    }
}
