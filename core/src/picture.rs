//! A picture of a mould from above, each cavity as full as it will be, as SVG.
//!
//! Black, white and one grey: a full cavity is grey all over, one that is partly full is grey up
//! to a line and says how much, an empty one has a dashed outline. The picture carries its own
//! text alternative (`title` and `desc`), needs no style sheet, font or script, and has no ids,
//! so that many of them can stand in one page.

use std::fmt::{self, Display, Write};

use crate::exact::Rational;
use crate::fault::Faults;
use crate::mould::fill::{Filling, State};
use crate::mould::{Cavities, Mould, Size};
use crate::quantity::Length;

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
    let text = summary(mould, filling, &mut page);
    let (width, height) = (page.width + 2 * MARGIN, page.y + MARGIN);
    let name = if title.is_empty() {
        "A mould from above"
    } else {
        title
    };
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" \
         height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
         font-size=\"14\" fill=\"#000\"><title>{}</title><desc>{text}</desc>\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>{}</svg>",
        Escaped(name),
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
        let y = self.y - LINE / 4;
        let text_of = Escaped(text);
        put(
            &mut self.body,
            format_args!("<text x=\"{MARGIN}\" y=\"{y}\" {style}>{text_of}</text>"),
        );
        self.width = self.width.max(text.chars().count() as u32 * CHARACTER);
    }
}

fn put(body: &mut String, what: fmt::Arguments) {
    // Writing to a string cannot fail.
    let _ = body.write_fmt(what);
}

/// The result in short phrases, each of them a line of the page.
fn summary(mould: &Mould, filling: &Filling, page: &mut Page) -> String {
    let mut text = String::new();
    let mut say = |phrase: fmt::Arguments| {
        if !text.is_empty() {
            text.push_str("; ");
        }
        let start = text.len();
        put(&mut text, phrase);
        page.line(&text[start..], "");
    };
    let count = mould.count();
    let full = filling.full_cavities;
    let share = filling.last_cavity.fraction();
    let mut partial = mould.cavities.iter().map(|c| mould.fill_of(c));
    let asked = match partial.any(Rational::is_below_one) {
        true => " of what was asked",
        false => "",
    };
    let last = Percent::in_words(share);
    if full == count {
        match count {
            1 => say(format_args!("The mould is full")),
            _ => say(format_args!("All {count} cavities are full")),
        }
    } else if count == 1 {
        say(format_args!("The mould is filled to {last}{asked}"));
    } else {
        say(format_args!("{full} of {count} cavities are full"));
        if share.is_positive() {
            say(format_args!("the next is filled to {last}{asked}"));
        }
    }
    match filling.empty_cavities {
        0 => {}
        1 => say(format_args!("1 stays empty")),
        empty => say(format_args!("{empty} stay empty")),
    }
    if filling.state == State::LeftOver {
        match &filling.left_over_mass {
            Some(mass) => say(format_args!("{} g are left over", mass.grams().fixed(1))),
            None => say(format_args!("batter is left over")),
        }
    }
    text.push('.');
    text
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

/// How full a cavity is that is neither full nor empty: never the percent of one that is.
struct Percent<'a> {
    share: &'a Rational,
    in_words: bool,
}

impl<'a> Percent<'a> {
    fn in_words(share: &'a Rational) -> Self {
        Self {
            share,
            in_words: true,
        }
    }
}

impl Display for Percent<'_> {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let percent = self.share * &Rational::HUNDRED;
        let (less, more) = match self.in_words {
            true => ("less than", "more than"),
            false => ("&lt;", "&gt;"),
        };
        if percent < Rational::ONE {
            write!(f, "{less} 1 %")
        } else if percent > const { Rational::integer(99) } {
            write!(f, "{more} 99 %")
        } else {
            write!(f, "{} %", percent.fixed(0))
        }
    }
}

