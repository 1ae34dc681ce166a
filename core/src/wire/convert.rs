//! `convert`: a quantity in another unit.

use super::read::request;
use super::write::answer;
use crate::fault::Faults;
use crate::quantity::{self, QuantityFault, Ratio, UNITS, Volume};

request! {
    /// A quantity to convert.
    ConvertRequest {
        /// The quantity with its unit, such as "2 lb 3.5 oz".
        quantity: String,
        /// The unit that is wanted, such as "g".
        to: String,
    }
}

answer! {
    /// A quantity in the unit that was asked for.
    ConvertAnswer {
        /// How many of the unit.
        quantity: Ratio,
        /// The unit, in its usual spelling.
        unit: String,
    }
}

pub(super) fn run(request: ConvertRequest, unread: Faults) -> Result<ConvertAnswer, Faults> {
    unread.or(())?;
    let Some(unit) = quantity::unit(&request.to) else {
        if let Err(fault @ QuantityFault::Ambiguous(..)) =
            Volume::parse(&format!("1 {}", request.to))
        {
            return Err(Faults::one(fault.code(), "to", fault.to_string()));
        }
        let names: Vec<_> = UNITS.iter().map(|unit| unit.names[0]).collect();
        return Err(Faults::one(
            "unknown_unit",
            "to",
            format!(
                "this unit is not known here; accepted: {}",
                names.join(", ")
            ),
        ));
    };
    match quantity::convert(&request.quantity, unit) {
        Ok(number) => Ok(ConvertAnswer {
            quantity: Ratio::new(number),
            unit: unit.names[0].to_owned(),
        }),
        Err(fault) => Err(Faults::one(fault.code(), "quantity", fault.to_string())),
    }
}
