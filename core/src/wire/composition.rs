//! `composition`: what the fats of a bar are made of, and what the bar holds.

use super::plan::{self, PlanRequest};
use super::view::request;
use super::write::{Range, Value, Writer, answer};
use crate::composition::{Blend, Estimate, Figure, Soap};
use crate::fault::{Caution, Faults};
use crate::plan::Plan;
use crate::quantity::{Mass, Ratio, Share};
use crate::recipe::Recipe;

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

pub(super) fn run(
    request: CompositionRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let planned = |request, at: &str| planned(request).map_err(|found| found.inside(at));
    let (recipe, plan) = unread.with(planned(request.plan(), "plan"))?;
    let other = request.other().map(|other| planned(other, "other"));
    let blend = Blend::of_plan(&recipe, &plan);
    let soap = Soap::of_plan(&recipe, &plan);
    let differences = match other {
        None => vec![],
        Some(other) => {
            let (recipe, plan) = other?;
            let mut all = differences(&blend, &Blend::of_plan(&recipe, &plan));
            let more = soap.compared_with(&Soap::of_plan(&recipe, &plan));
            let more = more.into_iter();
            all.extend(more.map(|(figure, found)| Difference {
                figure,
                unit: "% of the batter",
                found,
            }));
            all
        }
    };
    let figures = Figure::ALL.into_iter();
    let known = figures.filter_map(|figure| Some((figure, blend.figure(figure)?)));
    to.list("figures", known, |to, (figure, found)| {
        to.add("figure", figure.id());
        to.add("unit", figure.unit());
        to.add("source", figure.source());
        to.add("typical", &found.typical);
        to.add("range", &found.range);
    });
    let unknown = Figure::ALL.into_iter();
    let unknown = unknown.flat_map(|figure| blend.unknown(figure).map(move |fat| (figure, fat)));
    to.list("unknown", unknown, |to, (figure, fat)| {
        to.add("figure", figure.id());
        to.add("fat", fat.name());
    });
    to.add("glycerol_mass", &soap.glycerol);
    to.add("glycerol", &soap.glycerol_share);
    to.add("free_fat_mass", &soap.free_fat);
    to.add("free_fat", &soap.free_fat_share);
    to.add("total_fatty_matter", &soap.total_fatty_matter);
    to.add("total_fatty_matter_dry", &soap.total_fatty_matter_dry);
    to.list("differences", differences, Difference::write);
    to.add("cautions", plan.cautions(&recipe).as_slice());
    Ok(())
}

impl Value for Estimate {
    fn write(&self, to: &mut impl Writer) {
        to.inside(|to| {
            to.add("typical", &self.typical);
            to.add("range", &self.range);
        });
    }
}

/// The recipe and plan of a request.
pub(super) fn planned(request: PlanRequest) -> Result<(Recipe, Plan), Faults> {
    let plan::Batch { recipe, plan, .. } = plan::batch(request, Faults::new())?;
    Ok((recipe, plan))
}

/// What one has more than another.
pub(super) struct Difference {
    figure: &'static str,
    unit: &'static str,
    found: Estimate,
}

impl Difference {
    /// Writes the members of a [`DifferenceAnswer`].
    pub fn write(to: &mut impl Writer, this: Self) {
        let range = &this.found.range;
        let sure = range.low().is_positive() || range.high().is_negative();
        to.add("figure", this.figure);
        to.add("unit", this.unit);
        to.add("typical", &this.found.typical);
        to.add("range", range);
        to.add("sure", &sure);
    }
}

/// What the first has more than the second.
pub(super) fn differences(first: &Blend, second: &Blend) -> Vec<Difference> {
    let more = first.compared_with(second);
    let mut found = Vec::new();
    for figure in Figure::ALL {
        if let Some(estimate) = more.figure(figure) {
            found.push(Difference {
                figure: figure.id(),
                unit: figure.unit(),
                found: estimate,
            });
        }
    }
    found
}
