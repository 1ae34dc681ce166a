//! One fat in place of another: which blend of the fats at hand comes nearest.
//!
//! Two fats are as far apart as the sum of the squared differences of their fatty acids, each in
//! percent by mass. Of so many fats the least squares under shares that come to 100 % are one small
//! system of linear equations (Lagrange). Among all choices of a few fats the best one with no
//! share below 0 is the answer. The nearest blend of all that is at hand, the point nearest to the
//! fat in the convex hull of the others, is found from the nearest single fat by P. Wolfe's
//! algorithm (Mathematical Programming 11 (1976) 128-149). Both are exact.

use std::fmt;

use crate::chemistry::{Composition, FattyAcid};
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::Faults;
use crate::linear;
use crate::sort::sort_by;

/// The most fats to which [`nearest`] can be told to keep.
pub const MOST_FATS: usize = 3;

/// The most fats at hand that are searched.
pub const MOST_AT_HAND: usize = 24;

/// The nearest blend.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Nearest {
    /// The fats by their place in the list at hand, each with its share as a fraction, the largest
    /// first.
    pub shares: Vec<(usize, Rational)>,
    /// The sum of the squared differences of the fatty acids, in percent².
    pub distance: Rational,
}

/// The blend of the fats at hand whose typical fatty acids come nearest to those of `fat`: of at
/// most `most` of them, 1 to [`MOST_FATS`], or of as many as bring it nearest.
///
/// # Errors
/// `out_of_range` for `most`, `composition_unknown` at the fat, `empty` or `too_many` if none or
/// more than [`MOST_AT_HAND`] are at hand.
///
/// ```
/// use lixivium::exact::Rational;
/// use lixivium::fats::{Fat, find};
/// use lixivium::swap::nearest;
/// let fat = |name| Fat::from(find(name).unwrap());
/// let at_hand = [fat("olive-oil"), fat("palm-kernel-oil"), fat("sunflower-oil")];
/// let found = nearest(&fat("coconut-oil"), &at_hand, None).unwrap();
/// assert_eq!(found.shares[0].0, 1);
/// assert!(found.shares[0].1 > Rational::decimal(9, 1));
/// ```
pub fn nearest(fat: &Fat, at_hand: &[Fat], most: Option<usize>) -> Result<Nearest, Faults> {
    let few = most.unwrap_or(1);
    if !(1..=MOST_FATS).contains(&few) {
        let says = format_args!("accepted: 1 to {MOST_FATS}, or nothing for as many as there are");
        return Err(Faults::one("out_of_range", "most_fats", says));
    }
    let equations = Equations::of(fat, at_hand)?;
    let mut blend = Vec::new();
    let distance = (at_hand.len(), Rational::ZERO);
    equations.search(&mut vec![distance], 0, few, &mut blend);
    if most.is_none() {
        equations.descend(&mut blend);
    }
    let mut found = Nearest::default();
    for (i, value) in blend {
        if i == at_hand.len() {
            found.distance = value;
        } else if !value.is_zero() {
            found.shares.push((i, value));
        }
    }
    sort_by(&mut found.shares, |(_, a), (_, b)| b.cmp(a));
    Ok(found)
}

