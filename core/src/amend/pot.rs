//! What is in the pot, and what it amounts to.

use std::fmt::Display;

use super::smallest::Thing;
use super::{Kind, Part, State, Titrated};
use crate::chemistry::Alkali;
use crate::exact::{Rational, over};
use crate::fault::Faults;
use crate::plan::{Need, Plan, Taken};
use crate::quantity::{Mass, Ratio, Share};
use crate::recipe::{Amount, FatLine, Recipe};

impl State {
    /// That batch as it was weighed; it has yet to [settle](Self::settle).
    pub(super) fn of(recipe: &Recipe, planned: &Plan, plan: Plan) -> Self {
        let mut recipe = recipe.clone();
        for (line, mass) in recipe.acids.iter_mut().zip(&planned.acids) {
            line.amount = Amount::Mass(mass.clone());
        }
        for (line, mass) in recipe.additives.iter_mut().zip(&planned.additives) {
            line.amount = Amount::Mass(mass.clone());
        }
        Self { recipe, plan }
    }

    /// Takes so much alkali, split as it is, that what was titrated is left over of it.
    pub(super) fn titrate(&mut self, titrated: &Titrated, bar: bool) -> Result<(), Faults> {
        titrated.check(bar)?;
        let plan = &self.plan;
        let free = titrated.mass.grams() * titrated.free_alkali.fraction();
        let all = Need::of(&self.recipe, &plan.fats).typical
            + Taken::by(&self.recipe, &plan.acids).all
            + Alkali::Koh.in_place_of(&free, Alkali::Naoh);
        let (naoh, koh) = self.hydroxide();
        let there = Alkali::Koh.in_place_of(&naoh, Alkali::Naoh) + koh;
        let plan = &mut self.plan;
        match all.checked_div(&there) {
            Some(factor) => {
                plan.naoh_mass = Mass::new(plan.naoh_mass.grams() * &factor);
                plan.koh_mass = Mass::new(plan.koh_mass.grams() * &factor);
            }
            None => {
                let pure = Alkali::Naoh.in_place_of(&all, Alkali::Koh);
                let naoh = over(&pure, self.recipe.alkali.naoh_purity.fraction());
                plan.naoh_mass = Mass::new(naoh);
            }
        }
        Ok(())
    }

    /// Sodium and potassium hydroxide without what they are not, in g.
    fn hydroxide(&self) -> (Rational, Rational) {
        let (alkali, plan) = (&self.recipe.alkali, &self.plan);
        let naoh = plan.naoh_mass.grams() * alkali.naoh_purity.fraction();
        let koh = plan.koh_mass.grams() * alkali.koh_purity.fraction();
        (naoh, koh)
    }

    /// Computes anew what the weights amount to.
    pub(super) fn settle(&mut self) {
        let (naoh, koh) = self.hydroxide();
        let plan = &mut self.plan;
        let need = Need::of(&self.recipe, &plan.fats);
        let brings = Alkali::Koh.in_place_of(&naoh, Alkali::Naoh) + &koh;
        let free = &brings - Taken::by(&self.recipe, &plan.acids).all;
        let superfat = |need: &Rational| Share::of_one(Rational::ONE - over(&free, need));
        plan.superfat = superfat(&need.typical);
        let (low, high) = (superfat(&need.low), superfat(&need.high));
        // A larger need raises the superfat, unless the acids take up more than the alkali.
        plan.superfat_range = match free.is_negative() {
            true => (high, low),
            false => (low, high),
        };
        plan.koh_share_by_moles = Share::of_one(over(&koh, &brings));
        let alkali = plan.naoh_mass.grams() + plan.koh_mass.grams();
        let lye = &alkali + plan.water_mass.grams();
        let hydroxide = &naoh + &koh;
        plan.lye_concentration = Share::of_one(over(&alkali, &lye));
        plan.hydroxide_concentration = Share::of_one(over(&hydroxide, &lye));
        plan.water_to_lye = Ratio::new(over(plan.water_mass.grams(), &alkali));
        plan.naoh_pure_mass = Mass::new(naoh);
        plan.koh_pure_mass = Mass::new(koh);
        plan.naoh_solution_mass = None;
        plan.koh_solution_mass = None;
        plan.water_to_add_mass = plan.water_mass.clone();
        let total = |masses: &[Mass]| -> Rational { masses.iter().map(Mass::grams).sum() };
        let fats = total(&plan.fats);
        plan.batter_mass = Mass::new(&fats + lye + total(&plan.acids) + total(&plan.additives));
        plan.total_fats = Mass::new(fats);
    }

