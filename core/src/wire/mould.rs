//! Moulds in requests.

use super::accepts::{Accepts, Own, Place};
use super::json::Json;
use super::plan::PlanRequest;
use super::read::{self, Given};
use super::shape::{Shape, Shaped};
use super::view::{List, Pair, View, request, words};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Faults};
use crate::mould::batter::{Pouring, Room, USUAL_POUR, displaced_by_share};
use crate::mould::fill::Yield;
use crate::mould::{Cavities, ErrOn, Mould, Size, Spread, Waste};
use crate::plan::Plan;
use crate::quantity::{Density, Length, Mass, Share, Temperature, Volume};
use crate::recipe::Recipe;

request! {
    /// A mould by its inside measures: exactly one of `box`, `cylinder`, `cavities`, `several`.
    MouldRequest<'a> {
        /// One box, or some that are alike.
        r#box: Option<BoxRequest<'a>>,
        /// One upright cylinder, or some that are alike.
        cylinder: Option<CylinderRequest<'a>>,
        /// Cavities that are alike, each of a known size.
        cavities: Option<CavitiesRequest<'a>>,
        /// Several of these, in the order in which they are filled.
        several: Option<List<'a, MouldPart<'a>>>,
        /// How much of each cavity to fill, by volume, which for boxes and cylinders is by
        /// height; left out: 100 %.
        fill: Option<Share>,
        /// What stays in the bowl: a mass, or with "%" a share of the batter; left out: nothing.
        waste: Option<Waste>,
        /// Which side to err on; left out: never_overflow.
        err_on: Option<ErrOnWord>,
        /// The temperature of the batter when it is poured, 15 to 55 °C; left out: 40 °C, common
        /// practice, no source.
        pour_temperature: Option<Temperature>,
        /// By how much the batter is smaller than its fats, lye and additives together; below 0:
        /// air beaten in; left out: 0 %.
        contraction: Option<Share>,
        /// The density of the batter, if it was measured; left out: from its parts.
        batter_density: Option<Density>,
        /// The range in which that density lies; left out: no range.
        batter_density_range: Option<Pair<Density>>,
    }

    /// One of several moulds: exactly one of `box`, `cylinder`, `cavities`.
    MouldPart<'a> {
        /// One box, or some that are alike.
        r#box: Option<BoxRequest<'a>>,
        /// One upright cylinder, or some that are alike.
        cylinder: Option<CylinderRequest<'a>>,
        /// Cavities that are alike, each of a known size.
        cavities: Option<CavitiesRequest<'a>>,
        /// How much of each of its cavities to fill; left out: what the whole says.
        fill: Option<Share>,
    }

    /// A box.
    BoxRequest<'a> {
        /// Inside length.
        length: Length,
        /// Inside width.
        width: Length,
        /// Inside height.
        height: Length,
        /// How many of it; left out: 1.
        count: Option<u32>,
    }

    /// An upright cylinder.
    CylinderRequest<'a> {
        /// Inside diameter.
        diameter: Length,
        /// Inside height.
        height: Length,
        /// How many of it; left out: 1.
        count: Option<u32>,
    }

    /// Cavities that are alike: at most one of `volume`, `water_mass`, `bar_mass`; none only
    /// where it was seen how many of them a batch filled.
    CavitiesRequest<'a> {
        /// How many.
        count: u32,
        /// The volume of one.
        volume: Option<Volume>,
        /// The water that fills one to the brim, weighed.
        water_mass: Option<Mass>,
        /// The temperature of that water; left out: 20 °C.
        water_temperature: Option<Temperature>,
        /// The batter that one takes full to the brim, weighed.
        bar_mass: Option<Mass>,
    }
}

words! {
    /// Which side to err on, where densities are not known exactly.
    ErrOnWord {
        /// Even the bulkiest batter fits.
        "never_overflow" => NeverOverflow,
        /// Even the densest batter fills the mould.
        "always_full" => AlwaysFull,
    }
}

impl Shaped for Waste {
    const SHAPE: &'static Shape = &Shape::Either(&[Mass::SHAPE, Share::SHAPE]);
}

impl View<'_> for Waste {
    const ACCEPTS: &'static Accepts = &Accepts::Own(&Own {
        either: &[Mass::ACCEPTS, Share::ACCEPTS],
        read: read_waste,
    });
    fn of(given: &Given) -> Self {
        match (given.get(0), given.get(1)) {
            (Some(mass), _) => Self::Mass(mass),
            (_, Some(share)) => Self::Share(share),
            _ => Self::none(),
        }
    }
}

