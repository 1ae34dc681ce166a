//! The short way: a row in whole numbers of scale steps.
//!
//! On a scale every mass is a whole number of steps, so a plan comes down to three roundings of
//! a quotient of whole numbers: of each fat, of each alkali, of the water. Doubles only propose
//! what such a quotient rounds to; whole numbers decide. What does not fit, or is not as it
//! should be, is left to [`plan`](crate::plan::plan).

use num_integer::Integer;
use num_traits::{One, ToPrimitive};

use super::{Output, Rows};
use crate::chemistry::Alkali as Hydroxide;
use crate::exact::{Rational, Whole, quotient, short_decimal};
use crate::plan::koh_by_moles;
use crate::quantity::{LARGEST, Share};
use crate::recipe::{Recipe, WaterRule};

/// A setting in whole numbers.
#[derive(Debug, Clone)]
pub(super) struct Kernel {
    /// g in a step.
    step: Ratios<1>,
    /// About as many steps are a gram.
    steps_per_gram: f64,
    /// A fat of so many steps no longer fits.
    too_many_steps: f64,
    /// For each fat its saponification value and the ends of its range, over one denominator.
    values: Vec<[i64; 3]>,
    /// What the superfat leaves to be saponified.
    saponified: (i64, i64),
    /// Steps of sodium and potassium hydroxide as bought for a unit of [`Counted::need`].
    alkali: Ratios<2>,
    /// Steps of water for a step of sodium hydroxide, of potassium hydroxide, of fats.
    water: Ratios<3>,
    /// g of pure sodium and potassium hydroxide in a step of either.
    pure: Ratios<2>,
    /// Purities, in percent.
    purity: Ratios<2>,
    /// Percent of a unit of need that a step of either alkali saponifies.
    saponifies: Ratios<2>,
}

/// A row in whole numbers; masses are in steps.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted {
    /// Whether it could be done. The other numbers count only then.
    pub done: bool,
    fats: i64,
    /// Σ mass · saponification value, for the typical values and the ends of their ranges, in the
    /// unit of [`Kernel::values`].
    need: [i64; 3],
    naoh: i64,
    koh: i64,
    water: i64,
}

impl Counted {
    pub const NOTHING: Self = Self {
        done: false,
        fats: 0,
        need: [0; 3],
        naoh: 0,
        koh: 0,
        water: 0,
    };
}

/// Ratios over one denominator above 0.
#[derive(Debug, Clone)]
struct Ratios<const N: usize> {
    parts: [i64; N],
    whole: i64,
    /// The nearest doubles.
    near: [f64; N],
}

impl<const N: usize> Ratios<N> {
    /// Those ratios, if they fit.
    fn of(ratios: [Rational; N]) -> Option<Self> {
        let near = ratios.each_ref().map(Rational::to_f64);
        let (parts, whole) = over_one_denominator(&ratios)?;
        Some(Self {
            parts: parts.try_into().ok()?,
            whole,
            near,
        })
    }

    /// Σ nᵢ · partᵢ. Numbers of at most [`MOST_STEPS`] do not overflow.
    fn sum(&self, numbers: [i64; N]) -> i128 {
        let products = self.parts.iter().zip(numbers);
        products.map(|(part, n)| wide(*part, n)).sum()
    }

    /// About Σ nᵢ · partᵢ / whole.
    fn about(&self, numbers: [i64; N]) -> f64 {
        let products = self.near.iter().zip(numbers);
        products.map(|(near, n)| near * n as f64).sum()
    }
}

/// Numerators over the least common denominator, if all of it fits in 64 bits.
fn over_one_denominator(ratios: &[Rational]) -> Option<(Vec<i64>, i64)> {
    let ratios: Vec<_> = ratios.iter().map(Rational::to_fraction).collect();
    let whole = ratios
        .iter()
        .fold(Whole::one(), |whole, ratio| whole.lcm(ratio.denom()));
    let parts = ratios
        .iter()
        .map(|ratio| (ratio * &whole).to_integer().to_i64());
    Some((parts.collect::<Option<_>>()?, whole.to_i64()?))
}