    /// Puts in what was found of each thing, rounded as it is weighed; what that is.
    pub(super) fn put_in<'a>(
        &mut self,
        things: &[Thing<'a>],
        planned: &Plan,
        bar: bool,
    ) -> Vec<Part<'a>> {
        let step = self.recipe.scale_step.clone();
        let mut added: Vec<Part> = Vec::new();
        let mut alkali = Rational::ZERO;
        for thing in things {
            let by_others = added.len();
            for Part { kind, mass } in &thing.of {
                let mut mass = mass * &thing.grams;
                if bar && matches!(kind, Kind::Water) {
                    mass = &alkali * planned.water_to_lye.number();
                }
                mass = rounded(
                    &mass,
                    &step,
                    match kind {
                        Kind::Fat(_) => Rational::ceil_to,
                        Kind::Water => Rational::round_to,
                        _ => Rational::floor_to,
                    },
                );
                let there = self.mass_of(*kind);
                if !matches!(kind, Kind::Fat(_)) {
                    // What is taken back is no more than there is, on whatever scale.
                    mass = mass.max(-there.grams());
                    alkali = alkali + &mass;
                }
                *there = Mass::new(there.grams() + &mass);
                let is_same = |part: &&mut Part| match (part.kind, kind) {
                    (Kind::Fat(one), Kind::Fat(other)) => one == *other,
                    _ => false,
                };
                match added[..by_others].iter_mut().find(is_same) {
                    Some(part) => part.mass = &part.mass + &mass,
                    None => added.push(Part { kind: *kind, mass }),
                }
            }
        }
        added
    }

    /// The mass of what is added; a fat that is not there yet gets a line of its own.
    fn mass_of(&mut self, kind: Kind) -> &mut Mass {
        let (lines, plan) = (&mut self.recipe.fats, &mut self.plan);
        match kind {
            Kind::Fat(fat) => {
                let mut known = lines.iter().zip(&plan.fats);
                let at = known.position(|(line, _)| line.fat == *fat);
                let at = at.unwrap_or_else(|| {
                    let none = Mass::default();
                    lines.push(FatLine::new(fat.clone(), Amount::Mass(none.clone())));
                    plan.fats.push(none);
                    plan.fats.len() - 1
                });
                &mut plan.fats[at]
            }
            Kind::Naoh => &mut plan.naoh_mass,
            Kind::Koh => &mut plan.koh_mass,
            _ => &mut plan.water_mass,
        }
    }
}

/// Everything that is wrong with the masses that were weighed.
pub(super) fn check(weighed: &Plan, planned: &Plan) -> Result<(), Faults> {
    let mut faults = Faults::new();
    check_all(&weighed.fats, &planned.fats, "actual.fats", &mut faults);
    check_all(&weighed.acids, &planned.acids, "actual.acids", &mut faults);
    let (additives, planned) = (&weighed.additives, &planned.additives);
    check_all(additives, planned, "actual.additives", &mut faults);
    not_below(&weighed.naoh_mass, &"actual.naoh_mass", &mut faults);
    not_below(&weighed.koh_mass, &"actual.koh_mass", &mut faults);
    not_below(&weighed.water_mass, &"actual.water_mass", &mut faults);
    if faults.is_empty() && weighed.fats.iter().all(|mass| mass.grams().is_zero()) {
        faults.add("no_fats", "actual.fats", "a batch has at least one fat");
    }
    faults.or(())
}

