//! Linear equations in exact numbers, and the cheapest of many solutions.
//!
//! Each row is an equation: a coefficient for each unknown, then the right side.

use crate::exact::Rational;

/// Amounts of 0 or more with the least cost that meet all equations, or none if nothing does.
/// No cost is below 0.
///
/// G. B. Dantzig's simplex method, with R. G. Bland's rule (Mathematics of Operations Research 2
/// (1977) 103-107), by which it always ends.
pub(crate) fn least(
    mut costs: Vec<Rational>,
    mut rows: Vec<Vec<Rational>>,
) -> Option<Vec<Rational>> {
    let amounts = costs.len();
    // What each row lacks is its own first amount, numbered above all others. The sum of these
    // counts more than any cost.
    let mut basis: Vec<usize> = (amounts..amounts + rows.len()).collect();
    let mut lacking = vec![Rational::ZERO; amounts + 1];
    for row in &mut rows {
        let sign = Rational::integer(if row[amounts].is_negative() { -1 } else { 1 });
        for (cell, lacking) in row.iter_mut().zip(&mut lacking) {
            *cell = &*cell * &sign;
            *lacking = &*lacking - &*cell;
        }
    }
    costs.push(Rational::ZERO);
    rows.push(costs);
    rows.push(lacking);
    loop {
        let [equations @ .., costs, lacking] = &rows[..] else {
            return None;
        };
        let falls = |i: &usize| {
            let lacking = &lacking[*i];
            lacking.is_negative() || lacking.is_zero() && costs[*i].is_negative()
        };
        let Some(column) = (0..amounts).find(falls) else {
            break;
        };
        let mut first: Option<(Rational, usize)> = None;
        for (i, row) in equations.iter().enumerate() {
            let rise = &row[column];
            if rise.is_positive() {
                let step = row[amounts].checked_div(rise)?;
                let order = |(other, at): &(Rational, usize)| {
                    step.cmp(other).then(basis[i].cmp(&basis[*at]))
                };
                if first.as_ref().is_none_or(|first| order(first).is_lt()) {
                    first = Some((step, i));
                }
            }
        }
        let (_, row) = first?;
        solve(&mut rows, row, column)?;
        basis[row] = column;
    }
    if !rows.last()?[amounts].is_zero() {
        return None;
    }
    let mut found = vec![Rational::ZERO; amounts];
    for (row, amount) in rows.iter().zip(&basis) {
        if let Some(found) = found.get_mut(*amount) {
            *found = row[amounts].clone();
        }
    }
    Some(found)
}

/// Solves one row for one unknown and puts it into all others; none if it is not in the row.
pub(crate) fn solve(rows: &mut [Vec<Rational>], row: usize, column: usize) -> Option<()> {
    let mut solved = std::mem::take(&mut rows[row]);
    let inverse = Rational::ONE.checked_div(&solved[column])?;
    for cell in &mut solved {
        *cell = (&*cell * &inverse).reduced();
    }
    for other in &mut *rows {
        if let Some(factor) = other.get(column).cloned() {
            subtract(other, &factor, &solved);
        }
    }
    rows[row] = solved;
    Some(())
}

fn subtract(row: &mut [Rational], factor: &Rational, other: &[Rational]) {
    if factor.is_zero() {
        return;
    }
    let less = -factor;
    for (cell, other) in row.iter_mut().zip(other) {
        if !other.is_zero() {
            *cell = cell.plus_product(&less, other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn n(numbers: &[i64]) -> Vec<Rational> {
        numbers.iter().map(|n| Rational::integer(*n)).collect()
    }

    #[test]
    fn the_cheapest_corner_is_found() {
        // x + y = 4, x + 3 z = 6: costs 1, 1, 1.
        let rows = vec![n(&[1, 1, 0, 4]), n(&[1, 0, 3, 6])];
        let found = least(n(&[1, 1, 1]), rows).unwrap();
        assert_eq!(found[0], Rational::integer(4));
        assert_eq!(found[2], Rational::ratio(2, 3).unwrap());
    }

    #[test]
    fn what_cannot_be_met_has_no_answer() {
        assert!(least(n(&[1]), vec![n(&[1, -1])]).is_none());
        assert!(least(n(&[1, 1]), vec![n(&[1, 1, 2]), n(&[1, 1, 3])]).is_none());
        assert!(least(vec![], vec![n(&[1])]).is_none());
    }

    #[test]
    fn the_same_equation_twice_and_an_empty_one_do_no_harm() {
        let rows = vec![n(&[1, 2, 4]), n(&[-2, -4, -8]), n(&[0, 0, 0])];
        assert_eq!(least(n(&[1, 1]), rows).unwrap(), n(&[0, 2]));
    }
}
