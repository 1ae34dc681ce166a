//! Densities of water, lye and fats.

use lixivium::exact::Rational;
use lixivium::fats::{self, Fat, Kind};
use lixivium::mould::density;
use lixivium::quantity::Temperature;

use super::support::{number, table};

fn celsius(text: &str) -> Temperature {
    Temperature::parse(text).unwrap()
}

/// IAPWS R6-95(2018) at 101.325 kPa; 998.2071 kg/m³ at 20 °C is also in the CRC Handbook's table
/// of the density of standard water.
#[test]
fn water_has_its_published_density() {
    for (at, published) in [("4", "0.999975"), ("20", "0.998207"), ("60", "0.983196")] {
        let found = density::water(&celsius(at)).unwrap();
        assert_eq!(*found.grams_per_cubic_centimetre(), number(published));
    }
    assert!(density::water(&celsius("100")).is_none());
    // Kell 1975, J. Chem. Eng. Data 20, 97-105: 0.993333 at 37 °C, between two rows.
    let warm = density::water(&celsius("37")).unwrap();
    let gap = warm.grams_per_cubic_centimetre() - &number("0.993333");
    assert!(gap.abs() < number("0.0001"), "{gap}");
}

#[test]
fn lye_agrees_with_tables_that_it_does_not_use() {
    let rows = table("lye_density_checks.tsv");
    for row in &rows {
        let is_koh = row.text("alkali") == "koh";
        let percent = row.number("percent").percent();
        let at = celsius(row.text("celsius"));
        let found = density::lye(is_koh, &percent, &at).unwrap();
        let published = row.number("kg_per_m3") * number("0.001");
        let gap = (&found.likely - &published).abs().checked_div(&published);
        let tolerance = row.number("tolerance_percent").percent();
        let place = format!("{percent} at {} °C", row.text("celsius"));
        assert!(gap.unwrap() <= tolerance, "{place}: {found:?}");
        assert!(found.range.contains(&found.likely), "{place}: {found:?}");
        if row.text("source").starts_with("AdvancedThermo") {
            assert!(found.range.contains(&published), "{place}: {found:?}");
        }
    }
    assert!(rows.len() > 40);
}

/// Perry's Chemical Engineers' Handbook, and the model of Laliberté and Cooper: for sodium
/// hydroxide the range reaches from one to the other.
#[test]
fn strong_lye_is_measured_and_not_modelled() {
    let at = |percent: i64, temperature: &str, is_koh| {
        let concentration = Rational::integer(percent).percent();
        density::lye(is_koh, &concentration, &celsius(temperature))
    };
    let rows = [
        (50, "20", "1.5253", "1.5163"),
        (50, "60", "1.4967", "1.5097"),
    ];
    for (percent, temperature, measured, model) in rows {
        let found = at(percent, temperature, false).unwrap();
        assert_eq!(found.likely, number(measured));
        assert!(found.range.contains(&number(model)));
    }
    // Cracow University of Technology, laboratory tables, KOH 30 %, 18 °C.
    assert_eq!(at(30, "18", true).unwrap().likely, number("1.290"));
    // What is inferred is less certain than what was measured.
    let width = |percent, temperature| at(percent, temperature, true).unwrap().range.width();
    assert!(width(30, "50") > width(30, "18") && width(50, "18") > width(40, "18"));
    for (percent, temperature) in [(51, "20"), (30, "61"), (30, "14")] {
        assert!(at(percent, temperature, false).is_none());
        assert!(at(percent, temperature, true).is_none());
    }
}

/// Codex CXS 210-1999, table 2: relative densities, water at 20 °C.
#[test]
fn fats_have_their_published_density() {
    let rows = [
        ("coconut-oil", "40", "0.908", "0.921"),
        ("palm-oil", "50", "0.891", "0.899"),
        ("sesame-oil", "20", "0.915", "0.924"),
    ];
    for (id, at, low, high) in rows {
        let fat = Fat::from(fats::find(id).unwrap());
        let (found, known) = density::fat(&fat, &celsius(at));
        let of_water = |relative: &str| number(relative) * number("0.998207");
        assert!(known);
        assert_eq!(*found.range.low(), of_water(low));
        assert_eq!(*found.range.high(), of_water(high));
        let warmer = Rational::parse(at).unwrap() + Rational::integer(10);
        let (warmer, _) = density::fat(&fat, &celsius(&warmer.to_string()));
        assert_eq!(found.likely - warmer.likely, number("0.0068"));
    }
}

/// The range for fats of unknown density holds what is published for all glycerides.
#[test]
fn unknown_fats_are_taken_wide_enough() {
    let [low, likely, high] = density::UNKNOWN_FAT_DENSITY;
    assert!(low < likely && likely < high);
    let mut known = 0;
    for fat in fats::catalogue().filter(|fat| fat.kind == Kind::Glyceride) {
        if let (found, true) = density::fat(&Fat::from(fat), &celsius("20")) {
            let is_held = *found.range.low() >= low && *found.range.high() <= high;
            assert!(is_held, "{}", fat.id);
            known += 1;
        }
    }
    assert!(known > 20);
}
