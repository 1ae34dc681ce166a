//! How full a batch will make a mould, and what would fill it.

use std::mem::discriminant;

use super::batter::Pouring;
use super::size::{Goal, SizedBatch, is_proportional};
use super::{Capacity, ErrOn, Mould, Spread, Waste, quotient};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::plan::Plan;
use crate::quantity::{Mass, Share};
use crate::recipe::Recipe;

/// A batter to be poured.
#[derive(Debug, Clone)]
pub struct Batter<'a> {
    /// The recipe and plan that it comes from, if known.
    pub planned: Option<(&'a Recipe, &'a Plan)>,
    /// Its mass, if known; left out: that of the plan.
    pub mass: Option<Mass>,
    /// How the room that it takes is known.
    pub yields: Yield<'a>,
}

/// How the room that a batter takes is known.
#[derive(Debug, Clone, Copy)]
pub enum Yield<'a> {
    /// From its parts; needs a plan.
    Parts(&'a Pouring),
    /// From its density, in g/cm³.
    Density(&'a Spread),
    /// From what it filled when it was poured into this mould.
    Seen(&'a Seen),
    /// Not known; enough where every cavity is known by the batter that it takes.
    Unknown,
}

/// What a batch filled.
#[derive(Debug, Clone)]
pub struct Seen {
    /// So many cavities, in the order of the mould.
    pub full_cavities: u32,
    /// The next one to this share.
    pub last_cavity: Share,
}

impl Batter<'_> {
    /// Its mass, if it is given or planned.
    pub(crate) fn known_mass(&self) -> Option<&Mass> {
        let planned = self.planned.map(|(_, plan)| &plan.batter_mass);
        self.mass.as_ref().or(planned)
    }
}

impl Yield<'_> {
    /// The density of the batter, where it can be known.
    pub(crate) fn known_density(
        self,
        planned: Option<(&Recipe, &Plan)>,
    ) -> Result<Option<Spread>, Faults> {
        match (self, planned) {
            (Self::Density(density), _) => Ok(Some(density.clone())),
            (Self::Parts(pouring), Some((recipe, plan))) => pouring.density(recipe, plan).map(Some),
            _ => Ok(None),
        }
    }

    /// Whether the density of the batter is told: the mould needs it, or it is given.
    fn tells_density(self, mould: &Mould) -> bool {
        mould.needs_density() || matches!(self, Self::Density(_))
    }

    /// The density of the batter; any where the mould needs none.
    pub(crate) fn density(
        self,
        mould: &Mould,
        planned: Option<(&Recipe, &Plan)>,
    ) -> Result<Spread, Faults> {
        match (self, planned) {
            (Self::Density(density), _) => Ok(density.clone()),
            _ if !mould.needs_density() => Ok(water()),
            (Self::Parts(pouring), Some((recipe, plan))) => pouring.density(recipe, plan),
            _ => Err(Faults::one(
                "missing",
                "batter.density",
                "how much room the batter takes is not known; accepted: its density, its plan, or \
                 full_cavities and last_cavity of a batch that was poured",
            )),
        }
    }
}

/// Whether the batch fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// The mould stays partly empty.
    Short,
    /// It is full, as near as the scale tells.
    Full,
    /// Batter is left over.
    LeftOver,
}

/// What a full cavity holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// What it will hold of this batch.
    pub mass: Mass,
    /// What it takes of the lightest and of the densest batter.
    pub range: (Mass, Mass),
}

/// How full a mould will be.
///
/// All but the ranges is reckoned at the end that [`ErrOn`] names: for `NeverOverflow` with the
/// bulkiest batter and the smallest cavities that the figures allow. Masses are unknown where
/// the mass of the batter is.
#[derive(Debug, Clone)]
pub struct Filling {
    /// Whether the batch fits.
    pub state: State,
    /// The batter.
    pub batter_mass: Option<Mass>,
    /// What of it is poured.
    pub poured_mass: Option<Mass>,
    /// Its density in g/cm³, where it is known.
    pub density: Option<Spread>,
    /// poured / what the mould takes.
    pub mould_filled: Share,
    /// The same with likely densities.
    pub mould_filled_likely: Share,
    /// The same at all ends.
    pub mould_filled_range: (Share, Share),
    /// How many cavities are full.
    pub full_cavities: u32,
    /// How full the next one is, of what was asked; 0 if none is partly full.
    pub last_cavity: Share,
    /// How many stay empty.
    pub empty_cavities: u32,
    /// What of the poured batter finds no room.
    pub left_over_mass: Option<Mass>,
    /// What a full cavity of each kind holds.
    pub bars: Vec<Option<Bar>>,
    /// What the batch as weighed must be multiplied by to fill the mould, exactly. Where the
    /// recipe has acids or additives by mass, which stay, it is the factor of the fats.
    pub scale_to_fill: Rational,
    /// The recipe that fills it, weighed on the scale of the recipe.
    pub scaled: Option<Box<SizedBatch>>,
}

