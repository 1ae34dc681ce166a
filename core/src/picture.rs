//! A picture of a mould from above, each cavity as full as it will be, as SVG.
//!
//! Black, white and one grey: a full cavity is grey all over, one that is partly full is grey up
//! to a line and says how much, an empty one has a dashed outline. The picture carries its own
//! text alternative (`title` and `desc`), needs no style sheet, font or script, and has no ids,
//! so that many of them can stand in one page.

use std::fmt::Write;

use crate::exact::Rational;
use crate::fault::Faults;
use crate::mould::fill::{Filling, State};
use crate::mould::{Mould, Size};
use crate::quantity::{Length, Quantity};

/// The most cavities that a picture shows.
pub const MAX_DRAWN: u32 = 500;

/// The longest title, in characters.
pub const MAX_TITLE: usize = 80;

/// A picture and the same in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// An SVG document.
    pub svg: String,
    /// What it shows.
    pub text: String,
}

// All in units of the picture, mostly pixels on a screen.
const MARGIN: u32 = 20;
const GAP: u32 = 10;
const LINE: u32 = 20;
const CAVITY: u32 = 72;
const LARGEST: u32 = 320;
const SMALLEST: u32 = 64;
const LEAST_WIDTH: u32 = 240;
/// Wide enough for a character of the text.
const CHARACTER: u32 = 8;

/// Draws a mould as full as `filling` says.
///
/// # Errors
/// `too_many` for more than [`MAX_DRAWN`] cavities, `text_too_long` for a title of more than
/// [`MAX_TITLE`] characters.
pub fn draw(mould: &Mould, filling: &Filling, title: &str) -> Result<Picture, Faults> {
    let mut faults = Faults::new();
    if mould.count() > MAX_DRAWN {
        let says = format!("a picture shows at most {MAX_DRAWN} cavities");
        faults.add("too_many", "mould", says);
    }
    let title_length = title.chars().count();
    if title_length > MAX_TITLE {
        let says = format!("a title has at most {MAX_TITLE} characters");
        faults.add("text_too_long", "title", says);
    }
    faults.or(())?;

    let lines = summary(mould, filling);
    let text = format!("{}.", lines.join(", "));
    let mut page = Page {
        body: String::new(),
        width: LEAST_WIDTH,
        y: MARGIN,
    };
    if !title.is_empty() {
        page.line(title, "font-weight=\"bold\"");
    }
    let mut number = 0;
    for cavities in &mould.cavities {
        page.line(&heading(&cavities.size, cavities.count), "");
        page.y += GAP / 2;
        let form = Form::of(&cavities.size);
        let columns = columns(&form, cavities.count);
        for i in 0..cavities.count {
            let (column, row) = (i % columns, i / columns);
            let x = MARGIN + column * (form.width + GAP);
            let y = page.y + row * (form.height + GAP);
            form.draw(&mut page.body, x, y, &filled(filling, number));
            number += 1;
        }
        page.width = page.width.max(columns * (form.width + GAP) - GAP);
        page.y += cavities.count.div_ceil(columns) * (form.height + GAP) + GAP;
    }
    for line in &lines {
        page.line(line, "");
    }
    let (width, height) = (page.width + 2 * MARGIN, page.y + MARGIN);
    let name = if title.is_empty() {
        "A mould from above"
    } else {
        title
    };
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" \
         height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
         font-size=\"14\" fill=\"#000\"><title>{}</title><desc>{}</desc>\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>{}</svg>",
        escaped(name),
        escaped(&text),
        page.body
    );
    Ok(Picture { svg, text })
}

/// What is being drawn.
struct Page {
    body: String,
    width: u32,
    y: u32,
}

impl Page {
    fn line(&mut self, text: &str, style: &str) {
        self.y += LINE;
        put(
            &mut self.body,
            format_args!(
                "<text x=\"{MARGIN}\" y=\"{}\" {style}>{}</text>",
                self.y - LINE / 4,
                escaped(text)
            ),
        );
        let characters = u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
        self.width = self.width.max(characters.saturating_mul(CHARACTER));
    }
}

fn put(body: &mut String, what: std::fmt::Arguments) {
    // Writing to a string cannot fail.
    let _ = body.write_fmt(what);
}

/// The result in short phrases.
fn summary(mould: &Mould, filling: &Filling) -> Vec<String> {
    let count = mould.count();
    let mut lines = vec![match (filling.full_cavities, count) {
        (1, 1) => "The mould is full".to_owned(),
        (0, 1) => "The mould is not full".to_owned(),
        (full, count) => format!("{full} of {count} cavities are full"),
    }];
    let last = filling.last_cavity.fraction();
    if last.is_positive() {
        let what = if count == 1 { "it" } else { "the next" };
        lines.push(format!("{what} to {}", percent(last)));
    }
    match filling.empty_cavities {
        0 => {}
        1 => lines.push("1 stays empty".to_owned()),
        empty => lines.push(format!("{empty} stay empty")),
    }
    if filling.state == State::LeftOver {
        lines.push(match &filling.left_over_mass {
            Some(mass) => format!("{} g are left over", mass.grams().to_fixed(1)),
            None => "batter is left over".to_owned(),
        });
    }
    lines
}

