//! What a batch that was weighed and poured tells about the mould and the batter.

use super::fill::{Batter, Seen};
use super::{Mould, Spread, quotient};
use crate::exact::{Interval, Rational};
use crate::fault::Faults;
use crate::quantity::{Mass, Share};

/// What was learnt; what cannot be known from what was given is left out.
#[derive(Debug, Clone)]
pub struct Calibration {
    /// What was poured, in g.
    pub poured_mass: Mass,
    /// A cavity of each kind.
    pub cavities: Vec<LearntCavity>,
    /// Density of the batter in g/cm³, where the mould is known by volume: poured / volume that
    /// was filled.
    pub batter_density: Option<Interval>,
    /// The density that the tables, or the request, gave.
    pub expected_density: Option<Spread>,
    /// How much denser the batter was than its likely expected density; below 0: less dense.
    pub deviation: Option<Share>,
}

/// What was learnt of a kind of cavity, full to the brim.
#[derive(Debug, Clone)]
pub struct LearntCavity {
    /// What it takes, in g: poured / filled, shared by size.
    pub bar_mass: Mass,
    /// Its volume in cm³, where the density of the batter is known: what it took / density.
    pub volume: Option<Spread>,
}

/// Works out, from a weighed batch and what it filled, what a cavity takes, how dense the batter
/// was if the mould is to be trusted, and how large the cavities are if the density is.
///
/// What was seen is in cavities filled as far as the mould asks; the results are for cavities
/// that are full to the brim, as they stand in a mould.
///
/// ```
/// use lixivium::exact::Rational;
/// use lixivium::mould::calibrate::calibrate;
/// use lixivium::mould::fill::{Batter, Seen, Yield};
/// use lixivium::mould::{Cavities, Mould, Size, Spread, Waste};
/// use lixivium::quantity::{Mass, Share, Volume};
///
/// // The mould says 100 mL; 918 g of a batter that should have 1.03 g/cm³ filled nine cavities and no more.
/// let size = Size::Volume(Volume::parse("100 mL").unwrap());
/// let mould = Mould {
///     cavities: vec![Cavities { count: 12, size, fill: None }],
///     fill: Share::WHOLE,
///     waste: Waste::none(),
/// };
/// let expected = Spread::point(Rational::parse("1.03").unwrap());
/// let batter = Batter {
///     planned: None,
///     mass: Some(Mass::parse("918 g").unwrap()),
///     yields: Yield::Density(&expected),
/// };
/// let seen = Seen { full_cavities: 9, last_cavity: Share::NONE };
/// let learnt = calibrate(&mould, &batter, &seen).unwrap();
/// assert_eq!(learnt.cavities[0].bar_mass.grams().to_plain(), "102");
/// // Either the batter was lighter than expected, or the cavities are smaller than they say.
/// assert_eq!(learnt.batter_density.unwrap().low().to_plain(), "1.02");
/// let volume = learnt.cavities[0].volume.as_ref().unwrap();
/// assert_eq!(volume.likely.to_fixed(2), "99.03");
/// ```
///
/// # Errors
/// The faults of the mould and of what was seen; `missing` where the mass is.
pub fn calibrate(mould: &Mould, batter: &Batter, seen: &Seen) -> Result<Calibration, Faults> {
    mould.check()?;
    let Some(mass) = batter.known_mass() else {
        return Err(Faults::one(
            "missing",
            "batter.mass",
            "the mass of the batter that was poured is missing; accepted: mass, or a plan",
        ));
    };
    let poured = mould.poured(mass)?;
    let (bars, poured) = seen.bars(mould, Some(poured))?;
    let batter_density = mould
        .volume_of(&seen.counts(mould))
        .and_then(|volume| Interval::point(poured.clone()).checked_div(&volume));
    let expected_density = batter.yields.known_density(batter.planned)?;
    let expected = expected_density.as_ref();
    let mut cavities = Vec::with_capacity(bars.len());
    for bar in bars {
        cavities.push(LearntCavity {
            volume: expected.map(|density| density.dividing(&bar)),
            bar_mass: Mass::new(bar),
        });
    }
    let deviation = batter_density
        .as_ref()
        .zip(expected)
        .map(|(found, expected)| {
            let ratio = quotient(&found.middle(), &expected.likely);
            Share::of_one(ratio - Rational::ONE)
        });
    Ok(Calibration {
        poured_mass: Mass::new(poured),
        cavities,
        batter_density,
        expected_density,
        deviation,
    })
}
