//! `amend`: what brings a batch back that went wrong.

use super::filling::{Filled, FillingAnswer};
use super::mould;
use super::plan::{self, PlanRequest};
use super::view::{List, request, words};
use super::write::{Range, Value, Writer, answer};
use crate::amend::{Actual, Kind, Part, Stage, State, Titrated, amend};
use crate::composition::Figure;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::{Caution, Faults, listed};
use crate::mould::fill::{Batter, Yield, fill};
use crate::quantity::{IodineValue, Mass, Quantity, Ratio, Share, Volume};

request! {
    /// What was planned, what happened, and what is still possible.
    AmendRequest<'a> {
        /// The batch as planned, as for the operation plan: its superfat, water and split are the
        /// target, with a scale_step as they were rounded. With its mould the answer says how full
        /// that will be.
        plan: PlanRequest<'a>,
        /// What was weighed in truth; what is left out was weighed as planned.
        actual: ActualRequest<'a>,
        /// How far the batch has come; left out: mixed.
        stage: Option<StageWord>,
        /// What may be added; left out: fats, naoh, koh and water.
        may_add: Option<List<'a, AdditionWord>>,
        /// The fat that may be added; left out: the fats of the plan in their planned shares.
        fat: Option<Fat>,
        /// In place of fat: several, of which as much of each is added as makes the whole least.
        fats: Option<List<'a, Fat>>,
        /// What is brought back; left out: superfat, split and water.
        targets: Option<List<'a, TargetWord>>,
        /// The iodine value that the fats shall come to, where a bar is too soft or too brittle;
        /// left out: whatever it is. No published limit is known from which on a bar is too soft:
        /// take the value of a bar that was hard enough.
        iodine_value: Option<IodineValue>,
        /// The share of saturated acids, in percent of the fatty acids, that the fats shall come
        /// to; left out: whatever it is. For this too no published limit is known.
        saturated: Option<Share>,
        /// What was titrated in the finished bars; left out: reckoned from the weights.
        bar: Option<BarRequest<'a>>,
        /// How much batter the mould takes; left out: it is not looked at.
        room: Option<Mass>,
    }

    /// The finished bars of the batch.
    BarRequest<'a> {
        /// What all of them weigh now.
        mass: Mass,
        /// Free caustic alkali in them, as sodium hydroxide (ISO 456).
        free_alkali: Share,
    }

    /// What was weighed in truth.
    ActualRequest<'a> {
        /// The mass of each fat, in the order of the plan.
        fats: Option<List<'a, Mass>>,
        /// Sodium hydroxide as weighed.
        naoh_mass: Option<Mass>,
        /// Potassium hydroxide as weighed.
        koh_mass: Option<Mass>,
        /// All water of the lye.
        water_mass: Option<Mass>,
        /// The mass of each acid, in the order of the plan.
        acids: Option<List<'a, Mass>>,
        /// The mass of each additive, in the order of the plan.
        additives: Option<List<'a, Mass>>,
    }
}

words! {
    /// How far a batch has come.
    StageWord {
        /// Everything stands apart: alkali, water and what is too much of a fat can be taken back.
        "apart" => Apart,
        /// The fats are mixed, alkali and water still apart: these can be taken back.
        "fats_mixed" => FatsMixed,
        /// The alkali is dissolved, the fats still apart: what is too much of a fat can be taken
        /// back.
        "lye_made" => LyeMade,
        /// All is mixed: things can only be added.
        "mixed" => Mixed,
        /// It is a finished bar, to be melted down again; its water is not looked at.
        "bar" => Bar,
    }

    /// Something that is brought back to the plan.
    TargetWord {
        /// The superfat.
        "superfat" => Superfat,
        /// The split of the two alkalis.
        "split" => Split,
        /// The water, by the rule of the plan.
        "water" => Water,
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
        /// What to add; below 0: what to take back. Of all ways to the targets that with the least
        /// mass, added and taken back counted alike.
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
        /// All that is added less what is taken back.
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
        /// Its volume when poured, at the temperature of the mould of the plan, else at 40 °C;
        /// null for a finished bar, or where no density is known.
        batter_volume: Option<Volume>,
        /// The range in which that lies.
        batter_volume_range: Option<Range<Volume>>,
        /// How full the mould of the plan is with it; null without one, and for a finished bar.
        mould: Option<FillingAnswer>,
    }
}

