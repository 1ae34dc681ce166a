//! Moulds: how much batter they take, how full a batch will fill them, how large a batch must be.
//!
//! Inside measures throughout. What is not known exactly is an interval from the mould and the
//! densities to the decision: [`ErrOn`] says at which end of it the mould is full.
//!
//! ```
//! use lixivium::mould::{Cavities, Mould, Size, Waste};
//! use lixivium::quantity::{Length, Share};
//! let cm = |text| Length::parse(text).unwrap();
//! let tray = Size::Box { length: cm("30"), width: cm("8"), height: cm("7") };
//! let mould = Mould {
//!     cavities: vec![Cavities { count: 1, size: tray, fill: None }],
//!     fill: Share::parse("90").unwrap(),
//!     waste: Waste::none(),
//! };
//! assert_eq!(mould.volume().unwrap().low().to_string(), "1512");
//! ```

pub mod batter;
pub mod calibrate;
pub mod density;
pub mod fill;
pub mod size;

use crate::exact::{Interval, Rational, over};
use crate::fault::Faults;
use crate::quantity::{Length, Mass, Share, Temperature, Volume};
pub use density::Spread;

/// The most cavities that moulds may have together.
pub const MAX_CAVITIES: u32 = 10_000;

/// The most kinds of cavities that are filled together.
pub const MAX_KINDS: usize = 100;

/// One mould, or several that are filled together.
#[derive(Debug, Clone)]
pub struct Mould {
    /// What it holds, in the order in which it is filled.
    pub cavities: Vec<Cavities>,
    /// How much of each cavity is to be filled, by volume; above 0 to 100 %. Boxes and
    /// cylinders stand upright, so that it is the share of their height as well. Cavities can
    /// have a share of their own.
    pub fill: Share,
    /// What stays in the bowl.
    pub waste: Waste,
}

/// What cavities take: so many cm³, and so many g of batter beside.
pub(crate) struct Takes {
    volume: Spread,
    mass: Rational,
}

impl Takes {
    /// Nothing.
    fn none() -> Self {
        Self {
            volume: Spread::point(Rational::ZERO),
            mass: Rational::ZERO,
        }
    }

    /// In g of a batter of that density.
    pub(crate) fn grams(&self, density: &Spread) -> Spread {
        let mass = Spread::point(self.mass.clone());
        self.volume.times(density).plus(&mass)
    }
}

/// Cavities that are all alike.
#[derive(Debug, Clone)]
pub struct Cavities {
    /// How many.
    pub count: u32,
    /// How large each is.
    pub size: Size,
    /// How much of each is to be filled, in place of what the mould says.
    pub fill: Option<Share>,
}

/// How large a cavity is, full to the brim.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Size {
    /// Its inside measures.
    Box {
        /// The longer side.
        length: Length,
        /// The shorter side.
        width: Length,
        /// How deep it is.
        height: Length,
    },
    /// Its inside measures.
    Cylinder {
        /// From wall to wall.
        diameter: Length,
        /// How deep it is.
        height: Length,
    },
    /// Its volume.
    Volume(Volume),
    /// The water that fills it, weighed.
    Water {
        /// Its mass.
        mass: Mass,
        /// Its temperature, 0.01 to 99 °C.
        temperature: Temperature,
    },
    /// The batter that is known to fill it.
    Batter(Mass),
    /// Not known; enough where it was seen how many cavities a batch filled.
    Unknown,
}

/// What stays in the bowl.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Waste {
    /// So many grams.
    Mass(Mass),
    /// So much of the batter, from 0 to below 100 %.
    Share(Share),
}

/// At which end of what is not known exactly a mould counts as full.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ErrOn {
    /// Even the bulkiest batter fits into the smallest cavities.
    #[default]
    NeverOverflow,
    /// Even the densest batter fills the largest cavities.
    AlwaysFull,
}

impl ErrOn {
    /// Whether so many g more than the mould takes, or less where below 0, keep its promise.
    pub(crate) fn is_kept(self, excess: &Rational) -> bool {
        match self {
            Self::NeverOverflow => !excess.is_positive(),
            Self::AlwaysFull => !excess.is_negative(),
        }
    }

    /// So much, in the direction in which the promise becomes easier to keep.
    fn inwards(self, step: &Rational) -> Rational {
        match self {
            Self::NeverOverflow => -step,
            Self::AlwaysFull => step.clone(),
        }
    }

    /// The end of a capacity that decides.
    pub(crate) fn of(self, capacity: &Spread) -> &Rational {
        match self {
            Self::NeverOverflow => capacity.range.low(),
            Self::AlwaysFull => capacity.range.high(),
        }
    }
}

impl Waste {
    /// Nothing.
    pub const fn none() -> Self {
        Self::Share(Share::NONE)
    }

