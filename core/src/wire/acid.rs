//! An acid in a request.

use super::accepts::{Accepts, Own, Place};
use super::json::Json;
use super::read::{self, Given, shown};
use super::shape::{Shape, Shaped};
use super::view::View;
use crate::chemistry::{ACIDS, Acid, FattyAcid};
use crate::fault::{Faults, listed};

impl Shaped for Acid {
    const SHAPE: &'static Shape = &Shape::Text;
}

impl View<'_> for Acid {
    const ACCEPTS: &'static Accepts = &Accepts::Own(&Own {
        either: &[&Accepts::Text],
        read: read_acid,
    });
    fn of(given: &Given) -> Self {
        match given {
            Given::Acid(acid) => **acid,
            _ => ACIDS[0],
        }
    }
}

fn read_acid<'j>(json: &'j Json<'j>, at: &Place, faults: &mut Faults) -> Given<'j> {
    let Json::Text(name) = json else {
        return read::wrong_type(json, Acid::ACCEPTS, at, faults);
    };
    if let Some(acid) = Acid::find(name).or_else(|| FattyAcid::find(name).map(Acid::from)) {
        return Given::Acid(Box::new(acid));
    }
    let (name, ids) = (shown(name), listed(&ACIDS.map(|acid| acid.id), ", "));
    let says = format_args!(
        "no acid is called \"{name}\" here; accepted: {ids}, or a fatty acid such as \"stearic \
         acid\" or \"C18:0\""
    );
    read::fault("unknown_acid", at, &says, faults)
}
