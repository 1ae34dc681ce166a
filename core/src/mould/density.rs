//! Densities of water, lye and fats, from published tables, in g/cm³.
//!
//! Between rows everything is interpolated linearly, in exact arithmetic. That adds less than
//! 0.1 kg/m³ for water and less than 1 kg/m³ for lye, which is within [`MEASURED_LYE`].

use crate::exact::{Interval, Rational, over};
use crate::fats::Fat;
use crate::quantity::{Density, Temperature};
use crate::tables::tables;
pub use crate::tables::{LyeDensity, LyeRow, WaterDensity};

/// A number that is known within a range, and where in it most likely.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spread {
    /// Inside the range.
    pub likely: Rational,
    /// The range.
    pub range: Interval,
}

impl Spread {
    /// A number that is known.
    pub fn point(number: Rational) -> Self {
        Self {
            range: Interval::point(number.clone()),
            likely: number,
        }
    }

    /// From `low` to `high`, which are in order.
    pub(crate) fn between(low: Rational, likely: Rational, high: Rational) -> Self {
        let range = Interval::new(low, high);
        Self {
            range: range.unwrap_or_else(|| Interval::point(likely.clone())),
            likely,
        }
    }

    /// Least, likely, most.
    pub(crate) fn of([low, likely, high]: [Rational; 3]) -> Self {
        Self::between(low, likely, high)
    }

    /// The same, so wide that `number` lies in it.
    fn widened(&self, number: &Rational) -> Self {
        let (low, high) = (self.range.low().clone(), self.range.high().clone());
        Self::between(
            low.min(number.clone()),
            self.likely.clone(),
            high.max(number.clone()),
        )
    }

    /// The sum of both.
    pub(crate) fn plus(&self, other: &Self) -> Self {
        Self {
            likely: &self.likely + &other.likely,
            range: &self.range + &other.range,
        }
    }

    /// The product of both.
    pub(crate) fn times(&self, other: &Self) -> Self {
        Self {
            likely: &self.likely * &other.likely,
            range: &self.range * &other.range,
        }
    }

    /// So many times as much; `factor` is not negative.
    pub(crate) fn scaled(&self, factor: &Rational) -> Self {
        let range = &self.range;
        Self::between(
            range.low() * factor,
            &self.likely * factor,
            range.high() * factor,
        )
    }

    /// The range of both.
    pub(crate) fn join(&self, other: &Self) -> Self {
        self.widened(other.range.low()).widened(other.range.high())
    }

    /// `dividend` divided by each of its numbers, which are above 0.
    pub(crate) fn dividing(&self, dividend: &Rational) -> Self {
        let by = |number| over(dividend, number);
        let range = &self.range;
        Self::between(by(range.high()), by(&self.likely), by(range.low()))
    }
}

/// The lowest pouring temperature for which lye densities are tabulated, in °C.
pub const COOLEST_POUR: Rational = Rational::integer(15);

/// The highest one, in °C.
pub const HOTTEST_POUR: Rational = Rational::integer(60);

/// The highest lye concentration for which densities are tabulated, as a fraction.
pub const STRONGEST_LYE: Rational = Rational::decimal(5, 1);

/// How far a measured density of a lye may be off, as a fraction.
///
/// Source: Hnědkovský et al., J. Chem. Eng. Data 52 (2007) 2237-2244, abstract: "about 0.1 %" for
/// sodium hydroxide; taken for potassium hydroxide too.
pub const MEASURED_LYE: Rational = Rational::decimal(1, 3);

/// How far an expansion that is inferred from a model may be off, as a fraction of it. For strong
/// sodium hydroxide, where the measured one is known, the model is off by more than this: common
/// sense, no source.
pub const INFERRED_EXPANSION: Rational = Rational::decimal(5, 1);

/// How far the step to a strength beyond the table may be off, as a fraction of it: common sense,
/// no source.
pub const INFERRED_STRENGTH: Rational = Rational::decimal(1, 1);

/// How much the density of a liquid fat falls with each °C, in g/cm³: least, likely, most.
///
/// Source: ISO 6883 and AOCS official methods (from memory): 0.00065 to 0.00070, mostly 0.00068.
pub const FAT_EXPANSION: [Rational; 3] = [
    Rational::decimal(65, 5),
    Rational::decimal(68, 5),
    Rational::decimal(70, 5),
];