/// Its mass and its share, one of which is there.
fn read_waste<'j>(json: &'j Json<'j>, at: &Place, faults: &mut Faults) -> Given<'j> {
    let both = match json {
        Json::Text(text) if matches!(text.trim_end().bytes().last(), Some(b'%' | b't')) => {
            vec![Given::Absent, read::read(json, Share::ACCEPTS, at, faults)]
        }
        Json::Text(_) | Json::Number(_) => vec![read::read(json, Mass::ACCEPTS, at, faults)],
        _ => return read::wrong_type(json, Waste::ACCEPTS, at, faults),
    };
    Given::Items(both)
}

impl From<ErrOnWord> for ErrOn {
    fn from(word: ErrOnWord) -> Self {
        match word {
            ErrOnWord::NeverOverflow => Self::NeverOverflow,
            ErrOnWord::AlwaysFull => Self::AlwaysFull,
        }
    }
}

/// A mould, and how it is filled.
#[derive(Debug)]
pub(super) struct MouldAsked {
    pub mould: Mould,
    pub err_on: ErrOn,
    pub density: Option<Spread>,
    pour_temperature: Temperature,
    contraction: Share,
}

impl MouldRequest<'_> {
    /// The mould of the request; what is wrong with it is added to the faults, of which there
    /// are none yet.
    pub(super) fn asked(self, faults: &mut Faults) -> Box<MouldAsked> {
        let at = &Place::top("mould");
        let (mut ways, mut cavities) = (0, Vec::new());
        let (r#box, cylinder, alike) = (self.r#box(), self.cylinder(), self.cavities());
        cavities.push(way(r#box, cylinder, alike, at, &mut ways, faults));
        let several = self.several();
        if let Some(several) = several {
            ways += 1;
            cavities.clear();
            let at = &Place::Member(at, "several");
            for (i, part) in several.enumerate() {
                cavities.push(part.cavities_at(&Place::Item(at, i), faults));
            }
        }
        if ways != 1 {
            let says = "accepted: exactly one of box, cylinder, cavities, several";
            faults.add("one_of", at, says);
        }
        let density = density_of(
            self.batter_density(),
            self.batter_density_range(),
            &Place::Member(at, "batter_density"),
            faults,
        );
        let mould = Mould {
            cavities,
            fill: self.fill().unwrap_or(Share::WHOLE),
            waste: self.waste().unwrap_or(Waste::none()),
        };
        faults.add_elsewhere(mould.check_as(several.is_some()).err());
        Box::new(MouldAsked {
            mould,
            err_on: self.err_on().map(ErrOn::from).unwrap_or_default(),
            density,
            pour_temperature: self.pour_temperature().unwrap_or(AS_USUAL),
            contraction: self.contraction().unwrap_or(Share::NONE),
        })
    }
}

impl MouldPart<'_> {
    fn cavities_at(self, at: &Place, faults: &mut Faults) -> Cavities {
        let mut ways = 0;
        let (r#box, cylinder, alike) = (self.r#box(), self.cylinder(), self.cavities());
        let mut cavities = way(r#box, cylinder, alike, at, &mut ways, faults);
        cavities.fill = self.fill();
        if ways != 1 {
            let says = "accepted: exactly one of box, cylinder, cavities";
            faults.add("one_of", at, says);
        }
        cavities
    }
}

/// The cavities that are given in one of these ways, filled as the mould says; adds up the ways.
fn way(
    r#box: Option<BoxRequest>,
    cylinder: Option<CylinderRequest>,
    alike: Option<CavitiesRequest>,
    at: &Place,
    ways: &mut u32,
    faults: &mut Faults,
) -> Cavities {
    let mut cavities = Cavities {
        count: 1,
        size: Size::Unknown,
        fill: None,
    };
    if let Some(r#box) = r#box {
        *ways += 1;
        cavities.count = r#box.count().unwrap_or(1);
        cavities.size = Size::Box {
            length: r#box.length(),
            width: r#box.width(),
            height: r#box.height(),
        };
    }
    if let Some(cylinder) = cylinder {
        *ways += 1;
        cavities.count = cylinder.count().unwrap_or(1);
        cavities.size = Size::Cylinder {
            diameter: cylinder.diameter(),
            height: cylinder.height(),
        };
    }
    if let Some(alike) = alike {
        *ways += 1;
        cavities.count = alike.count();
        cavities.size = size(alike, &Place::Member(at, "cavities"), faults);
    }
    cavities
}

fn size(cavities: CavitiesRequest, at: &Place, faults: &mut Faults) -> Size {
    let (mass, temperature) = (cavities.water_mass(), cavities.water_temperature());
    if temperature.is_some() && mass.is_none() {
        let says = "a water_temperature goes with a water_mass";
        let at = &Place::Member(at, "water_temperature");
        faults.add("not_needed", at, says);
    }
    const USUAL: Temperature = Temperature::new(Rational::integer(20));
    match (cavities.volume(), mass, cavities.bar_mass()) {
        (None, None, None) => Size::Unknown,
        (Some(volume), None, None) => Size::Volume(volume),
        (None, Some(mass), None) => Size::Water {
            mass,
            temperature: temperature.unwrap_or(USUAL),
        },
        (None, None, Some(mass)) => Size::Batter(mass),
        _ => {
            let says = "accepted: one of volume, water_mass, bar_mass";
            faults.add("one_of", at, says);
            Size::Unknown
        }
    }
}

/// A density and its range.
pub(super) fn density_of(
    density: Option<Density>,
    range: Option<Pair<Density>>,
    at: &Place,
    faults: &mut Faults,
) -> Option<Spread> {
    let number = |density: &Density| density.grams_per_cubic_centimetre().clone();
    let range = range.map(|Pair(low, high)| Interval::new(number(&low), number(&high)));
    let likely = density.as_ref().map(number);
    let spread = match (likely, range) {
        (None, None) => return None,
        (Some(likely), None) => Spread::point(likely),
        (None, Some(Some(range))) => Spread {
            likely: range.middle(),
            range,
        },
        (Some(likely), Some(Some(range))) if range.contains(&likely) => Spread { likely, range },
        (_, Some(_)) => {
            let says = "a range goes from low to high and holds the density";
            faults.add("bad_range", format_args!("{at}_range"), says);
            return None;
        }
    };
    if spread.range.low().is_positive() {
        return Some(spread);
    }
    faults.add("not_positive", at, "the density of a batter is above 0");
    None
}

const AS_USUAL: Temperature = Temperature::new(USUAL_POUR);

/// What a plan request tells about the room that its parts take, poured as is usual.
pub(super) fn pouring(request: PlanRequest, faults: &mut Faults) -> Pouring {
    let mut acids = Vec::new();
    for (i, line) in request.acids().into_iter().enumerate() {
        let at = &Place::Item(&const { Place::top("acids") }, i);
        let by_share = line.of_fats().is_some();
        acids.push(room(line.density(), line.displaces(), by_share, at, faults));
    }
    let mut additives = Vec::new();
    for (i, line) in request.additives().into_iter().enumerate() {
        let at = &Place::Item(&const { Place::top("additives") }, i);
        let by_share = line.of_fats().is_some();
        additives.push(room(line.density(), line.displaces(), by_share, at, faults));
    }
    Pouring {
        temperature: AS_USUAL,
        contraction: Share::NONE,
        acids,
        additives,
    }
}

impl MouldAsked {
    /// Says how a batter is poured into this mould.
    pub(super) fn pour(&self, pouring: &mut Pouring) {
        pouring.temperature = self.pour_temperature.clone();
        pouring.contraction = self.contraction.clone();
    }

    /// How a batter that is poured so takes room in this mould.
    pub(super) fn yields<'a>(&'a self, pouring: &'a Pouring) -> Result<Yield<'a>, Faults> {
        if let Some(density) = &self.density {
            return Ok(Yield::Density(density));
        }
        if !self.mould.needs_density() {
            return Ok(Yield::Unknown);
        }
        pouring.check()?;
        Ok(Yield::Parts(pouring))
    }

    /// Adds what had to be taken wide.
    pub(super) fn caution(&self, pouring: &Pouring, recipe: &Recipe, cautions: &mut Vec<Caution>) {
        if let Ok(Yield::Parts(pouring)) = self.yields(pouring)
            && let Some(caution) = pouring.caution(recipe)
        {
            cautions.push(caution);
        }
    }
}

/// The density of a batter, in that mould or poured as is usual.
pub(super) fn density(
    pouring: &Pouring,
    asked: Option<&MouldAsked>,
    recipe: &Recipe,
    plan: &Plan,
) -> Result<Spread, Faults> {
    if let Some(density) = asked.and_then(|asked| asked.density.as_ref()) {
        return Ok(density.clone());
    }
    pouring.check()?;
    pouring.density(recipe, plan)
}

/// The room that a part takes whose mass is known or, else, `by_share`.
fn room(
    density: Option<Density>,
    displaces: Option<Volume>,
    by_share: bool,
    at: &Place,
    faults: &mut Faults,
) -> Room {
    match (density, displaces) {
        (None, None) => return Room::Unknown,
        (Some(density), None) => return Room::Density(density),
        (None, Some(_)) if by_share => {
            faults.add_elsewhere(Some(displaced_by_share(&at)));
        }
        (None, Some(volume)) => return Room::Displaces(volume),
        (Some(_), Some(_)) => {
            faults.add("one_of", at, "accepted: either density or displaces");
        }
    }
    Room::Unknown
}
