//! The one door of all faces: requests in, answers out, as plain data.
//!
//! [`OPERATIONS`] is the table of everything that can be asked, each with the shape of its
//! request and of its answer: types and schemas of the faces are made from it. [`call`] takes and
//! gives JSON text; [`answer`] takes a [`Json`] and gives a `serde` value. Both answer a bad request
//! with all its faults, and never panic.
//!
//! ```
//! use lixivium::wire;
//! let reply = wire::call("plan", r#"{"fats": [{"fat": "olive-oil", "mass": 500}],
//!     "superfat": 5, "water": {"lye_concentration": 30}, "scale_step": 0.1}"#);
//! assert!(reply.ok && reply.json.contains("naoh_mass"));
//! let reply = wire::call("plan", r#"{"fats": []}"#);
//! assert!(!reply.ok && reply.json.contains("water"));
//! ```

mod accepts;
mod acid;
pub mod amend;
pub mod assure;
pub mod audit;
pub mod catalogue;
pub mod columns;
pub mod composition;
pub mod convert;
pub mod fat;
pub mod fill;
pub mod filling;
mod json;
pub mod mould;
#[cfg(feature = "picture")]
pub mod picture;
mod plain;
pub mod plan;
pub mod range;
mod read;
pub mod shape;
pub mod swap;
mod text;
pub mod view;
mod write;

use crate::fault::{Faults, listed};
use accepts::Accepts;
pub use json::{Json, MAX_DENOMINATOR_DIGITS, MAX_DEPTH, MAX_REQUEST_BYTES};
pub use plain::Answer;
use read::Given;
pub use read::{MAX_ITEMS, MAX_TEXT_BYTES};
use shape::{Shape, Shaped};
use text::Text;
use view::View;
use write::Writer;

/// One thing that can be asked.
#[derive(Debug)]
pub struct Operation {
    /// Its name, a verb or what is listed.
    pub name: &'static str,
    /// What it does.
    pub doc: &'static str,
    /// What its request looks like.
    pub request: &'static Shape,
    /// What its answer looks like.
    pub answer: &'static Shape,
}

/// An answer as JSON text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reply {
    /// The answer, or `{"error": {"faults": […]}}`.
    pub json: String,
    /// Whether it is an answer.
    pub ok: bool,
}

/// How an operation is called.
struct Call<W> {
    name: &'static str,
    /// What is accepted as its request.
    accepts: &'static Accepts,
    /// Writes the members of the answer to a request, in the reading of which these faults were
    /// found.
    run: fn(&Given, Faults, &mut W) -> Result<(), Faults>,
}

macro_rules! operations {
    ($( $(#[doc = $doc:literal])* $(#[cfg($cfg:meta)])? $name:literal = $run:path as $request:ty => $answer:ty; )*) => {
        /// Everything that can be asked.
        pub static OPERATIONS: &[Operation] = &[ $( $(#[cfg($cfg)])? Operation {
            name: $name,
            doc: concat!($($doc, "\n"),*),
            request: <$request as Shaped>::SHAPE,
            answer: <$answer as Shaped>::SHAPE,
        }, )* ];

        impl<W: Writer + 'static> Call<W> {
            /// How each of them is called. Not in the same table: the linker leaves the shapes
            /// out of a program that only makes calls.
            const ALL: &[Self] = &[ $( $(#[cfg($cfg)])? Self {
                name: $name,
                accepts: <$request as View>::ACCEPTS,
                run: |given, unread, to| $run(View::of(given), unread, to),
            }, )* ];
        }
    };
}

operations! {
    /// Plans a batch: from fats, superfat, alkali and water to what is weighed.
    "plan" = plan::run as plan::PlanRequest => plan::PlanAnswer;
    /// Says how safe a batch is: the worst case over all tolerances, where the spread comes from,
    /// the most alkali that is still safe, and how likely too little superfat is.
    "assure" = assure::run as assure::AssureRequest => assure::AssureAnswer;
    /// Works out weights that were written down: superfat and its range, what follows, what is
    /// missing and what does not fit together. Corrects nothing.
    "audit" = audit::run as audit::AuditRequest => audit::AuditAnswer;
    /// Finds the smallest additions that bring a batch back that went wrong.
    "amend" = amend::run as amend::AmendRequest => amend::AmendAnswer;
    /// Puts other fats in the place of one: the new lye, what changes, and the nearest blend of the
    /// fats at hand.
    "swap" = swap::run as swap::SwapRequest => swap::SwapAnswer;
    /// Says what the fats of a bar are made of and what the bar holds, typical and as ranges; and
    /// what differs between two batches beyond noise.
    "composition" = composition::run as composition::CompositionRequest => composition::CompositionAnswer;
    /// Lists fats with their published figures, each with its source.
    "fats" = catalogue::run as catalogue::FatsRequest => catalogue::FatsAnswer;
    /// Says how full a mould will be, and scales the recipe so that it is full.
    "fill" = fill::run as fill::FillRequest => filling::FillAnswer;
    /// Learns from a batch that was weighed and poured how much the cavities of a mould take.
    "calibrate" = fill::learn as fill::CalibrateRequest => fill::CalibrateAnswer;
    /// Draws a mould from above, each cavity as full as it will be, as SVG.
    #[cfg(feature = "picture")]
    "picture" = picture::run as picture::PictureRequest => picture::PictureAnswer;
    /// Converts a quantity to another unit of the same dimension.
    "convert" = convert::run as convert::ConvertRequest => convert::ConvertAnswer;
}

/// Answers a request that is already a tree of plain data.
///
/// # Errors
/// All the faults of the request, or `unknown_operation`.
pub fn answer(operation: &str, request: &Json) -> Result<Answer, Faults> {
    let mut answer = Answer::default();
    carry_out(operation, request, &mut answer)?;
    Ok(answer)
}

fn carry_out<W: Writer + 'static>(
    operation: &str,
    request: &Json,
    to: &mut W,
) -> Result<(), Faults> {
    request.check_fractions()?;
    for call in Call::<W>::ALL {
        if call.name == operation {
            let (given, unread) = read::request(request, call.accepts);
            return to.inside(|to| (call.run)(&given, unread, to));
        }
    }
    let names: Vec<_> = Call::<W>::ALL.iter().map(|call| call.name).collect();
    let (shown, names) = (read::shown(operation), listed(&names, ", "));
    let says = format_args!("\"{shown}\" cannot be asked here; accepted: {names}");
    Err(Faults::one("unknown_operation", "", says))
}

/// Answers a request in JSON text with JSON text: the answer, or the error answer with all
/// faults. Never panics.
pub fn call(operation: &str, request: &str) -> Reply {
    let answered = Json::parse(request).and_then(|json| {
        let mut text = Text::of_about(6 * request.len());
        carry_out(operation, &json, &mut text)?;
        Ok(text.complete())
    });
    match answered {
        Ok(json) => Reply { json, ok: true },
        Err(found) => {
            let mut text = Text::of_about(256);
            write::faults(&found, &mut text);
            Reply {
                json: text.complete(),
                ok: false,
            }
        }
    }
}
