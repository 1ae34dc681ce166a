//! How full a mould will be, in answers.

use super::plan::PlanAnswer;
use super::write::{Range, answer};
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

/// Defines an answer that says how full a mould will be, and how it is made from a [`Filling`].
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

        impl $name {
            fn of(
                filling: &Filling,
                mould: &Mould,
                noticed: Vec<Caution>,
                $($field: $type,)*
            ) -> Self {
                let volume_range = mould.volume();
                let volume = volume_range.as_ref().map(|volume| volume.middle());
                let waste = filling.batter_mass.as_ref().zip(filling.poured_mass.as_ref());
                let waste = waste.map(|(all, poured)| Mass::new(all.grams() - poured.grams()));
                let (low, high) = filling.mould_filled_range.clone();
                Self {
                    state: match filling.state {
                        State::Short => "short",
                        State::Full => "full",
                        State::LeftOver => "left_over",
                    },
                    full_cavities: filling.full_cavities,
                    last_cavity: filling.last_cavity.clone(),
                    empty_cavities: filling.empty_cavities,
                    left_over_mass: filling.left_over_mass.clone(),
                    waste_mass: waste,
                    poured_mass: filling.poured_mass.clone(),
                    batter_mass: filling.batter_mass.clone(),
                    batter_density: filling
                        .density
                        .as_ref()
                        .map(|density| Density::new(density.likely.clone())),
                    batter_density_range: filling
                        .density
                        .as_ref()
                        .map(|density| Range::of(&density.range)),
                    mould_filled: filling.mould_filled.clone(),
                    mould_filled_likely: filling.mould_filled_likely.clone(),
                    mould_filled_range: Range {
                        low: Some(low),
                        high: Some(high),
                    },
                    cavities: kinds(filling, mould),
                    scale_to_fill: Ratio::new(filling.scale_to_fill.clone()),
                    rule_of_thumb: rule(filling, volume.as_ref()),
                    mould_volume: volume.map(Volume::new),
                    mould_volume_range: volume_range.as_ref().map(Range::of),
                    mould_cautions: [cautions(filling, mould), noticed].concat(),
                    $($field,)*
                }
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

impl FillingAnswer {
    pub(super) fn from(filling: &Filling, mould: &Mould, noticed: Vec<Caution>) -> Self {
        Self::of(filling, mould, noticed)
    }
}

impl FillAnswer {
    pub(super) fn from(
        filling: &Filling,
        mould: &Mould,
        noticed: Vec<Caution>,
        scaled: Option<Box<PlanAnswer>>,
    ) -> Self {
        Self::of(filling, mould, noticed, scaled)
    }
}

/// What to mind about what was asked and how full it gets.
fn cautions(filling: &Filling, mould: &Mould) -> Vec<Caution> {
    let of_parts = mould.cavities.iter().enumerate();
    let of_parts = of_parts.filter_map(|(i, part)| {
        let fill = part.fill.as_ref()?;
        Some((fill, format!("mould.several[{i}].fill")))
    });
    let fills = of_parts.chain([(&mould.fill, "mould.fill".to_owned())]);
    let one_percent = const { Rational::decimal(1, 2) };
    let small = fills.filter(|(fill, _)| *fill.fraction() <= one_percent);
    let mut found: Vec<_> = small
        .map(|(fill, at)| fraction_for_percent(fill, &at))
        .collect();

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
                percent.to_fixed(1)
            ),
        ));
    }
    found
}

fn kinds(filling: &Filling, mould: &Mould) -> Vec<CavitiesAnswer> {
    let kinds = mould.cavities.iter().zip(&filling.bars);
    kinds
        .map(|(cavities, bar)| CavitiesAnswer {
            count: cavities.count,
            bar_mass: bar.as_ref().map(|bar| bar.mass.clone()),
            bar_mass_range: bar.as_ref().map(|bar| Range {
                low: Some(bar.range.0.clone()),
                high: Some(bar.range.1.clone()),
            }),
        })
        .collect()
}

fn rule(filling: &Filling, volume: Option<&Rational>) -> Option<RuleOfThumbAnswer> {
    let fats = rule_of_thumb(volume?);
    let exact = filling.scaled.as_ref()?.total_fats.grams();
    let ratio = exact.checked_div(fats.grams())?;
    Some(RuleOfThumbAnswer {
        fats,
        difference: Share::of_one((ratio - Rational::ONE).reduced()),
    })
}
