//! `assure`: how safe a batch is over everything that is not known exactly.

use super::plan::{self, PlanRequest};
use super::range::Span;
use super::read::Given;
use super::view::{OptionalList, View, request, words};
use super::write::{Range, Value, Writer, answer};
use crate::assurance::{
    self, Batch, Corner, Distribution, Method, Portion, Probability, Role, Tolerance, Tolerances,
    Touch,
};
use crate::exact::Rational;
use crate::fault::{Caution, Faults};
use crate::quantity::{Mass, Quantity, Ratio, SaponificationValue, Share};

request! {
    /// A plan and how far the batch on the bench may be from it.
    AssureRequest<'a> {
        /// The batch, as for the operation plan.
        plan: PlanRequest<'a>,
        /// What is not known exactly; left out: the published ranges of the fats alone.
        tolerances: Option<TolerancesRequest<'a>>,
        /// The superfat that the worst case shall keep; left out: 0, no free alkali.
        floor: Option<Share>,
        /// How each input is spread over its range, for the probability; left out: uniform.
        distribution: Option<DistributionWord>,
    }

    /// How far the batch on the bench may be from the plan.
    TolerancesRequest<'a> {
        /// One for each fat, in the order of the plan.
        fats: OptionalList<'a, FatToleranceRequest<'a>>,
        /// One for each acid, in the order of the plan.
        acids: OptionalList<'a, AcidToleranceRequest<'a>>,
        /// Range of the purity of the sodium hydroxide; left out: as in the plan.
        naoh_purity: Option<Span<Share>>,
        /// Range of the purity of the potassium hydroxide; left out: as in the plan.
        koh_purity: Option<Span<Share>>,
        /// By how much the sodium hydroxide may be misweighed; left out: weighing_error.
        naoh_weighing_error: Option<Mass>,
        /// By how much the potassium hydroxide may be misweighed; left out: weighing_error.
        koh_weighing_error: Option<Mass>,
        /// By how much every weighing may be off; left out: 0.
        weighing_error: Option<Mass>,
        /// The step of the scale, half of which comes to every weighing; left out: 0.
        scale_step: Option<Mass>,
    }

    /// How far an acid may be from what is reckoned with.
    AcidToleranceRequest<'a> {
        /// The range of its strength; left out: as in the plan.
        strength: Option<Span<Share>>,
        /// By how much it may be misweighed; left out: weighing_error of all.
        weighing_error: Option<Mass>,
    }

    /// How far a fat may be from what is reckoned with.
    FatToleranceRequest<'a> {
        /// The range of its saponification value, such as that of a supplier's certificate; left
        /// out: the published range.
        saponification_range: Option<Span<SaponificationValue>>,
        /// By how much it may be misweighed; left out: weighing_error of all.
        weighing_error: Option<Mass>,
    }
}

words! {
    /// How an input is spread over its range.
    DistributionWord {
        /// Every value equally likely.
        "uniform" => Uniform,
        /// Falling in a straight line from the value reckoned with to both ends.
        "triangular" => Triangular,
    }
}

answer! {
    /// The superfat over everything that is not known exactly.
    AssureAnswer {
        /// The superfat of the plan, as reckoned with.
        superfat: Share,
        /// The smallest superfat, and a corner that attains it.
        worst: CornerAnswer,
        /// The largest superfat, and a corner that attains it.
        best: CornerAnswer,
        /// Which inputs the spread comes from, the largest first.
        spreads: Vec<SpreadAnswer>,
        /// Whether the bar could keep free alkali.
        lye_heavy_possible: bool,
        /// The floor that was asked for.
        floor: Share,
        /// The most sodium hydroxide as weighed whose worst case keeps the floor; left out where
        /// there is none.
        safe_naoh_mass: Option<Mass>,
        /// The most potassium hydroxide as weighed whose worst case keeps the floor; left out
        /// where there is none.
        safe_koh_mass: Option<Mass>,
        /// The superfat to plan so that the worst case is just the floor.
        superfat_for_floor: Option<Share>,
        /// The superfat to plan so that the worst case is just 0 %.
        superfat_for_zero: Option<Share>,
        /// How likely a superfat below the floor is.
        below_floor: ProbabilityAnswer,
        /// How likely a superfat below 0, so a bar with free alkali, is.
        lye_heavy: ProbabilityAnswer,
        /// What the probabilities take for granted.
        assumptions: Vec<String>,
        /// What to mind.
        cautions: Vec<Caution>,
    }

    /// A corner of the box of all inputs.
    CornerAnswer {
        /// The superfat there; below 0 there is free alkali.
        superfat: Share,
        /// Where each portion stands.
        at: Vec<TouchAnswer>,
    }

    /// Where a portion stands at a corner.
    TouchAnswer {
        /// fat, alkali or acid.
        role: &'static str,
        /// Its name.
        name: String,
        /// Its true mass there.
        mass: Mass,
        /// Of a fat: its saponification value there.
        saponification_value: Option<SaponificationValue>,
        /// Of an alkali: its purity there.
        purity: Option<Share>,
        /// Of an acid: g KOH that 1 g of it takes up.
        koh_per_gram: Option<Ratio>,
    }

    /// What one input does.
    SpreadAnswer {
        /// fat, alkali or acid.
        role: &'static str,
        /// The portion.
        name: String,
        /// weighing, saponification_value, purity or koh_per_gram.
        input: &'static str,
        /// Its share of the whole spread; all shares come to 100 %.
        share: Share,
        /// The superfat if this input alone varies.
        alone: Range<Share>,
    }

    /// A probability.
    ProbabilityAnswer {
        /// The probability itself, where it is known exactly.
        exact: Option<Share>,
        /// It is not smaller than this.
        at_least: Share,
        /// It is not larger than this.
        at_most: Share,
        /// "corners": summed exactly over all corners of the box of inputs. "points" and "grid":
        /// enclosed between two bounds, which are exact; the assumptions say why.
        method: &'static str,
    }
}

