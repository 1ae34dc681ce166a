//! What brings a batch back that went wrong: the smallest additions, exactly.
//!
//! All amounts of hydroxide are in g KOH. With `g` grams of fat added, a superfat `f` asks for
//! `(1 - f) · (need + g · koh) + acids` of alkali; its split gives each alkali, and the alkali (or
//! the fats) the water. So every addition is a straight line in `g` that does not fall, and the
//! smallest `g` that lets none of them be less than it may makes all of them smallest at once.
//!
//! ```
//! use lixivium::amend::{AtHand, Fats, Mixture, Target, smallest};
//! use lixivium::assurance::{Batch, Portion};
//! use lixivium::exact::{Interval, Rational};
//! use lixivium::quantity::Share;
//!
//! let number = |text| Rational::parse(text).unwrap();
//! let point = |text| Interval::point(number(text));
//! // 1000 g of a fat that takes up 0.19 g KOH/g were to get 171 g KOH, and got 190 g.
//! let mixture = Mixture {
//!     batch: Batch {
//!         fats: vec![Portion::exact("fat", number("1000"), number("0.19"), point("0.19"))],
//!         alkalis: vec![Portion::exact("koh", number("190"), number("1"), point("1"))],
//!         acids: vec![],
//!     },
//!     water: number("400"),
//! };
//! let at_hand = AtHand { fats: Some(Fats { koh: number("0.19"), at_least: number("0") }), ..AtHand::default() };
//! let target = Target { superfat: Share::percent(number("10")), koh_share: None, water: None };
//! let additions = smallest(&mixture, &target, &at_hand).unwrap();
//! assert_eq!(additions.fats.to_string(), "1000/9"); // 190 / (0.9 · 0.19) - 1000
//! ```

mod line;
mod recipe;

use line::{Limit, Line};
pub use recipe::{Actual, Amended, Amendment, Part, Stage, State, amend};

use crate::assurance::{Batch, effect, naoh_to_koh};
use crate::exact::Rational;
use crate::fault::Faults;
use crate::quantity::Share;
use crate::recipe::{Water, WaterRule};

/// What is in the pot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mixture {
    /// Fats, alkalis (named `naoh` and `koh`) and acids, as weighed.
    pub batch: Batch,
    /// All water that counts as water of the lye, in g.
    pub water: Rational,
}

/// What it shall become.
#[derive(Debug, Clone)]
pub struct Target {
    /// The superfat.
    pub superfat: Share,
    /// Potassium hydroxide in the hydroxide, by moles; left out: any.
    pub koh_share: Option<Share>,
    /// The water; left out: any. What the alkali is not counts as water if the rule says so.
    pub water: Option<Water>,
}

/// What may be added, and what may still be taken back.
#[derive(Debug, Clone, Default)]
pub struct AtHand {
    /// Fat, if there is any.
    pub fats: Option<Fats>,
    /// Sodium hydroxide of this purity.
    pub naoh: Option<Share>,
    /// Potassium hydroxide of this purity.
    pub koh: Option<Share>,
    /// Water.
    pub water: bool,
    /// Whether nothing is mixed yet, so that alkali and water can also be taken back.
    pub apart: bool,
}

/// Fat that may be added: one fat, or a blend in fixed shares.
#[derive(Debug, Clone, Default)]
pub struct Fats {
    /// g KOH that 1 g of it takes up.
    pub koh: Rational,
    /// At least so many grams shall be added.
    pub at_least: Rational,
}

/// What to add, in g; below 0: what to take back.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Additions {
    /// Fat.
    pub fats: Rational,
    /// Sodium hydroxide as bought.
    pub naoh: Rational,
    /// Potassium hydroxide as bought.
    pub koh: Rational,
    /// Water.
    pub water: Rational,
}

impl Additions {
    /// All of it.
    pub fn total(&self) -> Rational {
        &self.fats + &self.naoh + &self.koh + &self.water
    }
}

