//! Weights as they were written down somewhere: what they amount to, what follows from them, what
//! is missing and what does not fit together. Nothing is corrected.

use crate::assurance::{Batch, Bounds, Portion};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Faults};
use crate::quantity::{Quantity, Ratio, Share};

/// A mass in g, as far as it is known: a point, a range, or not at all.
pub type Weight = Option<Interval>;

/// What was written down.
#[derive(Debug, Clone, Default)]
pub struct Record {
    /// Fats: what is known of each but its mass, and its mass.
    pub fats: Vec<(Portion, Weight)>,
    /// Alkalis that were used, by [`Portion::naoh`] and [`Portion::koh`].
    pub alkalis: Vec<(Portion, Weight)>,
    /// For each alkali that was taken from a stock solution its lye concentration, as fractions;
    /// its mass is then that of the solution, and its portion is of 1 g of that. Those past the end
    /// of the list, and none, are solid.
    pub stock: Vec<Weight>,
    /// Acids.
    pub acids: Vec<(Portion, Weight)>,
    /// Everything else that is neither fat, lye nor acid: its name and mass.
    pub others: Vec<(String, Weight)>,
    /// Water of the lye, without that of stock solutions.
    pub water: Weight,
    /// What else was written down about it.
    pub stated: Stated,
    /// How far a stated share may be from the one found, in points, and a stated mass or ratio in
    /// percent of itself, before it counts as inconsistent.
    pub tolerance: Share,
}

/// What was written down about a batch as a whole.
#[derive(Debug, Clone, Default)]
pub struct Stated {
    /// The superfat.
    pub superfat: Option<Share>,
    /// alkali / (alkali + water).
    pub lye_concentration: Option<Share>,
    /// water / alkali.
    pub water_to_lye: Option<Ratio>,
    /// Potassium hydroxide in the hydroxide, by moles.
    pub koh_share: Option<Share>,
    /// All fats, in g.
    pub total_fats: Option<Rational>,
    /// Everything together, in g.
    pub batter_mass: Option<Rational>,
}

/// A mass that was not written down, but follows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deduced {
    /// Its place, such as `fats[1]` or `water_mass`.
    pub at: String,
    /// The mass, in g.
    pub mass: Interval,
    /// What it follows from.
    pub from: &'static str,
}

/// Something that was stated and does not fit the weights.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inconsistency {
    /// What was stated, such as `superfat`.
    pub stated: &'static str,
    /// One plain sentence.
    pub says: String,
}

/// What the weights amount to. What is not known enough is left out.
#[derive(Debug, Clone, Default)]
pub struct Audit {
    /// The superfat, as reckoned with: ranges at their middle.
    pub superfat: Option<Share>,
    /// The superfat over all ranges.
    pub bounds: Option<Bounds>,
    /// All fats, in g.
    pub total_fats: Option<Interval>,
    /// Everything together, in g.
    pub batter_mass: Option<Interval>,
    /// alkali as weighed / (alkali as weighed + water).
    pub lye_concentration: Option<(Share, Share)>,
    /// water / alkali as weighed.
    pub water_to_lye: Option<(Ratio, Ratio)>,
    /// Potassium hydroxide in the hydroxide, by moles, as reckoned with.
    pub koh_share: Option<Share>,
    /// g KOH that the fats take up, with the acids, as reckoned with.
    pub full_need: Option<Rational>,
    /// Masses that follow from the rest.
    pub deduced: Vec<Deduced>,
    /// Places of masses that are not known and do not follow.
    pub unknown: Vec<String>,
    /// What does not fit together.
    pub inconsistencies: Vec<Inconsistency>,
}