    /// What of `batter` grams is poured.
    pub fn poured(&self, batter: &Rational) -> Rational {
        match self {
            Self::Mass(mass) => batter - mass.grams(),
            Self::Share(share) => batter * share.rest().fraction(),
        }
    }

    /// The batter of which `poured` grams are poured.
    pub fn batter(&self, poured: &Rational) -> Rational {
        match self {
            Self::Mass(mass) => poured + mass.grams(),
            Self::Share(share) => quotient(poured, share.rest().fraction()),
        }
    }
}

/// What a cavity takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Capacity {
    /// So many cm³.
    Volume(Interval),
    /// So many grams of batter.
    Mass(Rational),
    /// Not known.
    Unknown,
}

impl Size {
    /// What one cavity takes when it is full: length · width · height, π/4 · diameter² · height,
    /// or mass of water / density of water.
    pub fn capacity(&self) -> Capacity {
        match self {
            Self::Box {
                length,
                width,
                height,
            } => {
                let base = length.centimetres() * width.centimetres();
                Capacity::Volume(Interval::point(base * height.centimetres()))
            }
            Self::Cylinder { diameter, height } => {
                let square = diameter.centimetres() * diameter.centimetres();
                let quarter = square * height.centimetres() * const { Rational::decimal(25, 2) };
                Capacity::Volume(&pi() * &Interval::point(quarter))
            }
            Self::Volume(volume) => {
                Capacity::Volume(Interval::point(volume.cubic_centimetres().clone()))
            }
            Self::Water { mass, temperature } => {
                let density = density::water(temperature).unwrap_or_default();
                let volume = quotient(mass.grams(), density.grams_per_cubic_centimetre());
                Capacity::Volume(Interval::point(volume))
            }
            Self::Batter(mass) => Capacity::Mass(mass.grams().clone()),
            Self::Unknown => Capacity::Unknown,
        }
    }

    fn has_volume(&self) -> bool {
        !matches!(self, Self::Batter(_) | Self::Unknown)
    }

    fn check(&self, faults: &mut Faults) {
        let mut positive = |at: &str, number: &Rational| {
            if !number.is_positive() {
                faults.add("not_positive", at, "the size of a cavity is above 0");
            }
        };
        match self {
            Self::Box {
                length,
                width,
                height,
            } => {
                positive("box.length", length.centimetres());
                positive("box.width", width.centimetres());
                positive("box.height", height.centimetres());
            }
            Self::Cylinder { diameter, height } => {
                positive("cylinder.diameter", diameter.centimetres());
                positive("cylinder.height", height.centimetres());
            }
            Self::Volume(volume) => positive("cavities.volume", volume.cubic_centimetres()),
            Self::Batter(mass) => positive("cavities.bar_mass", mass.grams()),
            Self::Water { mass, temperature } => {
                positive("cavities.water_mass", mass.grams());
                if density::water(temperature).is_none() {
                    let says = "the density of water is tabulated from 0.01 to 99 °C";
                    faults.add("out_of_range", "cavities.water_temperature", says);
                }
            }
            Self::Unknown => {}
        }
    }
}

fn check_fill(fill: &Share, at: &str, faults: &mut Faults) {
    if !fill.fraction().is_positive() || fill.fraction().is_above_one() {
        let says = "a cavity is filled above 0 and up to 100 %";
        faults.add("out_of_range", at, says);
    }
}

/// π, between two convergents of its continued fraction that are 7·10⁻¹⁹ apart.
pub fn pi() -> Interval {
    let low = Rational::ratio(6_167_950_454, 1_963_319_607);
    let high = Rational::ratio(2_549_491_779, 811_528_438);
    let ends = low.zip(high);
    ends.and_then(|(low, high)| Interval::new(low, high))
        .unwrap_or_else(|| Interval::point(Rational::ZERO))
}

impl Mould {
    /// Everything that is wrong with it, each at its place.
    ///
    /// # Errors
    /// All faults at once: `no_cavities`, `too_many`, `not_positive`, `out_of_range`, `negative`.
    pub fn check(&self) -> Result<(), Faults> {
        self.check_as(self.cavities.len() != 1)
    }