pub(super) fn run(
    request: AmendRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let planned = plan::batch_inside("plan", request.plan(), unread)?;
    let may_add = request.may_add();
    let may = |word: AdditionWord| may_add.is_none_or(|words| words.has(word as usize));
    let targets = request.targets();
    let keep = |word: TargetWord| targets.is_none_or(|words| words.has(word as usize));
    let fats = request.fats().map(List::all);
    let several = fats.is_some();
    let mut at_hand = fats.unwrap_or_default();
    if let Some(fat) = request.fat() {
        if several {
            let says = "both stand here; accepted: either fat or fats";
            return Err(Faults::one("one_of", "fats", says));
        }
        at_hand.push(fat);
    }
    let mut figures = Vec::new();
    if let Some(value) = request.iodine_value() {
        figures.push((Figure::IodineValue, value.to_base()));
    }
    if let Some(share) = request.saturated() {
        figures.push((Figure::Saturated, share.to_base()));
    }
    let mut weighed = planned.plan.clone();
    let given = request.actual();
    put_all(&mut weighed.fats, given.fats());
    put_all(&mut weighed.acids, given.acids());
    put_all(&mut weighed.additives, given.additives());
    if let Some(naoh) = given.naoh_mass() {
        weighed.naoh_mass = naoh;
    }
    if let Some(koh) = given.koh_mass() {
        weighed.koh_mass = koh;
    }
    if let Some(water) = given.water_mass() {
        weighed.water_mass = water;
    }
    let actual = Actual {
        stage: match request.stage() {
            Some(StageWord::Apart) => Stage::Apart,
            Some(StageWord::FatsMixed) => Stage::FatsMixed,
            Some(StageWord::LyeMade) => Stage::LyeMade,
            None | Some(StageWord::Mixed) => Stage::Mixed,
            Some(StageWord::Bar) => Stage::Bar,
        },
        add_fats: may(AdditionWord::Fats),
        add_naoh: may(AdditionWord::Naoh),
        add_koh: may(AdditionWord::Koh),
        add_water: may(AdditionWord::Water),
        keep_superfat: keep(TargetWord::Superfat),
        keep_split: keep(TargetWord::Split),
        keep_water: keep(TargetWord::Water),
        at_hand,
        figures,
        titrated: request.bar().map(|bar| Titrated {
            mass: bar.mass(),
            free_alkali: bar.free_alkali(),
        }),
    };
    let amended = amend(&planned.recipe, &planned.plan, weighed, &actual)?;
    let bar = actual.stage == Stage::Bar;
    let mut cautions = amended.cautions;
    let (before, after) = (&amended.before, &amended.after);
    to.object("before", |to| {
        write_state(before, &planned, bar, &mut vec![], to);
    });
    to.add("additions", amended.additions.as_slice());
    let mut over = None;
    to.object("after", |to| {
        over = write_state(after, &planned, bar, &mut cautions, to);
    });
    to.add("same_recipe", &amended.same_recipe.as_deref());
    let room = request.room();
    let room_left = room.map(|room| room.grams() - after.plan.batter_mass.grams());
    to.add("room_left", &room_left);
    let over = match room_left {
        Some(left) if left.is_negative() => Some(-left),
        _ => over.filter(Rational::is_positive),
    };
    if let Some(grams) = over {
        cautions.push(Caution::new(
            "does_not_fit",
            format!(
                "With the additions {} g of batter do not fit in the mould: have a second one \
                 ready.",
                grams.fixed(1)
            ),
        ));
    }
    to.add("cautions", cautions.as_slice());
    Ok(())
}

fn put_all(masses: &mut Vec<Mass>, given: Option<List<Mass>>) {
    if let Some(given) = given {
        *masses = given.all();
    }
}

