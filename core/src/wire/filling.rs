//! How full a mould will be, in answers.

use std::fmt;

use super::plan::PlanAnswer;
use super::write::{Range, Value, Writer, answer};
use crate::exact::Rational;
use crate::fault::Caution;
use crate::mould::Mould;
use crate::mould::fill::{Filling, State};
use crate::mould::size::rule_of_thumb;
use crate::plan::fraction_for_percent;
use crate::quantity::{Density, Mass, Ratio, Share, Volume};

answer! {
    /// A kind of cavity and what it holds.
    CavitiesAnswer {
        /// How many there are.
        count: u32,
        /// What a full one will hold; unknown where the mass of the batter is.
        bar_mass: Option<Mass>,
        /// What one takes of the lightest batter and of the densest.
        bar_mass_range: Option<Range<Mass>>,
    }

    /// The exact answer beside a rule of thumb: 0.40 ounces of fats for each cubic inch of the
    /// mould. Common practice, no source.
    RuleOfThumbAnswer {
        /// The fats that the rule gives.
        fats: Mass,
        /// How much more fats fill the mould by this reckoning; below 0: less.
        difference: Share,
    }
}

/// Defines an answer that says how full a mould will be.
macro_rules! filling_answer {
    ($(#[doc = $doc:literal])* $name:ident { $(
        $(#[doc = $field_doc:literal])* $field:ident: $type:ty,
    )* }) => {
        answer! {
            $(#[doc = $doc])*
            $name {
                /// "short", "full" or "left_over".
                state: &'static str,
                /// How many cavities will be full.
                full_cavities: u32,
                /// How full the next one will be, of what was asked; 0 if none is partly full.
                last_cavity: Share,
                /// How many will stay empty.
                empty_cavities: u32,
                /// What of the poured batter finds no room.
                left_over_mass: Option<Mass>,
                /// What stays in the bowl.
                waste_mass: Option<Mass>,
                /// What is poured.
                poured_mass: Option<Mass>,
                /// The whole batter.
                batter_mass: Option<Mass>,
                /// The density of the batter at the pouring temperature, where it was needed.
                batter_density: Option<Density>,
                /// The range in which it lies.
                batter_density_range: Option<Range<Density>>,
                /// The volume of the mould as far as it is to be filled, if it is known.
                mould_volume: Option<Volume>,
                /// The range in which it lies; only π makes it wider than a point.
                mould_volume_range: Option<Range<Volume>>,
                /// poured / what the mould takes, on the side to err on.
                mould_filled: Share,
                /// The same with the likely densities.
                mould_filled_likely: Share,
                /// The same at all ends.
                mould_filled_range: Range<Share>,
                /// The kinds of cavity, in the order of the mould.
                cavities: Vec<CavitiesAnswer>,
                /// What to multiply the batch as weighed by to fill the mould, exactly. Where the
                /// plan has acids or additives by mass, which stay, it is the factor of the fats.
                scale_to_fill: Ratio,
                /// The fats that fill the mould beside a rule of thumb.
                rule_of_thumb: Option<RuleOfThumbAnswer>,
                /// What to mind about the volume.
                mould_cautions: Vec<Caution>,
                $( $(#[doc = $field_doc])* $field: $type, )*
            }
        }
    };
}

filling_answer! {
    /// How full the mould of a plan will be. Reckoned on the side to err on; ranges hold all that
    /// the published densities allow.
    FillingAnswer {}
}

filling_answer! {
    /// How full a mould will be, and the recipe that fills it. Reckoned on the side to err on;
    /// ranges hold all that the published densities allow.
    FillAnswer {
        /// The recipe scaled to fill the mould, weighed on its scale; with a plan only.
        scaled: Option<Box<PlanAnswer>>,
    }
}

/// A mould and how full it will be.
pub(super) struct Filled<'a> {
    filling: &'a Filling,
    mould: &'a Mould,
    /// What to mind about the volume.
    pub cautions: Vec<Caution>,
}

impl Value for Filled<'_> {
    fn write(&self, to: &mut impl Writer) {
        to.inside(|to| self.members(to));
    }
}

impl<'a> Filled<'a> {
    /// With what to mind about what was asked and how full it gets.
    pub fn new(filling: &'a Filling, mould: &'a Mould) -> Self {
        Self {
            filling,
            mould,
            cautions: cautions(filling, mould),
        }
    }

    /// Writes the members of a [`FillingAnswer`].
    pub fn members(&self, to: &mut impl Writer) {
        let Self { filling, mould, .. } = self;
        let volume_range = mould.volume();
        let volume = volume_range.as_ref().map(|volume| volume.middle());
        let batter = filling.batter_mass.as_ref();
        let waste = batter.zip(filling.poured_mass.as_ref());
        let waste = waste.map(|(all, poured)| all.grams() - poured.grams());
        let density = filling.density.as_ref();
        let state = match filling.state {
            State::Short => "short",
            State::Full => "full",
            State::LeftOver => "left_over",
        };
        to.add("state", state);
        to.add("full_cavities", &filling.full_cavities);
        to.add("last_cavity", &filling.last_cavity);
        to.add("empty_cavities", &filling.empty_cavities);
        to.add("left_over_mass", &filling.left_over_mass);
        to.add("waste_mass", &waste);
        to.add("poured_mass", &filling.poured_mass);
        to.add("batter_mass", &filling.batter_mass);
        to.add("batter_density", &density.map(|found| &found.likely));
        to.add("batter_density_range", &density.map(|found| &found.range));
        to.add("mould_volume", &volume);
        to.add("mould_volume_range", &volume_range);
        to.add("mould_filled", &filling.mould_filled);
        to.add("mould_filled_likely", &filling.mould_filled_likely);
        to.add("mould_filled_range", &filling.mould_filled_range);
        let kinds = mould.cavities.iter().zip(&filling.bars);
        to.list("cavities", kinds, |to, (cavities, bar)| {
            let bar = bar.as_ref();
            to.add("count", &cavities.count);
            to.add("bar_mass", &bar.map(|bar| &bar.mass));
            to.add("bar_mass_range", &bar.map(|bar| &bar.range));
        });
        to.add("scale_to_fill", &filling.scale_to_fill);
        match rule(filling, volume.as_ref()) {
            Some((fats, difference)) => to.object("rule_of_thumb", |to| {
                to.add("fats", &fats);
                to.add("difference", &difference);
            }),
            None => to.null("rule_of_thumb"),
        }
        to.add("mould_cautions", self.cautions.as_slice());
    }
}

/// What to mind about what was asked and how full it gets.
fn cautions(filling: &Filling, mould: &Mould) -> Vec<Caution> {
    let mut found = Vec::new();
    let mut look = |fill: &Share, at: &dyn fmt::Display| {
        if *fill.fraction() <= const { Rational::decimal(1, 2) } {
            found.push(fraction_for_percent(fill, at));
        }
    };
    for (i, part) in mould.cavities.iter().enumerate() {
        if let Some(fill) = &part.fill {
            look(fill, &format_args!("mould.several[{i}].fill"));
        }
    }
    look(&mould.fill, &"mould.fill");

    let most = filling.mould_filled_range.1.fraction();
    if filling.state == State::LeftOver {
        found.push(Caution::new(
            "left_over",
            "Batter will be left over: have a spare mould at hand. It is caustic until it has \
             become soap, so do not pour it away.",
        ));
    } else if most.is_above_one() {
        let percent = most * &Rational::HUNDRED;
        found.push(Caution::new(
            "may_overflow",
            format!(
                "The bulkiest batter that the densities allow would need {} % of the room: have a \
                 spare mould at hand.",
                percent.fixed(1)
            ),
        ));
    }
    found
}

/// The fats that the rule of thumb gives, and how much more fill the mould.
fn rule(filling: &Filling, volume: Option<&Rational>) -> Option<(Mass, Share)> {
    let fats = rule_of_thumb(volume?);
    let exact = filling.scaled.as_ref()?.total_fats.grams();
    let ratio = exact.checked_div(fats.grams())?;
    let difference = Share::of_one((ratio - Rational::ONE).reduced());
    Some((fats, difference))
}
