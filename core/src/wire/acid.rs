//! An acid in a request.

use super::accepts::{Accepts, Own, Place};
use super::json::Json;
use super::read::{Given, Reader, shown};
use super::shape::{Shape, Shaped};
use super::view::{Slot, View};
use crate::chemistry::{ACIDS, Acid, FattyAcid};
use crate::fault::listed;

impl Shaped for Acid {
    const SHAPE: &'static Shape = &Shape::Text;
}

impl View<'_> for Acid {
    const ACCEPTS: &'static Accepts = &Accepts::Own(&Own {
        either: &[&Accepts::Text],
        read: read_acid,
        stand_in: || Given::Acid(ACIDS[0]),
    });
    fn of(slot: Slot) -> Self {
        match slot.value() {
            Given::Acid(acid) => *acid,
            _ => ACIDS[0],
        }
    }
}

fn read_acid<'j>(reader: &mut Reader<'j>, json: &'j Json<'j>, at: Place) -> Option<Given<'j>> {
    let Json::Text(name) = json else {
        return reader.wrong_type(json, Acid::ACCEPTS, at);
    };
    if let Some(acid) = Acid::find(name).or_else(|| FattyAcid::find(name).map(Acid::from)) {
        return Some(Given::Acid(acid));
    }
    let (name, ids) = (shown(name), listed(&ACIDS.map(|acid| acid.id), ", "));
    let says = format_args!(
        "no acid is called \"{name}\" here; accepted: {ids}, or a fatty acid such as \"stearic \
         acid\" or \"C18:0\""
    );
    reader.fault("unknown_acid", at, &says)
}