    /// The same, where each of `cavities` has a place of its own if they are `several`.
    pub(crate) fn check_as(&self, several: bool) -> Result<(), Faults> {
        let mut faults = Faults::new();
        let mut count = 0;
        for (i, cavities) in self.cavities.iter().enumerate() {
            let mut found = Faults::new();
            if cavities.count == 0 {
                let says = "there is at least one of each cavity";
                found.add("not_positive", "", says);
            }
            cavities.size.check(&mut found);
            if let Some(fill) = &cavities.fill {
                check_fill(fill, "fill", &mut found);
            }
            if several {
                faults.add_inside(&format_args!("mould.several[{i}]"), found);
            } else {
                faults.add_inside(&"mould", found);
            }
            count += u64::from(cavities.count);
        }
        if self.cavities.is_empty() {
            let says = "a mould has at least one cavity";
            faults.add("no_cavities", "mould", says);
        }
        if self.cavities.len() > MAX_KINDS {
            let says = format_args!("at most {MAX_KINDS} kinds of cavities are filled together");
            faults.add("too_many", "mould.several", says);
        }
        if count > MAX_CAVITIES.into() {
            let says = format_args!("moulds have at most {MAX_CAVITIES} cavities together");
            faults.add("too_many", "mould", says);
        }
        check_fill(&self.fill, "mould.fill", &mut faults);
        match &self.waste {
            Waste::Mass(mass) if mass.grams().is_negative() => {
                let says = "what stays in the bowl is 0 or more";
                faults.add("negative", "mould.waste", says);
            }
            Waste::Share(share)
                if share.fraction().is_negative() || !share.fraction().is_below_one() =>
            {
                let says = "what stays in the bowl is from 0 to below 100 % of the batter";
                faults.add("out_of_range", "mould.waste", says);
            }
            _ => {}
        }
        faults.or(())
    }

    /// Whether the size of every cavity is known.
    pub(crate) fn check_known(&self) -> Result<(), Faults> {
        let mut sizes = self.cavities.iter().map(|alike| &alike.size);
        if !sizes.any(|size| matches!(size, Size::Unknown)) {
            return Ok(());
        }
        Err(Faults::one(
            "missing",
            "mould",
            "the size of a cavity is not known; accepted: volume, water_mass or bar_mass, or \
             full_cavities and last_cavity of a batch that was poured",
        ))
    }

    /// What of a batter is poured, in g.
    pub(crate) fn poured(&self, batter: &Mass) -> Result<Rational, Faults> {
        let poured = self.waste.poured(batter.grams());
        if poured.is_positive() {
            return Ok(poured);
        }
        Err(Faults::one(
            "all_wasted",
            "mould.waste",
            "as much stays in the bowl as there is batter; accepted: less waste, or more batter",
        ))
    }

    /// How many cavities there are.
    pub fn count(&self) -> u32 {
        self.cavities.iter().map(|cavities| cavities.count).sum()
    }

    /// How much of each of these cavities is to be filled, as a fraction.
    pub fn fill_of<'a>(&'a self, cavities: &'a Cavities) -> &'a Rational {
        cavities.fill.as_ref().unwrap_or(&self.fill).fraction()
    }

    /// The volume to be filled, in cm³, if all cavities have one.
    pub fn volume(&self) -> Option<Interval> {
        self.volume_of(&self.counts())
    }

    /// That of so many cavities of each kind.
    pub(crate) fn volume_of(&self, counts: &[Rational]) -> Option<Interval> {
        let all = self.cavities.iter().all(|alike| alike.size.has_volume());
        all.then(|| self.takes(counts).volume.range)
    }

    /// How many cavities there are of each kind.
    pub(crate) fn counts(&self) -> Vec<Rational> {
        let mut counts = Vec::with_capacity(self.cavities.len());
        for cavities in &self.cavities {
            counts.push(Rational::integer(cavities.count.into()));
        }
        counts
    }

    /// What so many cavities of each kind take together; nothing, where they have no known size.
    pub(crate) fn takes(&self, counts: &[Rational]) -> Takes {
        let mut all = Takes::none();
        for (cavities, count) in self.cavities.iter().zip(counts) {
            let one = self.takes_one(cavities);
            all.volume = all.volume.plus(&one.volume.scaled(count));
            all.mass = all.mass + one.mass * count;
        }
        all
    }

    /// What one of these cavities takes, filled as asked.
    pub(crate) fn takes_one(&self, cavities: &Cavities) -> Takes {
        let fill = self.fill_of(cavities);
        let mut takes = Takes::none();
        match cavities.size.capacity() {
            Capacity::Volume(volume) => {
                let brimful = Spread {
                    likely: volume.middle(),
                    range: volume,
                };
                takes.volume = brimful.scaled(fill);
            }
            Capacity::Mass(mass) => takes.mass = mass * fill,
            Capacity::Unknown => {}
        }
        takes
    }

    /// The same mould, of whose cavities is known how much batter each takes to the brim.
    fn of_bars(&self, bars: Vec<Mass>) -> Self {
        let mut known = Vec::with_capacity(bars.len());
        for (cavities, bar) in self.cavities.iter().zip(bars) {
            known.push(Cavities {
                count: cavities.count,
                size: Size::Batter(bar),
                fill: cavities.fill.clone(),
            });
        }
        Self {
            cavities: known,
            fill: self.fill.clone(),
            waste: self.waste.clone(),
        }
    }

    /// Whether what it takes depends on the density of the batter.
    pub(crate) fn needs_density(&self) -> bool {
        self.cavities.iter().any(|alike| alike.size.has_volume())
    }
}

/// `a / b`, or 0 where that is nothing.
fn quotient(a: &Rational, b: &Rational) -> Rational {
    over(a, b).reduced()
}