/// Works out what was written down.
///
/// A missing mass is deduced where it is the only one that is missing: of a fat from the stated
/// total of the fats, of anything from the stated batter, of the water from the stated lye
/// concentration or ratio. Each is told in [`Audit::deduced`].
///
/// # Errors
/// Those of [`Batch::check`]; `negative` if what is stated leaves less than nothing for a mass that
/// is missing, `no_fats` if there is no fat.
///
/// ```
/// use lixivium::assurance::Portion;
/// use lixivium::audit::{Record, audit};
/// use lixivium::exact::{Interval, Rational};
///
/// let number = |text| Rational::parse(text).unwrap();
/// let point = |text| Interval::point(number(text));
/// let record = Record {
///     fats: vec![(Portion::exact("fat", number("0"), number("0.19"), point("0.19")), Some(point("1000")))],
///     alkalis: vec![(Portion::exact("koh", number("0"), number("1"), point("1")), Some(point("171")))],
///     ..Record::default()
/// };
/// let found = audit(&record).unwrap();
/// assert_eq!(found.superfat.unwrap().fraction().to_string(), "1/10");
/// assert_eq!(found.unknown, ["water_mass"]);
/// ```
pub fn audit(record: &Record) -> Result<Audit, Faults> {
    if record.fats.is_empty() {
        return Err(Faults::one(
            "no_fats",
            "fats",
            "a batch has at least one fat",
        ));
    }
    let mut weights = Weights::of(record);
    weights.check()?;
    let mut audit = Audit::default();
    weights.deduce(record, &mut audit.deduced)?;
    audit.unknown = weights.unknown();
    let batch = weights.batch(record);
    audit.total_fats = sum(&weights.fats);
    let alkali = weights.solid(record);
    audit.batter_mass = weights.everything();
    if let Some(batch) = &batch {
        batch.check()?;
        audit.superfat = batch.superfat();
        audit.bounds = Some(batch.bounds()?);
    }
    audit.full_need = full_need(record, &weights);
    audit.koh_share = koh_share(record, &weights);
    if let (Some(alkali), Some(water)) = (&alkali, &weights.all_water(record)) {
        let part = |part: &Rational, rest: &Rational| {
            Some(Share::of_one(part.checked_div(&(part + rest))?))
        };
        // The concentration rises with the alkali and falls with the water.
        let low = part(alkali.low(), water.high());
        audit.lye_concentration = low.zip(part(alkali.high(), water.low()));
        let ratio = water.checked_div(alkali);
        audit.water_to_lye =
            ratio.map(|r| (Ratio::new(r.low().clone()), Ratio::new(r.high().clone())));
    }
    audit.inconsistencies = compare(record, &audit);
    Ok(audit)
}

impl Audit {
    /// What to mind.
    pub fn cautions(&self) -> Vec<Caution> {
        let mut cautions = crate::plan::bench_cautions();
        let percent = |share: &Share| share.to_base().to_fixed(2);
        if let Some(bounds) = &self.bounds
            && bounds.lye_heavy_possible()
        {
            let surely = bounds.high.superfat.fraction().is_negative();
            cautions.push(if surely {
                Caution::new(
                    "lye_heavy",
                    format!(
                        "These weights have more alkali than the fats can take up: the superfat is \
                         {} % at best. Do not use or sell this soap.",
                        percent(&bounds.high.superfat)
                    ),
                )
            } else {
                Caution::new(
                    "may_be_lye_heavy",
                    format!(
                        "Over the ranges of these weights and fats the superfat lies from {} % to \
                         {} %; below 0 the bar keeps free alkali.",
                        percent(&bounds.low.superfat),
                        percent(&bounds.high.superfat)
                    ),
                )
            });
        }
        if self.superfat.is_none() {
            cautions.push(Caution::new(
                "superfat_unknown",
                format!(
                    "The superfat cannot be told while these are not known: {}.",
                    self.unknown.join(", ")
                ),
            ));
        }
        cautions
    }
}

/// The masses while they are worked out.
struct Weights {
    fats: Vec<Weight>,
    alkalis: Vec<Weight>,
    acids: Vec<Weight>,
    others: Vec<Weight>,
    water: Weight,
}

impl Weights {
    fn of(record: &Record) -> Self {
        let of = |list: &[(Portion, Weight)]| list.iter().map(|(_, w)| w.clone()).collect();
        Self {
            fats: of(&record.fats),
            alkalis: of(&record.alkalis),
            acids: of(&record.acids),
            others: record.others.iter().map(|(_, w)| w.clone()).collect(),
            water: record.water.clone(),
        }
    }

    fn check(&mut self) -> Result<(), Faults> {
        let mut faults = Faults::new();
        for (at, weight) in self.each() {
            if weight.as_ref().is_some_and(|w| w.low().is_negative()) {
                faults.add("negative", at, "a mass is not below 0; accepted: 0 or more");
            }
        }
        faults.or(())
    }

