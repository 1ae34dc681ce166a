//! One fat in place of another: which blend of the fats at hand comes nearest.
//!
//! Two fats are as far apart as the sum of the squared differences of their fatty acids, each in
//! percent by mass. [`nearest`] finds the nearest blend of all that is at hand, exactly: the point
//! nearest to the fat in the convex hull of the others, by P. Wolfe's algorithm (Mathematical
//! Programming 11 (1976) 128-149). [`nearest_of_few`] keeps to a few fats: for every choice of so
//! many the least squares under shares that come to 100 % are one small system of linear equations
//! (Lagrange), and the best one with no share below 0 is the answer.

use crate::chemistry::{Composition, FattyAcid};
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::Faults;
use crate::sort::sort_by;

/// The most fats that [`nearest_of_few`] chooses.
pub const MOST_FATS: usize = 3;

/// The most fats at hand that are searched.
pub const MOST_AT_HAND: usize = 24;

/// The nearest blend.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Nearest {
    /// The fats by their place in the list at hand, each with its share as a fraction.
    pub shares: Vec<(usize, Rational)>,
    /// The sum of the squared differences of the fatty acids, in percent².
    pub distance: Rational,
}

/// The blend of the fats at hand whose typical fatty acids come nearest to those of `fat`.
///
/// # Errors
/// `composition_unknown` at the fat, `empty` or `too_many` if none or more than [`MOST_AT_HAND`]
/// are at hand.
///
/// ```
/// use lixivium::exact::Rational;
/// use lixivium::fats::{Fat, find};
/// use lixivium::swap::nearest;
/// let fat = |name| Fat::from(find(name).unwrap());
/// let at_hand = [fat("olive-oil"), fat("palm-kernel-oil"), fat("sunflower-oil")];
/// let found = nearest(&fat("coconut-oil"), &at_hand).unwrap();
/// assert_eq!(found.shares[0].0, 1);
/// assert!(found.shares[0].1 > Rational::decimal(9, 1));
/// ```
pub fn nearest(fat: &Fat, at_hand: &[Fat]) -> Result<Nearest, Faults> {
    let products = Products::between(fat, at_hand)?;
    let all: Vec<usize> = (0..at_hand.len()).collect();
    let single = all.iter().min_by(|i, j| {
        let own = |i: usize| &products.0[i][i];
        own(**i).cmp(own(**j))
    });
    let mut chosen: Vec<usize> = single.into_iter().copied().collect();
    let mut shares = vec![Rational::ONE; chosen.len()];
    loop {
        // How far each fat lies along the line from the target to the blend; the blend is nearest
        // where none lies nearer than itself.
        let along = |i: &usize| {
            let each = chosen.iter().zip(&shares);
            each.fold(Rational::ZERO, |sum, (j, share)| {
                (sum + &products.0[*i][*j] * share).reduced()
            })
        };
        let own = chosen.first().map(along).unwrap_or_default();
        let next = all.iter().map(|i| (along(i), *i)).min();
        match next {
            Some((next, i)) if next < own => {
                chosen.push(i);
                shares.push(Rational::ZERO);
            }
            _ => return Ok(products.nearest(chosen, shares)),
        }
        // The best shares of these fats, without those that would be below 0.
        loop {
            let Some(best) = products.least_squares(&chosen) else {
                // Never: a fat that lies nearer is no blend of those chosen before.
                return Ok(products.nearest(chosen, shares));
            };
            let steps = shares.iter().zip(&best).filter_map(|(now, best)| {
                let towards = !best.is_positive();
                towards.then(|| now.checked_div(&(now - best)))?
            });
            let Some(step) = steps.min() else {
                shares = best;
                break;
            };
            for (now, best) in shares.iter_mut().zip(&best) {
                *now = (&*now + &(&step * &(best - &*now))).reduced();
            }
            let mut kept = shares.iter().map(|share| !share.is_zero());
            chosen.retain(|_| kept.next().unwrap_or(true));
            shares.retain(|share| !share.is_zero());
        }
    }
}

/// The nearest blend of at most `most` of the fats at hand, 1 to [`MOST_FATS`].
///
/// # Errors
/// Those of [`nearest`], and `out_of_range`.
pub fn nearest_of_few(fat: &Fat, at_hand: &[Fat], most: usize) -> Result<Nearest, Faults> {
    if !(1..=MOST_FATS).contains(&most) {
        let says = format!("accepted: 1 to {MOST_FATS}, or nothing for as many as there are");
        return Err(Faults::one("out_of_range", "most_fats", says));
    }
    let products = Products::between(fat, at_hand)?;
    let mut best: Option<(Rational, Vec<usize>, Vec<Rational>)> = None;
    for choice in choices(at_hand.len(), most) {
        let Some(shares) = products.least_squares(&choice) else {
            continue;
        };
        if shares.iter().any(Rational::is_negative) {
            continue;
        }
        let distance = products.distance(&choice, &shares);
        if best.as_ref().is_none_or(|(best, ..)| distance < *best) {
            best = Some((distance, choice, shares));
        }
    }
    // A single fat always has its share of 100 %.
    let (_, choice, shares) = best.unwrap_or_default();
    Ok(products.nearest(choice, shares))
}

