//! Prints a batch sheet for the bench.
//!
//! ```text
//! cargo run -p batch-sheet                  the demonstration recipe
//! cargo run -p batch-sheet -- recipe.json   a recipe of your own
//! cargo run -p batch-sheet -- -             a recipe from standard input
//! ```
//!
//! A recipe is a request of the operation `plan`, see the README.

use std::io::Read;
use std::process::ExitCode;
use std::{env, fs, io};

use lixivium::plan::Plan;
use lixivium::quantity::{Mass, Quantity, Ratio, Share};
use lixivium::recipe::Recipe;
use lixivium::wire::Json;
use lixivium::wire::plan::planned;

/// An invented batch for an invented stall: 1 kg of fats for a winter fair.
const DEMONSTRATION: &str = include_str!("../../recipes/winter-fair.json");

fn main() -> ExitCode {
    let arguments: Vec<_> = env::args().skip(1).collect();
    let recipe = match arguments.as_slice() {
        [] => Ok(DEMONSTRATION.to_owned()),
        [dash] if dash == "-" => {
            let mut text = String::new();
            io::stdin().read_to_string(&mut text).map(|_| text)
        }
        [file] => fs::read_to_string(file),
        _ => {
            eprintln!("usage: batch-sheet [FILE.json | -]");
            return ExitCode::from(2);
        }
    };
    let recipe = match recipe {
        Ok(recipe) => recipe,
        Err(error) => {
            eprintln!("The recipe cannot be read: {error}");
            return ExitCode::from(2);
        }
    };
    match Json::parse(&recipe).and_then(|request| planned(&request)) {
        Ok((recipe, plan)) => {
            print!("{}", sheet(&recipe, &plan, arguments.is_empty()));
            ExitCode::SUCCESS
        }
        Err(faults) => {
            eprintln!("The recipe cannot be planned:");
            for fault in faults.iter() {
                let place = if fault.at.is_empty() {
                    "recipe"
                } else {
                    &fault.at
                };
                eprintln!("  {place}: {}", fault.says);
            }
            ExitCode::FAILURE
        }
    }
}

fn sheet(recipe: &Recipe, plan: &Plan, demonstration: bool) -> String {
    let mut sheet = Sheet {
        text: String::new(),
        places: places(plan),
    };
    sheet.line("BATCH SHEET");
    if demonstration {
        sheet.line("An invented batch for a winter fair; give a recipe file for your own.");
    }

    sheet.heading("Before you begin");
    for caution in plan.cautions(recipe) {
        sheet.paragraph("! ", &caution.says);
    }

    sheet.heading("Weigh, in this order");
    sheet.weigh("Water", &plan.water_to_add_mass);
    match &plan.naoh_solution_mass {
        Some(solution) => sheet.weigh("Sodium hydroxide solution (stock)", solution),
        None => sheet.weigh("Sodium hydroxide, into the water", &plan.naoh_mass),
    }
    match &plan.koh_solution_mass {
        Some(solution) => sheet.weigh("Potassium hydroxide solution (stock)", solution),
        None => sheet.weigh("Potassium hydroxide, into the water", &plan.koh_mass),
    }
    for (line, mass) in recipe.fats.iter().zip(&plan.fats) {
        sheet.weigh(line.fat.name(), mass);
    }
    for (line, mass) in recipe.acids.iter().zip(&plan.acids) {
        sheet.weigh(line.acid.name, mass);
    }
    for (line, mass) in recipe.additives.iter().zip(&plan.additives) {
        sheet.weigh(&line.name, mass);
    }
    if !plan.acids.is_empty() {
        sheet.paragraph(
            "    ",
            "Dissolve an acid that dissolves in water in the water before the alkali; melt a \
             fatty acid with the fats.",
        );
    }

    sheet.heading("What it amounts to");
    sheet.figure("Fats", &sheet.grams(&plan.total_fats));
    sheet.figure("Batter, all together", &sheet.grams(&plan.batter_mass));
    sheet.figure("Superfat, as weighed", &percent(&plan.superfat));
    let (low, high) = &plan.superfat_range;
    let range = format!("{} to {}", percent(low), percent(high));
    sheet.figure("  over the fats' published ranges", &range);
    sheet.figure(
        "Lye concentration, as weighed",
        &percent(&plan.lye_concentration),
    );
    sheet.figure(
        "Hydroxide in the lye",
        &percent(&plan.hydroxide_concentration),
    );
    sheet.figure("Water to alkali", &ratio(&plan.water_to_lye));
    if plan.koh_mass.grams().is_positive() {
        sheet.figure(
            "Potassium share of the soap, by moles",
            &percent(&plan.koh_share_by_moles),
        );
    }

    sheet.heading("The fats");
    for (line, mass) in recipe.fats.iter().zip(&plan.fats) {
        let value = line.fat.typical_saponification_value().to_plain();
        let share = mass.grams().checked_div(plan.total_fats.grams());
        let share = percent(&Share::of_one(share.unwrap_or_default()));
        sheet.figure(line.fat.name(), &format!("{share:>8}   {value} mg KOH/g"));
    }
    sheet.text
}

/// A sheet as plain text, 78 characters wide.
struct Sheet {
    text: String,
    /// Digits after the point of each mass.
    places: u8,
}

const WIDTH: usize = 78;

impl Sheet {
    fn line(&mut self, text: &str) {
        self.text.push_str(text);
        self.text.push('\n');
    }

    fn heading(&mut self, text: &str) {
        self.line("");
        self.line(text);
        self.line(&"-".repeat(WIDTH));
    }

    /// One thing to weigh; what weighs nothing is left out.
    fn weigh(&mut self, what: &str, mass: &Mass) {
        if mass.grams().is_positive() {
            let mut letters = what.chars();
            let first = letters.next().into_iter().flat_map(char::to_uppercase);
            let what: String = first.chain(letters).collect();
            self.line(&format!("[ ] {what:<50} {:>14}", self.grams(mass)));
        }
    }

    fn grams(&self, mass: &Mass) -> String {
        format!("{} g", mass.grams().to_fixed(self.places))
    }

    fn figure(&mut self, what: &str, figure: &str) {
        self.line(&format!("    {what:<50} {figure:>14}"));
    }

    fn paragraph(&mut self, mark: &str, text: &str) {
        let mut line = mark.to_owned();
        for word in text.split(' ') {
            if line.chars().count() + word.chars().count() >= WIDTH {
                self.line(line.trim_end());
                line = " ".repeat(mark.len());
            }
            line.push_str(word);
            line.push(' ');
        }
        self.line(line.trim_end());
    }
}

/// As many digits after the point as the scale shows; two if nothing was rounded to a step.
fn places(plan: &Plan) -> u8 {
    const UNROUNDED: u8 = 2;
    let masses = plan.fats.iter().chain(&plan.acids).chain(&plan.additives);
    let masses = masses.chain([&plan.naoh_mass, &plan.koh_mass, &plan.water_to_add_mass]);
    let needed = masses.map(|mass| match mass.grams().to_plain().split_once('.') {
        Some((_, places)) if places.len() <= 3 => places.len() as u8,
        Some(_) => UNROUNDED,
        None => 0,
    });
    needed.max().unwrap_or(UNROUNDED)
}

fn percent(share: &Share) -> String {
    format!("{} %", share.to_base().to_fixed(2))
}

fn ratio(ratio: &Ratio) -> String {
    format!("{} : 1", ratio.number().to_fixed(2))
}