/// The smallest additions that reach the target; each of them is the smallest possible.
///
/// # Errors
/// Those of [`Batch::check`]; `out_of_range` for a superfat not below 100 %; and
/// `cannot_be_amended`, saying which thing would have to be added that is not at hand, or taken
/// out that cannot be.
pub fn smallest(mixture: &Mixture, target: &Target, at_hand: &AtHand) -> Result<Additions, Faults> {
    mixture.batch.check()?;
    if *target.superfat.fraction() >= Rational::ONE {
        return Err(Faults::one(
            "out_of_range",
            "superfat",
            "a superfat lies below 100 %",
        ));
    }
    let lines = Lines::of(mixture, target, at_hand)?;
    let at_least = at_hand.fats.as_ref().map(|fats| &fats.at_least);
    let mut least = at_least.cloned().unwrap_or_default();
    let fats_at_hand = at_hand.fats.is_some();
    for (line, limit, name) in lines.each() {
        let needed = line.reach(limit, &least, fats_at_hand);
        least = needed.map_err(|why| Faults::one("cannot_be_amended", name, why.says(name)))?;
    }
    // A thing that is not at hand fixes the fat exactly, which a later one may have moved.
    for (line, limit, name) in lines.each() {
        if !limit.holds(&line.at(&least)) {
            return Err(Faults::one(
                "cannot_be_amended",
                name,
                format!(
                    "with the fat that other things ask for, {} would have to be added as well; \
                     accepted: have it at hand, or leave its target out",
                    words(name)
                ),
            ));
        }
    }
    Ok(Additions {
        naoh: lines.naoh.at(&least),
        koh: lines.koh.at(&least),
        water: lines.water.at(&least),
        fats: least,
    })
}

/// The thing of a place, for sentences.
fn words(name: &str) -> &'static str {
    match name {
        "naoh" => "sodium hydroxide",
        "koh" => "potassium hydroxide",
        _ => "water",
    }
}

/// What is to be added of each, over the grams of fat that are added.
struct Lines {
    naoh: Line,
    koh: Line,
    water: Line,
    limits: [Limit; 3],
}

impl Lines {
    fn of(mixture: &Mixture, target: &Target, at_hand: &AtHand) -> Result<Self, Faults> {
        let batch = &mixture.batch;
        let rest = target.superfat.rest();
        let fat_koh = at_hand.fats.as_ref().map(|fats| fats.koh.clone());
        let hydroxide = Line {
            start: rest.fraction() * effect(&batch.fats) + effect(&batch.acids),
            slope: rest.fraction() * fat_koh.unwrap_or_default(),
        };
        let present = |name: &str| -> (Rational, Rational) {
            let portions = batch.alkalis.iter().filter(|alkali| alkali.name == name);
            portions.fold((Rational::ZERO, Rational::ZERO), |(mass, koh), alkali| {
                (mass + &alkali.mass, koh + alkali.effect())
            })
        };
        let (naoh_mass, naoh_effect) = present("naoh");
        let (koh_mass, koh_effect) = present("koh");
        // How much of the hydroxide each alkali shall come to.
        let (naoh_asked, koh_asked) = match &target.koh_share {
            Some(share) => {
                let part = |share: &Share| hydroxide.times(share.fraction());
                (part(&share.rest()), part(share))
            }
            None if at_hand.naoh.is_some() || at_hand.koh.is_none() => {
                (hydroxide.less(&koh_effect), Line::flat(koh_effect.clone()))
            }
            None => (
                Line::flat(naoh_effect.clone()),
                hydroxide.less(&naoh_effect),
            ),
        };
        let per_gram = |purity: &Option<Share>| {
            let purity = purity.as_ref().map(Share::fraction);
            purity.cloned().unwrap_or(Rational::ONE)
        };
        let (naoh_purity, koh_purity) = (per_gram(&at_hand.naoh), per_gram(&at_hand.koh));
        let grams = |line: Line, per_gram: &Rational, at: &str| {
            line.over(per_gram).ok_or_else(|| {
                Faults::one("out_of_range", at, "a purity lies above 0 and up to 100 %")
            })
        };
        let naoh = grams(
            naoh_asked.less(&naoh_effect),
            &(&naoh_purity * &naoh_to_koh()),
            "naoh_purity",
        )?;
        let koh = grams(koh_asked.less(&koh_effect), &koh_purity, "koh_purity")?;
        let water = match &target.water {
            None => Line::flat(Rational::ZERO),
            Some(water) => {
                let alkalis = [
                    (&naoh, &naoh_mass, naoh_purity, naoh_pure(&naoh_effect)),
                    (&koh, &koh_mass, koh_purity, koh_effect),
                ];
                water_asked(water, batch, &alkalis)?.less(&mixture.water)
            }
        };
        let limit = |at_hand_it_is: bool, present: Rational| match (at_hand_it_is, at_hand.apart) {
            (_, true) if present.is_positive() => Limit::AtLeast(-present, at_hand_it_is),
            (true, _) => Limit::AtLeast(Rational::ZERO, true),
            (false, _) => Limit::Nothing,
        };
        let limits = [
            limit(at_hand.naoh.is_some(), naoh_mass),
            limit(at_hand.koh.is_some(), koh_mass),
            limit(at_hand.water, mixture.water.clone()),
        ];
        Ok(Self {
            naoh,
            koh,
            water,
            limits,
        })
    }

