//! Many recipes as columns, by the library and in doubles.

use std::hint::black_box;

use lixivium::chemistry::Alkali;
use lixivium::columns::{Column, Output, Rows, Setting, Status};
use lixivium::recipe::Amount;

use crate::recipe;

/// So many rows at once.
pub const ROWS: usize = 512;

/// What is asked of each row.
const OUTPUTS: [Output; 6] = [
    Output::TotalFats,
    Output::NaohMass,
    Output::KohMass,
    Output::WaterMass,
    Output::BatterMass,
    Output::Superfat,
];

type Numbers = Vec<Vec<f64>>;

/// A setting, its columns, and room for the answers.
pub struct Frame {
    setting: Setting,
    fats: Numbers,
    outputs: Numbers,
    status: Vec<Status>,
}

impl Frame {
    /// Masses as they are read from a scale of 0.1 g.
    pub fn weighed() -> Self {
        Self::of(true, |tenths| tenths as f64 / 10.0)
    }

    /// Masses as they come out of a multiplication, with all the digits of a double.
    pub fn computed() -> Self {
        Self::of(true, |tenths| tenths as f64 / 10.0 * 1.037)
    }

    /// Weighed masses, and answers that are not rounded.
    pub fn unrounded() -> Self {
        Self::of(false, |tenths| tenths as f64 / 10.0)
    }

    fn of(is_rounded: bool, mass: impl Fn(i64) -> f64) -> Self {
        let mut recipe = recipe();
        if !is_rounded {
            recipe.scale_step = None;
        }
        let fats = recipe.fats.iter().map(|line| {
            let Amount::Mass(typical) = &line.amount else {
                unreachable!("the recipe is by mass")
            };
            let tenths = (typical.grams().to_f64() * 10.0) as i64;
            let row = |row: usize| mass(tenths / 2 + (row as i64 * 7_919) % tenths);
            (0..ROWS).map(row).collect()
        });
        let fats = fats.collect();
        Self {
            setting: Setting::new(recipe).expect("the recipe is sound"),
            fats,
            outputs: vec![vec![0.0; ROWS]; OUTPUTS.len()],
            status: vec![Status::Planned; ROWS],
        }
    }

    /// Plans all rows.
    pub fn plan(&mut self) {
        let fats: Vec<&[f64]> = self.fats.iter().map(Vec::as_slice).collect();
        let rows = Rows {
            fats: &fats,
            superfat: None,
        };
        let outputs = OUTPUTS.into_iter().zip(&mut self.outputs);
        let mut outputs: Vec<Column> = outputs
            .map(|(output, values)| Column { output, values })
            .collect();
        let planned = self
            .setting
            .plan(black_box(&rows), &mut outputs, &mut self.status);
        assert!(planned.is_ok());
    }

    /// Whether all rows are.
    pub fn is_planned(&self) -> bool {
        self.status.iter().all(|status| *status == Status::Planned)
    }
}

/// The same in doubles: nothing is checked, and a mass half-way between two steps goes astray.
pub struct Plain {
    fats: Numbers,
    values: Vec<f64>,
    outputs: Numbers,
}

impl Plain {
    /// The same columns.
    pub fn of(frame: &Frame) -> Self {
        let value = |line: &lixivium::recipe::FatLine| {
            line.fat.typical_saponification_value().to_f64() / 1_000.0
        };
        Self {
            fats: frame.fats.clone(),
            values: recipe().fats.iter().map(value).collect(),
            outputs: frame.outputs.clone(),
        }
    }

    /// Plans all rows.
    pub fn plan(&mut self) {
        const STEP: f64 = 0.1;
        let recipe = recipe_in_doubles();
        let [total, naoh, koh, water, batter, superfat] = &mut self.outputs[..] else {
            unreachable!("there are six outputs")
        };
        total.fill(0.0);
        superfat.fill(0.0);
        // The need stands in the column of the superfat until that is known.
        for (column, value) in black_box(&self.fats).iter().zip(&self.values) {
            let sums = total.iter_mut().zip(&mut *superfat);
            for (mass, (total, need)) in column.iter().zip(sums) {
                let mass = (mass / STEP + 0.5).floor() * STEP;
                *total += mass;
                *need += mass * value;
            }
        }
        for row in 0..total.len() {
            let hydroxide = superfat[row] * recipe.saponified;
            naoh[row] = (hydroxide * recipe.naoh_per_koh / STEP).floor() * STEP;
            koh[row] = (hydroxide * recipe.koh / STEP).floor() * STEP;
            let alkali = naoh[row] + koh[row];
            water[row] = (alkali * recipe.water / STEP + 0.5).floor() * STEP;
            batter[row] = total[row] + alkali + water[row];
            let used = naoh[row] * recipe.naoh_saponifies + koh[row] * recipe.koh_saponifies;
            superfat[row] = (1.0 - used / superfat[row]) * 100.0;
        }
    }

    /// Whether nearly all of it is what the library says.
    pub fn is_near(&self, frame: &Frame) -> bool {
        let pairs = self.outputs.iter().flatten();
        let pairs = pairs.zip(frame.outputs.iter().flatten());
        let far = pairs.filter(|(plain, exact)| (*plain - *exact).abs() > 1e-6);
        far.count() < ROWS / 10
    }
}

struct Doubles {
    saponified: f64,
    naoh_per_koh: f64,
    koh: f64,
    water: f64,
    naoh_saponifies: f64,
    koh_saponifies: f64,
}

fn recipe_in_doubles() -> Doubles {
    let recipe = recipe();
    let [koh_share, naoh_purity, koh_purity] = [
        &recipe.alkali.koh_share,
        &recipe.alkali.naoh_purity,
        &recipe.alkali.koh_purity,
    ]
    .map(|share| share.fraction().to_f64());
    let molar = |alkali: Alkali| alkali.molar_mass().to_f64();
    let naoh_per_koh = molar(Alkali::Naoh) / molar(Alkali::Koh);
    Doubles {
        saponified: 1.0 - recipe.superfat.fraction().to_f64(),
        naoh_per_koh: (1.0 - koh_share) * naoh_per_koh / naoh_purity,
        koh: koh_share / koh_purity,
        water: 0.67 / 0.33,
        naoh_saponifies: naoh_purity / naoh_per_koh,
        koh_saponifies: koh_purity,
    }
}