fn check_all(weighed: &[Mass], planned: &[Mass], at: &'static str, faults: &mut Faults) {
    if weighed.len() != planned.len() {
        faults.add(
            "wrong_count",
            at,
            format_args!(
                "{} masses stand here, and the plan has {}; accepted: one for each, in the order of \
                 the plan",
                weighed.len(),
                planned.len()
            ),
        );
    }
    for (i, mass) in weighed.iter().enumerate() {
        not_below(mass, &format_args!("{at}[{i}]"), faults);
    }
}

fn not_below(mass: &Mass, at: &dyn Display, faults: &mut Faults) {
    if mass.grams().is_negative() {
        let says = "a mass is not below 0; accepted: 0 or more";
        faults.add("negative", at, says);
    }
}

impl Titrated {
    fn check(&self, bar: bool) -> Result<(), Faults> {
        let mut faults = Faults::new();
        if !bar {
            let says = "free alkali is titrated in finished bars; accepted: the stage \"bar\", or \
                        no titration";
            faults.add("not_needed", "bar", says);
        }
        if !self.mass.grams().is_positive() {
            faults.add("not_positive", "bar.mass", "bars weigh more than 0");
        }
        let free = self.free_alkali.fraction();
        if free.is_negative() || *free >= Rational::ONE {
            let says = "free alkali lies from 0 to below 100 %, mostly below 1 %";
            faults.add("out_of_range", "bar.free_alkali", says);
        }
        faults.or(())
    }
}

/// The weights of a plan of that recipe, part by part.
pub(super) fn parts<'a>(recipe: &'a Recipe, plan: &Plan) -> Vec<Part<'a>> {
    let mut parts = Vec::new();
    let mut add = |kind, mass: &Mass| {
        let mass = mass.grams().clone();
        parts.push(Part { kind, mass });
    };
    for (line, mass) in recipe.fats.iter().zip(&plan.fats) {
        add(Kind::Fat(&line.fat), mass);
    }
    for (line, mass) in recipe.acids.iter().zip(&plan.acids) {
        add(Kind::Acid(line), mass);
    }
    for (line, mass) in recipe.additives.iter().zip(&plan.additives) {
        add(Kind::Additive(line), mass);
    }
    add(Kind::Naoh, &plan.naoh_mass);
    add(Kind::Koh, &plan.koh_mass);
    add(Kind::Water, &plan.water_mass);
    parts
}

/// What makes it a larger batch of the same recipe: every part is brought to its planned proportion
/// to the part that is furthest above it. None if a part is there that was not planned.
pub(super) fn enlarged<'a>(
    recipe: &Recipe,
    planned: &[Part<'a>],
    there: &[Part],
) -> Option<Vec<Part<'a>>> {
    let mut scale = Rational::ZERO;
    for (planned, there) in planned.iter().zip(there) {
        if !there.mass.is_zero() {
            scale = scale.max(there.mass.checked_div(&planned.mass)?);
        }
    }
    let mut added = Vec::new();
    for (planned, there) in planned.iter().zip(there) {
        let lacking = &planned.mass * &scale - &there.mass;
        let mass = rounded(&lacking, &recipe.scale_step, Rational::round_to);
        let kind = planned.kind;
        added.push(Part { kind, mass });
    }
    Some(added)
}

type Rounding = fn(&Rational, &Rational) -> Option<Rational>;

/// On the scale, if it has a step.
fn rounded(grams: &Rational, step: &Option<Mass>, to: Rounding) -> Rational {
    let rounded = step.as_ref().and_then(|step| to(grams, step.grams()));
    rounded.unwrap_or_else(|| grams.clone())
}