    fn each(&self) -> [(&Line, &Limit, &'static str); 3] {
        [
            (&self.naoh, &self.limits[0], "naoh"),
            (&self.koh, &self.limits[1], "koh"),
            (&self.water, &self.limits[2], "water"),
        ]
    }
}

/// g NaOH of so many g KOH.
fn naoh_pure(koh: &Rational) -> Rational {
    koh.checked_div(&naoh_to_koh()).unwrap_or_default()
}

/// All water that the rule asks for, without what it counts as water already.
fn water_asked(
    water: &Water,
    batch: &Batch,
    alkalis: &[(&Line, &Rational, Rational, Rational); 2],
) -> Result<Line, Faults> {
    let ratio = match &water.rule {
        WaterRule::OfFats(share) => {
            let fats: Rational = batch.fats.iter().map(|fat| &fat.mass).sum();
            let fats = Line {
                start: fats,
                slope: Rational::ONE,
            };
            let asked = fats.times(share.fraction());
            return Ok(if water.count_alkali_water {
                alkalis
                    .iter()
                    .fold(asked, |asked, (line, mass, purity, pure)| {
                        let other = Rational::ONE - purity;
                        asked.minus(&line.times(&other)).less(&(*mass - pure))
                    })
            } else {
                asked
            });
        }
        WaterRule::LyeConcentration(share) => {
            let ratio = share.rest().fraction().checked_div(share.fraction());
            ratio.ok_or_else(|| {
                Faults::one(
                    "out_of_range",
                    "water.lye_concentration",
                    "a lye concentration lies above 0 and below 100 %",
                )
            })?
        }
        WaterRule::WaterToLye(ratio) => ratio.number().clone(),
    };
    let zero = Line::flat(Rational::ZERO);
    Ok(alkalis
        .iter()
        .fold(zero, |asked, (line, mass, purity, pure)| {
            let (per_added, for_present) = if water.count_alkali_water {
                let other = Rational::ONE - purity;
                (&ratio * purity - other, &ratio * pure - (*mass - pure))
            } else {
                (ratio.clone(), &ratio * *mass)
            };
            asked.plus(&line.times(&per_added)).less(&-for_present)
        }))
}

/// Additions that make the batch a larger one of the same recipe: every part is brought to its
/// planned proportion to the part that is furthest above it.
///
/// `planned` and `actual` are the masses of the same parts, in g. None if a part is there that was
/// not planned.
///
/// ```
/// use lixivium::amend::enlarge;
/// use lixivium::exact::Rational;
/// let grams = |list: &[i64]| -> Vec<_> { list.iter().map(|g| Rational::integer(*g)).collect() };
/// let added = enlarge(&grams(&[500, 300, 100]), &grams(&[550, 300, 90])).unwrap();
/// assert_eq!(added, grams(&[0, 30, 20]));
/// ```
pub fn enlarge(planned: &[Rational], actual: &[Rational]) -> Option<Vec<Rational>> {
    let mut scale = Rational::ZERO;
    for (planned, actual) in planned.iter().zip(actual) {
        if actual.is_zero() {
            continue;
        }
        scale = scale.max(actual.checked_div(planned)?);
    }
    let each = planned.iter().zip(actual);
    Some(
        each.map(|(planned, actual)| planned * &scale - actual)
            .collect(),
    )
}
