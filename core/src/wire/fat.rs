//! A fat in a request: one of the catalogue, or one's own.

use super::json::Json;
use super::read::{Accepts, MAX_ITEMS, Place, Read, add_too_many, request, shown, wrong_type};
use super::shape::{Shape, Shaped};
use crate::chemistry::{Composition, Shares};
use crate::exact::{Interval, Rational};
use crate::fats::{self, Fat, OwnFat, RelativeDensity, Saponification};
use crate::fault::Faults;
use crate::mould::density::water;
use crate::quantity::{
    Density, IodineValue, Quantity, Ratio, SaponificationValue, Share, Temperature,
};
use crate::tables::tables;

request! {
    /// A fat of one's own: a name, and exactly one of `saponification_value`, `naoh_per_gram`,
    /// `koh_per_gram` and `fatty_acids`.
    FatDescription {
        /// Its name.
        name: String,
        /// Its saponification value, in mg KOH/g.
        saponification_value: Option<SaponificationValue>,
        /// The range in which its saponification value lies, in mg KOH/g.
        saponification_range: Option<Pair<SaponificationValue>>,
        /// Grams of pure sodium hydroxide that saponify 1 g of it.
        naoh_per_gram: Option<Ratio>,
        /// Grams of pure potassium hydroxide that saponify 1 g of it.
        koh_per_gram: Option<Ratio>,
        /// Its fatty acids in percent of mass, such as {"C18:1": 70}; they come to 100 %.
        fatty_acids: Option<Named<Share>>,
        /// Its iodine value.
        iodine_value: Option<IodineValue>,
        /// Its density as a liquid, for the room that it takes in a mould; left out: that of
        /// fats, with a wide range.
        density: Option<Density>,
        /// The temperature at which it has that density; left out: 20 °C.
        density_temperature: Option<Temperature>,
    }
}

/// A list of two.
#[derive(Debug, Clone)]
pub struct Pair<T>(pub T, pub T);

impl<T: Shaped> Shaped for Pair<T> {
    const SHAPE: &'static Shape = &Shape::Pair(T::SHAPE);
}

impl<T: Read> Read for Pair<T> {
    const ACCEPTS: &'static Accepts = &Accepts::Pair(T::ACCEPTS);
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        match json {
            Json::List(items) if items.len() == 2 => Self(
                T::read(&items[0], Place::Item(&at, 0), faults),
                T::read(&items[1], Place::Item(&at, 1), faults),
            ),
            _ => wrong_type(json, at, faults),
        }
    }
    fn stand_in() -> Self {
        Self(T::stand_in(), T::stand_in())
    }
}

/// An object of values by name.
#[derive(Debug, Clone)]
pub struct Named<T>(pub Vec<(String, T)>);

impl<T: Shaped> Shaped for Named<T> {
    const SHAPE: &'static Shape = &Shape::Map(T::SHAPE);
}

impl<T: Read> Read for Named<T> {
    const ACCEPTS: &'static Accepts = &Accepts::Map(T::ACCEPTS);
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let Json::Object(members) = json else {
            return wrong_type(json, at, faults);
        };
        if members.len() > MAX_ITEMS {
            add_too_many(at, faults);
            return Self::stand_in();
        }
        let mut named: Vec<(String, T)> = Vec::with_capacity(members.len());
        for (name, value) in members {
            let place = Place::Member(&at, name);
            if named.iter().any(|(earlier, _)| earlier == name) {
                let says = format!("\"{}\" stands here twice; write it once", shown(name));
                faults.add("duplicate_key", place.to_string(), says);
            }
            named.push((name.clone().into_owned(), T::read(value, place, faults)));
        }
        Self(named)
    }
    fn stand_in() -> Self {
        Self(Vec::new())
    }
}

/// A fat as it is named or described in a request.
#[derive(Debug, Clone)]
pub struct FatChoice(pub Fat);

impl Shaped for FatChoice {
    const SHAPE: &'static Shape = &Shape::Either(&[&Shape::Text, FatDescription::SHAPE]);
}

impl Read for FatChoice {
    const ACCEPTS: &'static Accepts = &Accepts::Either(&[String::ACCEPTS, FatDescription::ACCEPTS]);
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let fat = match json {
            Json::Text(name) => named(name, at, faults),
            Json::Object(_) => {
                let (mut unread, mut found) = (Faults::new(), Faults::new());
                let mut given = FatDescription::read(json, at, &mut unread);
                if !unread.is_empty() {
                    // It could be a stand-in, in which no value lies.
                    given.saponification_range = None;
                }
                let fat = own(given, at, &mut found);
                unread.add_elsewhere(Some(found));
                faults.append(unread);
                fat
            }
            _ => return wrong_type(json, at, faults),
        };
        fat.map_or_else(Self::stand_in, Self)
    }
    fn stand_in() -> Self {
        Self(Fat::from(&tables().fats[0]))
    }
}

