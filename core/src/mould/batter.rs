//! The volume and density of a batter, from its parts.

use std::fmt;

use super::density::{self, COOLEST_POUR, HOTTEST_POUR, STRONGEST_LYE, Spread};
use crate::exact::Rational;
use crate::fault::{Caution, Faults, listed};
use crate::plan::Plan;
use crate::quantity::{Density, Mass, Quantity, Share, Temperature, Volume};
use crate::recipe::{Amount, Recipe};

/// The pouring temperature that is taken when none is given, in °C: common practice, no source.
pub const USUAL_POUR: Rational = Rational::integer(40);

/// The density that an additive is taken to have when none is given: least, likely, most, in
/// g/cm³. From light oils to clay and salt: common practice, no source.
pub const UNKNOWN_ADDITIVE_DENSITY: [Rational; 3] = [
    Rational::decimal(8, 1),
    Rational::decimal(12, 1),
    Rational::decimal(27, 1),
];

/// The density that a pure acid is taken to have when none is given: least, likely, most, in
/// g/cm³. From melted fatty acids to tartaric acid: handbook values from memory.
pub const UNKNOWN_ACID_DENSITY: [Rational; 3] = [
    Rational::decimal(85, 2),
    Rational::decimal(14, 1),
    Rational::decimal(18, 1),
];

/// How much room a part of the batter takes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Room {
    /// As much as a density usual for its kind says, with a wide range.
    #[default]
    Unknown,
    /// As much as its density says.
    Density(Density),
    /// So much for the mass that the recipe names; needs an amount by mass.
    Displaces(Volume),
}

/// What the density of a batter depends on beside its weights.
#[derive(Debug, Clone)]
pub struct Pouring {
    /// The temperature of the batter, from [`COOLEST_POUR`] to [`HOTTEST_POUR`].
    pub temperature: Temperature,
    /// By how much the batter is smaller than its fats, lye and additives together. Left at 0
    /// unless it was measured: that lye is smaller than its alkali and water is in its density
    /// already, and for the mixing of fats with lye nothing is published. Below 0: air beaten in.
    pub contraction: Share,
    /// Room of each acid as bought.
    pub acids: Vec<Room>,
    /// Room of each additive.
    pub additives: Vec<Room>,
}

/// The grid of densities of a lye and a batter in g/cm³, and of what 1 g of a part takes in cm³:
/// ends are moved outwards to it, so that numbers stay short.
const FINEST: Rational = Rational::decimal(1, 12);

/// The most by which a batter may be smaller or larger than its parts, as a fraction.
const MOST_CONTRACTION: Rational = Rational::decimal(5, 1);

impl Pouring {
    /// Everything that is wrong with it.
    ///
    /// # Errors
    /// `out_of_range` at `mould.pour_temperature`, `mould.contraction`; `not_positive` at the
    /// density of an acid or additive.
    pub fn check(&self) -> Result<(), Faults> {
        let mut faults = Faults::new();
        let celsius = self.temperature.celsius();
        if *celsius < COOLEST_POUR || *celsius > HOTTEST_POUR {
            faults.add(
                "out_of_range",
                "mould.pour_temperature",
                format_args!(
                    "lye densities are published for {COOLEST_POUR} to {HOTTEST_POUR} °C; accepted: \
                     a temperature in that range, or the density of the batter itself"
                ),
            );
        }
        if self.contraction.fraction().abs() > MOST_CONTRACTION {
            faults.add(
                "out_of_range",
                "mould.contraction",
                "accepted: from -50 to 50 %, 0 unless you measured it",
            );
        }
        check_rooms("acids", &self.acids, &mut faults);
        check_rooms("additives", &self.additives, &mut faults);
        faults.or(())
    }

    /// Density of the batter of `plan` in g/cm³: its mass divided by the sum of the volumes of
    /// fats, lye, acids and additives, less the contraction.
    ///
    /// The lye is its hydroxide in water; what the alkali as bought is beside hydroxide is taken
    /// once for water (likely) and once for hydroxide, and the range holds both. Two alkalis
    /// count as two lyes of the same strength, side by side.
    ///
    /// The density of the lye, the room of 1 g of each part and the result are taken to
    /// 10⁻¹² g/cm³ or cm³, ends outwards.
    ///
    /// # Errors
    /// `lye_too_strong` beyond [`STRONGEST_LYE`]; `mass_needed` for [`Room::Displaces`] of a share.
    pub fn density(&self, recipe: &Recipe, plan: &Plan) -> Result<Spread, Faults> {
        let mut volume = Spread::point(Rational::ZERO);
        for (mass, line) in plan.fats.iter().zip(&recipe.fats) {
            let (density, _) = density::fat(&line.fat, &self.temperature);
            add(&mut volume, mass.grams(), &density);
        }
        let acids = plan.acids.iter().zip(&recipe.acids).zip(&self.acids);
        for (i, ((mass, line), room)) in acids.enumerate() {
            let mass = mass.grams();
            if matches!(room, Room::Unknown) {
                let pure = line.strength.fraction() * mass;
                let water = density::water(&self.temperature).unwrap_or_default();
                let water = Spread::point(water.grams_per_cubic_centimetre().clone());
                add(&mut volume, &(mass - &pure), &water);
                add(&mut volume, &pure, &Spread::of(UNKNOWN_ACID_DENSITY));
            } else if !room.add_to(&mut volume, mass, &line.amount) {
                return Err(displaced_by_share(&format_args!("acids[{i}]")));
            }
        }
        let additives = plan.additives.iter().zip(&recipe.additives);
        for (i, ((mass, line), room)) in additives.zip(&self.additives).enumerate() {
            if !room.add_to(&mut volume, mass.grams(), &line.amount) {
                return Err(displaced_by_share(&format_args!("additives[{i}]")));
            }
        }
        self.add_lye(false, &plan.naoh_mass, plan, &mut volume)?;
        self.add_lye(true, &plan.koh_mass, plan, &mut volume)?;
        let volume = volume.scaled(self.contraction.rest().fraction());
        Ok(on_grid(&volume.dividing(plan.batter_mass.grams())))
    }

