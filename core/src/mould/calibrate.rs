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
    /// What a cavity of each kind takes full to the brim, in g: poured / filled, shared by size.
    pub bar_masses: Vec<Mass>,
    /// Density of the batter in g/cm³, where the mould is known by volume: poured / volume that
    /// was filled.
    pub batter_density: Option<Interval>,
    /// The density that the tables, or the request, gave.
    pub expected_density: Option<Spread>,
    /// How much denser the batter was than its likely expected density; below 0: less dense.
    pub deviation: Option<Share>,
}

impl Calibration {
    /// The volume in cm³ of a cavity that takes so much, where the density of the batter is known:
    /// what it took / density.
    pub fn cavity_volume(&self, bar_mass: &Mass) -> Option<Spread> {
        let density = self.expected_density.as_ref()?;
        Some(density.dividing(bar_mass.grams()))
    }
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
/// assert_eq!(learnt.bar_masses[0].grams().to_plain(), "102");
/// // Either the batter was lighter than expected, or the cavities are smaller than they say.
/// let density = learnt.batter_density.as_ref().unwrap();
/// assert_eq!(density.low().to_plain(), "1.02");
/// let volume = learnt.cavity_volume(&learnt.bar_masses[0]).unwrap();
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
    let (bar_masses, poured) = seen.bars(mould, Some(poured))?;
    let batter_density = mould
        .volume_of(&seen.counts(mould))
        .and_then(|volume| Interval::point(poured.clone()).checked_div(&volume));
    let expected_density = batter.yields.known_density(batter.planned)?;
    let both = batter_density.as_ref().zip(expected_density.as_ref());
    let deviation = both.map(|(found, expected)| {
        let ratio = quotient(&found.middle(), &expected.likely);
        Share::of_one(ratio - Rational::ONE)
    });
    Ok(Calibration {
        poured_mass: Mass::new(poured),
        bar_masses,
        batter_density,
        expected_density,
        deviation,
    })
}