fn wide(a: i64, b: i64) -> i128 {
    i128::from(a) * i128::from(b)
}

/// The largest whole number not above `x / whole`, given about what the quotient is.
fn floor(x: i128, whole: i128, about: f64) -> Option<i64> {
    let proposed = about as i64;
    let rest = x.checked_sub(whole.checked_mul(proposed.into())?)?;
    if (0..whole).contains(&rest) {
        return Some(proposed);
    }
    i64::try_from(i128::from(proposed) + rest.div_euclid(whole)).ok()
}

/// The most steps of all fats, of an alkali, of the water. Halves and their margin are still
/// exact in a double.
const MOST_STEPS: i64 = 1 << 46;

/// The largest [`Counted::need`]: times 100 and a number of 63 bits it stays within 128.
const MOST_NEED: i64 = 1 << 56;

/// The finest step, in g: a mass of half of it is still in the range of quantities.
const FINEST_STEP: Rational = Rational::decimal(1, 12);

/// Half a step above the number of steps, in doubles, is wrong by at most 2⁻⁵¹ of itself: the
/// double of the mass, that of the steps in a gram, their product and the sum are each wrong by
/// at most 2⁻⁵³. Nearer than twice that to a whole number, exact numbers decide.
const MARGIN: f64 = 1.0 / (1u64 << 50) as f64;

impl Kernel {
    /// The kernel of a setting, if it has one.
    pub(super) fn of(recipe: &Recipe) -> Option<Self> {
        let step = recipe.scale_step.as_ref()?.grams();
        let stock = &recipe.stock_solution;
        let others = stock.naoh.is_some() || stock.koh.is_some();
        if others || !recipe.acids.is_empty() || !recipe.additives.is_empty() {
            return None;
        }
        let values = recipe.fats.iter().flat_map(|line| {
            let value = line.fat.saponification_value();
            let end = |end: Option<Rational>| end.unwrap_or_else(|| value.typical.clone());
            [
                value.typical.clone(),
                end(value.low.clone()),
                end(value.high.clone()),
            ]
        });
        let (values, unit) = over_one_denominator(&values.collect::<Vec<_>>())?;
        let largest = *values.iter().max()?;
        if *values.iter().min()? <= 0 || *step < FINEST_STEP {
            return None;
        }
        let values: Vec<[i64; 3]> = values.chunks_exact(3).map(|v| [v[0], v[1], v[2]]).collect();
        let fats = values.len() as i64;
        let too_many = (MOST_STEPS / fats).min(MOST_NEED / fats / largest);

        let one = &Rational::ONE;
        let steps_per_gram = one.checked_div(step)?.to_f64();
        let (naoh_purity, koh_purity) = (
            recipe.alkali.naoh_purity.fraction(),
            recipe.alkali.koh_purity.fraction(),
        );
        let thousand_units = Rational::integer(unit) * Rational::integer(1_000);
        let koh_share = koh_by_moles(&recipe.alkali);
        let naoh_share = Hydroxide::Naoh.in_place_of(&(one - &koh_share), Hydroxide::Koh);
        let as_bought = |share: Rational, purity| share.checked_div(&(&thousand_units * purity));
        let saponified = |pure: &Rational| pure * &thousand_units * Rational::HUNDRED;
        let naoh_as_koh = Hydroxide::Koh.in_place_of(naoh_purity, Hydroxide::Naoh);
        Some(Self {
            steps_per_gram,
            too_many_steps: (too_many as f64).min(LARGEST.to_f64() * steps_per_gram),
            values,
            saponified: recipe.superfat.rest().fraction().small_parts()?,
            alkali: Ratios::of([
                as_bought(naoh_share, naoh_purity)?,
                as_bought(koh_share, koh_purity)?,
            ])?,
            water: Ratios::of(water(recipe)?)?,
            pure: Ratios::of([naoh_purity * step, koh_purity * step])?,
            purity: Ratios::of([naoh_purity, koh_purity].map(|p| p * &Rational::HUNDRED))?,
            saponifies: Ratios::of([saponified(&naoh_as_koh), saponified(koh_purity)])?,
            step: Ratios::of([step.clone()])?,
        })
    }

