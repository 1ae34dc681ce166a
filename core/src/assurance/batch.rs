//! What lies on the bench: portions, each with what is not known exactly about it.

use std::fmt;

use super::bounds::Role;
use crate::chemistry::{Acid, Alkali};
use crate::exact::{Interval, Rational};
use crate::fault::Faults;
use crate::quantity::Share;

/// A weighed portion of a fat, an alkali or an acid.
///
/// Its effect is `mass · koh`, in g KOH: what the fat or acid takes up, or what the alkali brings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Portion {
    /// Its name.
    pub name: String,
    /// Its mass as weighed, in g.
    pub mass: Rational,
    /// By how much the true mass may be more or less, in g; not more than the mass.
    pub mass_error: Rational,
    /// g KOH for 1 g of it, the value reckoned with. A fat: saponification value / 1000
    /// (ISO 3657). Sodium hydroxide: purity · 56.105 / 39.997. Potassium hydroxide: purity. An
    /// acid: strength · g KOH per g.
    pub koh: Rational,
    /// The range in which that lies.
    pub koh_range: Interval,
}

impl Portion {
    /// A portion whose mass is known.
    pub fn exact(
        name: impl Into<String>,
        mass: Rational,
        koh: Rational,
        koh_range: Interval,
    ) -> Self {
        Self {
            name: name.into(),
            mass,
            mass_error: Rational::ZERO,
            koh,
            koh_range,
        }
    }

    /// Sodium hydroxide: its mass, the purity reckoned with, the range of the purity.
    pub fn naoh(mass: Rational, purity: &Share, range: &Interval) -> Self {
        let per_gram = Interval::point(naoh_to_koh());
        Self::exact(
            "naoh",
            mass,
            purity.fraction() * naoh_to_koh(),
            range * &per_gram,
        )
    }

    /// Potassium hydroxide: its mass, the purity reckoned with, the range of the purity.
    pub fn koh(mass: Rational, purity: &Share, range: &Interval) -> Self {
        Self::exact("koh", mass, purity.fraction().clone(), range.clone())
    }

    /// An acid: its mass, the strength reckoned with, the range of the strength.
    pub fn acid(acid: &Acid, mass: Rational, strength: &Share, range: &Interval) -> Self {
        let per_gram = acid.alkali_per_gram(Alkali::Koh);
        let koh = strength.fraction() * &per_gram;
        Self::exact(acid.name, mass, koh, range * &Interval::point(per_gram))
    }

    /// The range of the true mass, in g.
    pub fn mass_range(&self) -> Interval {
        let (low, high) = (&self.mass - &self.mass_error, &self.mass + &self.mass_error);
        Interval::new(low, high).unwrap_or_else(|| Interval::point(self.mass.clone()))
    }

    /// g KOH, as reckoned with.
    pub fn effect(&self) -> Rational {
        &self.mass * &self.koh
    }

    /// Its true mass in g, and g KOH for 1 g of it, both at the high ends of their ranges or both
    /// at the low ends.
    pub fn at_end(&self, high: bool) -> (Rational, Rational) {
        if high {
            (&self.mass + &self.mass_error, self.koh_range.high().clone())
        } else {
            (&self.mass - &self.mass_error, self.koh_range.low().clone())
        }
    }

    fn check(&self, at: fmt::Arguments, faults: &mut Faults) {
        if self.mass.is_negative() {
            faults.add("negative", at, "this mass is below 0; accepted: 0 or more");
        }
        if self.mass_error.is_negative() || self.mass_error > self.mass {
            faults.add(
                "out_of_range",
                at,
                format_args!(
                    "{} weighs {} g and may be off by {} g; accepted: an error from 0 to the mass \
                     itself",
                    self.name,
                    self.mass.to_plain(),
                    self.mass_error.to_plain()
                ),
            );
        }
        if self.koh_range.low().is_negative() || self.koh.is_negative() {
            faults.add(
                "negative",
                at,
                "what a portion takes up or brings is not below 0",
            );
        }
    }
}

/// Fats, alkalis and acids of a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// The fats, at least one of them with a mass.
    pub fats: Vec<Portion>,
    /// The alkalis.
    pub alkalis: Vec<Portion>,
    /// Acids that take up alkali.
    pub acids: Vec<Portion>,
}

impl Batch {
    /// Everything that is wrong with the numbers.
    ///
    /// # Errors
    /// `negative`, `out_of_range`, and `no_fats` if the fats could take up nothing.
    pub fn check(&self) -> Result<(), Faults> {
        let mut faults = Faults::new();
        for &role in &Role::ALL {
            for (i, portion) in self.list(role).iter().enumerate() {
                portion.check(format_args!("{}s[{i}]", role.name()), &mut faults);
            }
        }
        if faults.is_empty() && !effect_at_end(&self.fats, false).is_positive() {
            faults.add(
                "no_fats",
                "fats",
                "the fats could weigh nothing, or take up nothing; accepted: at least one fat \
                 whose mass and saponification value are surely above 0",
            );
        }
        faults.or(())
    }

    /// Share of the fats that stays unsaponified, as reckoned with: `1 - (alkali - acids) / need`,
    /// each in g KOH. None if the fats need nothing.
    pub fn superfat(&self) -> Option<Share> {
        let free = effect(&self.alkalis) - effect(&self.acids);
        let used = free.checked_div(&effect(&self.fats))?;
        Some(Share::of_one(Rational::ONE - used))
    }
}

/// g KOH of all portions, as reckoned with.
pub(crate) fn effect(portions: &[Portion]) -> Rational {
    portions.iter().map(Portion::effect).sum()
}

/// The same of those of one name.
pub(crate) fn effect_of(name: &str, portions: &[Portion]) -> Rational {
    let named = portions.iter().filter(|portion| portion.name == name);
    named.map(Portion::effect).sum()
}

/// g KOH of all portions, all at the high or all at the low ends of their ranges: the most or the
/// least, since neither mass nor KOH for 1 g is below 0.
pub(super) fn effect_at_end(portions: &[Portion], high: bool) -> Rational {
    let mut sum = Rational::ZERO;
    for portion in portions {
        let (mass, koh) = portion.at_end(high);
        sum = sum + mass * koh;
    }
    sum
}

/// The purity of an alkali of which 1 g brings so much KOH: [`Portion::naoh`] backwards.
pub(crate) fn purity(name: &str, koh: &Rational) -> Rational {
    match name {
        "naoh" => Alkali::Naoh.in_place_of(koh, Alkali::Koh),
        _ => koh.clone(),
    }
}

/// g KOH that are as many moles as 1 g NaOH.
fn naoh_to_koh() -> Rational {
    Alkali::Koh.in_place_of(&Rational::ONE, Alkali::Naoh)
}
