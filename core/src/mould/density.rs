//! Densities of water, lye and fats, from published tables, in g/cm³.
//!
//! Between rows everything is interpolated linearly, in exact arithmetic. That adds less than
//! 0.1 kg/m³ for water and less than 1 kg/m³ for lye, which is within [`MEASURED_LYE`].

use crate::exact::{Interval, Rational};
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

    /// The range of `numbers` and of `likely`.
    fn around(likely: Rational, numbers: &[Rational]) -> Self {
        let (mut low, mut high) = (&likely, &likely);
        for number in numbers {
            low = low.min(number);
            high = high.max(number);
        }
        Self::between(low.clone(), likely.clone(), high.clone())
    }

    /// The sum of both.
    pub(crate) fn plus(&self, other: &Self) -> Self {
        Self {
            likely: &self.likely + &other.likely,
            range: &self.range + &other.range,
        }
    }

    /// The product of both, which are not negative.
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
        let ranges = [&self.range, &other.range];
        let ends = ranges.map(|range| [range.low().clone(), range.high().clone()]);
        Self::around(self.likely.clone(), ends.as_flattened())
    }

    /// `dividend` divided by each of its numbers, which are above 0.
    pub(crate) fn dividing(&self, dividend: &Rational) -> Self {
        let by = |number: &Rational| dividend.checked_div(number).unwrap_or_default();
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
    let celsius = temperature.celsius();
    let (below, above) = neighbours(water_rows(), WaterDensity::temperature, celsius)?;
    let below = (below.temperature(), below.density());
    let above = (above.temperature(), above.density());
    Some(Density::new(line(celsius, below, above)))
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
    let percent = (concentration * &Rational::HUNDRED).reduced();
    let model = |percent: &Rational, celsius: &Rational| {
        bilinear(lye_rows_of(is_koh, LyeRow::Model), percent, celsius)
    };
    let modelled = model(&percent, temperature.celsius())?;
    let table = lye_rows_of(is_koh, LyeRow::Measured);
    let (likely, inferred) = if is_koh {
        let last = table.last()?;
        let reference = last.temperature();
        let inside = percent.clone().min(last.percent());
        let measured = bilinear(table, &inside, &reference)?;
        let at_reference = model(&percent, &reference)?;
        let stronger = &at_reference - &model(&inside, &reference)?;
        let expanded = at_reference - &modelled;
        let inferred = INFERRED_EXPANSION * expanded.abs() + INFERRED_STRENGTH * &stronger;
        (measured + stronger - expanded, inferred)
    } else {
        let measured = bilinear(table, &percent, temperature.celsius())?;
        (measured, Rational::ZERO)
    };
    let doubt = MEASURED_LYE * &likely + inferred;
    let ends = [&likely - &doubt, &likely + &doubt, modelled];
    Some(Spread::around(likely, &ends))
}

fn lye_rows_of(is_koh: bool, kind: LyeRow) -> &'static [LyeDensity] {
    let mut tables = lye_rows().chunk_by(|a, b| a.is_koh == b.is_koh && a.kind == b.kind);
    let asked = tables.find(|table| table[0].is_koh == is_koh && table[0].kind == kind);
    asked.unwrap_or_default()
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
    let (density, at) = found.unwrap_or_else(|| {
        let [low, likely, high] = UNKNOWN_FAT_DENSITY;
        (Spread::between(low, likely, high), REFERENCE_CELSIUS)
    });
    let warmer = temperature.celsius() - &at;
    let [least, likely, most] = FAT_EXPANSION.map(|fall| &fall * &warmer);
    let falls = Spread::around(likely, &[least, most]);
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

/// The rows before and after `x`, the same twice where one is at `x`; the rows ascend.
fn neighbours<'a, T>(
    rows: &'a [T],
    at: fn(&T) -> Rational,
    x: &Rational,
) -> Option<(&'a T, &'a T)> {
    let above = rows.iter().position(|row| at(row) >= *x)?;
    let below = match at(&rows[above]) == *x {
        true => above,
        false => above.checked_sub(1)?,
    };
    Some((&rows[below], &rows[above]))
}

/// The value at `x` on the straight line from one point to another.
fn line(x: &Rational, from: (Rational, Rational), to: (Rational, Rational)) -> Rational {
    let part = (x - &from.0).checked_div(&(to.0 - &from.0));
    &from.1 + (to.1 - &from.1) * part.unwrap_or_default()
}

/// The density at that strength and temperature; the rows ascend in both.
fn bilinear(rows: &[LyeDensity], percent: &Rational, celsius: &Rational) -> Option<Rational> {
    let blocks: Vec<_> = rows
        .chunk_by(|row, next| row.concentration == next.concentration)
        .collect();
    let at = |block: &[LyeDensity]| {
        let (below, above) = neighbours(block, LyeDensity::temperature, celsius)?;
        let below = (below.temperature(), below.density());
        let above = (above.temperature(), above.density());
        Some((block[0].percent(), line(celsius, below, above)))
    };
    let (below, above) = neighbours(&blocks, |block| block[0].percent(), percent)?;
    Some(line(percent, at(below)?, at(above)?))
}