/// What these cavities are, and how far they are filled when they count as full.
fn heading(mould: &Mould, cavities: &Cavities) -> String {
    let mut text = String::new();
    let count = cavities.count;
    match cavities.size {
        _ if count == 1 => {}
        Size::Unknown => put(&mut text, format_args!("{count} ")),
        _ => put(&mut text, format_args!("{count} × ")),
    }
    let cm = |length: &Length| short(length.centimetres());
    let mut of_one = |number: &Rational, unit: &str| {
        let number = short(number);
        put(&mut text, format_args!("{number} {unit}"));
    };
    match &cavities.size {
        Size::Volume(volume) => of_one(volume.cubic_centimetres(), "cm³"),
        Size::Water { mass, .. } => of_one(mass.grams(), "g of water"),
        Size::Batter(mass) => of_one(mass.grams(), "g of batter"),
        Size::Unknown if count == 1 => text.push_str("cavity"),
        Size::Unknown => text.push_str("cavities"),
        Size::Box {
            length,
            width,
            height,
        } => {
            let (length, width, height) = (cm(length), cm(width), cm(height));
            put(
                &mut text,
                format_args!("box, {length} × {width} × {height} cm"),
            );
        }
        Size::Cylinder { diameter, height } => {
            let (diameter, height) = (cm(diameter), cm(height));
            put(
                &mut text,
                format_args!("cylinder, {diameter} × {height} cm"),
            );
        }
    }
    let fill = mould.fill_of(cavities);
    if fill.is_below_one() {
        let fill = Percent::in_words(fill);
        put(&mut text, format_args!(", full at {fill}"));
    }
    text
}

/// A number to one decimal, or none if that is 0.
fn short(number: &Rational) -> String {
    let rounded = number.round_to(&const { Rational::decimal(1, 1) });
    rounded.unwrap_or_default().to_plain()
}

/// So many beside each other that the block is a little wider than high, and full if it can be.
fn columns(form: &Form, count: u32) -> u32 {
    let mut least = 1;
    while least < count && least * form.width < count.div_ceil(least) * form.height {
        least += 1;
    }
    let most = (2 * LARGEST / (form.width + GAP)).clamp(least, 2 * least);
    (least..most + 1)
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
                let height = ratio * const { Rational::integer(LARGEST as i64) };
                Self {
                    width: LARGEST,
                    height: (height.to_f64() as u32).clamp(SMALLEST, LARGEST),
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
        let percent = Percent {
            share,
            in_words: false,
        };
        let mut label: &dyn Display = &"empty";
        let mut dashes = " stroke-dasharray=\"4 4\"";
        let mut middle = height / 2;
        if share.is_positive() {
            dashes = "";
            put(
                body,
                format_args!("<svg x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\">"),
            );
            if share.is_below_one() {
                label = &percent;
                let to_line = (Rational::ONE - share) * Rational::integer(height.into());
                let down = to_line.fixed(2);
                // An inner picture shows only the part of the grey form below the line.
                put(
                    body,
                    format_args!("<svg y=\"{down}\" width=\"{width}\" height=\"{height}\">"),
                );
                self.outline(body, 0, &format_args!("-{down}"), &GREY);
                let to_line = to_line.to_f64();
                let inset = self.inset(to_line);
                let to = width - inset;
                put(
                    body,
                    format_args!(
                        "</svg><path d=\"M{inset} {down}H{to}\" stroke=\"#000\" \
                         stroke-width=\"1\" stroke-dasharray=\"2 2\"/>"
                    ),
                );
                // In the larger of the two parts.
                let to_line = to_line as u32;
                if to_line > middle {
                    middle = to_line / 2;
                } else if to_line > 0 {
                    middle = (to_line + height) / 2;
                }
            } else {
                label = &"full";
                self.outline(body, 0, &"0", &GREY);
            }
            body.push_str("</svg>");
        }
        self.outline(
            body,
            x,
            &y,
            &format_args!("fill=\"none\" stroke=\"#000\" stroke-width=\"2\"{dashes}"),
        );
        let (x, y) = (x + width / 2, y + middle + 5);
        put(
            body,
            format_args!("<text x=\"{x}\" y=\"{y}\" text-anchor=\"middle\">{label}</text>"),
        );
    }

    /// How far from the sides the line that is so far below the upper edge meets the outline.
    fn inset(&self, to_line: f64) -> u32 {
        let radius = f64::from(self.corner);
        let to_edge = to_line.min(f64::from(self.height) - to_line);
        let across = (radius - to_edge).max(0.0);
        (radius - (radius * radius - across * across).sqrt()).ceil() as u32
    }

    fn outline(&self, body: &mut String, x: u32, y: &dyn Display, style: &dyn Display) {
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
struct Escaped<'a>(&'a str);

impl Display for Escaped<'_> {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        for c in self.0.chars() {
            match c {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                '\u{fffe}' | '\u{ffff}' => {}
                c if c < ' ' && !matches!(c, '\t' | '\n' | '\r') => {}
                c => f.write_char(c)?,
            }
        }
        Ok(())
    }
}