fn known(fat: &Fat, at: &dyn fmt::Display, faults: &mut Faults) -> Option<Composition> {
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

/// The equations of all fats, each with a coefficient for the share of each fat and for the
/// distance `d`: first `Σ product · share - d = 0` for each fat, with the products of the
/// differences from the target, `Σ (aᵢ - t) · (aⱼ - t)` over the acids; then `Σ share = 1`.
struct Equations(Vec<Vec<Rational>>);

/// Some of the unknowns by their places in the equations, with their values: the distance first,
/// then the shares of fats.
type Blend = Vec<(usize, Rational)>;

impl Equations {
    fn of(fat: &Fat, at_hand: &[Fat]) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let target = known(fat, &"replace", &mut faults);
        if at_hand.is_empty() {
            faults.add("empty", "at_hand", "at least one fat is at hand");
        }
        let mut searched = at_hand;
        if at_hand.len() > MOST_AT_HAND {
            let says = format_args!("at most {MOST_AT_HAND} fats at hand are searched");
            faults.add("too_many", "at_hand", says);
            searched = &[];
        }
        let mut differences: Vec<Vec<Rational>> = Vec::new();
        for (i, fat) in searched.iter().enumerate() {
            let found = known(fat, &format_args!("at_hand[{i}]"), &mut faults);
            if let (Some(found), Some(target)) = (found, &target) {
                let mut each = Vec::new();
                for acid in FattyAcid::all() {
                    each.push((found.share(acid.id) - target.share(acid.id)).reduced());
                }
                differences.push(each);
            }
        }
        faults.or(())?;
        let mut rows = Vec::new();
        for a in &differences {
            let mut row = Vec::new();
            for b in &differences {
                let mut product = Rational::ZERO;
                for (a, b) in a.iter().zip(b) {
                    product = product.plus_product(a, b);
                }
                row.push(product);
            }
            row.push(const { Rational::integer(-1) });
            rows.push(row);
        }
        let mut sum = vec![Rational::ONE; at_hand.len()];
        sum.push(Rational::ZERO);
        rows.push(sum);
        Ok(Self(rows))
    }

    /// Tries all choices that begin with these fats and go on with later ones, at most so many.
    /// Keeps the nearest one; of two as near, that of fewer fats.
    fn search(&self, fats: &mut Blend, from: usize, most: usize, best: &mut Blend) {
        if let Some(found) = self.least_squares(fats)
            && !found.iter().any(|(_, value)| value.is_negative())
            && best.first().is_none_or(|(_, distance)| {
                let order = found[0].1.cmp(distance);
                order.is_lt() || order.is_eq() && found.len() < best.len()
            })
        {
            *best = found;
        }
        if fats.len() <= most {
            for next in from..self.0.len() - 1 {
                fats.push((next, Rational::ZERO));
                self.search(fats, next + 1, most, best);
                fats.pop();
            }
        }
    }

    /// Goes on from a blend to the nearest one of all.
    fn descend(&self, blend: &mut Blend) {
        let distance = self.0.len() - 1;
        loop {
            // How much farther each fat lies than the blend, along the line from the target to it.
            // Its own fats lie as far; it is nearest where none lies nearer.
            let mut least = Rational::ZERO;
            let mut next = distance;
            for (i, row) in self.0.iter().enumerate() {
                let mut farther = Rational::ZERO;
                for (j, value) in &*blend {
                    farther = farther.plus_product(&row[*j], value);
                }
                if farther < least {
                    (least, next) = (farther, i);
                }
            }
            if next == distance {
                return;
            }
            blend.push((next, Rational::ZERO));
            // To the best shares of these fats; on the way, those that would fall below 0 are left
            // out, one after the other.
            let mut step = Rational::ZERO;
            while step.is_below_one() {
                let Some(best) = self.least_squares(blend) else {
                    // Never: a fat that lies nearer is no blend of those chosen before.
                    return;
                };
                step = Rational::ONE;
                for ((_, now), (_, best)) in blend.iter().zip(&best) {
                    if best.is_negative()
                        && let Some(to_zero) = now.checked_div(&(now - best))
                    {
                        step = step.min(to_zero);
                    }
                }
                let mut kept = Vec::new();
                for ((i, now), (_, best)) in blend.iter().zip(&best) {
                    let value = now.plus_product(&step, &(best - now));
                    if *i == distance || !value.is_zero() {
                        kept.push((*i, value));
                    }
                }
                *blend = kept;
            }
        }
    }

    /// Shares that come to 1 and have the smallest distance, perhaps below 0. None for no fats, or
    /// where one of them is a blend of the others, which smaller choices cover.
    fn least_squares(&self, blend: &Blend) -> Option<Blend> {
        let mut rows = Vec::new();
        for (i, _) in blend {
            let mut row = Vec::new();
            for (j, _) in blend {
                row.push(self.0[*i][*j].clone());
            }
            let is_sum = i + 1 == self.0.len();
            row.push(if is_sum {
                Rational::ONE
            } else {
                Rational::ZERO
            });
            rows.push(row);
        }
        // The first fat gives the distance, and the sum its share. What is then left of the others
        // are the products of their differences from the first, so that none of them lacks its own
        // share unless it is a blend of those before.
        if rows.len() > 1 {
            rows.swap(0, 1);
        }
        for place in 0..rows.len() {
            linear::solve(&mut rows, place, place)?;
        }
        let mut found = Blend::new();
        for ((i, _), row) in blend.iter().zip(&rows) {
            found.push((*i, row.last()?.clone()));
        }
        Some(found)
    }
}
