//! `fill` and `calibrate`: how full a mould will be, and what a batch that was poured tells.

use super::accepts::Place;
use super::filling::Filled;
use super::mould::{MouldAsked, MouldRequest, density_of};
use super::plan::{self, Batch, PlanRequest};
use super::view::{Pair, request};
use super::write::{Range, Writer, answer};
use crate::fault::{Caution, Faults};
use crate::mould::Spread;
use crate::mould::calibrate::calibrate;
use crate::mould::fill::{Batter, Filling, Seen, Yield, fill};
use crate::plan::doubt;
use crate::quantity::{Density, Mass, Share, Volume};

request! {
    /// A batter and the mould that it is poured into.
    FillRequest<'a> {
        /// The mould; left out: that of the plan.
        mould: Option<MouldRequest<'a>>,
        /// The batter.
        batter: BatterRequest<'a>,
    }

    /// A batch that was weighed and poured, to learn from.
    CalibrateRequest<'a> {
        /// The mould; left out: that of the plan.
        mould: Option<MouldRequest<'a>>,
        /// The batter, with full_cavities or last_cavity.
        batter: BatterRequest<'a>,
    }

    /// A batter: a plan, or a mass with a density, or what it filled the last time, or several
    /// of these. What it filled goes before its density, and its density before its parts.
    BatterRequest<'a> {
        /// The request of its plan.
        plan: Option<PlanRequest<'a>>,
        /// Its mass; left out: that of the plan.
        mass: Option<Mass>,
        /// Its density when poured.
        density: Option<Density>,
        /// The range in which that density lies; left out: no range.
        density_range: Option<Pair<Density>>,
        /// How many cavities it filled, in the order of the mould.
        full_cavities: Option<u32>,
        /// How full the next one was, of what was asked; left out: not begun.
        last_cavity: Option<Share>,
    }
}

answer! {
    /// What a batch that was poured tells. What cannot be known from what was given is left out.
    CalibrateAnswer {
        /// What was poured.
        poured_mass: Mass,
        /// The density of the batter, if the volume of the mould is known and right.
        batter_density: Option<Density>,
        /// The range in which it lies.
        batter_density_range: Option<Range<Density>>,
        /// The density that was expected, from the parts of the batter or as given.
        expected_density: Option<Density>,
        /// The range in which it lies.
        expected_density_range: Option<Range<Density>>,
        /// How much denser the batter was than expected; below 0: less dense.
        deviation: Option<Share>,
        /// The kinds of cavity, in the order of the mould.
        cavities: Vec<CalibratedAnswer>,
        /// What to mind.
        cautions: Vec<Caution>,
    }

    /// A cavity, full to the brim.
    CalibratedAnswer {
        /// How many there are of its kind.
        count: u32,
        /// The batter that it takes; as bar_mass of its mould it makes the next batch right
        /// whatever the tables say.
        bar_mass: Mass,
        /// Its volume, if the expected density is right.
        volume: Option<Volume>,
        /// The range in which it lies.
        volume_range: Option<Range<Volume>>,
    }
}

/// A batter and its mould, as they are asked for.
pub(super) struct Poured {
    pub asked: Box<MouldAsked>,
    batch: Option<Box<Batch>>,
    mass: Option<Mass>,
    density: Option<Spread>,
    pub seen: Option<Seen>,
}

