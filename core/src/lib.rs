//! Exact soap arithmetic.
