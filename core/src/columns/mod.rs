//! Many recipes at once, as columns of doubles: for data frames and databases.
//!
//! A [`Setting`] is what all rows have in common: which fats, the alkali, the water, the step of
//! the scale. What differs stands in columns of doubles: the mass of each fat and, if wanted, the
//! superfat. Each double enters as its shortest decimal, each output is the double nearest to the
//! exact number of that row's [`plan`]; there is no other difference between a row and a plan
//! than that a fat of 0 g is left out.
//!
//! Most rows take a short way through whole numbers of scale steps (`kernel`). A row that does
//! not fit it, and every row of a setting with acids, additives, stock solutions or without a
//! scale step, is planned by [`plan`]. Nobody sees which, but for the time it takes: ten to forty
//! times as long. Who does not want to round can give a very small scale step.
//!
//! ```
//! use lixivium::columns::{Column, Output, Rows, Setting, Status};
//! use lixivium::fats::find;
//! use lixivium::quantity::{Mass, Share};
//! use lixivium::recipe::*;
//!
//! let fat = |name| FatLine::new(find(name).unwrap(), Amount::Mass(Mass::default()));
//! let setting = Setting::new(Recipe {
//!     fats: vec![fat("olive-oil"), fat("coconut-oil")], // the masses stand in the columns
//!     total_fats: None,
//!     superfat: Share::parse("5 %")?,
//!     alkali: Alkali::default(),
//!     water: Water::by(WaterRule::LyeConcentration(Share::parse("33 %")?)),
//!     stock_solution: StockSolution::default(),
//!     acids: vec![],
//!     additives: vec![],
//!     scale_step: Some(Mass::parse("0.1 g")?),
//! })?;
//! let rows = Rows { fats: &[&[700.0, 1.0, f64::NAN], &[283.5, 0.0, 50.0]], superfat: None };
//! let (mut naoh, mut status) = ([0.0; 3], [Status::Planned; 3]);
//! setting.plan(&rows, &mut [Column { output: Output::NaohMass, values: &mut naoh }], &mut status)?;
//! assert_eq!(naoh[..2], [139.3, 0.1]);
//! assert_eq!(status, [Status::Planned, Status::Planned, Status::BadNumber]);
//! let faults = setting.row(&rows, 2).unwrap_err();
//! assert_eq!(faults.iter().next().unwrap().at, "fats[0]");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod kernel;
mod output;
#[cfg(test)]
mod tests;

use std::array;

use crate::exact::Rational;
use crate::fault::Faults;
use crate::plan::{Plan, plan, too_coarse};
use crate::quantity::{Mass, Quantity, QuantityFault, Share};
use crate::recipe::{Amount, Recipe};
use kernel::{Counted, Kernel};
pub use output::{Column, Output};

/// What all rows have in common, prepared once.
#[derive(Debug, Clone)]
pub struct Setting {
    recipe: Recipe,
    kernel: Option<Kernel>,
}

/// What differs from row to row; all columns have the same length.
#[derive(Debug, Clone, Copy)]
pub struct Rows<'a> {
    /// A column for each fat of the setting: its mass in each row, in g. With 0 the row is
    /// without that fat.
    pub fats: &'a [&'a [f64]],
    /// The superfat of each row, in percent; without it that of the setting.
    pub superfat: Option<&'a [f64]>,
}

