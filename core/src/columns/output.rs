//! Which numbers of a plan can be had as a column.

use crate::plan::Plan;
use crate::quantity::{Mass, Quantity};

macro_rules! outputs {
    ($( $(#[doc = $doc:literal])* $name:ident = $path:literal: |$plan:ident| $value:expr; )*) => {
        /// A number of a plan: a mass in g, a share in percent, or a plain ratio.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum Output { $( $(#[doc = $doc])* $name, )* }

        impl Output {
            /// All of them.
            pub const ALL: &[Self] = &[ $( Self::$name ),* ];

            /// The names of all of them.
            pub const NAMES: &[&str] = &[ $( $path ),* ];

            /// Its place in the answer of the operation `plan`, such as `naoh_mass`.
            pub const fn name(self) -> &'static str {
                match self { $( Self::$name => $path, )* }
            }

            /// It in a plan; a plan without stock solutions has no mass of one.
            pub fn of(self, plan: &Plan) -> Option<f64> {
                match self { $( Self::$name => { let $plan = plan; $value } )* }
            }
        }
    };
}

outputs! {
    /// The mass of all fats.
    TotalFats = "total_fats": |plan| base(&plan.total_fats);
    /// Sodium hydroxide as weighed.
    NaohMass = "naoh_mass": |plan| base(&plan.naoh_mass);
    /// Potassium hydroxide as weighed.
    KohMass = "koh_mass": |plan| base(&plan.koh_mass);
    /// Pure sodium hydroxide in it.
    NaohPureMass = "naoh_pure_mass": |plan| base(&plan.naoh_pure_mass);
    /// Pure potassium hydroxide in it.
    KohPureMass = "koh_pure_mass": |plan| base(&plan.koh_pure_mass);
    /// Potassium hydroxide in the hydroxide, by amount of substance.
    KohShareByMoles = "koh_share_by_moles": |plan| base(&plan.koh_share_by_moles);
    /// All water of the lye.
    WaterMass = "water_mass": |plan| base(&plan.water_mass);
    /// Water to weigh: without what stock solutions bring.
    WaterToAddMass = "water_to_add_mass": |plan| base(&plan.water_to_add_mass);
    /// Stock solution of sodium hydroxide to weigh.
    NaohSolutionMass = "stock_solution.naoh_solution_mass":
        |plan| plan.naoh_solution_mass.as_ref().and_then(base::<Mass>);
    /// Stock solution of potassium hydroxide to weigh.
    KohSolutionMass = "stock_solution.koh_solution_mass":
        |plan| plan.koh_solution_mass.as_ref().and_then(base::<Mass>);
    /// Everything together.
    BatterMass = "batter_mass": |plan| base(&plan.batter_mass);
    /// Share of the fats that stays unsaponified, for the weights as rounded.
    Superfat = "superfat": |plan| base(&plan.superfat);
    /// The same if all fats lie at the lower end of their saponification range.
    SuperfatLow = "superfat_range.low": |plan| base(&plan.superfat_range.0);
    /// The same at the upper end.
    SuperfatHigh = "superfat_range.high": |plan| base(&plan.superfat_range.1);
    /// alkali as weighed / (alkali as weighed + water).
    LyeConcentration = "lye_concentration": |plan| base(&plan.lye_concentration);
    /// hydroxide / (alkali as weighed + water).
    HydroxideConcentration = "hydroxide_concentration":
        |plan| base(&plan.hydroxide_concentration);
    /// water / alkali as weighed.
    WaterToLye = "water_to_lye": |plan| base(&plan.water_to_lye);
}

fn base<Q: Quantity>(quantity: &Q) -> Option<f64> {
    Some(quantity.to_base().to_f64())
}

impl Output {
    /// The one of that name.
    ///
    /// ```
    /// use lixivium::columns::Output;
    /// assert_eq!(Output::find("superfat_range.low"), Some(Output::SuperfatLow));
    /// ```
    pub fn find(name: &str) -> Option<Self> {
        let mut all = Self::ALL.iter().copied();
        all.find(|output| output.name() == name)
    }
}

/// A column to be written.
#[derive(Debug)]
pub struct Column<'a> {
    /// What of each plan.
    pub output: Output,
    /// Where the numbers go, one for each row.
    pub values: &'a mut [f64],
}
