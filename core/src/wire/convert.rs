//! `convert`: a quantity in another unit.

use super::view::request;
use super::write::{Writer, answer};
use crate::exact::scan;
use crate::fault::{Faults, listed};
use crate::quantity::{self, QuantityFault, Ratio, UNITS, Volume};

request! {
    /// A quantity to convert.
    ConvertRequest<'a> {
        /// The quantity with its unit, such as "2 lb 3.5 oz".
        quantity: &'a str,
        /// The unit that is wanted, such as "g".
        to: &'a str,
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

pub(super) fn run(
    request: ConvertRequest,
    mut faults: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let Some(unit) = quantity::unit(request.to()) else {
        faults.add_elsewhere(Some(no_such_unit(request.to())));
        // Which unit of the quantity would be right is not known then, but its number is.
        let unreadable = scan(request.quantity().trim()).err();
        faults.add_elsewhere(unreadable.map(|fault| in_quantity(&fault.into())));
        return Err(faults);
    };
    let number = quantity::convert(request.quantity(), unit);
    let number = faults.with(number.map_err(|fault| in_quantity(&fault)))?;
    to.add("quantity", &number);
    to.add("unit", unit.name);
    Ok(())
}

fn in_quantity(fault: &QuantityFault) -> Faults {
    Faults::one(fault.code(), "quantity", fault)
}

fn no_such_unit(name: &str) -> Faults {
    if let Err(fault @ QuantityFault::Ambiguous(..)) = Volume::parse(&format!("1 {name}")) {
        return Faults::one(fault.code(), "to", fault);
    }
    let mut names = Vec::new();
    for unit in &UNITS {
        names.push(unit.name);
    }
    let names = listed(&names, ", ");
    let says = format_args!("this unit is not known here; accepted: {names}");
    Faults::one("unknown_unit", "to", says)
}