macro_rules! statuses {
    ($( $(#[doc = $doc:literal])* $name:ident = $code:literal: $says:literal; )*) => {
        /// What became of a row.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum Status {
            /// It is planned.
            Planned,
            $( $(#[doc = $doc])* $name, )*
        }

        impl Status {
            /// All of them but `Planned`, each with the code of the fault that it stands for.
            pub const FAULTS: &[(Self, &str)] = &[ $( (Self::$name, $code) ),* ];

            /// What is wrong, in general; [`Setting::row`] says it of one row.
            pub const fn says(self) -> &'static str {
                match self {
                    Self::Planned => "nothing is wrong",
                    $( Self::$name => $says, )*
                }
            }
        }
    };
}

statuses! {
    /// A number is NaN or infinite.
    BadNumber = "bad_number": "a number of the row is missing, NaN or infinite";
    /// A mass is above 0 but not between 10⁻¹⁵ and 10¹⁵ g, or the superfat is not from 0 to below
    /// 100 %.
    OutOfRange = "out_of_range":
        "a mass of the row is not 0 and not from 10^-15 to 10^15 g, or its superfat is not from 0 to below 100 %";
    /// A mass is below 0.
    Negative = "negative": "a mass of the row is below 0";
    /// All masses are 0.
    NoFats = "no_fats": "all masses of the row are 0";
    /// A fat or all alkali would round to nothing on the scale.
    ScaleStepTooCoarse = "scale_step_too_coarse":
        "on the scale step a fat or all alkali of the row would round to nothing";
    /// What is counted as water is more than the water asked for.
    TooMuchWaterCounted = "too_much_water_counted":
        "what is counted as water in the row is more than the water asked for";
    /// A stock solution alone brings more water than asked for.
    StockTooWeak = "stock_too_weak":
        "the stock solution of the row brings more water than asked for";
    /// Acids take up more alkali than there is.
    AcidsExceedAlkali = "acids_exceed_alkali":
        "the acids of the row take up more alkali than there is";
}

impl Status {
    /// The status of a row with these faults: that of the first.
    fn of(faults: &Faults) -> Self {
        let code = faults.iter().next().map_or("", |fault| fault.code);
        let known = Self::FAULTS.iter().find(|(_, known)| *known == code);
        known.map_or(Self::OutOfRange, |(status, _)| *status)
    }
}

/// So many rows go through each step together.
const BLOCK: usize = 256;

impl Setting {
    /// Prepares a setting. The amounts of the fats and `total_fats` are not looked at: the masses
    /// stand in the columns.
    ///
    /// # Errors
    /// All faults of the recipe ([`Recipe::check`]).
    pub fn new(mut recipe: Recipe) -> Result<Self, Faults> {
        for line in &mut recipe.fats {
            line.amount = Amount::Mass(Mass::new(Rational::ONE));
        }
        recipe.total_fats = None;
        recipe.check()?;
        let kernel = Kernel::of(&recipe);
        Ok(Self { recipe, kernel })
    }

    /// What all rows have in common; the masses of its fats mean nothing.
    pub fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// How many columns of fats it takes.
    pub fn fats(&self) -> usize {
        self.recipe.fats.len()
    }

    /// Plans every row: writes the asked numbers of its plan to the output columns, and to
    /// `status` what became of it. The outputs of a row that is not planned are NaN.
    ///
    /// # Errors
    /// `column_missing` if there is not one column for each fat, `column_length` if a column is
    /// not as long as `status`. Faults of rows are in `status`; [`Setting::row`] explains them.
    pub fn plan(
        &self,
        rows: &Rows,
        outputs: &mut [Column],
        status: &mut [Status],
    ) -> Result<(), Faults> {
        self.check(rows, outputs, status.len())?;
        for (block, status) in status.chunks_mut(BLOCK).enumerate() {
            self.plan_block(rows, block * BLOCK, outputs, status);
        }
        Ok(())
    }

    /// The rows from `first`, as many as there are statuses.
    fn plan_block(&self, rows: &Rows, first: usize, outputs: &mut [Column], status: &mut [Status]) {
        let mut counted: [Counted; BLOCK] = array::from_fn(|_| Counted::NOTHING);
        let counted = &mut counted[..status.len()];
        if let Some(kernel) = &self.kernel {
            kernel.count(rows, first, counted);
            for column in &mut *outputs {
                let values = &mut column.values[first..][..counted.len()];
                kernel.write(column.output, counted, values);
            }
        }
        for (i, (status, counted)) in status.iter_mut().zip(counted).enumerate() {
            if counted.done {
                *status = Status::Planned;
                continue;
            }
            let row = self.row(rows, first + i);
            *status = row.as_ref().map_or_else(Status::of, |_| Status::Planned);
            for column in &mut *outputs {
                let value = row.as_ref().ok().and_then(|plan| column.output.of(plan));
                column.values[first + i] = value.unwrap_or(f64::NAN);
            }
        }
    }

    fn check(&self, rows: &Rows, outputs: &[Column], length: usize) -> Result<(), Faults> {
        let mut faults = Faults::new();
        if rows.fats.len() != self.fats() {
            faults.add(
                "column_missing",
                "fats",
                format_args!(
                    "there are {} columns of fats; accepted: one for each of the {} fats",
                    rows.fats.len(),
                    self.fats()
                ),
            );
        }
        let fats = rows.fats.iter().enumerate();
        let fats = fats.map(|(i, column)| (format!("fats[{i}]"), column.len()));
        let superfat = rows
            .superfat
            .map(|column| ("superfat".into(), column.len()));
        let outputs = outputs
            .iter()
            .map(|column| (column.output.name().into(), column.values.len()));
        for (at, found) in fats.chain(superfat).chain(outputs) {
            if found != length {
                let says = format_args!(
                    "this column has {found} rows; accepted: {length}, as the statuses"
                );
                faults.add("column_length", at, says);
            }
        }
        faults.or(())
    }

    /// The plan of one row in full, with its exact numbers, or why it has none.
    ///
    /// # Errors
    /// All faults of the row; those of a fat are at the number of its column, `fats[2]`.
    /// `no_such_row` if the columns are not that long.
    pub fn row(&self, rows: &Rows, row: usize) -> Result<Plan, Faults> {
        let mut faults = Faults::new();
        let mut recipe = self.without_fats();
        for (i, line) in self.recipe.fats.iter().enumerate() {
            let at = || format!("fats[{i}]");
            let column = rows.fats.get(i).copied().unwrap_or_default();
            let Some(mass) = column.get(row) else {
                return Err(no_such_row(at(), row));
            };
            match Mass::from_f64(*mass) {
                Ok(mass) if mass.grams().is_zero() => {}
                Ok(mass) if mass.grams().is_negative() => faults.add(
                    "negative",
                    at(),
                    "this mass is below 0; accepted: 0 (the row is without this fat) or more",
                ),
                Ok(mass) if self.rounds_to_nothing(&mass) => {
                    faults.append(too_coarse(at(), "this fat"));
                }
                Ok(mass) => {
                    let mut line = line.clone();
                    line.amount = Amount::Mass(mass);
                    recipe.fats.push(line);
                }
                Err(fault) => add(&mut faults, at(), &fault),
            }
        }
        if let Some(column) = rows.superfat {
            match column.get(row).map(|percent| Share::from_f64(*percent)) {
                None => return Err(no_such_row("superfat".into(), row)),
                Some(Ok(superfat)) => recipe.superfat = superfat,
                Some(Err(fault)) => add(&mut faults, "superfat".into(), &fault),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        plan(&recipe)
    }

    fn without_fats(&self) -> Recipe {
        let Recipe {
            superfat,
            alkali,
            water,
            stock_solution,
            acids,
            additives,
            scale_step,
            ..
        } = &self.recipe;
        Recipe {
            fats: Vec::with_capacity(self.fats()),
            total_fats: None,
            superfat: superfat.clone(),
            alkali: alkali.clone(),
            water: water.clone(),
            stock_solution: stock_solution.clone(),
            acids: acids.clone(),
            additives: additives.clone(),
            scale_step: scale_step.clone(),
        }
    }

    fn rounds_to_nothing(&self, mass: &Mass) -> bool {
        let step = self.recipe.scale_step.as_ref();
        let rounded = step.and_then(|step| mass.grams().round_to(step.grams()));
        rounded.is_some_and(|mass| mass.is_zero())
    }
}

fn no_such_row(at: String, row: usize) -> Faults {
    Faults::one(
        "no_such_row",
        at,
        format_args!("this column has no row {row}, counted from 0"),
    )
}

fn add(faults: &mut Faults, at: String, fault: &QuantityFault) {
    faults.add(fault.code(), at, fault.to_string());
}
