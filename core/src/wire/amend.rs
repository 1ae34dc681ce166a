//! `amend`: what brings a batch back that went wrong.

use super::fat::FatChoice;
use super::plan::{self, PlanRequest};
use super::read::{request, words};
use super::write::{Range, answer};
use crate::amend::{Actual, Amendment, Part, Stage, State, amend};
use crate::fault::{Caution, Faults};
use crate::quantity::{IodineValue, Mass, Ratio, Share};

request! {
    /// What was planned, what happened, and what is still possible.
    AmendRequest {
        /// The batch as planned, as for the operation plan: its superfat, water and split are the
        /// target.
        plan: PlanRequest,
        /// What was weighed in truth; what is left out was weighed as planned.
        actual: ActualRequest,
        /// How far the batch has come; left out: mixed.
        stage: Option<StageWord>,
        /// What may be added; left out: fats, naoh, koh and water.
        may_add: Option<Vec<AdditionWord>>,
        /// The fat to add; left out: the fats of the plan in their planned shares.
        fat: Option<FatChoice>,
        /// The iodine value that the fats shall come to, where a bar is too soft or too brittle;
        /// left out: whatever it is.
        iodine_value: Option<IodineValue>,
        /// How much batter the mould takes; left out: it is not looked at.
        room: Option<Mass>,
    }

    /// What was weighed in truth.
    ActualRequest {
        /// The mass of each fat, in the order of the plan.
        fats: Option<Vec<Mass>>,
        /// Sodium hydroxide as weighed.
        naoh_mass: Option<Mass>,
        /// Potassium hydroxide as weighed.
        koh_mass: Option<Mass>,
        /// All water of the lye.
        water_mass: Option<Mass>,
        /// The mass of each acid, in the order of the plan.
        acids: Option<Vec<Mass>>,
        /// The mass of each additive, in the order of the plan.
        additives: Option<Vec<Mass>>,
    }
}

words! {
    /// How far a batch has come.
    StageWord {
        /// Everything stands apart: alkali and water can also be taken back.
        "apart" => Apart,
        /// The lye is made, or all is mixed: things can only be added.
        "mixed" => Mixed,
        /// It is a finished bar, to be melted down again; its water is not looked at.
        "bar" => Bar,
    }

    /// Something that may be added.
    AdditionWord {
        /// Fat.
        "fats" => Fats,
        /// Sodium hydroxide.
        "naoh" => Naoh,
        /// Potassium hydroxide.
        "koh" => Koh,
        /// Water.
        "water" => Water,
    }
}

answer! {
    /// The smallest additions, and what they do.
    AmendAnswer {
        /// The batch as it is.
        before: StateAnswer,
        /// What to add; below 0: what to take back.
        additions: AdditionsAnswer,
        /// The batch with the additions.
        after: StateAnswer,
        /// Additions that make it a larger batch of the same recipe instead; null for a finished
        /// bar, or where something is in it that was not planned.
        same_recipe: Option<AdditionsAnswer>,
        /// What the mould still takes after the additions; below 0: what does not fit.
        room_left: Option<Mass>,
        /// What to mind.
        cautions: Vec<Caution>,
    }

    /// What to add; below 0: what to take back.
    AdditionsAnswer {
        /// Fats.
        fats: Vec<PartAnswer>,
        /// Sodium hydroxide as bought.
        naoh_mass: Mass,
        /// Potassium hydroxide as bought.
        koh_mass: Mass,
        /// Water.
        water_mass: Mass,
        /// Acids, to keep the recipe.
        acids: Vec<PartAnswer>,
        /// Additives, to keep the recipe.
        additives: Vec<PartAnswer>,
        /// All of it.
        total_mass: Mass,
    }

    /// A thing to add.
    PartAnswer {
        /// Its name.
        name: String,
        /// Its mass.
        mass: Mass,
    }

    /// What a batch amounts to.
    StateAnswer {
        /// The superfat; below 0 there is free alkali.
        superfat: Option<Share>,
        /// The superfat over the published ranges of the fats.
        superfat_range: Option<Range<Share>>,
        /// Potassium hydroxide in the hydroxide, by moles.
        koh_share_by_moles: Option<Share>,
        /// alkali as weighed / (alkali as weighed + water); null for a finished bar.
        lye_concentration: Option<Share>,
        /// water / alkali as weighed; null for a finished bar.
        water_to_lye: Option<Ratio>,
        /// Everything together; of a finished bar: as it was poured.
        batter_mass: Option<Mass>,
    }
}

pub(super) fn run(request: AmendRequest, unread: Faults) -> Result<AmendAnswer, Faults> {
    let planned = plan::batch(request.plan, Faults::new());
    let recipe = unread
        .with(planned.map_err(|found| found.inside("plan")))?
        .recipe;
    let may_add = request.may_add.as_deref();
    let may = |word| may_add.is_none_or(|words| words.contains(&word));
    let actual = request.actual;
    let actual = Actual {
        fats: actual.fats,
        naoh: actual.naoh_mass,
        koh: actual.koh_mass,
        water: actual.water_mass,
        acids: actual.acids,
        additives: actual.additives,
        stage: match request.stage {
            Some(StageWord::Apart) => Stage::Apart,
            None | Some(StageWord::Mixed) => Stage::Mixed,
            Some(StageWord::Bar) => Stage::Bar,
        },
        add_fats: may(AdditionWord::Fats),
        add_naoh: may(AdditionWord::Naoh),
        add_koh: may(AdditionWord::Koh),
        add_water: may(AdditionWord::Water),
        fat: request.fat.map(|fat| fat.0),
        iodine_value: request.iodine_value,
    };
    let amended = amend(&recipe, &actual)?;
    let mut cautions = amended.cautions;
    let room_left = request.room.zip(amended.after.batter_mass.as_ref());
    let room_left = room_left.map(|(room, batter)| room.grams() - batter);
    if let Some(left) = &room_left
        && left.is_negative()
    {
        cautions.push(Caution::new(
            "does_not_fit",
            format!(
                "With the additions {} g of batter do not fit in the mould: have a second one \
                 ready.",
                left.abs().to_fixed(1)
            ),
        ));
    }
    Ok(AmendAnswer {
        before: amended.before.into(),
        additions: amended.additions.into(),
        after: amended.after.into(),
        same_recipe: amended.same_recipe.map(Into::into),
        room_left: room_left.map(Mass::new),
        cautions,
    })
}

impl From<Amendment> for AdditionsAnswer {
    fn from(amendment: Amendment) -> Self {
        let parts = |parts: Vec<Part>| {
            let parts = parts.into_iter();
            let parts = parts.map(|(name, mass)| PartAnswer {
                name,
                mass: Mass::new(mass),
            });
            parts.collect()
        };
        Self {
            total_mass: Mass::new(amendment.total()),
            fats: parts(amendment.fats),
            naoh_mass: Mass::new(amendment.naoh),
            koh_mass: Mass::new(amendment.koh),
            water_mass: Mass::new(amendment.water),
            acids: parts(amendment.acids),
            additives: parts(amendment.additives),
        }
    }
}

impl From<State> for StateAnswer {
    fn from(state: State) -> Self {
        Self {
            superfat: state.superfat,
            superfat_range: state.superfat_range.map(|(low, high)| Range {
                low: Some(low),
                high: Some(high),
            }),
            koh_share_by_moles: state.koh_share,
            lye_concentration: state.lye_concentration,
            water_to_lye: state.water_to_lye,
            batter_mass: state.batter_mass.map(Mass::new),
        }
    }
}