/// The density that a fat without a published one is taken to have at 20 °C: least, likely,
/// most. The ends hold the published densities of all glycerides of the catalogue; the likely
/// value is that of most vegetable oils.
pub const UNKNOWN_FAT_DENSITY: [Rational; 3] = [
    Rational::decimal(89, 2),
    Rational::decimal(915, 3),
    Rational::decimal(98, 2),
];

/// The temperature at which a density without a stated temperature holds, in °C.
const REFERENCE_CELSIUS: Rational = Rational::integer(20);

/// The published densities of water, each with its source.
pub fn water_rows() -> &'static [WaterDensity] {
    &tables().water_densities
}

/// The published densities of lye, each with its source.
pub fn lye_rows() -> &'static [LyeDensity] {
    &tables().lye_densities
}

/// Density of water between 0.01 and 99 °C, or `None` outside of that.
///
/// Source: IAPWS R6-95(2018) at 101.325 kPa, `data/water_density.tsv`.
///
/// ```
/// use lixivium::mould::density::water;
/// use lixivium::quantity::Temperature;
/// let at_20 = water(&Temperature::parse("20").unwrap()).unwrap();
/// assert_eq!(at_20.grams_per_cubic_centimetre().to_plain(), "0.998207");
/// ```
pub fn water(temperature: &Temperature) -> Option<Density> {
    let rows = water_rows();
    let at = |i: usize| rows[i].temperature();
    let density = |i: usize| Some(rows[i].density());
    between(rows.len(), &at, &density, temperature.celsius()).map(Density::new)
}

/// Density of a lye of potassium or else sodium hydroxide; `concentration` is the hydroxide in it as
/// a fraction. `None` beyond [`STRONGEST_LYE`] or outside of [`COOLEST_POUR`] to [`HOTTEST_POUR`].
///
/// The likely density is a measured one. For sodium hydroxide the table has all strengths and
/// temperatures. For potassium hydroxide it ends at 40 % and has 18 °C only: what a stronger lye
/// is denser, and what a warmer one has expanded, is inferred from the model of Laliberté and
/// Cooper.
///
/// The range holds that model alone, which runs low for strong sodium hydroxide at 20 °C (by 0.6 %
/// at 50 %) and high when it is warm; [`MEASURED_LYE`] to both sides of the likely density; and
/// [`INFERRED_EXPANSION`] and [`INFERRED_STRENGTH`] of what is inferred. Source:
/// `data/lye_density.tsv`.
///
/// ```
/// use lixivium::exact::Rational;
/// use lixivium::mould::density::lye;
/// use lixivium::quantity::{Share, Temperature};
/// let third = Share::parse("33").unwrap();
/// let warm = lye(false, third.fraction(), &Temperature::parse("40").unwrap()).unwrap();
/// // A quarter of the way from 1.3362 at 32 % to 1.3768 at 36 %.
/// assert_eq!(warm.likely.to_plain(), "1.34635");
/// assert_eq!(warm.range.low().to_fixed(4), "1.3450");
/// assert_eq!(warm.range.high().to_fixed(4), "1.3493"); // the model
/// assert!(lye(false, &Rational::ONE, &Temperature::parse("40").unwrap()).is_none());
/// ```
pub fn lye(is_koh: bool, concentration: &Rational, temperature: &Temperature) -> Option<Spread> {
    let percent = &(concentration * &Rational::HUNDRED).reduced();
    let celsius = temperature.celsius();
    let model = lye_rows_of(is_koh, LyeRow::Model);
    let table = lye_rows_of(is_koh, LyeRow::Measured);
    let modelled = bilinear(model, percent, celsius)?;
    let (likely, inferred) = if is_koh {
        let last = table.last()?;
        let reference = &last.temperature();
        let inside = &percent.clone().min(last.percent());
        let measured = bilinear(table, inside, reference)?;
        let at_reference = bilinear(model, percent, reference)?;
        let stronger = &at_reference - &bilinear(model, inside, reference)?;
        let expanded = at_reference - &modelled;
        let inferred = INFERRED_EXPANSION * expanded.abs() + INFERRED_STRENGTH * &stronger;
        (measured + stronger - expanded, inferred)
    } else {
        (bilinear(table, percent, celsius)?, Rational::ZERO)
    };
    let doubt = MEASURED_LYE * &likely + inferred;
    let (low, high) = (&likely - &doubt, &likely + &doubt);
    Some(Spread::between(low, likely, high).widened(&modelled))
}

