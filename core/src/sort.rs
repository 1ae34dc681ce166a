//! Sorting of short lists.

use std::cmp::Ordering;

/// Sorts by insertion; equal items stay in their order.
///
/// The standard library's sort is made for long lists and compiled anew for each type of item: in
/// the browser package it was a twentieth of all code.
pub(crate) fn sort_by<T>(items: &mut [T], order: impl Fn(&T, &T) -> Ordering) {
    for next in 1..items.len() {
        let mut at = next;
        while at > 0 && order(&items[at - 1], &items[at]).is_gt() {
            items.swap(at - 1, at);
            at -= 1;
        }
    }
}