fn known(fat: &Fat, at: impl Fn() -> String, faults: &mut Faults) -> Option<Composition> {
    let composition = fat.composition();
    if composition.is_none() {
        faults.add(
            "composition_unknown",
            at(),
            format!(
                "no fatty acids of {} are known; accepted: a fat of your own with its fatty_acids",
                fat.name()
            ),
        );
    }
    composition
}

/// All choices of 1 to `most` of so many.
fn choices(count: usize, most: usize) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = Vec::new();
    let mut last: Vec<Vec<usize>> = vec![vec![]];
    for _ in 0..most {
        let longer = last.iter().flat_map(|choice| {
            let next = choice.last().map_or(0, |last| last + 1);
            (next..count).map(move |i| [choice.as_slice(), &[i]].concat())
        });
        last = longer.collect();
        all.extend(last.iter().cloned());
    }
    all
}

/// The products of the differences from the target, `Σ (aᵢ - t) · (aⱼ - t)` over the acids.
struct Products(Vec<Vec<Rational>>);

impl Products {
    fn between(fat: &Fat, at_hand: &[Fat]) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let target = known(fat, || "replace".to_owned(), &mut faults);
        if at_hand.is_empty() {
            faults.add("empty", "at_hand", "at least one fat is at hand");
        }
        if at_hand.len() > MOST_AT_HAND {
            let says = format!("at most {MOST_AT_HAND} fats at hand are searched");
            faults.add("too_many", "at_hand", says);
            return Err(faults);
        }
        let at = |i: usize| move || format!("at_hand[{i}]");
        let fats = at_hand.iter().enumerate();
        let fats: Vec<_> = fats
            .filter_map(|(i, fat)| known(fat, at(i), &mut faults))
            .collect();
        match target {
            Some(target) => faults.or(Self::of(&target, &fats)),
            None => Err(faults),
        }
    }

    fn of(target: &Composition, fats: &[Composition]) -> Self {
        let differences = fats.iter().map(|fat| -> Vec<Rational> {
            let acids = FattyAcid::all().iter();
            acids
                .map(|acid| (fat.share(acid.id) - target.share(acid.id)).reduced())
                .collect()
        });
        let differences: Vec<_> = differences.collect();
        let product = |a: &Vec<Rational>, b: &Vec<Rational>| {
            let each = a.iter().zip(b);
            each.fold(Rational::ZERO, |sum, (a, b)| (sum + a * b).reduced())
        };
        let row = |a| differences.iter().map(|b| product(a, b)).collect();
        Self(differences.iter().map(row).collect())
    }

    /// Those of the fats that have a share, the largest first.
    fn nearest(&self, choice: Vec<usize>, shares: Vec<Rational>) -> Nearest {
        let distance = self.distance(&choice, &shares);
        let shares = choice.into_iter().zip(shares);
        let mut shares: Vec<_> = shares.filter(|(_, share)| !share.is_zero()).collect();
        sort_by(&mut shares, |(_, a), (_, b)| b.cmp(a));
        Nearest { shares, distance }
    }

    /// Shares that come to 1 and have the smallest distance, perhaps below 0: with the products
    /// `G` of the chosen fats, `G · shares + λ = 0` and `Σ shares = 1`. None where one of the fats
    /// is a blend of the others, which smaller choices cover.
    fn least_squares(&self, choice: &[usize]) -> Option<Vec<Rational>> {
        let mut rows: Vec<Vec<Rational>> = Vec::with_capacity(choice.len() + 1);
        for i in choice {
            let row = choice.iter().map(|j| self.0[*i][*j].clone());
            rows.push(row.chain([Rational::ONE, Rational::ZERO]).collect());
        }
        let mut sum = vec![Rational::ONE; choice.len()];
        sum.extend([Rational::ZERO, Rational::ONE]);
        rows.push(sum);
        let mut shares = solve(rows)?;
        shares.pop();
        Some(shares)
    }

    fn distance(&self, choice: &[usize], shares: &[Rational]) -> Rational {
        let mut distance = Rational::ZERO;
        for (i, a) in choice.iter().zip(shares) {
            for (j, b) in choice.iter().zip(shares) {
                distance = (distance + a * b * &self.0[*i][*j]).reduced();
            }
        }
        distance
    }
}

/// The solution of as many linear equations as unknowns, each a row with its right side last; none
/// if there is not exactly one.
fn solve(mut rows: Vec<Vec<Rational>>) -> Option<Vec<Rational>> {
    let size = rows.len();
    for column in 0..size {
        let pivot = (column..size).find(|row| !rows[*row][column].is_zero())?;
        rows.swap(column, pivot);
        let pivot = rows[column].clone();
        for (i, row) in rows.iter_mut().enumerate() {
            if i == column || row[column].is_zero() {
                continue;
            }
            let factor = row[column].checked_div(&pivot[column])?;
            for (cell, above) in row.iter_mut().zip(&pivot) {
                *cell = (&*cell - &(&factor * above)).reduced();
            }
        }
    }
    let each = rows.iter().enumerate();
    each.map(|(i, row)| row[size].checked_div(&row[i]))
        .collect()
}
