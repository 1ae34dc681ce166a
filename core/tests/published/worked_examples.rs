//! `worked_examples.json`: worked titrations, pure substances, factors. Each example names its
//! source and tolerance; those marked `seen` are independent.

use lixivium::chemistry::titration::{BackTitration, Titration};
use lixivium::chemistry::{
    ACIDS, Acid, Alkali, Basis, CALCIUM_HYDROXIDE, CALCIUM_OXIDE, Composition, FattyAcid,
    SODIUM_CARBONATE, Shares, saponification,
};
use lixivium::exact::Rational;
use serde_json::Value;

use crate::support::{number, read};

/// Topics of other parts of the library, with the number of their examples.
const ELSEWHERE: [(&str, usize); 10] = [
    ("classification", 1),
    ("density_scale", 7),
    ("enthalpy", 2),
    ("label_threshold", 1),
    ("solution_density", 14),
    ("temperature", 5),
    ("tolerable_negative_error", 10),
    ("unit", 14),
    ("volume", 5),
    ("water_density", 4),
];

/// Examples of chemistry in the file, and how many of them are independent.
const EXAMPLES: usize = 53;
const INDEPENDENT: usize = 31;

struct Example<'a> {
    id: &'a str,
    topic: &'a str,
    inputs: &'a Value,
    unit: &'a str,
}

impl Example<'_> {
    fn input(&self, name: &str) -> Rational {
        let value = &self.inputs[name];
        assert!(value.is_number(), "{}: no input {name}", self.id);
        number(&value.to_string())
    }

    fn text(&self, name: &str) -> &str {
        self.inputs[name].as_str().expect("a text")
    }

    fn titration(&self) -> Titration {
        Titration {
            sample: self.input("sample_g"),
            volume: self.input("ml_tenth_normal"),
            concentration: Rational::decimal(1, 1),
        }
    }

    /// `tristearin` is the triglyceride of stearic acid.
    fn acid_of_triglyceride(&self) -> &'static FattyAcid {
        let name = self.text("triglyceride");
        let stem = name.strip_prefix("tri").and_then(|n| n.strip_suffix("in"));
        FattyAcid::find(&format!("{}ic", stem.expect("a triglyceride"))).expect(name)
    }

    fn shares(&self) -> Vec<(&str, Rational)> {
        let percent = self.inputs["percent"].as_object().expect("shares");
        percent
            .iter()
            .map(|(id, p)| (id.as_str(), number(&p.to_string())))
            .collect()
    }
}

