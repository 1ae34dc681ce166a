//! A fat in a request: one of the catalogue, or one's own.

use super::accepts::{Accepts, Own, Place};
use super::json::Json;
use super::read::{self, Given};
use super::shape::{Shape, Shaped};
use super::view::{Named, Pair, View, request};
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
    FatDescription<'a> {
        /// Its name.
        name: &'a str,
        /// Its saponification value, in mg KOH/g.
        saponification_value: Option<SaponificationValue>,
        /// The range in which its saponification value lies, in mg KOH/g.
        saponification_range: Option<Pair<SaponificationValue>>,
        /// Grams of pure sodium hydroxide that saponify 1 g of it.
        naoh_per_gram: Option<Ratio>,
        /// Grams of pure potassium hydroxide that saponify 1 g of it.
        koh_per_gram: Option<Ratio>,
        /// Its fatty acids in percent of mass, such as {"C18:1": 70}; they come to 100 %.
        fatty_acids: Option<Named<'a, Share>>,
        /// Its iodine value.
        iodine_value: Option<IodineValue>,
        /// Its density as a liquid, for the room that it takes in a mould; left out: that of
        /// fats, with a wide range.
        density: Option<Density>,
        /// The temperature at which it has that density; left out: 20 °C.
        density_temperature: Option<Temperature>,
    }
}

impl Shaped for Fat {
    const SHAPE: &'static Shape = &Shape::Either(&[&Shape::Text, FatDescription::SHAPE]);
}

impl View<'_> for Fat {
    const ACCEPTS: &'static Accepts = &Accepts::Own(&Own {
        either: &[&Accepts::Text, FatDescription::ACCEPTS],
        read: read_fat,
    });
    fn of(given: &Given) -> Self {
        match given {
            Given::Fat(fat) => fat.clone(),
            _ => Fat::from(&tables().fats[0]),
        }
    }
}

fn read_fat<'j>(json: &'j Json<'j>, at: &Place, faults: &mut Faults) -> Given<'j> {
    let fat = match json {
        Json::Text(name) => named(name, *at, faults),
        Json::Object(_) => {
            let before = faults.len();
            let given = read::read(json, FatDescription::ACCEPTS, at, faults);
            let all_read = faults.len() == before;
            let mut found = Faults::new();
            let fat = own(View::of(&given), all_read, *at, &mut found);
            faults.add_elsewhere(Some(found));
            fat
        }
        _ => return read::wrong_type(json, Fat::ACCEPTS, at, faults),
    };
    match fat {
        Some(fat) => Given::Fat(fat),
        None => Given::Unread,
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

/// The fat that is described; its range is looked at only if it is `all_read`, for else it could
/// be a stand-in, in which no value lies.
fn own(given: FatDescription, all_read: bool, at: Place, faults: &mut Faults) -> Option<Fat> {
    let acids = given.fatty_acids();
    let ways = (
        given.saponification_value(),
        given.naoh_per_gram(),
        given.koh_per_gram(),
        acids.is_some(),
    );
    let way = match ways {
        (Some(value), None, None, false) => Saponification::Value(value.to_base()),
        (None, Some(grams), None, false) => Saponification::NaohPerGram(grams.to_base()),
        (None, None, Some(grams), false) => Saponification::KohPerGram(grams.to_base()),
        (None, None, None, true) => Saponification::FromComposition,
        _ => {
            faults.add(
                "one_of",
                at,
                "a fat of your own has exactly one of: saponification_value, naoh_per_gram, \
                 koh_per_gram, fatty_acids",
            );
            return None;
        }
    };
    let mut fat = OwnFat::new(given.name(), way);
    fat.iodine_value = given.iodine_value().map(|value| value.to_base());
    let before = faults.len();
    fat.relative_density =
        relative_density(given.density(), given.density_temperature(), at, faults);
    if let Some(Pair(low, high)) = given.saponification_range().filter(|_| all_read) {
        let place = Place::Member(&at, "saponification_range");
        fat.saponification = in_range(fat.saponification, low, high, place, faults);
    }
    if let Some(acids) = acids {
        let shares = acids.map(|(acid, share)| (acid, share.to_base()));
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
            faults.add("not_needed", place, says);
        }
        return None;
    };
    const WATER: Rational = Rational::integer(4);
    const USUAL: Rational = Rational::integer(20);
    let grams = density.grams_per_cubic_centimetre();
    let celsius = temperature.map_or(USUAL, |given| given.to_base());
    if !const { Rational::decimal(5, 1)..=Rational::decimal(15, 1) }.contains(grams) {
        let says = "a fat weighs from 0.5 to 1.5 g/cm³, mostly from 0.9 to 0.96";
        let place = Place::Member(&at, "density");
        faults.add("out_of_range", place, says);
    }
    if !(Rational::ZERO..=Rational::HUNDRED).contains(&celsius) {
        let says = "accepted: from 0 to 100 °C";
        let place = Place::Member(&at, "density_temperature");
        faults.add("out_of_range", place, says);
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
    faults.add(code, at, says);
    Saponification::FromComposition
}
