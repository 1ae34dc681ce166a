//! Weights as they were written down somewhere: what they amount to, what follows from them, what
//! is missing and what does not fit together. Nothing is corrected.

use crate::assurance::{Batch, Bounds, Portion, effect, effect_of};
use crate::exact::{Interval, Rational};
use crate::fault::{Caution, Faults, listed};
use crate::quantity::{Quantity, Share};

/// A mass in g, as far as it is known: a point, a range, or not at all.
pub type Weight = Option<Interval>;

/// What was written down.
#[derive(Debug, Clone, Default)]
pub struct Record {
    /// What went into the batter, at least one fat.
    pub lines: Vec<Line>,
    /// What else was written down about it.
    pub stated: Figures<Rational>,
    /// How far a stated share may be from the one found, in points, and a stated mass or ratio in
    /// percent of itself, before it counts as inconsistent.
    pub tolerance: Share,
}

/// Something that went into the batter.
#[derive(Debug, Clone)]
pub struct Line {
    /// Its place, such as `fats[1]` or `water_mass`.
    pub at: String,
    /// What it is.
    pub what: What,
    /// Its mass.
    pub mass: Weight,
}

/// What something in the batter is, and what is known of it but its mass.
#[derive(Debug, Clone)]
pub enum What {
    /// A fat.
    Fat(Portion),
    /// An alkali, by [`Portion::naoh`] or [`Portion::koh`], and the lye concentration of the stock
    /// solution that it was taken from, as a fraction; 1 where it was solid. The mass is that of the
    /// solution, and the portion is of 1 g of that.
    Alkali(Portion, Interval),
    /// An acid.
    Acid(Portion),
    /// Water of the lye, beside that of stock solutions.
    Water,
    /// Everything else.
    Other,
}