/// What the library makes of an example; an example that it does not know is a failure.
fn computed(e: &Example) -> Rational {
    match (e.topic, e.id) {
        ("saponification_value", id) if id.starts_with("koh_mg_lab") => {
            let net = BackTitration {
                sample: Rational::ONE,
                ..back_titration(e, "blank_ml")
            };
            net.saponification_value().unwrap()
        }
        ("saponification_value", "sv_from_molar_mass_triolein") => {
            saponification::of_triglyceride(&e.input("molar_mass")).unwrap()
        }
        ("saponification_value", _) => {
            let bench = BackTitration {
                sample: e.input("sample_g"),
                ..back_titration(e, "blank_ml")
            };
            bench.saponification_value().unwrap()
        }
        ("saponification_equivalent", "se_titration_1908") => {
            let net = Titration {
                sample: e.input("sample_g"),
                volume: e.input("net_ml_normal_koh"),
                concentration: Rational::ONE,
            };
            net.saponification_equivalent().unwrap()
        }
        ("saponification_equivalent", _) => {
            let value = e.acid_of_triglyceride().saponification_value();
            saponification::equivalent(&value).unwrap()
        }
        ("free_fatty_acid", _) => {
            // The book takes 282 g/mol for oleic acid.
            let oleic = FattyAcid::find("oleic").unwrap();
            let taken = e.input("oleic_g_per_ml") * Rational::integer(10_000);
            let ratio = taken.checked_div(&oleic.molar_mass()).unwrap();
            e.titration().free_fatty_acid(oleic).unwrap() * ratio
        }
        ("acid_value", _) => e.titration().acid_value().unwrap(),
        ("ester_value", _) => saponification::ester_value(&e.input("sv"), &e.input("av")),
        ("iodine_value", "iv_titration_1908") => {
            // The book states the solution as g of iodine per mL: 126.90 g in each mol.
            let strength = e.input("iodine_g_per_ml") * Rational::integer(1000);
            let concentration = strength.checked_div(&Rational::decimal(12_690, 2)).unwrap();
            let bench = BackTitration {
                sample: e.input("sample_g"),
                blank: e.input("blank_ml"),
                volume: e.input("sample_ml"),
                concentration,
            };
            bench.iodine_value().unwrap()
        }
        ("iodine_value", "iv_cd1c85_soy_like") => {
            // The example states what AOCS Cd 1c-85 counts, 88 % of the acids.
            let rest = Rational::HUNDRED - e.shares().iter().map(|(_, p)| p).sum::<Rational>();
            let shares = e.shares().into_iter().chain([("C16:0", rest)]);
            let oil = Composition::new(shares, Shares::AsGiven).unwrap();
            oil.iodine_value_cd_1c_85(Basis::Triglyceride)
        }
        ("iodine_value", id) => {
            let basis = if id.ends_with("_ffa") {
                Basis::FreeAcid
            } else {
                Basis::Triglyceride
            };
            let pure = Composition::new([(e.text("acid"), Rational::HUNDRED)], Shares::AsGiven);
            pure.unwrap().iodine_value_cd_1c_85(basis).percent()
        }
        ("stoichiometry", "stearin_lime_1908") => lime(e, CALCIUM_OXIDE.molar_mass()),
        ("stoichiometry", "stearin_milk_of_lime_1908") => lime(e, CALCIUM_HYDROXIDE.molar_mass()),
        ("stoichiometry", "soda_ash_for_fatty_acids_1908") => {
            let carbonate = e
                .input("na2co3_parts")
                .checked_div(&SODIUM_CARBONATE.molar_mass());
            let acids = carbonate.unwrap() * Rational::integer(2);
            e.input("fatty_acid_parts").checked_div(&acids).unwrap()
        }
        ("total_fatty_matter", _) => {
            saponification::anhydride_per_gram_of_acid(&e.input("mean_molar_mass")).unwrap()
        }
        ("total_alkali", _) => {
            let hydroxide = grams_per_ml(e, Alkali::Naoh, e.input("normality"));
            Alkali::Naoh.as_oxide(&hydroxide)
        }
        ("alkali", "naoh_per_ml_normal") => grams_per_ml(e, Alkali::Naoh, Rational::ONE),
        ("alkali", "koh_per_ml_normal") => grams_per_ml(e, Alkali::Koh, Rational::ONE),
        ("alkali", "k2o_per_ml_normal") => {
            Alkali::Koh.as_oxide(&grams_per_ml(e, Alkali::Koh, Rational::ONE))
        }
        ("alkali_equivalence", "koh_naoh_ratio") => {
            Alkali::Koh.in_place_of(&Rational::ONE, Alkali::Naoh)
        }
        ("alkali_equivalence", _) => saponification::alkali_per_gram(&e.input("sv"), Alkali::Naoh),
        ("glycerol", "glycerol_yield") => {
            saponification::glycerol_per_100_g(&e.input("ester_value"))
        }
        ("glycerol", _) => {
            let value = e.acid_of_triglyceride().saponification_value();
            saponification::glycerol_per_100_g(&value)
        }
        ("neutralisation", _) => {
            let alkali = match e.unit {
                "g NaOH" => Alkali::Naoh,
                "g KOH" => Alkali::Koh,
                other => panic!("{}: {other}", e.id),
            };
            let acid = neutralised(e.text("acid_formula"));
            assert_eq!(
                Rational::integer(acid.equivalents.into()),
                e.input("equivalents")
            );
            e.input("mass_g") * acid.alkali_per_gram(alkali)
        }
        ("oxidizability", _) => {
            let rest = Rational::HUNDRED
                - ["c18_1", "c18_2", "c18_3"]
                    .iter()
                    .map(|acid| e.input(acid))
                    .sum::<Rational>();
            let shares = [
                ("C18:1", e.input("c18_1")),
                ("C18:2", e.input("c18_2")),
                ("C18:3", e.input("c18_3")),
                ("C16:0", rest),
            ];
            Composition::new(shares, Shares::AsGiven)
                .unwrap()
                .oxidizability()
        }
        (topic, id) => panic!("example {id} of topic {topic} is not known to this test"),
    }
}