    /// Counts the rows from `first`, as many as there is room for.
    pub(super) fn count(&self, rows: &Rows, first: usize, counted: &mut [Counted]) {
        for row in &mut *counted {
            *row = Counted {
                done: true,
                ..Counted::NOTHING
            };
        }
        for (column, values) in rows.fats.iter().zip(&self.values) {
            for (row, mass) in counted.iter_mut().zip(&column[first..]) {
                match self.steps(*mass) {
                    Some(steps) => {
                        row.fats += steps;
                        for (need, value) in row.need.iter_mut().zip(values) {
                            *need += steps * value;
                        }
                    }
                    None => row.done = false,
                }
            }
        }
        for (i, row) in counted.iter_mut().enumerate() {
            let saponified = match rows.superfat {
                None => Some(self.saponified),
                Some(column) => saponified(column[first + i]),
            };
            let lye = saponified.and_then(|saponified| self.lye(row, saponified));
            match lye {
                Some([naoh, koh, water]) => (row.naoh, row.koh, row.water) = (naoh, koh, water),
                None => row.done = false,
            }
        }
    }

    /// The steps of a mass, if it has some or is 0.
    fn steps(&self, grams: f64) -> Option<i64> {
        let half_above = grams * self.steps_per_gram + 0.5;
        let steps = half_above as i64;
        let beyond = half_above - steps as f64;
        let margin = half_above * MARGIN;
        if beyond > margin && beyond < 1.0 - margin && half_above < self.too_many_steps {
            (steps > 0 || grams == 0.0).then_some(steps)
        } else {
            self.exact_steps(grams, half_above)
        }
    }

    /// The steps of a mass that lies next to the middle between two steps.
    #[inline(never)]
    fn exact_steps(&self, grams: f64, half_above: f64) -> Option<i64> {
        if grams.is_nan() || grams <= 0.0 || half_above >= self.too_many_steps {
            return None;
        }
        let above = (half_above + 0.5) as i64;
        let middle = (
            wide(2 * above - 1, self.step.parts[0]),
            2 * i128::from(self.step.whole),
        );
        let nearest = quotient(middle.0, middle.1);
        // Reading decimals keeps their order, so only those that read as the same double are
        // still to be compared.
        let steps = if grams == nearest {
            let (mantissa, power) = short_decimal(grams)?;
            let is_below =
                i128::from(mantissa).checked_mul(middle.1)? < middle.0.checked_mul(power.into())?;
            above - i64::from(is_below)
        } else {
            above - i64::from(grams < nearest)
        };
        (steps > 0).then_some(steps)
    }

    /// Both alkalis and the water of a row, if there is what to weigh.
    fn lye(&self, row: &Counted, (part, whole): (i64, i64)) -> Option<[i64; 3]> {
        let hydroxide = wide(row.need[0], part);
        let about = row.need[0] as f64 * (part as f64 / whole as f64);
        let divisor = wide(self.alkali.whole, whole);
        let alkali = |i: usize| match self.alkali.parts[i] {
            0 => Some(0),
            part => {
                let product = hydroxide.checked_mul(part.into())?;
                let steps = floor(product, divisor, about * self.alkali.near[i])?;
                (steps <= MOST_STEPS).then_some(steps)
            }
        };
        let (naoh, koh) = (alkali(0)?, alkali(1)?);
        if naoh + koh == 0 {
            return None;
        }
        let from = [naoh, koh, row.fats];
        let water = Some(self.water.sum(from)).filter(|water| *water >= 0)?;
        let whole = i128::from(self.water.whole);
        let water = floor(2 * water + whole, 2 * whole, self.water.about(from) + 0.5)?;
        (water <= MOST_STEPS).then_some([naoh, koh, water])
    }

