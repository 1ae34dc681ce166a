//! Compositions of real oils, measured by gas chromatography: 96 commercial oils of seven kinds
//! (Brodnjak-Voncina et al., Chemom. Intell. Lab. Syst. 75 (2005) 31-45) and 572 Italian olive
//! oils (Forina et al. 1983). The values calculated from them are compared with the ranges of the
//! standards, which are independent of these measurements; `checks_open_datasets.tsv` has the
//! same figures from another program.

use std::collections::BTreeMap;

use lixivium::chemistry::{Basis, Composition, Shares};
use lixivium::exact::{Interval, Rational};
use lixivium::fats::{CatalogueFat, find};

use crate::support::{Row, assert_near, table};

/// The composition of a sample: columns such as `c18_1_percent`.
fn composition(row: &Row) -> Composition {
    let shares: Vec<(String, Rational)> = row
        .columns()
        .filter_map(|column| {
            let acid = column.strip_prefix('c')?.strip_suffix("_percent")?;
            Some((format!("C{}", acid.replace('_', ":")), row.number(column)))
        })
        .collect();
    assert!(shares.len() >= 7, "columns are missing");
    let shares = shares
        .iter()
        .map(|(acid, share)| (acid.as_str(), share.clone()));
    Composition::new(shares, Shares::Normalised).unwrap()
}

/// Samples by data set and kind of oil, as `checks_open_datasets.tsv` names them.
fn samples() -> BTreeMap<(String, String), Vec<Composition>> {
    let mut samples: BTreeMap<_, Vec<_>> = BTreeMap::new();
    let commercial = table("open_dataset_commercial_oils.tsv");
    assert_eq!(commercial.len(), 96);
    for row in &commercial {
        let key = (
            "commercial_oils".to_owned(),
            row.text("oil_class").to_owned(),
        );
        samples.entry(key).or_default().push(composition(row));
    }
    let italian = table("open_dataset_olive_oils_italy.tsv");
    assert_eq!(italian.len(), 572);
    let key = ("olive_oils_italy".to_owned(), "olive".to_owned());
    samples.insert(key, italian.iter().map(composition).collect());
    samples
}

fn fat_of(file_id: &str) -> Option<&'static CatalogueFat> {
    match file_id {
        "" => None,
        "rapeseed_oil_low_erucic" => find("canola-oil").ok(),
        id => Some(find(id).unwrap()),
    }
}

#[track_caller]
fn compare(what: &str, values: &[Rational], row: &Row, columns: &str) {
    // The exact sum of hundreds of quotients has thousands of digits; doubles do for a mean.
    let sum: f64 = values.iter().map(Rational::to_f64).sum();
    let mean = Rational::from_f64(sum / values.len() as f64).unwrap();
    let (low, high) = (values.iter().min().unwrap(), values.iter().max().unwrap());
    for (which, value) in [("min", low), ("mean", &mean), ("max", high)] {
        let printed = row.number(&format!("{columns}_{which}"));
        assert_near(what, value, &printed, "0.051");
    }
}

fn inside(values: &[Rational], range: &Interval) -> usize {
    values.iter().filter(|value| range.contains(value)).count()
}

#[test]
fn measured_oils_have_the_values_of_the_standards() {
    let samples = samples();
    let checks = table("checks_open_datasets.tsv");
    assert_eq!(checks.len(), samples.len());
    let (mut compared, mut sv_inside, mut iv_inside) = (0, 0, 0);
    for row in &checks {
        let key = (
            row.text("dataset").to_owned(),
            row.text("oil_class").to_owned(),
        );
        let oils = &samples[&key];
        assert_eq!(oils.len(), row.count("samples"), "{key:?}");
        let sv: Vec<_> = oils.iter().map(Composition::saponification_value).collect();
        let iv: Vec<_> = oils
            .iter()
            .map(|oil| oil.iodine_value(Basis::Triglyceride))
            .collect();
        compare(&key.1, &sv, row, "sv_calc");
        compare(&key.1, &iv, row, "iv_calc");
        let Some(fat) = fat_of(row.text("fat_id")) else {
            continue;
        };
        let fat = lixivium::fats::Fat::from(fat);
        let sv_range = fat.saponification_value().range().unwrap();
        let iv_range = fat.iodine_value().unwrap().range().unwrap();
        assert_eq!(
            inside(&sv, &sv_range),
            row.count("samples_with_sv_inside"),
            "{key:?}"
        );
        assert_eq!(
            inside(&iv, &iv_range),
            row.count("samples_with_iv_inside"),
            "{key:?}"
        );
        compared += oils.len();
        sv_inside += inside(&sv, &sv_range);
        iv_inside += inside(&iv, &iv_range);
    }
    // All but one: an olive oil of the commercial set with iodine value 96.8 against 75 to 94.
    assert_eq!((compared, sv_inside, iv_inside), (631, 631, 630));
}