    /// What was not known and had to be taken wide.
    pub fn caution(&self, recipe: &Recipe) -> Option<Caution> {
        let mut names = Vec::new();
        for line in &recipe.fats {
            if line.fat.relative_density().is_none() {
                names.push(line.fat.name());
            }
        }
        for (line, room) in recipe.acids.iter().zip(&self.acids) {
            if matches!(room, Room::Unknown) {
                names.push(line.acid.name);
            }
        }
        for (line, room) in recipe.additives.iter().zip(&self.additives) {
            if matches!(room, Room::Unknown) {
                names.push(&line.name);
            }
        }
        if names.is_empty() {
            return None;
        }
        let says = format!(
            "No density is known for {}, so a wide range was taken; give the density, or the \
             volume that it displaces, to narrow the result.",
            listed(&names, ", ")
        );
        Some(Caution::new("density_unknown", says))
    }

    /// Adds the lye that is made with so much of an alkali.
    fn add_lye(
        &self,
        is_koh: bool,
        mass: &Mass,
        plan: &Plan,
        volume: &mut Spread,
    ) -> Result<(), Faults> {
        if mass.grams().is_zero() {
            return Ok(());
        }
        let lye = |strength: &Share| density::lye(is_koh, strength.fraction(), &self.temperature);
        let as_hydroxide = lye(&plan.lye_concentration);
        let as_water = lye(&plan.hydroxide_concentration);
        let Some((as_water, as_hydroxide)) = as_water.zip(as_hydroxide) else {
            let percent = plan.lye_concentration.to_base().fixed(2);
            let most = STRONGEST_LYE * Rational::HUNDRED;
            let says = format_args!(
                "densities are published for a lye of up to {most} %, this one has {percent} %; \
                 accepted: more water, or the density of the batter itself"
            );
            return Err(Faults::one("lye_too_strong", "water", says));
        };
        let alkali = plan.naoh_mass.grams() + plan.koh_mass.grams();
        let part = mass.grams().checked_div(&alkali).unwrap_or_default();
        let lye = (alkali + plan.water_mass.grams()) * part;
        add(volume, &lye, &on_grid(&as_water.join(&as_hydroxide)));
        Ok(())
    }
}

fn check_rooms(name: &str, rooms: &[Room], faults: &mut Faults) {
    for (i, room) in rooms.iter().enumerate() {
        let (field, is_fine) = match room {
            Room::Unknown => continue,
            Room::Density(density) => {
                let density = density.grams_per_cubic_centimetre();
                ("density", density.is_positive())
            }
            Room::Displaces(volume) => ("displaces", !volume.cubic_centimetres().is_negative()),
        };
        if !is_fine {
            let says = "a density is above 0, and a displaced volume is not below 0";
            faults.add("not_positive", format_args!("{name}[{i}].{field}"), says);
        }
    }
}

/// Adds what so much of that density takes.
fn add(volume: &mut Spread, mass: &Rational, density: &Spread) {
    let room = on_grid(&density.dividing(&Rational::ONE));
    *volume = volume.plus(&room.scaled(mass));
}

impl Room {
    /// Adds what so much of an additive takes, of which the recipe names `amount`; whether that
    /// can be said.
    fn add_to(&self, volume: &mut Spread, mass: &Rational, amount: &Amount) -> bool {
        match (self, amount) {
            (Self::Unknown, _) => add(volume, mass, &Spread::of(UNKNOWN_ADDITIVE_DENSITY)),
            (Self::Density(density), _) => {
                let density = density.grams_per_cubic_centimetre();
                add(volume, mass, &Spread::point(density.clone()));
            }
            (Self::Displaces(displaced), Amount::Mass(named)) => {
                let part = mass.checked_div(named.grams()).unwrap_or_default();
                let displaced = displaced.cubic_centimetres() * part;
                *volume = volume.plus(&Spread::point(displaced));
            }
            (Self::Displaces(_), Amount::Share(_)) => return false,
        }
        true
    }
}

/// The same on the grid.
fn on_grid(number: &Spread) -> Spread {
    let range = &number.range;
    Spread::between(
        range.low().floor_to(&FINEST).unwrap_or_default(),
        number.likely.round_to(&FINEST).unwrap_or_default(),
        range.high().ceil_to(&FINEST).unwrap_or_default(),
    )
}

/// A volume that is displaced needs a mass to go with.
pub(crate) fn displaced_by_share(at: &dyn fmt::Display) -> Faults {
    Faults::one(
        "mass_needed",
        format_args!("{at}.displaces"),
        "a displaced volume goes with a mass; accepted with of_fats: a density",
    )
}
