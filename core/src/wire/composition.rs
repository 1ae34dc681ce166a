//! `composition`: what the fats of a bar are made of, and what the bar holds.

use super::plan::{self, PlanRequest};
use super::read::request;
use super::write::{Range, answer};
use crate::composition::{Blend, Estimate, Figure, Soap};
use crate::fault::{Caution, Faults};
use crate::plan::Plan;
use crate::quantity::{Mass, Quantity, Ratio, Share};
use crate::recipe::Recipe;

request! {
    /// A batch, or two to compare.
    CompositionRequest {
        /// The batch, as for the operation plan.
        plan: PlanRequest,
        /// Another batch to compare it with.
        other: Option<PlanRequest>,
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
) -> Result<CompositionAnswer, Faults> {
    let planned = |request, at: &str| planned(request).map_err(|found| found.inside(at));
    let (recipe, plan) = unread.with(planned(request.plan, "plan"))?;
    let other = request.other.map(|other| planned(other, "other"));
    let blend = Blend::of_plan(&recipe, &plan);
    let soap = Soap::of_plan(&recipe, &plan);
    let differences = match other {
        None => vec![],
        Some(other) => {
            let (recipe, plan) = other?;
            let mut all = differences(&blend, &Blend::of_plan(&recipe, &plan));
            let more = soap.compared_with(&Soap::of_plan(&recipe, &plan));
            let more = more.into_iter();
            all.extend(more.map(|(name, found)| difference(name, "% of the batter", found)));
            all
        }
    };
    Ok(CompositionAnswer {
        figures: figures(&blend),
        unknown: unknown(&blend),
        glycerol_mass: mass(&soap.glycerol),
        glycerol: share(&soap.glycerol_share),
        free_fat_mass: mass(&soap.free_fat),
        free_fat: share(&soap.free_fat_share),
        total_fatty_matter: share(&soap.total_fatty_matter),
        total_fatty_matter_dry: share(&soap.total_fatty_matter_dry),
        differences,
        cautions: plan.cautions(&recipe),
    })
}

/// The recipe and plan of a request.
pub(super) fn planned(request: PlanRequest) -> Result<(Recipe, Plan), Faults> {
    let plan::Batch { recipe, plan, .. } = plan::batch(request, Faults::new())?;
    Ok((recipe, plan))
}

fn figures(blend: &Blend) -> Vec<FigureAnswer> {
    let known = Figure::ALL.into_iter();
    let known = known.filter_map(|figure| Some((figure, blend.figure(figure)?)));
    let answers = known.map(|(figure, found)| FigureAnswer {
        figure: figure.id(),
        unit: figure.unit(),
        source: figure.source(),
        range: Range::of(&found.range),
        typical: Ratio::new(found.typical),
    });
    answers.collect()
}

fn unknown(blend: &Blend) -> Vec<UnknownAnswer> {
    let each = Figure::ALL.into_iter().flat_map(|figure| {
        blend.unknown(figure).map(move |fat| UnknownAnswer {
            figure: figure.id(),
            fat: fat.name().to_owned(),
        })
    });
    each.collect()
}

/// What the first has more than the second.
pub(super) fn differences(first: &Blend, second: &Blend) -> Vec<DifferenceAnswer> {
    let more = first.compared_with(second);
    let known = Figure::ALL.into_iter();
    let known = known.filter_map(|figure| Some((figure, more.figure(figure)?)));
    let answers = known.map(|(figure, found)| difference(figure.id(), figure.unit(), found));
    answers.collect()
}

fn difference(figure: &'static str, unit: &'static str, found: Estimate) -> DifferenceAnswer {
    DifferenceAnswer {
        figure,
        unit,
        range: Range::of(&found.range),
        sure: found.range.low().is_positive() || found.range.high().is_negative(),
        typical: Ratio::new(found.typical),
    }
}

fn mass(estimate: &Estimate) -> MassEstimate {
    MassEstimate {
        typical: Mass::from_base(estimate.typical.clone()),
        range: Range::of(&estimate.range),
    }
}

fn share(estimate: &Estimate) -> ShareEstimate {
    ShareEstimate {
        typical: Share::from_base(estimate.typical.clone()),
        range: Range::of(&estimate.range),
    }
}
