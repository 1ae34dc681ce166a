//! Ranges in a request.

use std::marker::PhantomData;

use super::fat::Pair;
use super::json::Json;
use super::read::{Accepts, Place, Read};
use super::shape::{Shape, Shaped};
use crate::exact::{Interval, Rational};
use crate::fault::Faults;
use crate::quantity::Quantity;

/// A range: a list of two, the lower end first.
#[derive(Debug, Clone)]
pub struct Span<Q> {
    /// The range, in the base unit.
    pub interval: Interval,
    quantity: PhantomData<Q>,
}

impl<Q: Quantity> Span<Q> {
    fn of(interval: Interval) -> Self {
        Self {
            interval,
            quantity: PhantomData,
        }
    }

    /// A range of percent as one of fractions.
    pub(super) fn fractions(&self) -> Interval {
        &self.interval * &Interval::point(const { Rational::decimal(1, 2) })
    }
}

impl<Q: Shaped> Shaped for Span<Q> {
    const SHAPE: &'static Shape = <Pair<Q> as Shaped>::SHAPE;
}

impl<Q: Quantity + Read> Read for Span<Q> {
    const ACCEPTS: &'static Accepts = <Pair<Q> as Read>::ACCEPTS;
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        let Pair(low, high) = Pair::<Q>::read(json, at, faults);
        match Interval::new(low.to_base(), high.to_base()) {
            Some(interval) => Self::of(interval),
            None => {
                faults.add(
                    "bad_range",
                    at.to_string(),
                    "a range goes from the lower to the higher value",
                );
                Self::stand_in()
            }
        }
    }
    fn stand_in() -> Self {
        Self::of(Interval::point(Q::stand_in().to_base()))
    }
}

/// A quantity, or the range in which it lies.
#[derive(Debug, Clone)]
pub struct OneOrRange<Q>(pub Span<Q>);

impl<Q: Shaped> Shaped for OneOrRange<Q> {
    const SHAPE: &'static Shape = &Shape::Either(&[Q::SHAPE, <Pair<Q> as Shaped>::SHAPE]);
}

impl<Q: Quantity + Read> Read for OneOrRange<Q> {
    const ACCEPTS: &'static Accepts = &Accepts::Either(&[Q::ACCEPTS, <Pair<Q> as Read>::ACCEPTS]);
    fn read(json: &Json, at: Place, faults: &mut Faults) -> Self {
        Self(match json {
            Json::List(_) => Span::read(json, at, faults),
            _ => Span::of(Interval::point(Q::read(json, at, faults).to_base())),
        })
    }
    fn stand_in() -> Self {
        Self(Span::stand_in())
    }
}