/// Figures of a batch as a whole, shares in percent.
#[derive(Debug, Clone, Default)]
pub struct Figures<T> {
    /// The superfat, with all ranges at their middle.
    pub superfat: Option<T>,
    /// alkali as weighed / (alkali as weighed + water).
    pub lye_concentration: Option<T>,
    /// water / alkali as weighed.
    pub water_to_lye: Option<T>,
    /// Potassium hydroxide in the hydroxide, by moles, with all ranges at their middle.
    pub koh_share: Option<T>,
    /// All fats, in g.
    pub total_fats: Option<T>,
    /// Everything together, in g.
    pub batter_mass: Option<T>,
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
#[derive(Debug, Clone)]
pub struct Audit {
    /// The figures of the batch.
    pub found: Figures<Interval>,
    /// The superfat over all ranges.
    pub bounds: Option<Bounds>,
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
/// concentration or ratio. It is put into the record, and told in [`Audit::deduced`].
///
/// # Errors
/// Those of [`Batch::check`]; `negative` if what is stated leaves less than nothing for a mass that
/// is missing, `no_fats` if there is no fat.
///
/// ```
/// use lixivium::assurance::Portion;
/// use lixivium::audit::{Line, Record, What, audit};
/// use lixivium::exact::{Interval, Rational};
///
/// let number = |text| Rational::parse(text).unwrap();
/// let point = |text| Interval::point(number(text));
/// let fat = Portion::exact("fat", number("0"), number("0.19"), point("0.19"));
/// let koh = Portion::exact("koh", number("0"), number("1"), point("1"));
/// let line = |at: &str, what, mass| Line { at: at.to_owned(), what, mass };
/// let mut record = Record {
///     lines: vec![
///         line("fat", What::Fat(fat), Some(point("1000"))),
///         line("alkali", What::Alkali(koh, point("1")), Some(point("171"))),
///         line("water", What::Water, None),
///     ],
///     ..Record::default()
/// };
/// let found = audit(&mut record).unwrap();
/// assert_eq!(found.found.superfat, Some(point("10")));
/// assert_eq!(found.unknown, ["water"]);
/// ```
pub fn audit(record: &mut Record) -> Result<Audit, Faults> {
    let lines = &mut record.lines;
    if !lines.iter().any(|line| is_fat(&line.what)) {
        let says = "a batch has at least one fat";
        return Err(Faults::one("no_fats", "fats", says));
    }
    let mut faults = Faults::new();
    for line in &*lines {
        if line.mass.as_ref().is_some_and(|m| m.low().is_negative()) {
            let says = "a mass is not below 0; accepted: 0 or more";
            faults.add("negative", &line.at, says);
        }
    }
    faults.or(())?;
    let mut deduced = Vec::new();
    deduce(lines, &record.stated, &mut deduced)?;

    let total_fats = sum(lines, is_fat);
    let acids = sum(lines, |what| matches!(what, What::Acid(_)));
    let lye = lye(lines);
    let batch = batch(lines);
    let (mut full_need, mut koh_share, mut bounds, mut superfat) = (None, None, None, None);
    let need_known = total_fats.is_some() && acids.is_some();
    if need_known {
        full_need = Some(effect(&batch.fats) + effect(&batch.acids));
    }
    if lye.is_some() {
        // By moles, as reckoned with: g KOH are proportional to them.
        let koh = effect_of("koh", &batch.alkalis);
        koh_share = koh.checked_div(&effect(&batch.alkalis));
    }
    if need_known && lye.is_some() {
        bounds = Some(batch.bounds()?);
        superfat = batch.superfat();
    }
    let (mut lye_concentration, mut water_to_lye) = (None, None);
    if let (Some((alkali, in_stock)), Some(water)) = (lye, sum(lines, is_water)) {
        let water = &water + &in_stock;
        let part = |part: &Rational, rest: &Rational| {
            (part * &Rational::HUNDRED).checked_div(&(part + rest))
        };
        // The concentration rises with the alkali and falls with the water.
        let low = part(alkali.low(), water.high());
        let ends = low.zip(part(alkali.high(), water.low()));
        lye_concentration = ends.and_then(|(low, high)| Interval::new(low, high));
        water_to_lye = water.checked_div(&alkali);
    }
    let found = Figures {
        superfat: superfat.map(|share| Interval::point(share.to_base())),
        lye_concentration,
        water_to_lye,
        koh_share: koh_share.map(|share| Interval::point(share * Rational::HUNDRED)),
        total_fats,
        batter_mass: sum(lines, |_| true),
    };
    let mut unknown = Vec::new();
    for line in &*lines {
        if line.mass.is_none() {
            unknown.push(line.at.clone());
        }
    }
    Ok(Audit {
        inconsistencies: compare(record, &found),
        found,
        bounds,
        full_need,
        deduced,
        unknown,
    })
}

impl Audit {
    /// What to mind.
    pub fn cautions(&self) -> Vec<Caution> {
        let mut cautions = crate::plan::bench_cautions();
        let percent = |share: &Share| share.to_base().fixed(2);
        if let Some(bounds) = &self.bounds
            && bounds.lye_heavy_possible()
        {
            let (low, high) = (&bounds.low.superfat, &bounds.high.superfat);
            cautions.push(if high.fraction().is_negative() {
                Caution::new(
                    "lye_heavy",
                    format!(
                        "These weights have more alkali than the fats can take up: the superfat is \
                         {} % at best. Do not use or sell this soap.",
                        percent(high)
                    ),
                )
            } else {
                Caution::new(
                    "may_be_lye_heavy",
                    format!(
                        "Over the ranges of these weights and fats the superfat lies from {} % to \
                         {} %; below 0 the bar keeps free alkali.",
                        percent(low),
                        percent(high)
                    ),
                )
            });
        }
        if self.found.superfat.is_none() {
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

fn is_fat(what: &What) -> bool {
    matches!(what, What::Fat(_))
}

fn is_water(what: &What) -> bool {
    matches!(what, What::Water)
}

/// The mass of all lines of a kind, if it is known.
fn sum(lines: &[Line], kind: fn(&What) -> bool) -> Weight {
    let mut sum = Interval::point(Rational::ZERO);
    for line in lines {
        if kind(&line.what) {
            sum = &sum + line.mass.as_ref()?;
        }
    }
    Some(sum)
}

/// Alkali as bought, and the water of stock solutions beside it.
fn lye(lines: &[Line]) -> Option<(Interval, Interval)> {
    let one = Interval::point(Rational::ONE);
    let mut alkali = Interval::point(Rational::ZERO);
    let mut water = alkali.clone();
    for line in lines {
        if let What::Alkali(_, strength) = &line.what {
            let mass = line.mass.as_ref()?;
            alkali = &alkali + &(mass * strength);
            water = &water + &(mass * &(&one - strength));
        }
    }
    Some((alkali, water))
}

/// The portions whose masses are known.
fn batch(lines: &[Line]) -> Batch {
    let mut batch = Batch {
        fats: Vec::new(),
        alkalis: Vec::new(),
        acids: Vec::new(),
    };
    for line in lines {
        let (list, portion) = match &line.what {
            What::Fat(portion) => (&mut batch.fats, portion),
            What::Alkali(portion, _) => (&mut batch.alkalis, portion),
            What::Acid(portion) => (&mut batch.acids, portion),
            What::Water | What::Other => continue,
        };
        if let Some(mass) = &line.mass {
            let mut portion = portion.clone();
            portion.mass = mass.middle();
            portion.mass_error = mass.width() * const { Rational::decimal(5, 1) };
            list.push(portion);
        }
    }
    batch
}

/// Gives masses that are missing what is stated.
fn deduce(
    lines: &mut [Line],
    stated: &Figures<Rational>,
    deduced: &mut Vec<Deduced>,
) -> Result<(), Faults> {
    of_whole(lines, is_fat, &stated.total_fats, "total_fats", deduced)?;
    let by_concentration = stated
        .lye_concentration
        .as_ref()
        .and_then(|percent| (Rational::HUNDRED - percent).checked_div(percent));
    let (ratio, from) = match by_concentration {
        Some(ratio) => (Some(ratio), "lye_concentration"),
        None => (stated.water_to_lye.clone(), "water_to_lye"),
    };
    if let (Some((alkali, in_stock)), Some(ratio)) = (lye(lines), ratio) {
        let water = &(&alkali * &Interval::point(ratio)) - &in_stock;
        if let Some((line, left)) = missing(lines, is_water, water) {
            if left.low().is_negative() {
                let says = format_args!(
                    "the {} stated leaves {} g of water beside that of the stock solutions, which \
                     is below 0; accepted: less of them, or more water",
                    from.replace('_', " "),
                    left.low().fixed(2)
                );
                return Err(Faults::one("negative", format_args!("stated.{from}"), says));
            }
            give(line, left, from, deduced);
        }
    }
    of_whole(lines, |_| true, &stated.batter_mass, "batter_mass", deduced)
}

/// Gives the only mass of a kind that is missing what is left of the whole, if that is stated.
fn of_whole(
    lines: &mut [Line],
    kind: fn(&What) -> bool,
    whole: &Option<Rational>,
    from: &'static str,
    deduced: &mut Vec<Deduced>,
) -> Result<(), Faults> {
    if let Some(whole) = whole
        && let Some((line, left)) = missing(lines, kind, Interval::point(whole.clone()))
    {
        if left.low().is_negative() {
            let says = format_args!(
                "the {from} stated, {} g, leaves {} g for {}, which is below 0; accepted: more \
                 than the weights that are known come to",
                whole.to_plain(),
                left.low().to_plain(),
                line.at
            );
            return Err(Faults::one("negative", format_args!("stated.{from}"), says));
        }
        give(line, left, from, deduced);
    }
    Ok(())
}

/// The only line of a kind whose mass is missing, and what the others leave of the whole.
fn missing(
    lines: &mut [Line],
    kind: fn(&What) -> bool,
    whole: Interval,
) -> Option<(&mut Line, Interval)> {
    let mut left = whole;
    let mut missing = None;
    for line in lines {
        if kind(&line.what) {
            match (&line.mass, &missing) {
                (Some(known), _) => left = &left - known,
                (None, None) => missing = Some(line),
                (None, Some(_)) => return None,
            }
        }
    }
    Some((missing?, left))
}

/// Gives a line its mass, and tells so.
fn give(line: &mut Line, mass: Interval, from: &'static str, deduced: &mut Vec<Deduced>) {
    line.mass = Some(mass.clone());
    let at = line.at.clone();
    deduced.push(Deduced { at, mass, from });
}

/// What was stated against what was found.
fn compare(record: &Record, found: &Figures<Interval>) -> Vec<Inconsistency> {
    let mut all = Vec::new();
    let mut compare = |name, unit, stated: &Option<Rational>, found: &Option<Interval>| {
        let (Some(stated), Some(found)) = (stated, found) else {
            return;
        };
        let slack = match unit {
            " %" => record.tolerance.to_base().max(Rational::ZERO),
            _ => (stated * record.tolerance.fraction()).abs(),
        };
        if found.low() - &slack <= *stated && *stated <= found.high() + &slack {
            return;
        }
        let (low, high) = (found.low().to_fixed(2), found.high().to_fixed(2));
        let to_high = if low == high {
            String::new()
        } else {
            format!(" to {high}")
        };
        all.push(Inconsistency {
            stated: name,
            says: format!(
                "{} is stated as {}{unit}, but the weights come to {low}{to_high}{unit}.",
                name.replace('_', " "),
                stated.fixed(2)
            ),
        });
    };
    let stated = &record.stated;
    compare("superfat", " %", &stated.superfat, &found.superfat);
    compare("koh_share", " %", &stated.koh_share, &found.koh_share);
    compare(
        "lye_concentration",
        " %",
        &stated.lye_concentration,
        &found.lye_concentration,
    );
    compare(
        "water_to_lye",
        "",
        &stated.water_to_lye,
        &found.water_to_lye,
    );
    compare("total_fats", " g", &stated.total_fats, &found.total_fats);
    compare("batter_mass", " g", &stated.batter_mass, &found.batter_mass);
    all
}
