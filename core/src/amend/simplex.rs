//! The cheapest way to meet linear equations with amounts of 0 or more: G. B. Dantzig's simplex
//! method in exact numbers, with R. G. Bland's rule (Mathematics of Operations Research 2 (1977)
//! 103-107), by which it always ends.

use crate::exact::Rational;

/// Amounts of 0 or more with the least cost that meet all equations, or none if nothing does.
/// No cost is below 0. Each row is an equation: a coefficient for each amount, then the right side.
pub(super) fn least(costs: &[Rational], mut rows: Vec<Vec<Rational>>) -> Option<Vec<Rational>> {
    let amounts = costs.len();
    for row in &mut rows {
        if row[amounts].is_negative() {
            row.iter_mut().for_each(|cell| *cell = -&*cell);
        }
    }
    // What each row lacks is its own first amount, numbered above all others; their sum goes first.
    let mut basis: Vec<usize> = (amounts..amounts + rows.len()).collect();
    let mut lacking = vec![Rational::ZERO; amounts + 1];
    for row in &rows {
        subtract(&mut lacking, &Rational::ONE, row);
    }
    descend(&mut rows, &mut basis, &mut lacking)?;
    if !lacking[amounts].is_zero() {
        return None;
    }
    for i in 0..rows.len() {
        if basis[i] >= amounts
            && let Some(column) = (0..amounts).find(|j| !rows[i][*j].is_zero())
        {
            pivot(&mut rows, &mut lacking, i, column)?;
            basis[i] = column;
        }
    }
    let mut cost = costs.to_vec();
    cost.push(Rational::ZERO);
    for (row, amount) in rows.iter().zip(&basis) {
        if let Some(factor) = costs.get(*amount) {
            subtract(&mut cost, factor, row);
        }
    }
    descend(&mut rows, &mut basis, &mut cost)?;
    let mut found = vec![Rational::ZERO; amounts];
    for (row, amount) in rows.iter().zip(&basis) {
        if let Some(found) = found.get_mut(*amount) {
            *found = row[amounts].clone();
        }
    }
    Some(found)
}

/// Goes from corner to corner while the cost falls.
fn descend(rows: &mut [Vec<Rational>], basis: &mut [usize], cost: &mut [Rational]) -> Option<()> {
    let amounts = cost.len() - 1;
    while let Some(column) = cost[..amounts].iter().position(Rational::is_negative) {
        let steps = rows.iter().enumerate().filter_map(|(i, row)| {
            let rises = row[column].is_positive();
            let step = rises.then(|| row[amounts].checked_div(&row[column]))?;
            Some((step?, basis[i], i))
        });
        let (_, _, row) = steps.min()?;
        pivot(rows, cost, row, column)?;
        basis[row] = column;
    }
    Some(())
}

/// Solves one row for one amount and puts it into all others.
fn pivot(
    rows: &mut [Vec<Rational>],
    cost: &mut [Rational],
    row: usize,
    column: usize,
) -> Option<()> {
    let inverse = Rational::ONE.checked_div(&rows[row][column])?;
    for cell in &mut rows[row] {
        *cell = (&*cell * &inverse).reduced();
    }
    let solved = rows[row].clone();
    for (i, other) in rows.iter_mut().enumerate() {
        if i != row {
            let factor = other[column].clone();
            subtract(other, &factor, &solved);
        }
    }
    let factor = cost[column].clone();
    subtract(cost, &factor, &solved);
    Some(())
}

fn subtract(row: &mut [Rational], factor: &Rational, other: &[Rational]) {
    if factor.is_zero() {
        return;
    }
    for (cell, other) in row.iter_mut().zip(other) {
        if !other.is_zero() {
            *cell = (&*cell - &(factor * other)).reduced();
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
        let found = least(&n(&[1, 1, 1]), rows).unwrap();
        assert_eq!(found[0], Rational::integer(4));
        assert_eq!(found[2], Rational::ratio(2, 3).unwrap());
    }

    #[test]
    fn what_cannot_be_met_has_no_answer() {
        assert!(least(&n(&[1]), vec![n(&[1, -1])]).is_none());
        assert!(least(&n(&[1, 1]), vec![n(&[1, 1, 2]), n(&[1, 1, 3])]).is_none());
        assert!(least(&[], vec![n(&[1])]).is_none());
    }

    #[test]
    fn the_same_equation_twice_and_an_empty_one_do_no_harm() {
        let rows = vec![n(&[1, 2, 4]), n(&[-2, -4, -8]), n(&[0, 0, 0])];
        assert_eq!(least(&n(&[1, 1]), rows).unwrap(), n(&[0, 2]));
    }
}