    fn deduce(&mut self, record: &Record, deduced: &mut Vec<Deduced>) -> Result<(), Faults> {
        let stated = &record.stated;
        if let Some(total) = &stated.total_fats {
            let fats = self.fats.iter_mut().enumerate();
            let fats = fats.map(|(i, fat)| (format!("fats[{i}]"), fat));
            only_missing(fats.collect(), total, "total_fats", deduced)?;
        }
        if self.water.is_none()
            && let Some(alkali) = self.solid(record)
            && let Some(in_stock) = self.stock_water(record)
        {
            let concentration = stated.lye_concentration.as_ref();
            let by_concentration =
                concentration.and_then(|c| c.rest().fraction().checked_div(c.fraction()));
            let (ratio, from) = match (by_concentration, &stated.water_to_lye) {
                (Some(ratio), _) => (Some(ratio), "lye_concentration"),
                (None, ratio) => (ratio.as_ref().map(|r| r.number().clone()), "water_to_lye"),
            };
            if let Some(ratio) = ratio {
                let mass = &(&alkali * &Interval::point(ratio)) - &in_stock;
                if mass.low().is_negative() {
                    let says = format!(
                        "the {} stated leaves {} g of water beside that of the stock solutions, \
                         which is below 0; accepted: less of them, or more water",
                        from.replace('_', " "),
                        mass.low().to_fixed(2)
                    );
                    return Err(Faults::one("negative", format!("stated.{from}"), says));
                }
                deduced.push(Deduced {
                    at: "water_mass".to_owned(),
                    mass: mass.clone(),
                    from,
                });
                self.water = Some(mass);
            }
        }
        if let Some(batter) = &stated.batter_mass {
            only_missing(self.each(), batter, "batter_mass", deduced)?;
        }
        Ok(())
    }

    fn each(&mut self) -> Vec<(String, &mut Weight)> {
        let lists = [
            ("fats", &mut self.fats),
            ("alkalis", &mut self.alkalis),
            ("acids", &mut self.acids),
            ("others", &mut self.others),
        ];
        let mut each = Vec::new();
        for (name, list) in lists {
            let list = list.iter_mut().enumerate();
            each.extend(list.map(|(i, weight)| (format!("{name}[{i}]"), weight)));
        }
        each.push(("water_mass".to_owned(), &mut self.water));
        each
    }

    fn unknown(&mut self) -> Vec<String> {
        let each = self.each().into_iter();
        each.filter_map(|(at, weight)| weight.is_none().then_some(at))
            .collect()
    }

    fn everything(&mut self) -> Weight {
        let each = self.each();
        let zero = Interval::point(Rational::ZERO);
        let add = |total: Interval, (_, weight): (_, &mut Weight)| Some(&total + weight.as_ref()?);
        each.into_iter().try_fold(zero, add)
    }

    /// Alkali as bought, without the water of stock solutions.
    fn solid(&self, record: &Record) -> Weight {
        self.parts(record, |strength| strength.clone())
    }

    fn stock_water(&self, record: &Record) -> Weight {
        let one = Interval::point(Rational::ONE);
        self.parts(record, |strength| &one - strength)
    }

    fn all_water(&self, record: &Record) -> Weight {
        Some(self.water.as_ref()? + &self.stock_water(record)?)
    }

    /// The sum of a part of each alkali, which for solid alkali is that at a strength of 1.
    fn parts(&self, record: &Record, part: impl Fn(&Interval) -> Interval) -> Weight {
        let one = Interval::point(Rational::ONE);
        let each = self.alkalis.iter().enumerate().map(|(i, weight)| {
            let strength = record.stock.get(i).and_then(Option::as_ref);
            Some(weight.as_ref()? * &part(strength.unwrap_or(&one)))
        });
        sum(&each.collect::<Vec<_>>())
    }

    /// The batch, if all masses that the superfat depends on are known.
    fn batch(&self, record: &Record) -> Option<Batch> {
        Some(Batch {
            fats: weighed(&record.fats, &self.fats)?,
            alkalis: weighed(&record.alkalis, &self.alkalis)?,
            acids: weighed(&record.acids, &self.acids)?,
        })
    }
}

fn sum(weights: &[Weight]) -> Weight {
    let zero = Interval::point(Rational::ZERO);
    let add = |total: Interval, weight: &Weight| Some(&total + weight.as_ref()?);
    weights.iter().try_fold(zero, add)
}

fn weighed(list: &[(Portion, Weight)], weights: &[Weight]) -> Option<Vec<Portion>> {
    let half = const { Rational::decimal(5, 1) };
    let each = list.iter().zip(weights).map(|((portion, _), weight)| {
        let weight = weight.as_ref()?;
        Some(Portion {
            mass: weight.middle(),
            mass_error: weight.width() * &half,
            ..portion.clone()
        })
    });
    each.collect()
}