pub(super) fn run(
    request: AssureRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let planned = plan::batch_inside("plan", request.plan(), unread)?;
    let (recipe, plan) = (&planned.recipe, &planned.plan);
    let tolerances = tolerances(request.tolerances());
    let batch = match Batch::of_plan(recipe, plan, &tolerances) {
        Ok(batch) => batch,
        Err(found) => return Err(found.inside("tolerances")),
    };
    let floor = request.floor().unwrap_or(Share::NONE);
    let distribution = match request.distribution() {
        Some(DistributionWord::Triangular) => Distribution::Triangular,
        _ => Distribution::Uniform,
    };
    let at = |floor: &Share| {
        let safe = batch.safe_alkali(floor)?;
        Ok((safe, batch.probability_below(floor, distribution)?))
    };
    let asked = at(&floor)?;
    let found;
    let none = if floor == Share::NONE {
        &asked
    } else {
        found = at(&Share::NONE)?;
        &found
    };
    let ((safe, below_floor), (safe_at_none, lye_heavy)) = (&asked, none);
    let spreads = batch.spreads()?;
    let (worst, best) = (batch.extreme(true), batch.extreme(false));
    let safe_mass = |name| {
        let safe = safe.as_ref()?;
        let alkali = batch.alkalis.iter().find(|alkali| alkali.name == name)?;
        let mass = &alkali.mass * &safe.times;
        let step = recipe.scale_step.as_ref();
        let rounded = step.and_then(|step| mass.floor_to(step.grams()));
        Some(rounded.unwrap_or(mass))
    };
    let mut cautions = plan.cautions(recipe);
    if worst.superfat < floor {
        cautions.push(below(&worst.superfat, &floor));
    }
    for portions in [&batch.fats, &batch.alkalis, &batch.acids] {
        for portion in portions {
            if !portion.koh_range.contains(&portion.koh) {
                cautions.push(outside(portion));
            }
        }
    }
    if safe.is_none() {
        cautions.push(Caution::new(
            "no_safe_alkali",
            "With these tolerances not even the smallest amount of alkali keeps the floor: narrow \
             the tolerances.",
        ));
    }
    to.add("superfat", &plan.superfat);
    to.add("worst", &worst);
    to.add("best", &best);
    to.list("spreads", &spreads, |to, spread| {
        let input = match (spread.of_mass, spread.role) {
            (true, _) => "weighing",
            (false, Role::Fat) => "saponification_value",
            (false, Role::Alkali) => "purity",
            (false, Role::Acid) => "koh_per_gram",
        };
        to.add("role", spread.role.name());
        to.add("name", &spread.portion.name);
        to.add("input", input);
        to.add("share", &spread.share);
        to.add("alone", &spread.alone);
    });
    to.add("lye_heavy_possible", &(worst.superfat < Share::NONE));
    to.add("floor", &floor);
    to.add("safe_naoh_mass", &safe_mass("naoh"));
    to.add("safe_koh_mass", &safe_mass("koh"));
    to.add(
        "superfat_for_floor",
        &safe.as_ref().map(|safe| &safe.nominal),
    );
    to.add(
        "superfat_for_zero",
        &safe_at_none.as_ref().map(|safe| &safe.nominal),
    );
    to.add("below_floor", below_floor);
    to.add("lye_heavy", lye_heavy);
    assumptions(distribution, below_floor, lye_heavy, to);
    to.add("cautions", cautions.as_slice());
    Ok(())
}

