//! Ranges in a request.

use std::marker::PhantomData;

use super::accepts::Accepts;
use super::read::Given;
use super::shape::{Shape, Shaped};
use super::view::{Pair, View};
use crate::exact::{Interval, Rational};

/// A range: a list of two, the lower end first.
#[derive(Debug, Clone)]
pub struct Span<Q> {
    /// The range, in the base unit.
    pub interval: Interval,
    quantity: PhantomData<Q>,
}

impl<Q> Span<Q> {
    /// A range of percent as one of fractions.
    pub(super) fn fractions(&self) -> Interval {
        &self.interval * &Interval::point(const { Rational::decimal(1, 2) })
    }
}

impl<Q: Shaped> Shaped for Span<Q> {
    const SHAPE: &'static Shape = <Pair<Q> as Shaped>::SHAPE;
}

impl<'a, Q: View<'a>> View<'a> for Span<Q> {
    const ACCEPTS: &'static Accepts = &Accepts::Range(Q::ACCEPTS);
    fn of(given: &'a Given<'a>) -> Self {
        Self {
            interval: given.interval(),
            quantity: PhantomData,
        }
    }
}

/// A quantity, or the range in which it lies.
#[derive(Debug, Clone)]
pub struct OneOrRange<Q>(pub Span<Q>);

impl<Q: Shaped> Shaped for OneOrRange<Q> {
    const SHAPE: &'static Shape = &Shape::Either(&[Q::SHAPE, <Pair<Q> as Shaped>::SHAPE]);
}

impl<'a, Q: View<'a>> View<'a> for OneOrRange<Q> {
    const ACCEPTS: &'static Accepts = &Accepts::OneOrRange([Q::ACCEPTS, Span::<Q>::ACCEPTS]);
    fn of(given: &'a Given<'a>) -> Self {
        Self(Span::of(given))
    }
}
