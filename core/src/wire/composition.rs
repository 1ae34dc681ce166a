//! `composition`: what the fats of a bar are made of, and what the bar holds.

use super::plan::{self, PlanRequest};
use super::view::request;
use super::write::{Range, Value, Writer, answer};
use crate::composition::{Blend, Estimate, Figure, Soap};
use crate::fault::{Caution, Faults};
use crate::quantity::{Mass, Ratio, Share};

request! {
    /// A batch, or two to compare.
    CompositionRequest<'a> {
        /// The batch, as for the operation plan.
        plan: PlanRequest<'a>,
        /// Another batch to compare it with.
        other: Option<PlanRequest<'a>>,
    }
}

answer! {
    /// What a bar is made of.
    CompositionAnswer {
        /// The figures of its fats; those that are not known of one of the fats are left out.
        figures: Vec<FigureAnswer>,
        /// What is not known, and of which fat.
        unknown: Vec<UnknownAnswer>,
        /// Glycerol that is set free.
        glycerol_mass: MassEstimate,
        /// The same as a share of the batter as poured.
        glycerol: ShareEstimate,
        /// Fat that stays unsaponified.
        free_fat_mass: MassEstimate,
        /// The same as a share of the batter as poured.
        free_fat: ShareEstimate,
        /// Total fatty matter of the batter as poured (as ISO 685 counts it).
        total_fatty_matter: ShareEstimate,
        /// Total fatty matter once all water has dried off.
        total_fatty_matter_dry: ShareEstimate,
        /// What this batch has more than the other; below 0: less. Empty without another batch.
        differences: Vec<DifferenceAnswer>,
        /// What to mind.
        cautions: Vec<Caution>,
    }

    /// A figure of the fats together.
    FigureAnswer {
        /// Which: the shares of acid groups saturated_to_c10, saturated_c12_to_c14,
        /// saturated_from_c15, monounsaturated, polyunsaturated, hydroxylated and (the first
        /// three together) saturated; then saponification_value, calculated_saponification_value,
        /// iodine_value, oxidizability.
        figure: &'static str,
        /// Its unit; empty for an index.
        unit: &'static str,
        /// Its standard or its paper.
        source: &'static str,
        /// The typical value.
        typical: Ratio,
        /// The range over the published ranges of the fats.
        range: Range<Ratio>,
    }

    /// A figure that is not known.
    UnknownAnswer {
        /// Which.
        figure: &'static str,
        /// Of which fat.
        fat: String,
    }

    /// A difference of two batches.
    DifferenceAnswer {
        /// Which figure of the fats; between two batches also glycerol, free_fat,
        /// total_fatty_matter and total_fatty_matter_dry.
        figure: &'static str,
        /// Its unit; empty for an index.
        unit: &'static str,
        /// The difference of the typical values.
        typical: Ratio,
        /// The range of the difference; a fat that both hold is taken to be of the same lot, but
        /// for what the soap holds the lots are taken to be any.
        range: Range<Ratio>,
        /// Whether its direction is sure: else it may be noise.
        sure: bool,
    }

    /// A mass and its range.
    MassEstimate {
        /// The typical value.
        typical: Mass,
        /// The range over the published ranges of the fats.
        range: Range<Mass>,
    }

    /// A share and its range.
    ShareEstimate {
        /// The typical value.
        typical: Share,
        /// The range over the published ranges of the fats.
        range: Range<Share>,
    }
}

/// What a bar holds, in the order of [`Soap::shares`].
const SHARES: [&str; 4] = [
    "glycerol",
    "free_fat",
    "total_fatty_matter",
    "total_fatty_matter_dry",
];

pub(super) fn run(
    request: CompositionRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let batch = plan::batch_inside("plan", request.plan(), unread)?;
    let other = match request.other() {
        Some(other) => Some(plan::batch_inside("other", other, Faults::new())?),
        None => None,
    };
    let blend = Blend::of_plan(&batch.recipe, &batch.plan);
    let soap = Soap::of_plan(&batch.recipe, &batch.plan);
    to.items("figures", |to| {
        for &figure in &Figure::ALL {
            if let Some(found) = blend.figure(figure) {
                to.inside(|to| {
                    to.add("figure", figure.id());
                    to.add("unit", figure.unit());
                    to.add("source", figure.source());
                    found.add_to(to);
                });
            }
        }
    });
    to.items("unknown", |to| {
        for &figure in &Figure::ALL {
            for fat in blend.unknown(figure) {
                to.inside(|to| {
                    to.add("figure", figure.id());
                    to.add("fat", fat.name());
                });
            }
        }
    });
    let [glycerol, free_fat, fatty_matter, dry] = &soap.shares;
    to.add("glycerol_mass", &soap.glycerol);
    to.add("glycerol", glycerol);
    to.add("free_fat_mass", &soap.free_fat);
    to.add("free_fat", free_fat);
    to.add("total_fatty_matter", fatty_matter);
    to.add("total_fatty_matter_dry", dry);
    to.items("differences", |to| {
        if let Some(other) = other {
            let (recipe, plan) = (&other.recipe, &other.plan);
            differences(&blend, &Blend::of_plan(recipe, plan), to);
            let other = Soap::of_plan(recipe, plan);
            for (i, figure) in SHARES.iter().enumerate() {
                let found = soap.shares[i].less(&other.shares[i]);
                difference(figure, "% of the batter", &found, to);
            }
        }
    });
    to.add("cautions", batch.plan.cautions(&batch.recipe).as_slice());
    Ok(())
}

impl Value for Estimate {
    fn write(&self, to: &mut impl Writer) {
        to.inside(|to| self.add_to(to));
    }
}

impl Estimate {
    fn add_to(&self, to: &mut impl Writer) {
        to.add("typical", &self.typical);
        to.add("range", &self.range);
    }
}

/// Writes what the first has more than the second, each a [`DifferenceAnswer`].
pub(super) fn differences(first: &Blend, second: &Blend, to: &mut impl Writer) {
    let more = first.compared_with(second);
    for &figure in &Figure::ALL {
        if let Some(found) = more.figure(figure) {
            difference(figure.id(), figure.unit(), &found, to);
        }
    }
}

fn difference(figure: &str, unit: &str, found: &Estimate, to: &mut impl Writer) {
    let range = &found.range;
    let sure = range.low().is_positive() || range.high().is_negative();
    to.inside(|to| {
        to.add("figure", figure);
        to.add("unit", unit);
        found.add_to(to);
        to.add("sure", &sure);
    });
}