fn outside(portion: &Portion) -> Caution {
    Caution::new(
        "reckoned_outside_range",
        format!(
            "The plan reckons with a value of {} that lies outside the range given for it: plan \
             with a value inside.",
            portion.name
        ),
    )
}

fn below(worst: &Share, floor: &Share) -> Caution {
    let percent = |share: &Share| share.to_base().fixed(2);
    Caution::new(
        "below_floor_possible",
        format!(
            "In the worst case of these tolerances the superfat is {} %, below the floor of {} %. \
             Plan more superfat, or narrow the tolerances: a supplier's certificate for the fat, a \
             titration of the alkali, a finer scale.",
            percent(worst),
            percent(floor)
        ),
    )
}

fn assumptions(
    distribution: Distribution,
    below: &Probability,
    heavy: &Probability,
    to: &mut impl Writer,
) {
    let spread = match distribution {
        Distribution::Uniform => "every value of its range equally likely",
        Distribution::Triangular => {
            "likeliest at the value reckoned with and falling in a straight line to both ends of \
             its range"
        }
    };
    to.name("assumptions");
    to.begin_list();
    to.put_text(&format!(
        "{} inputs vary, each independent of the others and {spread}.",
        below.inputs
    ));
    to.put_text(
        "No true value lies outside its range; the bounds of the superfat need this, but neither \
         independence nor a distribution.",
    );
    let found_by = |method| below.method == method || heavy.method == method;
    if found_by(Method::Points) {
        to.put_text(
            "A probability whose method is \"points\" surely lies between its two bounds: mass and \
             value of the same portion both vary, and one of them was put on a few points (or \
             numbers of very many digits were shortened).",
        );
    }
    if found_by(Method::Grid) {
        to.put_text(
            "A probability whose method is \"grid\" surely lies between its two bounds: there are \
             too many inputs for an exact sum, and those of small effect were convolved on a grid, \
             with all that this can change counted in.",
        );
    }
    to.end_list();
}

/// Those of a request; none if it has none.
fn tolerances(request: Option<TolerancesRequest>) -> Tolerances {
    let request = request.unwrap_or_else(|| View::of(&Given::Absent));
    let (mut fats, mut acids) = (Vec::new(), Vec::new());
    for fat in request.fats() {
        fats.push(Tolerance {
            range: fat.saponification_range().map(|range| range.interval),
            weighing_error: fat.weighing_error(),
        });
    }
    let share = |range: Option<Span<Share>>, weighing_error| Tolerance {
        range: range.map(|range| range.fractions()),
        weighing_error,
    };
    for acid in request.acids() {
        acids.push(share(acid.strength(), acid.weighing_error()));
    }
    Tolerances {
        fats,
        acids,
        naoh: share(request.naoh_purity(), request.naoh_weighing_error()),
        koh: share(request.koh_purity(), request.koh_weighing_error()),
        weighing_error: request.weighing_error(),
        scale_step: request.scale_step(),
    }
}

impl Value for Corner {
    fn write(&self, to: &mut impl Writer) {
        to.inside(|to| {
            to.add("superfat", &self.superfat);
            to.list("at", &self.at, write_touch);
        });
    }
}

fn write_touch(to: &mut impl Writer, touch: &Touch) {
    to.add("role", touch.role.name());
    to.add("name", &touch.name);
    to.add("mass", &touch.mass);
    let koh = &touch.koh;
    let value = match touch.role {
        Role::Fat => koh * &const { Rational::integer(1_000) },
        Role::Alkali => assurance::purity(&touch.name, koh) * Rational::HUNDRED,
        Role::Acid => koh.clone(),
    };
    let mut add = |name, role| to.add(name, &(role == touch.role).then_some(&value));
    add("saponification_value", Role::Fat);
    add("purity", Role::Alkali);
    add("koh_per_gram", Role::Acid);
}

impl Value for Probability {
    fn write(&self, to: &mut impl Writer) {
        let method = match self.method {
            Method::Corners => "corners",
            Method::Points => "points",
            Method::Grid => "grid",
        };
        to.inside(|to| {
            to.add("exact", &self.exact());
            to.add("at_least", &self.low);
            to.add("at_most", &self.high);
            to.add("method", method);
        });
    }
}
