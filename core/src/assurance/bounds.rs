//! The worst and the best case, exactly.
//!
//! The superfat is `1 - (alkali - acids) / need`. It falls with the alkali, rises with the acids,
//! and goes one way with the need, up where alkali is left over after the acids. So over a box of
//! inputs its ends lie on corners, and are found without search.

use super::batch::{Batch, Portion, effect, effect_at_end};
use crate::exact::{Rational, over};
use crate::fault::Faults;
use crate::quantity::Share;
use crate::sort::sort_by;

/// What a portion is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// It is saponified.
    Fat,
    /// It saponifies.
    Alkali,
    /// It takes up alkali.
    Acid,
}

impl Role {
    pub(super) const ALL: [Self; 3] = [Self::Fat, Self::Alkali, Self::Acid];

    /// The word for it; with an s, that for the list of all.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Fat => "fat",
            Self::Alkali => "alkali",
            Self::Acid => "acid",
        }
    }
}

/// Where one portion stands at a corner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Touch {
    /// What it is for.
    pub role: Role,
    /// Its name.
    pub name: String,
    /// Its true mass there, in g.
    pub mass: Rational,
    /// g KOH for 1 g of it there.
    pub koh: Rational,
}

/// A corner of the box of all inputs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Corner {
    /// The superfat there; below 0 there is free alkali.
    pub superfat: Share,
    /// Where each portion stands.
    pub at: Vec<Touch>,
}

/// The smallest and the largest superfat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bounds {
    /// The smallest: most alkali, least need.
    pub low: Corner,
    /// The largest.
    pub high: Corner,
}

impl Bounds {
    /// Whether the bar could keep free alkali.
    pub fn lye_heavy_possible(&self) -> bool {
        self.low.superfat.fraction().is_negative()
    }
}

/// What one input does to the superfat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spread<'a> {
    /// What its portion is for.
    pub role: Role,
    /// The portion.
    pub portion: &'a Portion,
    /// Whether the input is its mass; else it is what 1 g of it takes up or brings.
    pub of_mass: bool,
    /// Its share of the whole spread; the shares of all inputs come to 100 %.
    pub share: Share,
    /// The range of the superfat if this input alone varies.
    pub alone: (Share, Share),
}

/// The most alkali that keeps a floor.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SafeAlkali {
    /// As many times the mass of each alkali of the batch.
    pub times: Rational,
    /// The superfat as reckoned with that has its worst case at the floor.
    pub nominal: Share,
}

impl Batch {
    /// The smallest and the largest superfat over all ranges, each with a corner that attains it.
    ///
    /// # Errors
    /// Those of [`Batch::check`].
    pub fn bounds(&self) -> Result<Bounds, Faults> {
        self.check()?;
        Ok(Bounds {
            low: self.extreme(true),
            high: self.extreme(false),
        })
    }

    /// One of the [`Batch::bounds`] of a batch that was checked.
    pub(crate) fn extreme(&self, lowest: bool) -> Corner {
        let free = effect_at_end(&self.alkalis, lowest) - effect_at_end(&self.acids, !lowest);
        // A larger need raises the superfat, unless the acids take up more than the alkali.
        let need_high = lowest == free.is_negative();
        let mut at = Vec::new();
        for &role in &Role::ALL {
            let high = match role {
                Role::Fat => need_high,
                Role::Alkali => lowest,
                Role::Acid => !lowest,
            };
            for portion in self.list(role) {
                let (mass, koh) = portion.at_end(high);
                at.push(Touch {
                    role,
                    name: portion.name.clone(),
                    mass,
                    koh,
                });
            }
        }
        Corner {
            superfat: superfat(&free, &effect_at_end(&self.fats, need_high)),
            at,
        }
    }

