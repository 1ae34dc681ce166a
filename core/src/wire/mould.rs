//! Moulds in requests, and how full they will be in answers.

use super::fat::Pair;
use super::json::Json;
use super::plan::PlanRequest;
use super::read::{Accepts, Place, Read, request, words, wrong_type};
use super::shape::{Shape, Shaped};
use super::write::{Range, answer};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Faults};
use crate::mould::batter::{Pouring, Room, USUAL_POUR, displaced_by_share};
use crate::mould::fill::{Filling, State, Yield};
use crate::mould::size::rule_of_thumb;
use crate::mould::{Cavities, ErrOn, Mould, Size, Spread, Waste};
use crate::plan::{Plan, fraction_for_percent};
use crate::quantity::{Density, Length, Mass, Ratio, Share, Temperature, Volume};
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
    pub(super) fn caution(&self, asked: &MouldAsked, recipe: &Recipe) -> Option<Caution> {
        match self.yields(asked) {
            Ok(Yield::Parts(pouring)) => pouring.caution(recipe),
            _ => None,
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

answer! {
    /// A kind of cavity and what it holds.
    CavitiesAnswer {
        /// How many there are.
        count: u32,
        /// What a full one will hold; unknown where the mass of the batter is.
        bar_mass: Option<Mass>,
        /// What one takes of the lightest batter and of the densest.
        bar_mass_range: Option<Range<Mass>>,
    }

    /// The exact answer beside a rule of thumb: 0.40 ounces of fats for each cubic inch of the
    /// mould. Common practice, no source.
    RuleOfThumbAnswer {
        /// The fats that the rule gives.
        fats: Mass,
        /// How much more fats fill the mould by this reckoning; below 0: less.
        difference: Share,
    }
}

/// Defines an answer that says how full a mould will be, and how it is made from a [`Filling`].
macro_rules! filling_answer {
    ($(#[doc = $doc:literal])* $name:ident { $(
        $(#[doc = $field_doc:literal])* $field:ident: $type:ty,
    )* }) => {
        answer! {
            $(#[doc = $doc])*
            $name {
                /// "short", "full" or "left_over".
                state: &'static str,
                /// How many cavities will be full.
                full_cavities: u32,
                /// How full the next one will be, of what was asked; 0 if none is partly full.
                last_cavity: Share,
                /// How many will stay empty.
                empty_cavities: u32,
                /// What of the poured batter finds no room.
                left_over_mass: Option<Mass>,
                /// What stays in the bowl.
                waste_mass: Option<Mass>,
                /// What is poured.
                poured_mass: Option<Mass>,
                /// The whole batter.
                batter_mass: Option<Mass>,
                /// The density of the batter at the pouring temperature, where it was needed.
                batter_density: Option<Density>,
                /// The range in which it lies.
                batter_density_range: Option<Range<Density>>,
                /// The volume of the mould as far as it is to be filled, if it is known.
                mould_volume: Option<Volume>,
                /// The range in which it lies; only π makes it wider than a point.
                mould_volume_range: Option<Range<Volume>>,
                /// poured / what the mould takes, on the side to err on.
                mould_filled: Share,
                /// The same with the likely densities.
                mould_filled_likely: Share,
                /// The same at all ends.
                mould_filled_range: Range<Share>,
                /// The kinds of cavity, in the order of the mould.
                cavities: Vec<CavitiesAnswer>,
                /// What to multiply the batch as weighed by to fill the mould, exactly. Where the
                /// plan has acids or additives by mass, which stay, it is the factor of the fats.
                scale_to_fill: Ratio,
                /// The fats that fill the mould beside a rule of thumb.
                rule_of_thumb: Option<RuleOfThumbAnswer>,
                /// What to mind about the volume.
                mould_cautions: Vec<Caution>,
                $( $(#[doc = $field_doc])* $field: $type, )*
            }
        }

        impl $name {
            fn of(
                filling: &Filling,
                mould: &Mould,
                noticed: Vec<Caution>,
                $($field: $type,)*
            ) -> Self {
                let volume_range = mould.volume();
                let volume = volume_range.as_ref().map(|volume| volume.middle());
                let waste = filling.batter_mass.as_ref().zip(filling.poured_mass.as_ref());
                let waste = waste.map(|(all, poured)| Mass::new(all.grams() - poured.grams()));
                let (low, high) = filling.mould_filled_range.clone();
                Self {
                    state: match filling.state {
                        State::Short => "short",
                        State::Full => "full",
                        State::LeftOver => "left_over",
                    },
                    full_cavities: filling.full_cavities,
                    last_cavity: filling.last_cavity.clone(),
                    empty_cavities: filling.empty_cavities,
                    left_over_mass: filling.left_over_mass.clone(),
                    waste_mass: waste,
                    poured_mass: filling.poured_mass.clone(),
                    batter_mass: filling.batter_mass.clone(),
                    batter_density: filling
                        .density
                        .as_ref()
                        .map(|density| Density::new(density.likely.clone())),
                    batter_density_range: filling
                        .density
                        .as_ref()
                        .map(|density| Range::of(&density.range)),
                    mould_filled: filling.mould_filled.clone(),
                    mould_filled_likely: filling.mould_filled_likely.clone(),
                    mould_filled_range: Range {
                        low: Some(low),
                        high: Some(high),
                    },
                    cavities: kinds(filling, mould),
                    scale_to_fill: Ratio::new(filling.scale_to_fill.clone()),
                    rule_of_thumb: rule(filling, volume.as_ref()),
                    mould_volume: volume.map(Volume::new),
                    mould_volume_range: volume_range.as_ref().map(Range::of),
                    mould_cautions: [cautions(filling, mould), noticed].concat(),
                    $($field,)*
                }
            }
        }
    };
}

filling_answer! {
    /// How full the mould of a plan will be. Reckoned on the side to err on; ranges hold all that
    /// the published densities allow.
    FillingAnswer {}
}

filling_answer! {
    /// How full a mould will be, and the recipe that fills it. Reckoned on the side to err on;
    /// ranges hold all that the published densities allow.
    FillAnswer {
        /// The recipe scaled to fill the mould, weighed on its scale; with a plan only.
        scaled: Option<Box<super::plan::PlanAnswer>>,
    }
}

impl FillingAnswer {
    pub(super) fn from(filling: &Filling, mould: &Mould, noticed: Vec<Caution>) -> Self {
        Self::of(filling, mould, noticed)
    }
}

impl FillAnswer {
    pub(super) fn from(
        filling: &Filling,
        mould: &Mould,
        noticed: Vec<Caution>,
        scaled: Option<Box<super::plan::PlanAnswer>>,
    ) -> Self {
        Self::of(filling, mould, noticed, scaled)
    }
}

/// What to mind about what was asked and how full it gets.
fn cautions(filling: &Filling, mould: &Mould) -> Vec<Caution> {
    let of_parts = mould.cavities.iter().enumerate();
    let of_parts = of_parts.filter_map(|(i, part)| {
        let fill = part.fill.as_ref()?;
        Some((fill, format!("mould.several[{i}].fill")))
    });
    let fills = of_parts.chain([(&mould.fill, "mould.fill".to_owned())]);
    let one_percent = const { Rational::decimal(1, 2) };
    let small = fills.filter(|(fill, _)| *fill.fraction() <= one_percent);
    let mut found: Vec<_> = small
        .map(|(fill, at)| fraction_for_percent(fill, &at))
        .collect();

    let most = filling.mould_filled_range.1.fraction();
    if filling.state == State::LeftOver {
        found.push(Caution::new(
            "left_over",
            "Batter will be left over: have a spare mould at hand. It is caustic until it has \
             become soap, so do not pour it away.",
        ));
    } else if most.is_above_one() {
        let percent = most * &Rational::HUNDRED;
        found.push(Caution::new(
            "may_overflow",
            format!(
                "The bulkiest batter that the densities allow would need {} % of the room: have a \
                 spare mould at hand.",
                percent.to_fixed(1)
            ),
        ));
    }
    found
}

fn kinds(filling: &Filling, mould: &Mould) -> Vec<CavitiesAnswer> {
    let kinds = mould.cavities.iter().zip(&filling.bars);
    kinds
        .map(|(cavities, bar)| CavitiesAnswer {
            count: cavities.count,
            bar_mass: bar.as_ref().map(|bar| bar.mass.clone()),
            bar_mass_range: bar.as_ref().map(|bar| Range {
                low: Some(bar.range.0.clone()),
                high: Some(bar.range.1.clone()),
            }),
        })
        .collect()
}

fn rule(filling: &Filling, volume: Option<&Rational>) -> Option<RuleOfThumbAnswer> {
    let fats = rule_of_thumb(volume?);
    let exact = filling.scaled.as_ref()?.total_fats.grams();
    let ratio = exact.checked_div(fats.grams())?;
    Some(RuleOfThumbAnswer {
        fats,
        difference: Share::of_one((ratio - Rational::ONE).reduced()),
    })
}