    /// Writes that number of each row that is done.
    pub(super) fn write(&self, output: Output, counted: &[Counted], values: &mut [f64]) {
        match output {
            Output::TotalFats => fill(counted, values, |row| self.grams(row.fats)),
            Output::NaohMass => fill(counted, values, |row| self.grams(row.naoh)),
            Output::KohMass => fill(counted, values, |row| self.grams(row.koh)),
            Output::NaohPureMass => fill(counted, values, |row| self.pure_grams([row.naoh, 0])),
            Output::KohPureMass => fill(counted, values, |row| self.pure_grams([0, row.koh])),
            Output::WaterMass | Output::WaterToAddMass => {
                fill(counted, values, |row| self.grams(row.water));
            }
            Output::NaohSolutionMass | Output::KohSolutionMass => {
                fill(counted, values, |_| f64::NAN);
            }
            Output::BatterMass => fill(counted, values, |row| self.grams(row.fats + row.lye())),
            Output::Superfat => fill(counted, values, |row| self.superfat(row, row.need[0])),
            Output::SuperfatLow => fill(counted, values, |row| self.superfat(row, row.need[1])),
            Output::SuperfatHigh => fill(counted, values, |row| self.superfat(row, row.need[2])),
            Output::KohShareByMoles => fill(counted, values, |row| {
                let koh = self.saponifies.sum([0, row.koh]);
                quotient(100 * koh, self.saponifies.sum([row.naoh, row.koh]))
            }),
            Output::LyeConcentration => fill(counted, values, |row| {
                quotient(100 * i128::from(row.alkali()), row.lye().into())
            }),
            Output::HydroxideConcentration => fill(counted, values, |row| {
                let hydroxide = self.purity.sum([row.naoh, row.koh]);
                quotient(hydroxide, wide(row.lye(), self.purity.whole))
            }),
            Output::WaterToLye => fill(counted, values, |row| {
                quotient(row.water.into(), row.alkali().into())
            }),
        }
    }

    fn grams(&self, steps: i64) -> f64 {
        quotient(self.step.sum([steps]), self.step.whole.into())
    }

    fn pure_grams(&self, steps: [i64; 2]) -> f64 {
        quotient(self.pure.sum(steps), self.pure.whole.into())
    }

    /// The superfat in percent, where that need is the true one.
    fn superfat(&self, row: &Counted, need: i64) -> f64 {
        let whole = wide(need, self.saponifies.whole);
        let saponified = self.saponifies.sum([row.naoh, row.koh]);
        quotient(100 * whole - saponified, whole)
    }
}

impl Counted {
    fn alkali(&self) -> i64 {
        self.naoh + self.koh
    }

    fn lye(&self) -> i64 {
        self.alkali() + self.water
    }
}

fn fill(counted: &[Counted], values: &mut [f64], number: impl Fn(&Counted) -> f64) {
    for (value, row) in values.iter_mut().zip(counted) {
        if row.done {
            *value = number(row);
        }
    }
}

/// Steps of water for a step of sodium hydroxide, of potassium hydroxide and of fats.
fn water(recipe: &Recipe) -> Option<[Rational; 3]> {
    let rule = &recipe.water;
    let alkali = &recipe.alkali;
    let (to_lye, of_fats) = match &rule.rule {
        WaterRule::LyeConcentration(share) => {
            let rest = share.rest();
            (
                rest.fraction().checked_div(share.fraction())?,
                Rational::ZERO,
            )
        }
        WaterRule::WaterToLye(ratio) => (ratio.number().clone(), Rational::ZERO),
        WaterRule::OfFats(share) => (Rational::ZERO, share.fraction().clone()),
    };
    let for_alkali = |purity: &Share| {
        if rule.count_alkali_water {
            purity.fraction() * &to_lye - purity.rest().fraction()
        } else {
            to_lye.clone()
        }
    };
    let (naoh, koh) = (
        for_alkali(&alkali.naoh_purity),
        for_alkali(&alkali.koh_purity),
    );
    Some([naoh, koh, of_fats])
}

/// What a superfat in percent leaves to be saponified, if it is from 0 to below 100.
fn saponified(superfat: f64) -> Option<(i64, i64)> {
    let (mantissa, power) = short_decimal(superfat)?;
    let whole = 100 * power;
    (0..whole)
        .contains(&mantissa)
        .then_some((whole - mantissa, whole))
}