/// Writes the members of a [`StateAnswer`]; what is left over in the mould, in g.
fn write_state(
    state: &State,
    planned: &plan::Batch,
    bar: bool,
    cautions: &mut Vec<Caution>,
    to: &mut impl Writer,
) -> Option<Rational> {
    let State { recipe, plan } = state;
    let batter = plan.batter_mass.grams();
    let alkali = plan.naoh_mass.grams() + plan.koh_mass.grams();
    let has_alkali = !alkali.is_zero();
    let has_lye = has_alkali || !plan.water_mass.grams().is_zero();
    let asked = planned.asked.as_deref().filter(|_| !bar);
    let mut density = None;
    if !bar {
        match mould::density(&planned.pouring, asked, recipe, plan) {
            Ok(found) => density = Some(found),
            Err(faults) => {
                let says: Vec<_> = faults.iter().map(|fault| fault.says.as_str()).collect();
                let says = format!("The volume is not known: {}.", listed(&says, "; "));
                cautions.push(Caution::new("volume_unknown", says));
            }
        }
    }
    let volume = density.as_ref();
    let volume = volume.filter(|density| density.range.low().is_positive());
    let volume = volume.map(|density| density.dividing(batter));
    let yields = density.as_ref().map_or(Yield::Unknown, Yield::Density);
    let filling = asked.and_then(|asked| {
        let batter = Batter {
            planned: None,
            mass: Some(plan.batter_mass.clone()),
            yields,
        };
        fill(&asked.mould, &batter, asked.err_on).ok()
    });
    let filled = asked.zip(filling.as_ref()).map(|(asked, filling)| {
        let mut filled = Filled::new(filling, &asked.mould);
        asked.caution(&planned.pouring, recipe, &mut filled.cautions);
        filled
    });
    to.add("superfat", &plan.superfat);
    to.add("superfat_range", &plan.superfat_range);
    to.add(
        "koh_share_by_moles",
        &has_alkali.then_some(&plan.koh_share_by_moles),
    );
    to.add(
        "lye_concentration",
        &(has_lye && !bar).then_some(&plan.lye_concentration),
    );
    to.add(
        "water_to_lye",
        &(has_alkali && !bar).then_some(&plan.water_to_lye),
    );
    to.add("batter_mass", &plan.batter_mass);
    to.add(
        "batter_volume",
        &volume.as_ref().map(|volume| &volume.likely),
    );
    to.add(
        "batter_volume_range",
        &volume.as_ref().map(|volume| &volume.range),
    );
    to.add("mould", &filled);
    Some(filling?.left_over_mass?.grams().clone())
}

impl Value for [Part<'_>] {
    fn write(&self, to: &mut impl Writer) {
        let (mut naoh, mut koh, mut water) = (Rational::ZERO, Rational::ZERO, Rational::ZERO);
        let mut total = Rational::ZERO;
        for Part { kind, mass } in self {
            match kind {
                Kind::Naoh => naoh = mass.clone(),
                Kind::Koh => koh = mass.clone(),
                Kind::Water => water = mass.clone(),
                _ => {}
            }
            total = total + mass;
        }
        to.inside(|to| {
            list("fats", self, |kind| matches!(kind, Kind::Fat(_)), to);
            to.add("naoh_mass", &naoh);
            to.add("koh_mass", &koh);
            to.add("water_mass", &water);
            list("acids", self, |kind| matches!(kind, Kind::Acid(_)), to);
            list(
                "additives",
                self,
                |kind| matches!(kind, Kind::Additive(_)),
                to,
            );
            to.add("total_mass", &total);
        });
    }
}

/// Writes a list of the parts of a kind.
fn list(name: &'static str, parts: &[Part], is: fn(Kind) -> bool, to: &mut impl Writer) {
    let parts = parts.iter().filter(|part| is(part.kind));
    to.list(name, parts, |to, part| {
        to.add("name", part.kind.name());
        to.add("mass", &part.mass);
    });
}