fn back_titration(e: &Example, blank: &str) -> BackTitration {
    BackTitration {
        sample: Rational::ONE,
        blank: e.input(blank),
        volume: e.input("sample_ml"),
        concentration: e.input("acid_normality"),
    }
}

/// Lime that splits tristearin: 3 mol for 2 mol.
fn lime(e: &Example, molar_mass: Rational) -> Rational {
    let stearic = FattyAcid::find("stearic").unwrap();
    let moles = e
        .input("tristearin_parts")
        .checked_div(&stearic.triglyceride_molar_mass());
    moles.unwrap() * Rational::decimal(15, 1) * molar_mass
}

/// Alkali in some mL of a solution, from its titration.
fn grams_per_ml(e: &Example, alkali: Alkali, concentration: Rational) -> Rational {
    let bench = Titration {
        sample: Rational::HUNDRED,
        volume: e.input("ml"),
        concentration,
    };
    bench.alkali(alkali).unwrap()
}

fn neutralised(formula: &str) -> Acid {
    let added = ACIDS
        .into_iter()
        .find(|acid| acid.formula.to_string() == formula);
    added.unwrap_or_else(|| {
        let fatty = FattyAcid::all()
            .iter()
            .find(|acid| acid.formula().to_string() == formula);
        Acid::from(fatty.unwrap_or_else(|| panic!("no acid {formula}")))
    })
}

#[test]
fn every_worked_example_is_reproduced_within_its_tolerance() {
    let file: Value = serde_json::from_str(&read("worked_examples.json")).unwrap();
    let examples = file["examples"].as_array().unwrap();
    let (mut exercised, mut independent) = (0, 0);
    let mut elsewhere = ELSEWHERE.map(|(topic, _)| (topic, 0));
    for example in examples {
        let text = |key: &str| example[key].as_str().expect("a text");
        if let Some(entry) = elsewhere
            .iter_mut()
            .find(|(topic, _)| *topic == text("topic"))
        {
            entry.1 += 1;
            continue;
        }
        let e = Example {
            id: text("id"),
            topic: text("topic"),
            inputs: &example["inputs"],
            unit: text("unit"),
        };
        assert_eq!(text("tolerance_type"), "absolute", "{}", e.id);
        let (expected, tolerance) = (&example["expected"], &example["tolerance"]);
        let expected = number(&expected.to_string());
        let found = computed(&e);
        let off = (&found - &expected).abs();
        let source = text("source");
        assert!(
            off <= number(&tolerance.to_string()),
            "{}: {} instead of {expected} ({source})",
            e.id,
            found.to_fixed(5),
        );
        exercised += 1;
        independent += usize::from(text("provenance").starts_with("seen"));
    }
    assert_eq!(elsewhere, ELSEWHERE);
    assert_eq!((exercised, independent), (EXAMPLES, INDEPENDENT));
    let skipped: usize = ELSEWHERE.iter().map(|(_, count)| count).sum();
    assert_eq!(exercised + skipped, examples.len());
}