impl Poured {
    pub(super) fn of(
        mould: Option<MouldRequest>,
        batter: BatterRequest,
        mut unread: Faults,
    ) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let has_mould = mould.is_some();
        let mut asked = mould.map(|mould| mould.asked(&mut faults));
        if !faults.is_empty() {
            asked = None;
        }
        let mut batch = match batter.plan().map(|plan| plan::batch(plan, Faults::new())) {
            None => None,
            Some(Ok(batch)) => Some(batch),
            Some(Err(found)) => {
                faults.add_inside(&"batter.plan", found);
                None
            }
        };
        if !has_mould && faults.is_empty() {
            asked = batch.as_mut().and_then(|batch| batch.asked.take());
            if asked.is_none() {
                let says = "a mould is missing; accepted: mould, or a plan with a mould";
                faults.add("missing", "mould", says);
            }
        }
        if let (Some(asked), Some(batch)) = (&asked, &mut batch) {
            asked.pour(&mut batch.pouring);
        }
        let at = &Place::Member(&Place::top("batter"), "density");
        let density = density_of(batter.density(), batter.density_range(), at, &mut faults);
        if density.is_some() && asked.as_ref().is_some_and(|asked| asked.density.is_some()) {
            let says = "the density of the batter stands in the mould already; write it once";
            faults.add("duplicate_key", at, says);
        }
        let mass = batter.mass();
        if mass
            .as_ref()
            .is_some_and(|mass| !mass.grams().is_positive())
        {
            let says = "the mass of a batter is above 0";
            faults.add("not_positive", "batter.mass", says);
        }
        let seen = match (batter.full_cavities(), batter.last_cavity()) {
            (None, None) => None,
            (full, last) => Some(Seen {
                full_cavities: full.unwrap_or(0),
                last_cavity: last.unwrap_or(Share::NONE),
            }),
        };
        let is_fine = unread.is_empty() && faults.is_empty();
        let Some(asked) = asked.filter(|_| is_fine) else {
            unread.add_elsewhere(Some(faults));
            return Err(unread);
        };
        Ok(Self {
            asked,
            batch,
            mass,
            density,
            seen,
        })
    }

    fn batter(&self, use_seen: bool) -> Result<Batter<'_>, Faults> {
        let density = self.density.as_ref().or(self.asked.density.as_ref());
        let yields = match (&self.seen, density, &self.batch) {
            (Some(seen), ..) if use_seen => Yield::Seen(seen),
            (_, Some(density), _) => Yield::Density(density),
            (_, None, Some(batch)) => self.asked.yields(&batch.pouring)?,
            (_, None, None) => Yield::Unknown,
        };
        Ok(Batter {
            planned: self
                .batch
                .as_ref()
                .map(|batch| (&batch.recipe, &batch.plan)),
            mass: self.mass.clone(),
            yields,
        })
    }

    /// Adds what to mind about what was asked, and about the parts if they are `reckoned` with.
    fn caution(&self, reckoned: bool, cautions: &mut Vec<Caution>) {
        if let Some(seen) = &self.seen {
            doubt(&seen.last_cavity, &"batter.last_cavity", cautions);
        }
        if let Some(batch) = &self.batch
            && reckoned
            && self.density.is_none()
        {
            self.asked.caution(&batch.pouring, &batch.recipe, cautions);
        }
    }

    pub(super) fn filling(&self) -> Result<Box<Filling>, Faults> {
        let MouldAsked { mould, err_on, .. } = &*self.asked;
        let batter = self.batter(true);
        let filling = batter.and_then(|batter| fill(mould, &batter, *err_on));
        filling.map_err(inside_plan)
    }
}

/// What is found while the recipe is scaled stands in the plan of the request.
fn inside_plan(found: Faults) -> Faults {
    let mut faults = Faults::new();
    for fault in found.iter() {
        let own = fault.at.starts_with("mould") || fault.at.starts_with("batter");
        let inside = if own { "" } else { "batter.plan." };
        faults.add(
            fault.code,
            format_args!("{inside}{}", fault.at),
            &fault.says,
        );
    }
    faults
}

pub(super) fn run(
    request: FillRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let poured = Poured::of(request.mould(), request.batter(), unread)?;
    let filling = poured.filling()?;
    let mut filled = Filled::new(&filling, &poured.asked.mould);
    poured.caution(poured.seen.is_none(), &mut filled.cautions);
    filled.members(to);
    match &filling.scaled {
        Some(batch) => to.object("scaled", |to| {
            plan::write(&batch.recipe, &batch.plan, None, to);
        }),
        None => to.null("scaled"),
    }
    Ok(())
}

pub(super) fn learn(
    request: CalibrateRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let poured = Poured::of(request.mould(), request.batter(), unread)?;
    let Some(seen) = &poured.seen else {
        return Err(Faults::one(
            "missing",
            "batter.full_cavities",
            "what the batch filled is missing; accepted: full_cavities, last_cavity, or both",
        ));
    };
    let mould = &poured.asked.mould;
    let batter = poured.batter(false);
    let found = batter.and_then(|batter| calibrate(mould, &batter, seen));
    let found = found.map_err(inside_plan)?;
    let density = found.batter_density.as_ref();
    let expected = found.expected_density.as_ref();
    to.add("poured_mass", &found.poured_mass);
    to.add("batter_density", &density.map(|density| density.middle()));
    to.add("batter_density_range", &density);
    to.add("expected_density", &expected.map(|density| &density.likely));
    to.add(
        "expected_density_range",
        &expected.map(|density| &density.range),
    );
    to.add("deviation", &found.deviation);
    let kinds = mould.cavities.iter().zip(&found.bar_masses);
    to.list("cavities", kinds, |to, (cavities, bar_mass)| {
        let volume = found.cavity_volume(bar_mass);
        let volume = volume.as_ref();
        to.add("count", &cavities.count);
        to.add("bar_mass", bar_mass);
        to.add("volume", &volume.map(|volume| &volume.likely));
        to.add("volume_range", &volume.map(|volume| &volume.range));
    });
    let mut cautions = Vec::new();
    poured.caution(true, &mut cautions);
    to.add("cautions", cautions.as_slice());
    Ok(())
}
