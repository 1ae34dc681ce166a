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
use crate::linear;
use crate::sort::sort_by;

/// The most fats that [`nearest_of_few`] chooses.
pub const MOST_FATS: usize = 3;

/// The most fats at hand that are searched.
pub const MOST_AT_HAND: usize = 24;

/// The nearest blend.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
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
    let own = |i: &usize| &products.0[*i][*i];
    let single = (0..at_hand.len()).min_by_key(own).unwrap_or_default();
    let mut blend = Nearest {
        shares: vec![(single, Rational::ONE)],
        distance: own(&single).clone(),
    };
    loop {
        // How far each fat lies along the line from the target to the blend; the blend, which lies
        // as far as its own fats, is nearest where none lies nearer.
        let mut least = blend.distance.clone();
        let mut next = None;
        for (i, row) in products.0.iter().enumerate() {
            let mut along = Rational::ZERO;
            for (j, share) in &blend.shares {
                along = (along + &row[*j] * share).reduced();
            }
            if along < least {
                (least, next) = (along, Some(i));
            }
        }
        let Some(next) = next else {
            return Ok(blend.in_order());
        };
        blend.shares.push((next, Rational::ZERO));
        // The best shares of these fats, without those that would be below 0.
        loop {
            let fats: Vec<usize> = blend.shares.iter().map(|(i, _)| *i).collect();
            let Some(best) = products.least_squares(&fats) else {
                // Never: a fat that lies nearer is no blend of those chosen before.
                return Ok(blend.in_order());
            };
            let mut step = None;
            for ((_, now), (_, best)) in blend.shares.iter().zip(&best.shares) {
                if !best.is_positive()
                    && let Some(to_zero) = now.checked_div(&(now - best))
                    && step.as_ref().is_none_or(|step| to_zero < *step)
                {
                    step = Some(to_zero);
                }
            }
            let Some(step) = step else {
                blend = best;
                break;
            };
            for ((_, now), (_, best)) in blend.shares.iter_mut().zip(&best.shares) {
                *now = (&*now + &(&step * &(best - &*now))).reduced();
            }
            blend.shares.retain(|(_, share)| !share.is_zero());
        }
    }
}

/// The nearest blend of at most `most` of the fats at hand, 1 to [`MOST_FATS`].
///
/// # Errors
/// Those of [`nearest`], and `out_of_range`.
pub fn nearest_of_few(fat: &Fat, at_hand: &[Fat], most: usize) -> Result<Nearest, Faults> {
    if !(1..=MOST_FATS).contains(&most) {
        let says = format_args!("accepted: 1 to {MOST_FATS}, or nothing for as many as there are");
        return Err(Faults::one("out_of_range", "most_fats", says));
    }
    let mut best = None;
    Products::between(fat, at_hand)?.search(&mut vec![], most, &mut best);
    // A single fat always has its share of 100 %.
    Ok(best.unwrap_or_default().in_order())
}

impl Nearest {
    /// The nearer one comes first; of two as near, that of fewer fats.
    fn rank(&self) -> (&Rational, usize) {
        (&self.distance, self.shares.len())
    }

    /// Without fats that have no share, the largest first.
    fn in_order(mut self) -> Self {
        self.shares.retain(|(_, share)| !share.is_zero());
        sort_by(&mut self.shares, |(_, a), (_, b)| b.cmp(a));
        self
    }
}

fn known(fat: &Fat, at: &str, faults: &mut Faults) -> Option<Composition> {
    let composition = fat.composition();
    if composition.is_none() {
        faults.add(
            "composition_unknown",
            at,
            format_args!(
                "no fatty acids of {} are known; accepted: a fat of your own with its fatty_acids",
                fat.name()
            ),
        );
    }
    composition
}

/// The products of the differences from the target, `Σ (aᵢ - t) · (aⱼ - t)` over the acids.
struct Products(Vec<Vec<Rational>>);

impl Products {
    fn between(fat: &Fat, at_hand: &[Fat]) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let target = known(fat, "replace", &mut faults);
        if at_hand.is_empty() {
            faults.add("empty", "at_hand", "at least one fat is at hand");
        }
        if at_hand.len() > MOST_AT_HAND {
            let says = format_args!("at most {MOST_AT_HAND} fats at hand are searched");
            faults.add("too_many", "at_hand", says);
            return Err(faults);
        }
        let mut differences: Vec<Vec<Rational>> = Vec::new();
        for (i, fat) in at_hand.iter().enumerate() {
            let found = known(fat, &format!("at_hand[{i}]"), &mut faults);
            if let (Some(found), Some(target)) = (found, &target) {
                let acids = FattyAcid::all().iter();
                let each = acids.map(|acid| found.share(acid.id) - target.share(acid.id));
                differences.push(each.map(|difference| difference.reduced()).collect());
            }
        }
        let mut products = Vec::new();
        for a in &differences {
            let mut row = Vec::new();
            for b in &differences {
                let mut product = Rational::ZERO;
                for (a, b) in a.iter().zip(b) {
                    product = (product + a * b).reduced();
                }
                row.push(product);
            }
            products.push(row);
        }
        faults.or(Self(products))
    }

    /// Tries all choices that begin with these fats and go on with later ones.
    fn search(&self, fats: &mut Vec<usize>, most: usize, best: &mut Option<Nearest>) {
        if let Some(found) = self.least_squares(fats)
            && found.shares.iter().all(|(_, share)| !share.is_negative())
            && best.as_ref().is_none_or(|best| found.rank() < best.rank())
        {
            *best = Some(found);
        }
        if fats.len() < most {
            for next in fats.last().map_or(0, |last| last + 1)..self.0.len() {
                fats.push(next);
                self.search(fats, most, best);
                fats.pop();
            }
        }
    }

    /// Shares that come to 1 and have the smallest distance, perhaps below 0: with the products
    /// `G` of the chosen fats, `G · shares + λ = 0` and `Σ shares = 1`, so that the distance,
    /// `shares · G · shares`, is `-λ`. None for no fats, or where one of them is a blend of the
    /// others, which smaller choices cover.
    fn least_squares(&self, fats: &[usize]) -> Option<Nearest> {
        let mut rows: Vec<Vec<Rational>> = Vec::new();
        for i in fats {
            let mut row: Vec<_> = fats.iter().map(|j| self.0[*i][*j].clone()).collect();
            row.extend([Rational::ONE, Rational::ZERO]);
            rows.push(row);
        }
        let mut sum = vec![Rational::ONE; fats.len()];
        sum.extend([Rational::ZERO, Rational::ONE]);
        rows.push(sum);
        let mut shares = linear::only(rows)?;
        let distance = -shares.pop()?;
        let shares = fats.iter().copied().zip(shares).collect();
        Some(Nearest { shares, distance })
    }
}
