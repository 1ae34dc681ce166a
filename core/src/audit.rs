//! Weights as they were written down somewhere: what they amount to, what follows from them, what
//! is missing and what does not fit together. Nothing is corrected.

use crate::assurance::{Batch, Bounds, Portion, effect, effect_of};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Faults, listed};
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
    weights.deduce(&mut audit.deduced)?;
    for (at, mass) in &weights.all {
        if mass.is_none() {
            audit.unknown.push(at.clone());
        }
    }
    audit.total_fats = sum(weights.of_fats());
    audit.batter_mass = sum(&weights.all);
    let [fats, alkalis, acids] = weights.portions();
    if let (Some(fats), Some(acids)) = (&fats, &acids) {
        audit.full_need = Some(effect(fats) + effect(acids));
    }
    if let Some(alkalis) = &alkalis {
        // By moles, as reckoned with: g KOH are proportional to them.
        let koh = effect_of("koh", alkalis);
        audit.koh_share = koh.checked_div(&effect(alkalis)).map(Share::of_one);
    }
    if let (Some(fats), Some(alkalis), Some(acids)) = (fats, alkalis, acids) {
        let batch = Batch {
            fats,
            alkalis,
            acids,
        };
        audit.bounds = Some(batch.bounds()?);
        audit.superfat = batch.superfat();
    }
    if let Some((alkali, in_stock)) = weights.alkali()
        && let (_, Some(water)) = weights.water()
    {
        let water = water + &in_stock;
        let part = |part: &Rational, rest: &Rational| {
            Some(Share::of_one(part.checked_div(&(part + rest))?))
        };
        // The concentration rises with the alkali and falls with the water.
        let low = part(alkali.low(), water.high());
        audit.lye_concentration = low.zip(part(alkali.high(), water.low()));
        let ratio = water.checked_div(&alkali);
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
        let percent = |share: &Share| share.to_base().fixed(2);
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
                    listed(&self.unknown, ", ")
                ),
            ));
        }
        cautions
    }
}

/// A mass and its place.
type Placed = (String, Weight);

/// The masses while they are worked out: fats, alkalis, acids, everything else, water.
struct Weights<'a> {
    record: &'a Record,
    all: Vec<Placed>,
}

impl<'a> Weights<'a> {
    fn of(record: &'a Record) -> Self {
        let mut all = Vec::new();
        let mut add = |list: &str, i: usize, mass: &Weight| {
            all.push((format!("{list}[{i}]"), mass.clone()));
        };
        let lists = [
            ("fats", &record.fats),
            ("alkalis", &record.alkalis),
            ("acids", &record.acids),
        ];
        for (name, list) in lists {
            for (i, (_, mass)) in list.iter().enumerate() {
                add(name, i, mass);
            }
        }
        for (i, (_, mass)) in record.others.iter().enumerate() {
            add("others", i, mass);
        }
        all.push(("water_mass".to_owned(), record.water.clone()));
        Self { record, all }
    }

    fn of_fats(&self) -> &[Placed] {
        &self.all[..self.record.fats.len()]
    }

    fn water(&self) -> &Placed {
        &self.all[self.all.len() - 1]
    }

    fn check(&self) -> Result<(), Faults> {
        let mut faults = Faults::new();
        for (at, mass) in &self.all {
            if mass.as_ref().is_some_and(|mass| mass.low().is_negative()) {
                let says = "a mass is not below 0; accepted: 0 or more";
                faults.add("negative", at.clone(), says);
            }
        }
        faults.or(())
    }

    fn deduce(&mut self, deduced: &mut Vec<Deduced>) -> Result<(), Faults> {
        let stated = &self.record.stated;
        if let Some(total) = &stated.total_fats {
            let fats = &mut self.all[..self.record.fats.len()];
            only_missing(fats, total, "total_fats", deduced)?;
        }
        if let (_, None) = self.water()
            && let Some((alkali, in_stock)) = self.alkali()
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
                        mass.low().fixed(2)
                    );
                    return Err(Faults::one("negative", format_args!("stated.{from}"), says));
                }
                let water = self.all.len() - 1;
                give(&mut self.all[water], mass, from, deduced);
            }
        }
        if let Some(batter) = &stated.batter_mass {
            only_missing(&mut self.all, batter, "batter_mass", deduced)?;
        }
        Ok(())
    }

    /// Alkali as bought, and the water of stock solutions beside it.
    fn alkali(&self) -> Option<(Interval, Interval)> {
        let one = Interval::point(Rational::ONE);
        let mut solid = Interval::point(Rational::ZERO);
        let mut water = solid.clone();
        let masses = &self.all[self.record.fats.len()..];
        for (i, (_, mass)) in masses[..self.record.alkalis.len()].iter().enumerate() {
            let mass = mass.as_ref()?;
            let strength = self.record.stock.get(i).and_then(Option::as_ref);
            let strength = strength.unwrap_or(&one);
            solid = &solid + &(mass * strength);
            water = &water + &(mass * &(&one - strength));
        }
        Some((solid, water))
    }

    /// Fats, alkalis and acids with their masses, as far as these are known.
    fn portions(&self) -> [Option<Vec<Portion>>; 3] {
        let record = self.record;
        let mut masses = &self.all[..];
        [&record.fats, &record.alkalis, &record.acids].map(|list| {
            let own;
            (own, masses) = masses.split_at(list.len());
            weighed(list, own)
        })
    }
}

