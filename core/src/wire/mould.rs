//! Moulds in requests.

use super::fat::Pair;
use super::json::Json;
use super::plan::PlanRequest;
use super::read::{Accepts, Place, Read, request, words, wrong_type};
use super::shape::{Shape, Shaped};
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
    MouldRequest {
        /// One box, or some that are alike.
        r#box: Option<BoxRequest>,
        /// One upright cylinder, or some that are alike.
        cylinder: Option<CylinderRequest>,
        /// Cavities that are alike, each of a known size.
        cavities: Option<CavitiesRequest>,
        /// Several of these, in the order in which they are filled.
        several: Option<Vec<MouldPart>>,
        /// How much of each cavity to fill, by volume, which for boxes and cylinders is by
        /// height; left out: 100 %.
        fill: Option<Share>,
        /// What stays in the bowl: a mass, or with "%" a share of the batter; left out: nothing.
        waste: Option<WasteRequest>,
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
    MouldPart {
        /// One box, or some that are alike.
        r#box: Option<BoxRequest>,
        /// One upright cylinder, or some that are alike.
        cylinder: Option<CylinderRequest>,
        /// Cavities that are alike, each of a known size.
        cavities: Option<CavitiesRequest>,
        /// How much of each of its cavities to fill; left out: what the whole says.
        fill: Option<Share>,
    }

    /// A box.
    BoxRequest {
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
    CylinderRequest {
        /// Inside diameter.
        diameter: Length,
        /// Inside height.
        height: Length,
        /// How many of it; left out: 1.
        count: Option<u32>,
    }

    /// Cavities that are alike: at most one of `volume`, `water_mass`, `bar_mass`; none only
    /// where it was seen how many of them a batch filled.
    CavitiesRequest {
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

/// What stays in the bowl.
#[derive(Debug, Clone)]
pub struct WasteRequest(pub Waste);

impl Shaped for WasteRequest {
    const SHAPE: &'static Shape = &Shape::Either(&[Mass::SHAPE, Share::SHAPE]);
}

impl Read for WasteRequest {
    const ACCEPTS: &'static Accepts = &Accepts::Either(&[Mass::ACCEPTS, Share::ACCEPTS]);
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        Self(match json {
            Json::Text(text) if text.trim_end().ends_with(['%', 't']) => {
                Waste::Share(Share::read(json, at, faults))
            }
            Json::Text(_) | Json::Number(_) => Waste::Mass(Mass::read(json, at, faults)),
            _ => return wrong_type(json, at, faults),
        })
    }
    fn stand_in() -> Self {
        Self(Waste::none())
    }
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
#[derive(Debug, Clone)]
pub(super) struct MouldAsked {
    pub mould: Mould,
    pub err_on: ErrOn,
    pub pour_temperature: Temperature,
    pub contraction: Share,
    pub density: Option<Spread>,
}

impl MouldRequest {
    /// The mould of the request.
    pub(super) fn asked(self) -> Result<MouldAsked, Faults> {
        let mut faults = Faults::new();
        let own = [
            self.r#box.map(BoxRequest::cavities),
            self.cylinder.map(CylinderRequest::cavities),
            self.cavities
                .map(|cavities| cavities.cavities("mould.cavities", &mut faults)),
        ];
        let is_several = self.several.is_some();
        let mut ways: Vec<Vec<Cavities>> = own.into_iter().flatten().map(|c| vec![c]).collect();
        if let Some(several) = self.several {
            let several = several.into_iter().enumerate();
            let each = several.map(|(i, part)| part.cavities(i, &mut faults));
            ways.push(each.collect());
        }
        if ways.len() != 1 {
            let says = "accepted: exactly one of box, cylinder, cavities, several";
            faults.add("one_of", "mould", says);
        }
        let density = density_of(
            self.batter_density,
            self.batter_density_range,
            "mould.batter_density",
            &mut faults,
        );
        let asked = MouldAsked {
            mould: Mould {
                cavities: ways.into_iter().next().unwrap_or_default(),
                fill: self.fill.unwrap_or(Share::WHOLE),
                waste: self.waste.map_or_else(Waste::none, |waste| waste.0),
            },
            err_on: self.err_on.map(ErrOn::from).unwrap_or_default(),
            pour_temperature: self
                .pour_temperature
                .unwrap_or(const { Temperature::new(USUAL_POUR) }),
            contraction: self.contraction.unwrap_or(Share::NONE),
            density,
        };
        faults.add_elsewhere(asked.mould.check_as(is_several).err());
        faults.or(asked)
    }
}

impl MouldPart {
    fn cavities(self, index: usize, faults: &mut Faults) -> Cavities {
        let at = format!("mould.several[{index}]");
        let cavities = self
            .cavities
            .map(|cavities| cavities.cavities(&format!("{at}.cavities"), faults));
        let ways = [
            self.r#box.map(BoxRequest::cavities),
            self.cylinder.map(CylinderRequest::cavities),
            cavities,
        ];
        let mut ways = ways.into_iter().flatten();
        let (way, another) = (ways.next(), ways.next());
        if way.is_none() || another.is_some() {
            let says = "accepted: exactly one of box, cylinder, cavities";
            faults.add("one_of", at, says);
        }
        let any = || alike(1, Size::Unknown);
        Cavities {
            fill: self.fill,
            ..way.unwrap_or_else(any)
        }
    }
}

impl BoxRequest {
    fn cavities(self) -> Cavities {
        let size = Size::Box {
            length: self.length,
            width: self.width,
            height: self.height,
        };
        alike(self.count.unwrap_or(1), size)
    }
}

impl CylinderRequest {
    fn cavities(self) -> Cavities {
        let size = Size::Cylinder {
            diameter: self.diameter,
            height: self.height,
        };
        alike(self.count.unwrap_or(1), size)
    }
}

impl CavitiesRequest {
    fn cavities(self, at: &str, faults: &mut Faults) -> Cavities {
        if self.water_temperature.is_some() && self.water_mass.is_none() {
            let says = "a water_temperature goes with a water_mass";
            faults.add("not_needed", format!("{at}.water_temperature"), says);
        }
        const USUAL: Temperature = Temperature::new(Rational::integer(20));
        let water = self.water_mass.map(|mass| Size::Water {
            mass,
            temperature: self.water_temperature.unwrap_or(USUAL),
        });
        let ways = [
            self.volume.map(Size::Volume),
            water,
            self.bar_mass.map(Size::Batter),
        ];
        let mut ways = ways.into_iter().flatten();
        let size = ways.next().unwrap_or(Size::Unknown);
        if ways.next().is_some() {
            let says = "accepted: one of volume, water_mass, bar_mass";
            faults.add("one_of", at, says);
        }
        alike(self.count, size)
    }
}

/// So many of that size, filled as the mould says.
fn alike(count: u32, size: Size) -> Cavities {
    Cavities {
        count,
        size,
        fill: None,
    }
}

/// A density and its range.
pub(super) fn density_of(
    density: Option<Density>,
    range: Option<Pair<Density>>,
    at: &str,
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
            faults.add("bad_range", format!("{at}_range"), says);
            return None;
        }
    };
    if spread.range.low().is_positive() {
        return Some(spread);
    }
    faults.add("not_positive", at, "the density of a batter is above 0");
    None
}

/// What a plan request tells about the room that its parts take.
#[derive(Debug, Clone)]
pub(super) struct Rooms {
    acids: Vec<Room>,
    additives: Vec<Room>,
}

impl Rooms {
    pub(super) fn of(request: &PlanRequest, faults: &mut Faults) -> Self {
        let mut room = |density: &Option<Density>,
                        displaces: &Option<Volume>,
                        share: &Option<Share>,
                        at: String| match (density, displaces) {
            (None, None) => Room::Unknown,
            (Some(density), None) => Room::Density(density.clone()),
            (None, Some(_)) if share.is_some() => {
                faults.add_elsewhere(Some(displaced_by_share(&at)));
                Room::Unknown
            }
            (None, Some(volume)) => Room::Displaces(volume.clone()),
            (Some(_), Some(_)) => {
                let says = "accepted: either density or displaces";
                faults.add("one_of", at, says);
                Room::Unknown
            }
        };
        let acids = request.acids.iter().flatten().enumerate();
        let acids = acids.map(|(i, line)| {
            let at = format!("acids[{i}]");
            room(&line.density, &line.displaces, &line.of_fats, at)
        });
        let acids = acids.collect();
        let additives = request.additives.iter().flatten().enumerate();
        let additives = additives.map(|(i, line)| {
            let at = format!("additives[{i}]");
            room(&line.density, &line.displaces, &line.of_fats, at)
        });
        let additives = additives.collect();
        Self { acids, additives }
    }

    /// What had to be taken wide.
    pub(super) fn caution(&self, asked: &MouldAsked, recipe: &Recipe) -> Vec<Caution> {
        match self.yields(asked) {
            Ok(Yield::Parts(pouring)) => pouring.caution(recipe).into_iter().collect(),
            _ => vec![],
        }
    }

    /// The density of a batter, in that mould or poured as is usual.
    pub(super) fn density(
        &self,
        asked: Option<&MouldAsked>,
        recipe: &Recipe,
        plan: &Plan,
    ) -> Result<Spread, Faults> {
        if let Some(density) = asked.and_then(|asked| asked.density.as_ref()) {
            return Ok(density.clone());
        }
        let usual = || const { Temperature::new(USUAL_POUR) };
        let pouring = Pouring {
            temperature: asked.map_or_else(usual, |asked| asked.pour_temperature.clone()),
            contraction: asked.map_or(Share::NONE, |asked| asked.contraction.clone()),
            acids: self.acids.clone(),
            additives: self.additives.clone(),
        };
        pouring.check()?;
        pouring.density(recipe, plan)
    }

    /// How the batter takes room in that mould.
    pub(super) fn yields(&self, asked: &MouldAsked) -> Result<Yield, Faults> {
        if let Some(density) = &asked.density {
            return Ok(Yield::Density(density.clone()));
        }
        if !asked.mould.needs_density() {
            return Ok(Yield::Unknown);
        }
        let pouring = Pouring {
            temperature: asked.pour_temperature.clone(),
            contraction: asked.contraction.clone(),
            acids: self.acids.clone(),
            additives: self.additives.clone(),
        };
        pouring.check()?;
        Ok(Yield::Parts(pouring))
    }
}
