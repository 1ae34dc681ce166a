//! `picture`: a mould from above, as SVG.

use super::fill::{BatterRequest, Poured};
use super::mould::MouldRequest;
use super::view::request;
use super::write::{Writer, answer};
use crate::fault::Faults;
use crate::picture::draw;

request! {
    /// A batter and the mould that it is poured into, to be drawn.
    PictureRequest<'a> {
        /// The mould; left out: that of the plan.
        mould: Option<MouldRequest<'a>>,
        /// The batter.
        batter: BatterRequest<'a>,
        /// A title of at most 80 characters; left out: none.
        title: Option<&'a str>,
    }
}

answer! {
    /// A picture.
    PictureAnswer {
        /// An SVG document with its own text alternative; black, white and one grey.
        svg: String,
        /// What it shows, in words.
        text: String,
    }
}

pub(super) fn run(
    request: PictureRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let poured = Poured::of(request.mould(), request.batter(), unread)?;
    let filling = poured.filling()?;
    let title = request.title().unwrap_or_default();
    let picture = draw(&poured.asked.mould, &filling, title)?;
    to.add("svg", &picture.svg);
    to.add("text", &picture.text);
    Ok(())
}