/// How full the cavity of that number is, from 0 to 1.
fn filled(filling: &Filling, number: u32) -> Rational {
    if number < filling.full_cavities {
        Rational::ONE
    } else if number == filling.full_cavities {
        filling.last_cavity.fraction().clone()
    } else {
        Rational::ZERO
    }
}

fn percent(share: &Rational) -> String {
    let percent = share * &Rational::HUNDRED;
    if percent < Rational::ONE {
        "less than 1 %".to_owned()
    } else if percent > Rational::integer(99) {
        "more than 99 %".to_owned()
    } else {
        format!("{} %", percent.to_fixed(0))
    }
}

fn heading(size: &Size, count: u32) -> String {
    let times = if count == 1 {
        String::new()
    } else {
        format!("{count} × ")
    };
    let cm = |length: &Length| length.to_base().to_fixed(1);
    match size {
        Size::Box {
            length,
            width,
            height,
        } => format!(
            "{times}box, {} × {} × {} cm",
            cm(length),
            cm(width),
            cm(height)
        ),
        Size::Cylinder { diameter, height } => {
            format!("{times}cylinder, {} × {} cm", cm(diameter), cm(height))
        }
        Size::Volume(volume) => format!("{times}{} cm³", volume.to_base().to_fixed(1)),
        Size::Water { mass, .. } => format!("{times}{} g of water", mass.to_base().to_fixed(1)),
        Size::Batter(mass) => format!("{times}{} g of batter", mass.to_base().to_fixed(1)),
        Size::Unknown => format!("{count} cavities"),
    }
}

/// So many beside each other that the block is a little wider than high.
fn columns(form: &Form, count: u32) -> u32 {
    let most = (2 * LARGEST / (form.width + GAP)).max(1);
    (1..=count)
        .find(|columns| columns * form.width >= count.div_ceil(*columns) * form.height)
        .unwrap_or(count)
        .min(most.max(count.isqrt()))
}

/// How a cavity looks from above.
struct Form {
    width: u32,
    height: u32,
    is_round: bool,
    corner: u32,
}

impl Form {
    fn of(size: &Size) -> Self {
        match size {
            Size::Box { length, width, .. } => {
                let (a, b) = (length.centimetres(), width.centimetres());
                let (long, short) = if a < b { (b, a) } else { (a, b) };
                let ratio = short.checked_div(long).unwrap_or_default();
                let height = (ratio * Rational::integer(LARGEST.into())).to_f64() as u32;
                Self {
                    width: LARGEST,
                    height: height.clamp(SMALLEST, LARGEST),
                    is_round: false,
                    corner: 2,
                }
            }
            Size::Cylinder { .. } => Self {
                width: 2 * CAVITY,
                height: 2 * CAVITY,
                is_round: true,
                corner: 0,
            },
            _ => Self {
                width: CAVITY,
                height: CAVITY,
                is_round: false,
                corner: 16,
            },
        }
    }

    fn draw(&self, body: &mut String, x: u32, y: u32, share: &Rational) {
        let full = *share >= Rational::ONE;
        let empty = !share.is_positive();
        let dashes = if empty {
            " stroke-dasharray=\"4 4\""
        } else {
            ""
        };
        let Self { width, height, .. } = *self;
        if !empty {
            // An inner picture shows only the part of the grey form below the line.
            let down = (Rational::ONE - share) * Rational::integer(height.into());
            let down = down.to_fixed(2);
            put(
                body,
                format_args!("<svg x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\">"),
            );
            if full {
                self.outline(body, 0, "0", "fill=\"#c4c4c4\"");
            } else {
                put(
                    body,
                    format_args!("<svg y=\"{down}\" width=\"{width}\" height=\"{height}\">"),
                );
                self.outline(body, 0, &format!("-{down}"), "fill=\"#c4c4c4\"");
                put(body, format_args!("</svg>"));
                let style = "stroke=\"#000\" stroke-width=\"1\" stroke-dasharray=\"2 2\"";
                put(
                    body,
                    format_args!("<path d=\"M0 {down}H{width}\" {style}/>"),
                );
            }
            put(body, format_args!("</svg>"));
        }
        let line = format!("fill=\"none\" stroke=\"#000\" stroke-width=\"2\"{dashes}");
        self.outline(body, x, &y.to_string(), &line);
        let label = if full {
            "full".to_owned()
        } else if empty {
            "empty".to_owned()
        } else {
            percent(share)
                .replace("less than", "<")
                .replace("more than", ">")
        };
        // In the larger of the two parts.
        let to_line = ((Rational::ONE - share) * Rational::integer(height.into())).to_f64() as u32;
        let middle = match to_line.min(height) {
            line if full || empty || line == 0 => height / 2,
            line if line > height / 2 => line / 2,
            line => (line + height) / 2,
        };
        put(
            body,
            format_args!(
                "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
                x + width / 2,
                y + middle + 5,
                escaped(&label)
            ),
        );
    }

    fn outline(&self, body: &mut String, x: u32, y: &str, style: &str) {
        let Self {
            width,
            height,
            is_round,
            corner,
        } = *self;
        let corner = if is_round { width / 2 } else { corner };
        put(
            body,
            format_args!(
                "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" rx=\"{corner}\" {style}/>"
            ),
        );
    }
}

/// Text inside an element: what XML 1.0 forbids is left out.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            c if c < ' ' && !matches!(c, '\t' | '\n' | '\r') => {}
            c => escaped.push(c),
        }
    }
    escaped
}
