//! A picture of a mould from above, each cavity as full as it will be, as SVG.
//!
//! Black, white and one grey: a full cavity is grey all over, one that is partly full is grey up
//! to a line and says how much, an empty one has a dashed outline. The picture carries its own
//! text alternative (`title` and `desc`), needs no style sheet, font or script, and has no ids,
//! so that many of them can stand in one page.

use std::fmt::Write;

use crate::exact::Rational;
use crate::fault::{Faults, listed};
use crate::mould::fill::{Filling, State};
use crate::mould::{Cavities, Mould, Size};
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
const GREY: &str = "fill=\"#c4c4c4\"";
/// Wide enough for a character of the text.
const CHARACTER: u32 = 8;

/// Draws a mould as full as `filling` says.
///
/// ```
/// use lixivium::mould::fill::{Batter, Yield, fill};
/// use lixivium::mould::{Cavities, ErrOn, Mould, Size, Waste};
/// use lixivium::picture::draw;
/// use lixivium::quantity::{Mass, Share};
///
/// let size = Size::Batter(Mass::parse("100 g").unwrap());
/// let mould = Mould {
///     cavities: vec![Cavities { count: 12, size, fill: None }],
///     fill: Share::WHOLE,
///     waste: Waste::none(),
/// };
/// let mass = Some(Mass::parse("1040 g").unwrap());
/// let batter = Batter { planned: None, mass, yields: Yield::Unknown };
/// let filling = fill(&mould, &batter, ErrOn::NeverOverflow).unwrap();
/// let picture = draw(&mould, &filling, "Second pour").unwrap();
/// assert_eq!(
///     picture.text,
///     "10 of 12 cavities are full; the next is filled to 40 %; 1 stays empty."
/// );
/// assert!(picture.svg.starts_with("<svg") && picture.svg.contains("<title>Second pour</title>"));
/// ```
///
/// # Errors
/// `too_many` for more than [`MAX_DRAWN`] cavities, `text_too_long` for a title of more than
/// [`MAX_TITLE`] characters.
pub fn draw(mould: &Mould, filling: &Filling, title: &str) -> Result<Picture, Faults> {
    let mut faults = Faults::new();
    if mould.count() > MAX_DRAWN {
        let says = format_args!("a picture shows at most {MAX_DRAWN} cavities");
        faults.add("too_many", "mould", says);
    }
    let title_length = title.chars().count();
    if title_length > MAX_TITLE {
        let says = format_args!("a title has at most {MAX_TITLE} characters");
        faults.add("text_too_long", "title", says);
    }
    faults.or(())?;

    let lines = summary(mould, filling);
    let text = format!("{}.", listed(&lines, "; "));
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
        page.line(&heading(mould, cavities), "");
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
    let share = filling.last_cavity.fraction();
    let full = filling.full_cavities;
    let is_partial = mould
        .cavities
        .iter()
        .any(|c| mould.fill_of(c).is_below_one());
    let asked = if is_partial { " of what was asked" } else { "" };
    let last = format!("filled to {}{asked}", percent(share));
    let mut lines = vec![match count {
        1 if full == 1 => "The mould is full".to_owned(),
        1 => format!("The mould is {last}"),
        _ if full == count => format!("All {count} cavities are full"),
        _ => format!("{full} of {count} cavities are full"),
    }];
    if count > 1 && share.is_positive() {
        lines.push(format!("the next is {last}"));
    }
    match filling.empty_cavities {
        0 => {}
        1 => lines.push("1 stays empty".to_owned()),
        empty => lines.push(format!("{empty} stay empty")),
    }
    if filling.state == State::LeftOver {
        lines.push(match &filling.left_over_mass {
            Some(mass) => format!("{} g are left over", mass.grams().fixed(1)),
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
    inner_percent(share, "less than", "more than")
}

/// Of a cavity that is neither full nor empty, and never the percent of one that is.
fn inner_percent(share: &Rational, less: &str, more: &str) -> String {
    let percent = share * &Rational::HUNDRED;
    if percent < Rational::ONE {
        format!("{less} 1 %")
    } else if percent > Rational::integer(99) {
        format!("{more} 99 %")
    } else {
        format!("{} %", percent.fixed(0))
    }
}

/// What these cavities are, and how far they are filled when they count as full.
fn heading(mould: &Mould, cavities: &Cavities) -> String {
    let cm = |length: &Length| short(&length.to_base());
    let size = match &cavities.size {
        Size::Box {
            length,
            width,
            height,
        } => format!("box, {} × {} × {} cm", cm(length), cm(width), cm(height)),
        Size::Cylinder { diameter, height } => {
            format!("cylinder, {} × {} cm", cm(diameter), cm(height))
        }
        Size::Volume(volume) => format!("{} cm³", short(&volume.to_base())),
        Size::Water { mass, .. } => format!("{} g of water", short(&mass.to_base())),
        Size::Batter(mass) => format!("{} g of batter", short(&mass.to_base())),
        Size::Unknown if cavities.count == 1 => "cavity".to_owned(),
        Size::Unknown => "cavities".to_owned(),
    };
    let count = match (cavities.count, &cavities.size) {
        (1, _) => String::new(),
        (count, Size::Unknown) => format!("{count} "),
        (count, _) => format!("{count} × "),
    };
    let fill = mould.fill_of(cavities);
    let full = match fill.is_below_one() {
        true => format!(", full at {}", percent(fill)),
        false => String::new(),
    };
    format!("{count}{size}{full}")
}

/// To one decimal, or none if that is 0.
fn short(number: &Rational) -> String {
    let text = number.to_fixed(1);
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// So many beside each other that the block is a little wider than high, and full if it can be.
fn columns(form: &Form, count: u32) -> u32 {
    let least = (1..=count)
        .find(|columns| columns * form.width >= count.div_ceil(*columns) * form.height)
        .unwrap_or(count);
    let most = (2 * LARGEST / (form.width + GAP)).max(least);
    (least..=most.min(2 * least))
        .find(|columns| count.is_multiple_of(*columns))
        .unwrap_or(least)
}

/// How a cavity looks from above.
struct Form {
    width: u32,
    height: u32,
    /// The radius of its corners.
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
                    corner: 2,
                }
            }
            Size::Cylinder { .. } => Self {
                width: 2 * CAVITY,
                height: 2 * CAVITY,
                corner: CAVITY,
            },
            _ => Self {
                width: CAVITY,
                height: CAVITY,
                corner: 16,
            },
        }
    }

    fn draw(&self, body: &mut String, x: u32, y: u32, share: &Rational) {
        let Self { width, height, .. } = *self;
        let full = *share >= Rational::ONE;
        let mut label = if full { "full" } else { "empty" }.to_owned();
        let mut dashes = " stroke-dasharray=\"4 4\"";
        let mut middle = height / 2;
        if share.is_positive() {
            dashes = "";
            put(
                body,
                format_args!("<svg x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\">"),
            );
            if full {
                self.outline(body, 0, "0", GREY);
            } else {
                label = inner_percent(share, "<", ">");
                let to_line = (Rational::ONE - share) * Rational::integer(height.into());
                let down = to_line.fixed(2);
                // An inner picture shows only the part of the grey form below the line.
                put(
                    body,
                    format_args!("<svg y=\"{down}\" width=\"{width}\" height=\"{height}\">"),
                );
                self.outline(body, 0, &format!("-{down}"), GREY);
                let inset = self.inset(share);
                let to = width - inset;
                put(
                    body,
                    format_args!(
                        "</svg><path d=\"M{inset} {down}H{to}\" stroke=\"#000\" \
                         stroke-width=\"1\" stroke-dasharray=\"2 2\"/>"
                    ),
                );
                // In the larger of the two parts.
                let to_line = to_line.to_f64() as u32;
                if to_line > middle {
                    middle = to_line / 2;
                } else if to_line > 0 {
                    middle = (to_line + height) / 2;
                }
            }
            body.push_str("</svg>");
        }
        let line = format!("fill=\"none\" stroke=\"#000\" stroke-width=\"2\"{dashes}");
        self.outline(body, x, &y.to_string(), &line);
        let (x, y, label) = (x + width / 2, y + middle + 5, escaped(&label));
        put(
            body,
            format_args!("<text x=\"{x}\" y=\"{y}\" text-anchor=\"middle\">{label}</text>"),
        );
    }

    /// How far from the sides the line at that share meets the outline.
    fn inset(&self, share: &Rational) -> u32 {
        let radius = f64::from(self.corner);
        let to_edge = share.clone().min(Rational::ONE - share).to_f64() * f64::from(self.height);
        let across = (radius - to_edge).max(0.0);
        (radius - (radius * radius - across * across).sqrt()).ceil() as u32
    }

    fn outline(&self, body: &mut String, x: u32, y: &str, style: &str) {
        let Self {
            width,
            height,
            corner,
        } = *self;
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