    /// Which inputs the spread comes from, those that vary, the largest first.
    ///
    /// Measured in g KOH on the line of the superfat reckoned with, `(1 - superfat) · need -
    /// alkali + acids`, which is linear: there the width of a portion is `mass · (high - low) +
    /// 2 · mass error · middle`, the first for its range, the second for its mass, and the widths
    /// of all inputs add up exactly to the whole.
    ///
    /// # Errors
    /// Those of [`Batch::check`].
    pub fn spreads(&self) -> Result<Vec<Spread<'_>>, Faults> {
        self.check()?;
        let need = effect(&self.fats);
        let free = effect(&self.alkalis) - effect(&self.acids);
        let used = over(&free, &need).abs();
        let mut total = Rational::ZERO;
        let mut spreads = Vec::new();
        for &role in &Role::ALL {
            let factor = match role {
                Role::Fat => &used,
                _ => &Rational::ONE,
            };
            for portion in self.list(role) {
                let range = &portion.koh_range;
                for of_mass in [false, true] {
                    let width = if of_mass {
                        &portion.mass_error * &(range.low() + range.high())
                    } else {
                        &portion.mass * &range.width()
                    };
                    let width = factor * &width;
                    total = &total + &width;
                    if width.is_positive() {
                        spreads.push(Spread {
                            role,
                            portion,
                            of_mass,
                            share: Share::of_one(width),
                            alone: alone(portion, of_mass, role, &need, &free),
                        });
                    }
                }
            }
        }
        for spread in &mut spreads {
            spread.share = Share::of_one(over(spread.share.fraction(), &total));
        }
        sort_by(&mut spreads, |a, b| b.share.cmp(&a.share));
        Ok(spreads)
    }

    /// The most alkali, in the proportion of the batch, whose worst case keeps the superfat at
    /// `floor` or above: `Σ alkali · highest koh = (1 - floor) · lowest need + lowest acids`,
    /// each mass error counted.
    ///
    /// None if the batch has no alkali, or if even none of it would be too much.
    ///
    /// # Errors
    /// Those of [`Batch::check`], and `out_of_range` if the floor is not below 100 %.
    pub fn safe_alkali(&self, floor: &Share) -> Result<Option<SafeAlkali>, Faults> {
        self.check()?;
        check_floor(floor)?;
        let need = floor.rest().fraction() * &effect_at_end(&self.fats, false);
        let allowed = need + effect_at_end(&self.acids, false);
        let (mut by_errors, mut by_masses) = (Rational::ZERO, Rational::ZERO);
        for portion in &self.alkalis {
            by_errors = by_errors + &portion.mass_error * portion.koh_range.high();
            by_masses = by_masses + &portion.mass * portion.koh_range.high();
        }
        let times = over(&(allowed - by_errors), &by_masses);
        if !times.is_positive() {
            return Ok(None);
        }
        let free = effect(&self.alkalis) * &times - effect(&self.acids);
        let nominal = superfat(&free, &effect(&self.fats));
        Ok(Some(SafeAlkali { times, nominal }))
    }

    pub(super) fn list(&self, role: Role) -> &[Portion] {
        match role {
            Role::Fat => &self.fats,
            Role::Alkali => &self.alkalis,
            Role::Acid => &self.acids,
        }
    }
}

/// The superfat where so many g KOH are free of the acids, and the fats take up so many.
fn superfat(free: &Rational, need: &Rational) -> Share {
    Share::of_one(Rational::ONE - over(free, need))
}

/// The range of the superfat if one input of a portion varies, and `need` and `free` are what the
/// fats take up and what the alkali brings after the acids otherwise.
fn alone(
    portion: &Portion,
    of_mass: bool,
    role: Role,
    need: &Rational,
    free: &Rational,
) -> (Share, Share) {
    let at_end = |high| {
        let (mut mass, mut koh) = portion.at_end(high);
        if of_mass {
            koh = portion.koh.clone();
        } else {
            mass = portion.mass.clone();
        }
        let change = mass * koh - portion.effect();
        match role {
            Role::Fat => superfat(free, &(need + &change)),
            Role::Alkali => superfat(&(free + &change), need),
            Role::Acid => superfat(&(free - &change), need),
        }
    };
    let (a, b) = (at_end(false), at_end(true));
    if a <= b { (a, b) } else { (b, a) }
}

pub(super) fn check_floor(floor: &Share) -> Result<(), Faults> {
    if *floor.fraction() < Rational::ONE {
        return Ok(());
    }
    Err(Faults::one(
        "out_of_range",
        "floor",
        "a floor of the superfat lies below 100 %, mostly from 0 to 5 %",
    ))
}