/// Gives the only missing mass what the others leave of the whole.
fn only_missing(
    weights: Vec<(String, &mut Weight)>,
    whole: &Rational,
    from: &'static str,
    deduced: &mut Vec<Deduced>,
) -> Result<(), Faults> {
    let mut left = Interval::point(whole.clone());
    let mut missing = None;
    for (at, weight) in weights {
        match (weight.as_ref(), &missing) {
            (Some(known), _) => left = &left - known,
            (None, None) => missing = Some((at, weight)),
            (None, Some(_)) => return Ok(()),
        }
    }
    let Some((at, weight)) = missing else {
        return Ok(());
    };
    if left.low().is_negative() {
        return Err(Faults::one(
            "negative",
            format!("stated.{from}"),
            format!(
                "the {from} stated, {} g, leaves {} g for {at}, which is below 0; accepted: more \
                 than the weights that are known come to",
                whole.to_plain(),
                left.low().to_plain()
            ),
        ));
    }
    *weight = Some(left.clone());
    deduced.push(Deduced {
        at,
        mass: left,
        from,
    });
    Ok(())
}

fn full_need(record: &Record, weights: &Weights) -> Option<Rational> {
    let effect = |list, weights: &[Weight]| -> Option<Rational> {
        Some(weighed(list, weights)?.iter().map(Portion::effect).sum())
    };
    Some(effect(&record.fats, &weights.fats)? + effect(&record.acids, &weights.acids)?)
}

/// By moles, as reckoned with: g KOH are proportional to them.
fn koh_share(record: &Record, weights: &Weights) -> Option<Share> {
    let alkalis = weighed(&record.alkalis, &weights.alkalis)?;
    let all: Rational = alkalis.iter().map(Portion::effect).sum();
    let koh = alkalis.iter().filter(|alkali| alkali.name == "koh");
    let koh: Rational = koh.map(Portion::effect).sum();
    koh.checked_div(&all).map(Share::of_one)
}

/// What was stated against what was found.
fn compare(record: &Record, audit: &Audit) -> Vec<Inconsistency> {
    let mut found = Vec::new();
    let stated = &record.stated;
    let points = record.tolerance.to_base();
    let mut check = |name, stated: Option<Rational>, range: Option<Interval>, slack, unit: &str| {
        let (Some(stated), Some(range)) = (stated, range) else {
            return;
        };
        let slack = Interval::new(-&slack, slack).unwrap_or(Interval::point(Rational::ZERO));
        if !(&range + &slack).contains(&stated) {
            let (low, high) = (range.low().to_fixed(2), range.high().to_fixed(2));
            let weights = if low == high {
                format!("{low}{unit}")
            } else {
                format!("{low} to {high}{unit}")
            };
            found.push(Inconsistency {
                stated: name,
                says: format!(
                    "{} is stated as {}{unit}, but the weights come to {weights}.",
                    name.replace('_', " "),
                    stated.to_fixed(2)
                ),
            });
        }
    };
    let share = |share: &Option<Share>| share.as_ref().map(Quantity::to_base);
    let point = |share: &Option<Share>| share.as_ref().map(|s| Interval::point(s.to_base()));
    let of = |number: &Rational| (number * record.tolerance.fraction()).abs();
    check(
        "superfat",
        share(&stated.superfat),
        point(&audit.superfat),
        points.clone(),
        " %",
    );
    check(
        "koh_share",
        share(&stated.koh_share),
        point(&audit.koh_share),
        points.clone(),
        " %",
    );
    let concentration = audit.lye_concentration.as_ref();
    check(
        "lye_concentration",
        share(&stated.lye_concentration),
        concentration.and_then(|(low, high)| Interval::new(low.to_base(), high.to_base())),
        points,
        " %",
    );
    let ratio = stated.water_to_lye.as_ref().map(|r| r.number().clone());
    let slack = ratio.as_ref().map(of).unwrap_or_default();
    let found_ratio = audit.water_to_lye.as_ref();
    check(
        "water_to_lye",
        ratio,
        found_ratio.and_then(|(l, h)| Interval::new(l.number().clone(), h.number().clone())),
        slack,
        "",
    );
    let masses = [
        ("total_fats", &stated.total_fats, &audit.total_fats),
        ("batter_mass", &stated.batter_mass, &audit.batter_mass),
    ];
    for (name, mass, weights) in masses {
        let slack = mass.as_ref().map(of).unwrap_or_default();
        check(name, mass.clone(), weights.clone(), slack, " g");
    }
    found
}