fn sum(weights: &[Placed]) -> Weight {
    let mut sum = Interval::point(Rational::ZERO);
    for (_, mass) in weights {
        sum = &sum + mass.as_ref()?;
    }
    Some(sum)
}

/// Portions with their masses, if all of these are known.
fn weighed(list: &[(Portion, Weight)], masses: &[Placed]) -> Option<Vec<Portion>> {
    let half = const { Rational::decimal(5, 1) };
    let mut portions = Vec::new();
    for ((portion, _), (_, mass)) in list.iter().zip(masses) {
        let mass = mass.as_ref()?;
        portions.push(Portion {
            mass: mass.middle(),
            mass_error: mass.width() * &half,
            ..portion.clone()
        });
    }
    Some(portions)
}

/// Gives the only missing mass what the others leave of the whole.
fn only_missing(
    weights: &mut [Placed],
    whole: &Rational,
    from: &'static str,
    deduced: &mut Vec<Deduced>,
) -> Result<(), Faults> {
    let mut left = Interval::point(whole.clone());
    let mut missing = None;
    for placed in weights {
        match (&placed.1, &missing) {
            (Some(known), _) => left = &left - known,
            (None, None) => missing = Some(placed),
            (None, Some(_)) => return Ok(()),
        }
    }
    let Some(missing) = missing else {
        return Ok(());
    };
    if left.low().is_negative() {
        return Err(Faults::one(
            "negative",
            format_args!("stated.{from}"),
            format_args!(
                "the {from} stated, {} g, leaves {} g for {}, which is below 0; accepted: more \
                 than the weights that are known come to",
                whole.to_plain(),
                left.low().to_plain(),
                missing.0
            ),
        ));
    }
    give(missing, left, from, deduced);
    Ok(())
}

/// Gives a missing mass its value, and tells so.
fn give(missing: &mut Placed, mass: Interval, from: &'static str, deduced: &mut Vec<Deduced>) {
    missing.1 = Some(mass.clone());
    let at = missing.0.clone();
    deduced.push(Deduced { at, mass, from });
}

/// What was stated against what was found.
fn compare(record: &Record, audit: &Audit) -> Vec<Inconsistency> {
    let stated = &record.stated;
    let share = |share: &Option<Share>| share.as_ref().map(Quantity::to_base);
    let point = |share: &Option<Share>| share.as_ref().map(|s| Interval::point(s.to_base()));
    let concentration = audit.lye_concentration.as_ref();
    let ratio = audit.water_to_lye.as_ref();
    let rows = [
        (
            "superfat",
            " %",
            share(&stated.superfat),
            point(&audit.superfat),
        ),
        (
            "koh_share",
            " %",
            share(&stated.koh_share),
            point(&audit.koh_share),
        ),
        (
            "lye_concentration",
            " %",
            share(&stated.lye_concentration),
            concentration.and_then(|(low, high)| Interval::new(low.to_base(), high.to_base())),
        ),
        (
            "water_to_lye",
            "",
            stated.water_to_lye.as_ref().map(|r| r.number().clone()),
            ratio.and_then(|(l, h)| Interval::new(l.number().clone(), h.number().clone())),
        ),
        (
            "total_fats",
            " g",
            stated.total_fats.clone(),
            audit.total_fats.clone(),
        ),
        (
            "batter_mass",
            " g",
            stated.batter_mass.clone(),
            audit.batter_mass.clone(),
        ),
    ];
    let mut found = Vec::new();
    for (name, unit, stated, range) in rows {
        let (Some(stated), Some(range)) = (stated, range) else {
            continue;
        };
        let slack = match unit {
            " %" => record.tolerance.to_base().max(Rational::ZERO),
            _ => (&stated * record.tolerance.fraction()).abs(),
        };
        if range.low() - &slack <= stated && stated <= range.high() + &slack {
            continue;
        }
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
                stated.fixed(2)
            ),
        });
    }
    found
}