/// A difference that no scale of the bench shows, in g.
const UNSEEN: Rational = Rational::decimal(1, 3);

/// Tells how full the mould will be.
///
/// The mould counts as full when the poured batter differs from what it takes by no more than a
/// milligram, a step of the scale, or the difference of the best batch that can be weighed. To the
/// side to err on it is full too when one step of the scale more of every fat (less for
/// `always_full`) would not fit any more, or when as much of the fats was asked for as the best
/// batch weighs: of a batch that [`size`](super::size::size) made and that was written down the scale tells no more.
/// The batter of a full mould is spread over all cavities alike. What was seen is told as it was
/// seen.
///
/// ```
/// use lixivium::mould::fill::{Batter, Seen, State, Yield, fill};
/// use lixivium::mould::{Cavities, ErrOn, Mould, Size, Waste};
/// use lixivium::quantity::{Mass, Share};
///
/// // Last time 1070 g filled ten cavities, and the next one to 40 %.
/// let mould = Mould {
///     cavities: vec![Cavities { count: 12, size: Size::Unknown, fill: None }],
///     fill: Share::WHOLE,
///     waste: Waste::Share(Share::parse("2.8").unwrap()),
/// };
/// let seen = Seen { full_cavities: 10, last_cavity: Share::parse("40").unwrap() };
/// let batter = Batter {
///     planned: None,
///     mass: Some(Mass::parse("1070 g").unwrap()),
///     yields: Yield::Seen(&seen),
/// };
/// let filling = fill(&mould, &batter, ErrOn::NeverOverflow).unwrap();
/// assert_eq!(filling.state, State::Short);
/// assert_eq!(filling.empty_cavities, 1);
/// assert_eq!(filling.bars[0].as_ref().unwrap().mass.grams().to_fixed(1), "100.0");
/// assert_eq!(filling.scale_to_fill.to_string(), "15/13"); // 12 / 10.4
/// ```
///
/// # Errors
/// The faults of the mould and the batter, and those of [`size`](super::size::size).
pub fn fill(mould: &Mould, batter: &Batter, err_on: ErrOn) -> Result<Box<Filling>, Faults> {
    fill_knowing(mould, batter, err_on, None)
}

/// The same, where the batch that fills the mould is known already.
pub(crate) fn fill_knowing(
    mould: &Mould,
    batter: &Batter,
    err_on: ErrOn,
    scaled: Option<Box<SizedBatch>>,
) -> Result<Box<Filling>, Faults> {
    mould.check()?;
    let planned = batter.planned;
    let mass = batter.known_mass();
    let poured = mass.map(|mass| mould.poured(mass)).transpose()?;
    let known = poured.is_some();
    let as_seen;
    let (mould, poured) = match (batter.yields, poured) {
        (Yield::Seen(seen), poured) => {
            let (bars, poured) = seen.bars(mould, poured)?;
            if !known && matches!(&mould.waste, Waste::Mass(waste) if !waste.grams().is_zero()) {
                return Err(Faults::one(
                    "missing",
                    "batter.mass",
                    "with a waste in grams the mass of the batter that was poured is needed as \
                     well; accepted: mass, a plan, or a waste in percent",
                ));
            }
            as_seen = mould.of_bars(bars);
            (&as_seen, poured)
        }
        (_, Some(poured)) => (mould, poured),
        (_, None) => {
            return Err(Faults::one(
                "missing",
                "batter",
                "the mass of the batter is missing; accepted: mass, plan, or full_cavities and \
                 last_cavity of a batch that was poured",
            ));
        }
    };

    let density = batter.yields.density(mould, planned)?;
    mould.check_known()?;
    let goal = Goal::new(mould, batter.yields, err_on);
    let together = goal.together.grams(&density);
    let capacity = err_on.of(&together);
    let filled = |capacity: &Rational| Share::of_one(quotient(&poured, capacity));

    let scaled = match (scaled, planned) {
        (None, Some((recipe, _))) => Some(goal.size(recipe)?),
        (scaled, _) => scaled,
    };
    let scale_to_fill = match (&scaled, planned, mass) {
        (Some(scaled), Some((recipe, plan)), _) if !is_proportional(recipe) => {
            quotient(scaled.total_fats.grams(), plan.total_fats.grams())
        }
        (_, _, Some(mass)) => quotient(&mould.waste.batter(capacity), mass.grams()),
        _ => quotient(capacity, &poured),
    };

    let gap = &poured - capacity;
    let mut unseen = if known { UNSEEN } else { Rational::ZERO };
    let was_seen = matches!(batter.yields, Yield::Seen(_));
    if let Some(best) = scaled.as_ref().filter(|_| !was_seen) {
        unseen = unseen.max(best.excess.grams().abs());
        if let Some((recipe, plan)) = planned
            && let Some(step) = &recipe.scale_step
        {
            unseen = unseen.max(step.grams().clone());
            if err_on.is_kept(&gap) {
                unseen = unseen.max(goal.untold(recipe, plan, best)?);
            }
        }
    }
    let state = if gap.abs() <= unseen {
        State::Full
    } else if gap.is_negative() {
        State::Short
    } else {
        State::LeftOver
    };
    let is_full = state == State::Full;
    let spread = match is_full {
        true => quotient(&poured, capacity),
        false => Rational::ONE,
    };
    let grams = |mass: &Rational| Mass::new(mass.clone());
    // Cavities are filled one after the other; those of a full mould hold all there is.
    let mut left = poured.clone();
    let (mut full, mut last) = (0, Rational::ZERO);
    let mut bars = Vec::with_capacity(mould.cavities.len());
    for cavities in &mould.cavities {
        let takes = mould.takes_one(cavities).grams(&density);
        let bar = err_on.of(&takes) * &spread;
        let count = Rational::integer(cavities.count.into());
        let here = quotient(&left, &bar);
        if is_full || here >= count {
            full += cavities.count;
            left = left - &bar * &count;
        } else if left.is_positive() {
            let whole = here.floor_to(&Rational::ONE).unwrap_or_default();
            full += whole.to_count().unwrap_or(0);
            last = here - whole;
            left = Rational::ZERO;
        }
        bars.push(known.then(|| Bar {
            mass: Mass::new(bar),
            range: (grams(takes.range.low()), grams(takes.range.high())),
        }));
    }
    let begun = full + u32::from(!last.is_zero());
    Ok(Box::new(Filling {
        state,
        batter_mass: mass.cloned(),
        poured_mass: known.then(|| grams(&poured)),
        density: batter.yields.tells_density(mould).then_some(density),
        mould_filled: filled(capacity),
        mould_filled_likely: filled(&together.likely),
        mould_filled_range: (filled(together.range.high()), filled(together.range.low())),
        full_cavities: full,
        last_cavity: Share::of_one(last),
        empty_cavities: mould.count() - begun,
        left_over_mass: known.then(|| Mass::new(left.reduced())),
        bars,
        scale_to_fill,
        scaled,
    }))
}