fn named(name: &str, at: Place, faults: &mut Faults) -> Option<Fat> {
    match fats::find(name) {
        Ok(fat) => Some(fat.into()),
        Err(found) => {
            faults.add_inside(&at, found);
            None
        }
    }
}

fn own(given: FatDescription, at: Place, faults: &mut Faults) -> Option<Fat> {
    let ways = [
        given
            .saponification_value
            .map(|value| Saponification::Value(value.to_base())),
        given
            .naoh_per_gram
            .map(|grams| Saponification::NaohPerGram(grams.to_base())),
        given
            .koh_per_gram
            .map(|grams| Saponification::KohPerGram(grams.to_base())),
        given
            .fatty_acids
            .as_ref()
            .map(|_| Saponification::FromComposition),
    ];
    let mut ways = ways.into_iter().flatten();
    let (Some(way), None) = (ways.next(), ways.next()) else {
        faults.add(
            "one_of",
            at.to_string(),
            "a fat of your own has exactly one of: saponification_value, naoh_per_gram, \
             koh_per_gram, fatty_acids",
        );
        return None;
    };
    let mut fat = OwnFat::new(given.name, way);
    fat.iodine_value = given.iodine_value.map(|value| value.to_base());
    let before = faults.len();
    fat.relative_density = relative_density(given.density, given.density_temperature, at, faults);
    if let Some(Pair(low, high)) = given.saponification_range {
        let place = Place::Member(&at, "saponification_range");
        fat.saponification = in_range(fat.saponification, low, high, place, faults);
    }
    if let Some(Named(acids)) = &given.fatty_acids {
        let shares = acids
            .iter()
            .map(|(acid, share)| (acid.as_str(), share.to_base()));
        match Composition::new(shares, Shares::AsGiven) {
            Ok(composition) => fat.composition = Some(composition),
            Err(found) => faults.add_inside(&Place::Member(&at, "fatty_acids"), found),
        }
    }
    if faults.len() > before {
        return None;
    }
    Fat::own(fat)
        .map_err(|found| faults.add_inside(&at, found))
        .ok()
}

/// A density with its temperature, as one relative to water of 4 °C.
fn relative_density(
    density: Option<Density>,
    temperature: Option<Temperature>,
    at: Place,
    faults: &mut Faults,
) -> Option<RelativeDensity> {
    let Some(density) = density else {
        if temperature.is_some() {
            let says = "a density_temperature goes with a density";
            let place = Place::Member(&at, "density_temperature");
            faults.add("not_needed", place.to_string(), says);
        }
        return None;
    };
    const WATER: Rational = Rational::integer(4);
    const USUAL: Rational = Rational::integer(20);
    let grams = density.grams_per_cubic_centimetre();
    let celsius = temperature.map_or(USUAL, |given| given.to_base());
    if !(Rational::decimal(5, 1)..=Rational::decimal(15, 1)).contains(grams) {
        let says = "a fat weighs from 0.5 to 1.5 g/cm³, mostly from 0.9 to 0.96";
        let place = Place::Member(&at, "density");
        faults.add("out_of_range", place.to_string(), says);
    }
    if !(Rational::ZERO..=Rational::HUNDRED).contains(&celsius) {
        let says = "accepted: from 0 to 100 °C";
        let place = Place::Member(&at, "density_temperature");
        faults.add("out_of_range", place.to_string(), says);
    }
    let water = water(&Temperature::new(WATER))?;
    let relative = grams.checked_div(water.grams_per_cubic_centimetre())?;
    Some(RelativeDensity {
        low: relative.clone(),
        high: relative,
        temperature: celsius,
        reference_temperature: WATER,
    })
}

/// A value with the range that was given for it.
fn in_range(
    way: Saponification,
    low: SaponificationValue,
    high: SaponificationValue,
    at: Place,
    faults: &mut Faults,
) -> Saponification {
    let (code, says) = match (way, Interval::new(low.to_base(), high.to_base())) {
        (Saponification::Value(value), Some(interval)) => {
            return Saponification::ValueInRange(value, interval);
        }
        (Saponification::Value(_), None) => (
            "bad_range",
            "a range goes from the lower to the higher value",
        ),
        _ => (
            "range_without_value",
            "a range goes with a saponification_value",
        ),
    };
    faults.add(code, at.to_string(), says);
    Saponification::FromComposition
}
