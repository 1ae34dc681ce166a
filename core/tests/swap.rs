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
    let (olive, coconut) = (fat("olive-oil"), fat("coconut-oil"));
    let blend = Blend::new([(&olive, Rational::integer(3)), (&coconut, Rational::ONE)]);
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
    let found = nearest(&target, &at_hand, None).unwrap();
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

/// At the nearest blend no fat lies nearer to the target along the line to it: the condition of
/// Karush, Kuhn and Tucker, which is enough since the distance is convex.
#[test]
fn the_nearest_blend_of_many_meets_the_condition_of_the_best() {
    let names = [
        "palm-kernel-oil",
        "olive-oil",
        "palm-oil",
        "tallow",
        "sunflower-oil",
        "castor-oil",
        "cocoa-butter",
        "lard",
        "rice-bran-oil",
        "shea-butter",
        "soybean-oil",
        "coconut-oil",
    ];
    let fats: Vec<Fat> = names.into_iter().map(fat).collect();
    assert!(fats.len() >= 8, "{}", fats.len());
    for out in 0..fats.len() {
        let mut at_hand = fats.clone();
        let target = at_hand.remove(out);
        // One of them twice does no harm.
        at_hand.push(at_hand[0].clone());
        let found = nearest(&target, &at_hand, None).unwrap();
        let acid = |fat: &Fat, id: &str| fat.composition().unwrap().share(id);
        let ids = || {
            lixivium::chemistry::FattyAcid::all()
                .iter()
                .map(|acid| acid.id)
        };
        let off: Vec<Rational> = ids()
            .map(|id| {
                let each = found.shares.iter();
                let blend: Rational = each.map(|(i, share)| acid(&at_hand[*i], id) * share).sum();
                (blend - acid(&target, id)).reduced()
            })
            .collect();
        let along = |of: &dyn Fn(&str) -> Rational| -> Rational {
            let each = ids().zip(&off);
            each.fold(Rational::ZERO, |sum, (id, off)| {
                (sum + (of(id) - acid(&target, id)) * off).reduced()
            })
        };
        let own: Rational = off.iter().map(|off| off * off).sum();
        assert_eq!(own, found.distance);
        for (i, fat) in at_hand.iter().enumerate() {
            let along = along(&|id| acid(fat, id));
            assert!(along >= own, "{} {}", target.name(), fat.name());
            if found.shares.iter().any(|(chosen, _)| *chosen == i) {
                assert_eq!(along, own);
            }
        }
        let few: Vec<_> = (1..=3)
            .map(|most| nearest(&target, &at_hand, Some(most)).unwrap())
            .collect();
        for (most, few) in few.iter().enumerate() {
            assert!(few.shares.len() <= most + 1 && few.distance >= found.distance);
        }
        assert!(few[0].distance >= few[1].distance && few[1].distance >= few[2].distance);
        if found.shares.len() <= 3 {
            assert_eq!(few[2].distance, found.distance);
        }
    }
}

#[test]
fn the_nearest_of_one_or_of_the_same_fats_is_that_fat() {
    let olive = fat("olive-oil");
    let found = nearest(&fat("coconut-oil"), std::slice::from_ref(&olive), None).unwrap();
    assert_eq!(found.shares, [(0, Rational::ONE)]);
    let found = nearest(&olive, &vec![olive.clone(); 3], None).unwrap();
    assert!(found.distance.is_zero());
    assert_eq!(found.shares, [(0, Rational::ONE)]);
}

#[test]
fn the_range_of_a_calculated_saponification_value_is_that_of_the_acids() {
    for name in ["olive-oil", "coconut-oil", "palm-oil", "castor-oil"] {
        let fat = fat(name);
        let found = Figure::CalculatedSaponificationValue.of(&fat).unwrap();
        let acids = fat.catalogued().unwrap().composition();
        let mut seen: Vec<Rational> = Vec::new();
        // What is missing to 100 % goes to the acids from the lightest on, or from the heaviest.
        for lightest_first in [true, false] {
            let mut order: Vec<_> = acids.iter().collect();
            order.sort_by_key(|range| range.acid().molar_mass());
            if !lightest_first {
                order.reverse();
            }
            let mut missing =
                Rational::HUNDRED - order.iter().map(|acid| acid.low()).sum::<Rational>();
            let shares: Vec<_> = order
                .iter()
                .map(|range| {
                    let more = (range.high() - range.low()).min(missing.clone());
                    missing = &missing - &more;
                    (range.acid().id, range.low() + more)
                })
                .collect();
            if !missing.is_zero() {
                continue;
            }
            let shares = shares.into_iter().filter(|(_, share)| share.is_positive());
            let extreme =
                lixivium::chemistry::Composition::new(shares, lixivium::chemistry::Shares::AsGiven);
            seen.push(extreme.unwrap().saponification_value());
        }
        let slack = Rational::decimal(1, 6);
        for value in &seen {
            assert!(found.range.contains(value), "{name}");
        }
        if let [high, low] = &seen[..] {
            assert!(found.range.high() - high < slack || *found.range.high() == found.typical);
            assert!(low - found.range.low() < slack || *found.range.low() == found.typical);
        }
        assert!(found.range.width().is_positive());
    }
}

#[test]
fn what_the_soap_holds_is_compared_too() {
    let mut other = harbour();
    other["superfat"] = json!(1);
    let answer = ask("composition", &json!({"plan": harbour(), "other": other}));
    let named = |figure: &str| {
        let differences = answer["differences"].as_array().unwrap();
        let found = differences.iter().find(|found| found["figure"] == figure);
        found.unwrap().clone()
    };
    assert!(exact(&named("free_fat")["typical"]).is_positive());
    // 5 % of the fats is within what the published ranges leave open.
    assert_eq!(named("free_fat")["sure"], false);
    assert!(exact(&named("glycerol")["typical"]).is_negative());
    let figures = answer["figures"].as_array().unwrap();
    assert!(
        figures
            .iter()
            .all(|figure| figure["source"].as_str().unwrap().len() > 5)
    );
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
            json!({"at_hand": ["olive-oil"], "most_fats": 0}),
            "out_of_range",
            "most_fats",
        ),
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