impl Seen {
    /// What a cavity of each kind takes to the brim, and what was poured, in g; in a unit of their
    /// own where the latter is not known. A size that rests on π is the middle of its bounds.
    pub(crate) fn bars(
        &self,
        mould: &Mould,
        poured: Option<Rational>,
    ) -> Result<(Vec<Mass>, Rational), Faults> {
        self.check(mould)?;
        let mut filled = Rational::ZERO;
        let mut bars = Vec::with_capacity(mould.cavities.len());
        let mut first = None;
        for (cavities, count) in mould.cavities.iter().zip(self.counts(mould)) {
            let capacity = cavities.size.capacity();
            let kind = discriminant(&capacity);
            if *first.get_or_insert(kind) != kind {
                return Err(Faults::one(
                    "mixed_sizes",
                    "mould",
                    "cavities of several sizes need a volume each, or a bar_mass each, so that \
                     what was seen in some tells about the others",
                ));
            }
            let size = match capacity {
                Capacity::Volume(volume) => volume.middle(),
                Capacity::Mass(mass) => mass,
                Capacity::Unknown => Rational::ONE,
            };
            filled = filled + count * &size * mould.fill_of(cavities);
            bars.push(Mass::new(size));
        }
        let poured = poured.unwrap_or_else(|| filled.clone());
        let unit = quotient(&poured, &filled);
        for bar in &mut bars {
            *bar = Mass::new(bar.grams() * &unit);
        }
        Ok((bars, poured))
    }

    /// How many cavities of each kind were filled.
    pub(crate) fn counts(&self, mould: &Mould) -> Vec<Rational> {
        let full = Rational::integer(self.full_cavities.into());
        let mut left = full + self.last_cavity.fraction();
        let mut counts = mould.counts();
        for count in &mut counts {
            *count = left.clone().min(count.clone());
            left = left - &*count;
        }
        counts
    }

    /// Everything that is wrong with it.
    pub(crate) fn check(&self, mould: &Mould) -> Result<(), Faults> {
        let mut faults = Faults::new();
        let share = self.last_cavity.fraction();
        let count = mould.count();
        if share.is_negative() || *share > Rational::ONE {
            let says = "a cavity is filled from 0 to 100 %";
            faults.add("out_of_range", "batter.last_cavity", says);
        }
        if self.full_cavities > count || (self.full_cavities == count && share.is_positive()) {
            let says = format_args!("this is more than the mould has: {count} cavities");
            faults.add("too_many", "batter.full_cavities", says);
        } else if self.full_cavities == 0 && share.is_zero() {
            let says = "nothing was filled; accepted: a batch that filled at least a part of one";
            faults.add("not_positive", "batter.full_cavities", says);
        }
        faults.or(())
    }
}

/// The density of water, more or less, in g/cm³.
pub(super) fn water() -> Spread {
    Spread::point(Rational::ONE)
}
