//! Units against the published factors, and texts as people write them.

use super::{Density, Length, Mass, QuantityFault, Ratio, Share, Temperature, UNITS, Unit, Volume};
use crate::exact::Rational;

fn exact(text: &str) -> Rational {
    Rational::parse(text).unwrap()
}

/// NIST SP 811 (2008), B.8 and B.9; NIST Handbook 44, Appendix C.
#[test]
fn factors_are_those_of_the_standards() {
    for (text, grams) in [
        ("1 oz", "28.349523125"),
        ("1 lb", "453.59237"),
        ("1 grain", "0.06479891"),
        ("7000 gr", "453.59237"),
        ("16 oz", "453.59237"),
        ("1 kg", "1000"),
        ("1 mg", "0.001"),
    ] {
        assert_eq!(Mass::parse(text).unwrap().grams(), &exact(grams), "{text}");
    }
    for (text, millilitres) in [
        ("1 in³", "16.387064"),
        ("231 cu in", "3785.411784"),
        ("1 US gal", "3785.411784"),
        ("1 US fl oz", "29.5735295625"),
        ("128 US fl oz", "3785.411784"),
        ("1 US cup", "236.5882365"),
        ("1 US tbsp", "14.78676478125"),
        ("1 US tsp", "4.92892159375"),
        ("1 US qt", "946.352946"),
        ("2 US pt", "946.352946"),
        ("1 imp gal", "4546.09"),
        ("1 imp fl oz", "28.4130625"),
        ("8 imp pt", "4546.09"),
        ("1.2 L", "1200"),
        ("3 cm3", "3"),
    ] {
        let volume = Volume::parse(text).unwrap();
        assert_eq!(volume.cubic_centimetres(), &exact(millilitres), "{text}");
    }
    for (text, centimetres) in [("1 in", "2.54"), ("1 ft 2 in", "35.56"), ("12 mm", "1.2")] {
        assert_eq!(
            Length::parse(text).unwrap().centimetres(),
            &exact(centimetres)
        );
    }
    for (text, celsius) in [
        ("32 °F", "0"),
        ("120.2 F", "49"),
        ("140 °F", "60"),
        ("-40 °F", "-40"),
        ("24 °C", "24"),
    ] {
        assert_eq!(
            Temperature::parse(text).unwrap().celsius(),
            &exact(celsius),
            "{text}"
        );
    }
    assert_eq!(
        Density::parse("920 kg/m³").unwrap(),
        Density::parse("0.92").unwrap()
    );
}

#[test]
fn texts_as_people_write_them() {
    let grams = |text: &str| Mass::parse(text).unwrap().grams().clone();
    assert_eq!(grams("2 lb 3.5 oz"), exact("1006.4080709375"));
    assert_eq!(grams("2lb 3oz"), grams("35 oz"));
    assert_eq!(grams("2 1/2 lb"), grams("40 oz"));
    assert_eq!(grams("2 lbs. 3 oz."), grams("35 oz"));
    assert_eq!(grams("1/3 oz") * Rational::integer(3), grams("1 oz"));
    assert_eq!(grams("12"), grams("12 g"));
    assert_eq!(grams("1e3 mg"), grams("1g"));
    assert_eq!(grams("2 LB"), grams("2 lb"));
    assert_eq!(Share::parse("5").unwrap().fraction(), &exact("0.05"));
    assert_eq!(Share::parse("5%").unwrap().fraction(), &exact("0.05"));
    assert_eq!(Ratio::parse("2:1").unwrap(), Ratio::parse("2").unwrap());
}

#[test]
fn what_is_no_such_quantity_is_explained() {
    let says = |text: &str| Mass::parse(text).unwrap_err();
    assert!(matches!(says("10 mL"), QuantityFault::WrongDimension(..)));
    assert!(matches!(says("10 stones"), QuantityFault::UnknownUnit(..)));
    assert!(matches!(says("3 oz 2 lb"), QuantityFault::BadParts(_)));
    assert!(matches!(says("2 lb -3 oz"), QuantityFault::BadParts(_)));
    assert!(matches!(says("1e30"), QuantityFault::OutOfRange(_)));
    assert!(matches!(says("12,5 g"), QuantityFault::Number(_)));
    assert!(matches!(says("g"), QuantityFault::Number(_)));
    let volume = Volume::parse("8 fl oz").unwrap_err();
    assert_eq!(
        volume.to_string(),
        "\"fl oz\" is not the same everywhere; write \"US fl oz\" or \"imp fl oz\""
    );
    assert!(matches!(
        Volume::parse("1 cup"),
        Err(QuantityFault::Ambiguous(..))
    ));
    assert!(
        Volume::parse("10 oz")
            .unwrap_err()
            .to_string()
            .contains("US fl oz")
    );
}

#[test]
fn no_unit_is_spelt_twice() {
    let mut names: Vec<_> = UNITS.iter().flat_map(Unit::names).collect();
    let all = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), all);
    assert!(UNITS.iter().all(|unit| unit.factor().is_positive()));
}

/// SI Brochure, 9th edition, 2.3.1: 0 K is -273.15 °C.
#[test]
fn no_temperature_is_below_absolute_zero() {
    assert!(Temperature::parse("-273.15").is_ok());
    assert!(Temperature::parse("-459.67 °F").is_ok());
    for text in ["-273.16", "-459.68 °F", "-1000 °C"] {
        let fault = Temperature::parse(text).unwrap_err();
        assert_eq!(
            fault,
            QuantityFault::OutOfRange(super::Dimension::Temperature)
        );
        assert!(fault.to_string().contains("absolute zero"), "{fault}");
    }
}