/// A table of its own, which stands in one piece.
fn lye_rows_of(is_koh: bool, kind: LyeRow) -> &'static [LyeDensity] {
    let is_other = |row: &LyeDensity| row.is_koh != is_koh || row.kind != kind;
    let mut rows = lye_rows();
    while let [first, rest @ ..] = rows
        && is_other(first)
    {
        rows = rest;
    }
    while let [rest @ .., last] = rows
        && is_other(last)
    {
        rows = rest;
    }
    rows
}

/// Density of a fat at `temperature` (liquid), and whether one is known.
///
/// A relative density is multiplied by that of water at its reference temperature; from the
/// temperature at which it holds to the asked one the density falls by [`FAT_EXPANSION`] a °C.
/// The middle of a range is its likely value. A fat without one has [`UNKNOWN_FAT_DENSITY`].
///
/// ```
/// use lixivium::fats::{Fat, find};
/// use lixivium::mould::density::fat;
/// use lixivium::quantity::Temperature;
/// // Codex: 0.908 to 0.921 at 40 °C, water at 20 °C.
/// let coconut = Fat::from(find("coconut-oil").unwrap());
/// let (at_40, is_known) = fat(&coconut, &Temperature::parse("40").unwrap());
/// assert!(is_known);
/// assert_eq!(at_40.range.low().to_fixed(4), "0.9064"); // 0.908 · 0.998207
/// assert_eq!(at_40.likely.to_fixed(4), "0.9129");
/// let (at_50, _) = fat(&coconut, &Temperature::parse("50").unwrap());
/// assert_eq!(at_50.likely.to_fixed(4), "0.9061");
/// ```
pub fn fat(fat: &Fat, temperature: &Temperature) -> (Spread, bool) {
    let found = published(fat);
    let known = found.is_some();
    let (density, at) =
        found.unwrap_or_else(|| (Spread::of(UNKNOWN_FAT_DENSITY), REFERENCE_CELSIUS));
    let warmer = Spread::point(temperature.celsius() - &at);
    let falls = Spread::of(FAT_EXPANSION).times(&warmer);
    let cooled = Spread {
        likely: density.likely - falls.likely,
        range: &density.range - &falls.range,
    };
    (cooled, known)
}

/// A published or given density in g/cm³, and the temperature at which it holds.
fn published(fat: &Fat) -> Option<(Spread, Rational)> {
    let relative = fat.relative_density()?;
    let water = water(&Temperature::new(relative.reference_temperature))?;
    let times = |relative: &Rational| relative * water.grams_per_cubic_centimetre();
    let range = Interval::new(times(&relative.low), times(&relative.high))?;
    let likely = range.middle();
    Some((Spread { likely, range }, relative.temperature))
}

/// The value at `x` on the straight lines between so many points, which ascend; `None` beyond.
fn between(
    points: usize,
    at: &dyn Fn(usize) -> Rational,
    value: &dyn Fn(usize) -> Option<Rational>,
    x: &Rational,
) -> Option<Rational> {
    let after = (0..points).find(|i| at(*i) >= *x)?;
    let end = value(after)?;
    let to = at(after);
    if to == *x {
        return Some(end);
    }
    let before = after.checked_sub(1)?;
    let (from, start) = (at(before), value(before)?);
    let part = (x - &from).checked_div(&(to - from))?;
    Some(&start + (end - &start) * part)
}

/// The density at that strength and temperature; the rows ascend in both, and all strengths have
/// the same temperatures.
fn bilinear(rows: &[LyeDensity], percent: &Rational, celsius: &Rational) -> Option<Rational> {
    let weakest = rows.first()?.concentration;
    let width = rows.partition_point(|row| row.concentration == weakest);
    let strength = |i: usize| rows[i * width].percent();
    let density = |i: usize| {
        let temperature = |j: usize| rows[i * width + j].temperature();
        let density = |j: usize| Some(rows[i * width + j].density());
        between(width, &temperature, &density, celsius)
    };
    between(rows.len() / width, &strength, &density, percent)
}
