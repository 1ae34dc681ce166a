//! `plan`: from a recipe to what is weighed.

use super::accepts::Place;
use super::filling::{Filled, FillingAnswer};
use super::json::Json;
use super::mould::{MouldAsked, MouldRequest, pouring};
use super::read;
use super::shape::{Shape, Shaped, object};
use super::view::{List, OptionalList, View, request, words};
use super::write::{Range, Writer, answer};
use crate::chemistry::Acid;
use crate::exact::Rational;
use crate::fats::Fat;
use crate::fault::{Caution, Faults};
use crate::mould::batter::Pouring;
use crate::mould::fill::{Batter, Filling, Yield, fill_knowing};
use crate::mould::size::size;
use crate::plan::{Plan, plan};
use crate::quantity::{Density, Mass, Ratio, SaponificationValue, Share, Volume};
use crate::recipe::{
    AcidEffect, AcidLine, AdditiveLine, Alkali, Amount, FatLine, Recipe, ShareBy, StockSolution,
    Water, WaterRule,
};

request! {
    /// A batch to plan.
    PlanRequest<'a> {
        /// The fats: all by mass, or all by share with total_fats or a mould.
        fats: List<'a, FatRequest<'a>>,
        /// The mass of all fats, when they are given by share and no mould decides it.
        total_fats: Option<Mass>,
        /// The mould to fill: with fats by share it decides total_fats, with fats by mass the
        /// answer says how full it will be.
        mould: Option<MouldRequest<'a>>,
        /// Share of the fats that the alkali is too little to saponify; 5 means 5 %.
        superfat: Share,
        /// The alkali; left out: sodium hydroxide, purity 100 %.
        alkali: Option<AlkaliRequest<'a>>,
        /// The water.
        water: WaterRequest<'a>,
        /// Lye made up ahead, from which the alkali is taken.
        stock_solution: Option<StockRequest<'a>>,
        /// Acids that take up alkali.
        acids: OptionalList<'a, AcidRequest<'a>>,
        /// Everything else that goes into the batter and takes up no alkali.
        additives: OptionalList<'a, AdditiveRequest<'a>>,
        /// The smallest step of the scale; left out: nothing is rounded.
        scale_step: Option<Mass>,
    }

    /// A fat of a batch: `mass` or `share`.
    FatRequest<'a> {
        /// An id or alias of the catalogue, or a fat of one's own.
        fat: Fat,
        /// Its mass.
        mass: Option<Mass>,
        /// Its share of all fats.
        share: Option<Share>,
    }

    /// The alkali of a batch.
    AlkaliRequest<'a> {
        /// How much of it is potassium hydroxide; left out: none.
        koh_share: Option<Share>,
        /// What koh_share counts; left out: moles.
        share_by: Option<ShareByWord>,
        /// Mass share of sodium hydroxide in the product as bought; left out: 100 %.
        naoh_purity: Option<Share>,
        /// Mass share of potassium hydroxide in the product as bought; left out: 100 %.
        koh_purity: Option<Share>,
    }

    /// The water of a batch: exactly one of `lye_concentration`, `water_to_lye`, `of_fats`.
    WaterRequest<'a> {
        /// alkali as weighed / (alkali as weighed + water).
        lye_concentration: Option<Share>,
        /// water / alkali as weighed, a plain ratio: 2 or "2:1".
        water_to_lye: Option<Ratio>,
        /// water / fats.
        of_fats: Option<Share>,
        /// Whether what the alkali is not (100 % minus purity) counts as water, so that less is
        /// added and the rule speaks of pure alkali; left out: false.
        count_alkali_water: Option<bool>,
        /// Whether the water in the acids counts as water of the lye; left out: false.
        count_acid_water: Option<bool>,
    }

    /// Stock solutions: the lye concentration of each that is used.
    StockRequest<'a> {
        /// alkali as bought / solution, for sodium hydroxide.
        naoh: Option<Share>,
        /// alkali as bought / solution, for potassium hydroxide.
        koh: Option<Share>,
    }

    /// An acid of a batch: `mass` or `of_fats`.
    AcidRequest<'a> {
        /// Which acid.
        acid: Acid,
        /// Its mass as bought.
        mass: Option<Mass>,
        /// Its mass as a share of all fats.
        of_fats: Option<Share>,
        /// Mass share of the acid in it, such as 5 for vinegar of 5 %; left out: 100 %.
        strength: Option<Share>,
        /// What becomes of the alkali that it takes up; left out: compensate.
        alkali: Option<AcidEffectWord>,
        /// Its density as bought, for the room that it takes in a mould.
        density: Option<Density>,
        /// Or the volume that its mass takes in the batter; not with of_fats.
        displaces: Option<Volume>,
    }

    /// Something else in the batter: `mass` or `of_fats`. In a mould that decides the size of
    /// the batch, a mass stays as it is and a share follows the fats.
    AdditiveRequest<'a> {
        /// Its name.
        name: &'a str,
        /// Its mass.
        mass: Option<Mass>,
        /// Its mass as a share of all fats.
        of_fats: Option<Share>,
        /// Its density, for the room that it takes in a mould.
        density: Option<Density>,
        /// Or the volume that its mass takes in the batter; not with of_fats.
        displaces: Option<Volume>,
    }
}

words! {
    /// What koh_share counts.
    ShareByWord {
        /// Amount of substance.
        "moles" => Moles,
        /// Mass of pure alkali.
        "mass" => Mass,
    }

    /// What becomes of the alkali that an acid takes up.
    AcidEffectWord {
        /// Alkali is added for it; the superfat stays as asked.
        "compensate" => Compensate,
        /// None is added; the superfat rises.
        "raise_superfat" => RaiseSuperfat,
    }
}

answer! {
    /// A planned batch: what to weigh, and what it amounts to. Masses in g, shares in percent.
    PlanAnswer {
        /// The fats, in the order of the request.
        fats: Vec<FatAnswer>,
        /// The mass of all fats.
        total_fats: Mass,
        /// Sodium hydroxide as weighed, purity included.
        naoh_mass: Mass,
        /// Potassium hydroxide as weighed, purity included.
        koh_mass: Mass,
        /// Pure sodium hydroxide in it.
        naoh_pure_mass: Mass,
        /// Pure potassium hydroxide in it.
        koh_pure_mass: Mass,
        /// Potassium hydroxide in the hydroxide, by amount of substance.
        koh_share_by_moles: Share,
        /// All water of the lye, that of stock solutions included.
        water_mass: Mass,
        /// Water to weigh: water_mass without what stock solutions bring.
        water_to_add_mass: Mass,
        /// Stock solutions to weigh in place of the solid alkali.
        stock_solution: StockAnswer,
        /// The acids, in the order of the request.
        acids: Vec<AcidAnswer>,
        /// The additives, in the order of the request.
        additives: Vec<AdditiveAnswer>,
        /// Everything together, as poured.
        batter_mass: Mass,
        /// Share of the fats that stays unsaponified, from the weights as they will be weighed.
        superfat: Share,
        /// The same with all fats at the ends of their published ranges.
        superfat_range: Range<Share>,
        /// alkali as weighed / (alkali as weighed + water).
        lye_concentration: Share,
        /// hydroxide / (alkali as weighed + water).
        hydroxide_concentration: Share,
        /// water / alkali as weighed, a plain ratio.
        water_to_lye: Ratio,
        /// How full the mould will be, if one was given.
        mould: Option<FillingAnswer>,
        /// What to mind.
        cautions: Vec<Caution>,
    }

    /// A fat as it will be weighed.
    FatAnswer {
        /// Its id in the catalogue, or its name.
        fat: String,
        /// Its name.
        name: String,
        /// Its mass.
        mass: Mass,
        /// Its share of all fats.
        share: Share,
        /// The saponification value reckoned with.
        saponification_value: SaponificationValue,
    }

    /// Stock solutions to weigh.
    StockAnswer {
        /// Mass of the sodium hydroxide solution, if one is used.
        naoh_solution_mass: Option<Mass>,
        /// Mass of the potassium hydroxide solution, if one is used.
        koh_solution_mass: Option<Mass>,
    }

    /// An acid as it will be weighed.
    AcidAnswer {
        /// Its id.
        acid: String,
        /// Its name.
        name: String,
        /// Its mass as bought.
        mass: Mass,
    }

    /// An additive as it will be weighed.
    AdditiveAnswer {
        /// Its name.
        name: String,
        /// Its mass.
        mass: Mass,
    }
}

impl Shaped for Caution {
    const SHAPE: &'static Shape = &object!(
        "Caution",
        ["Something to mind."],
        { ["A stable identifier."] code: String, ["One plain sentence."] says: String, }
    );
}

/// The recipe and the plan of a request of the operation `plan`.
///
/// # Errors
/// All the faults of the request.
pub fn planned(request: &Json) -> Result<(Recipe, Plan), Faults> {
    request.check_fractions()?;
    let (given, unread) = read::request(request, PlanRequest::ACCEPTS);
    let Batch { recipe, plan, .. } = *batch(View::of(&given), unread)?;
    Ok((recipe, plan))
}

pub(super) fn run(
    request: PlanRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let batch = batch(request, unread)?;
    let poured = batch.asked.as_ref().zip(batch.filling.as_ref());
    let poured = poured.map(|(asked, filling)| {
        let mut filled = Filled::new(filling, &asked.mould);
        asked.caution(&batch.pouring, &batch.recipe, &mut filled.cautions);
        filled
    });
    write(&batch.recipe, &batch.plan, poured, to);
    Ok(())
}

/// A planned batch, the mould that it is poured into, and how full that will be.
pub(super) struct Batch {
    pub recipe: Recipe,
    pub plan: Plan,
    pub pouring: Pouring,
    pub asked: Option<Box<MouldAsked>>,
    pub filling: Option<Box<Filling>>,
}

/// Plans the batch of a request; a mould decides its size if the fats are by share.
pub(super) fn batch(request: PlanRequest, mut unread: Faults) -> Result<Box<Batch>, Faults> {
    let mut faults = Faults::new();
    let mut pouring = pouring(request, &mut faults);
    let by_share = request.fats().any(|line| line.share().is_some());
    let mould = request.mould();
    let mut total_fats = request.total_fats();
    if by_share && mould.is_some() {
        if total_fats.is_some() {
            faults.add(
                "total_not_needed",
                "total_fats",
                "the mould decides the total of the fats: leave out total_fats or the mould",
            );
        }
        // Any total will do until the mould decides it.
        total_fats = Some(Mass::new(Rational::HUNDRED));
    }
    let mut wrong = Faults::new();
    let asked = mould.map(|mould| mould.asked(&mut wrong));
    let mut yields = Yield::Unknown;
    if let Some(asked) = asked.as_ref().filter(|_| wrong.is_empty()) {
        asked.pour(&mut pouring);
        match asked.yields(&pouring) {
            Ok(found) => yields = found,
            Err(found) => wrong = found,
        }
    }
    faults.add_elsewhere(Some(wrong));
    let mut wrong = Faults::new();
    let mut recipe = recipe_of(request, total_fats, &mut wrong);
    if !(unread.is_empty() && faults.is_empty() && wrong.is_empty()) {
        wrong.add_elsewhere(recipe.check().err());
        faults.add_elsewhere(Some(wrong));
        unread.add_elsewhere(Some(faults));
        return Err(unread);
    }
    let mut sized = None;
    if let Some(asked) = &asked
        && by_share
    {
        recipe.check()?;
        let found = size(&recipe, &asked.mould, yields, asked.err_on)?;
        recipe.total_fats.clone_from(&found.recipe.total_fats);
        sized = Some(found);
    }
    let plan = plan(&recipe)?;
    let mut filling = None;
    if let Some(asked) = &asked {
        let batter = Batter {
            planned: Some((&recipe, &plan)),
            mass: None,
            yields,
        };
        filling = Some(fill_knowing(&asked.mould, &batter, asked.err_on, sized)?);
    }
    Ok(Box::new(Batch {
        recipe,
        plan,
        pouring,
        asked,
        filling,
    }))
}

/// The batch of a member of another request.
pub(super) fn batch_inside(
    at: &str,
    request: PlanRequest,
    unread: Faults,
) -> Result<Box<Batch>, Faults> {
    let batch = batch(request, Faults::new());
    unread.with(batch.map_err(|found| found.inside(at)))
}

/// The recipe of a request with that total; what does not stand together is added to the faults.
fn recipe_of(request: PlanRequest, total_fats: Option<Mass>, faults: &mut Faults) -> Recipe {
    let lines = request.fats();
    let mut fats = Vec::with_capacity(lines.len());
    for (i, line) in lines.enumerate() {
        let at = Place::Item(&const { Place::top("fats") }, i);
        let amount = amount(line.mass(), line.share(), "share", at, faults);
        fats.push(FatLine::new(line.fat(), amount));
    }
    Recipe {
        fats,
        total_fats,
        superfat: request.superfat(),
        alkali: alkali(request.alkali()),
        acids: acids(request.acids(), faults),
        additives: additives(request.additives(), faults),
        water: water(request.water(), faults),
        stock_solution: stock(request.stock_solution()),
        scale_step: request.scale_step(),
    }
}

pub(super) fn acids(request: OptionalList<AcidRequest>, faults: &mut Faults) -> Vec<AcidLine> {
    let mut acids = Vec::new();
    for (i, line) in request.into_iter().enumerate() {
        let at = Place::Item(&const { Place::top("acids") }, i);
        acids.push(AcidLine {
            acid: line.acid(),
            amount: amount(line.mass(), line.of_fats(), "of_fats", at, faults),
            strength: line.strength().unwrap_or(Share::WHOLE),
            effect: match line.alkali() {
                None | Some(AcidEffectWord::Compensate) => AcidEffect::Compensate,
                Some(AcidEffectWord::RaiseSuperfat) => AcidEffect::RaiseSuperfat,
            },
        });
    }
    acids
}

pub(super) fn additives(
    request: OptionalList<AdditiveRequest>,
    faults: &mut Faults,
) -> Vec<AdditiveLine> {
    let mut additives = Vec::new();
    for (i, line) in request.into_iter().enumerate() {
        let at = Place::Item(&const { Place::top("additives") }, i);
        additives.push(AdditiveLine {
            name: line.name().to_owned(),
            amount: amount(line.mass(), line.of_fats(), "of_fats", at, faults),
        });
    }
    additives
}

fn amount(
    mass: Option<Mass>,
    share: Option<Share>,
    share_name: &str,
    at: Place,
    faults: &mut Faults,
) -> Amount {
    match (mass, share) {
        (Some(mass), None) => Amount::Mass(mass),
        (None, Some(share)) => Amount::Share(share),
        (found, _) => {
            let problem = if found.is_some() {
                "both stand"
            } else {
                "neither stands"
            };
            let says = format_args!("{problem} here; accepted: either mass or {share_name}");
            faults.add("one_of", at, says);
            Amount::Mass(Mass::new(Rational::ONE))
        }
    }
}

pub(super) fn alkali(request: Option<AlkaliRequest>) -> Alkali {
    let Some(request) = request else {
        return Alkali::default();
    };
    Alkali {
        koh_share: request.koh_share().unwrap_or(Share::NONE),
        share_by: match request.share_by() {
            None | Some(ShareByWord::Moles) => ShareBy::Moles,
            Some(ShareByWord::Mass) => ShareBy::Mass,
        },
        naoh_purity: request.naoh_purity().unwrap_or(Share::WHOLE),
        koh_purity: request.koh_purity().unwrap_or(Share::WHOLE),
    }
}

pub(super) fn stock(request: Option<StockRequest>) -> StockSolution {
    StockSolution {
        naoh: request.and_then(StockRequest::naoh),
        koh: request.and_then(StockRequest::koh),
    }
}

pub(super) fn water(request: WaterRequest, faults: &mut Faults) -> Water {
    let rules = (
        request.lye_concentration(),
        request.water_to_lye(),
        request.of_fats(),
    );
    let rule = match rules {
        (Some(share), None, None) => WaterRule::LyeConcentration(share),
        (None, Some(ratio), None) => WaterRule::WaterToLye(ratio),
        (None, None, Some(share)) => WaterRule::OfFats(share),
        found => {
            let problem = match found {
                (None, None, None) => "none stands",
                _ => "several stand",
            };
            let says = format_args!(
                "{problem} here; accepted: exactly one of lye_concentration, water_to_lye, of_fats"
            );
            faults.add("one_of", "water", says);
            WaterRule::OfFats(Share::percent(Rational::ONE))
        }
    };
    Water {
        rule,
        count_alkali_water: request.count_alkali_water().unwrap_or(false),
        count_acid_water: request.count_acid_water().unwrap_or(false),
    }
}

/// Writes the members of a [`PlanAnswer`].
pub(super) fn write(recipe: &Recipe, plan: &Plan, mould: Option<Filled>, to: &mut impl Writer) {
    to.list(
        "fats",
        recipe.fats.iter().zip(&plan.fats),
        |to, (line, mass)| {
            let fat = &line.fat;
            let share = mass.grams().checked_div(plan.total_fats.grams());
            to.add("fat", fat.id_or_name());
            to.add("name", fat.name());
            to.add("mass", mass);
            to.add("share", &Share::of_one(share.unwrap_or_default()));
            to.add("saponification_value", &fat.typical_saponification_value());
        },
    );
    to.add("total_fats", &plan.total_fats);
    to.add("naoh_mass", &plan.naoh_mass);
    to.add("koh_mass", &plan.koh_mass);
    to.add("naoh_pure_mass", &plan.naoh_pure_mass);
    to.add("koh_pure_mass", &plan.koh_pure_mass);
    to.add("koh_share_by_moles", &plan.koh_share_by_moles);
    to.add("water_mass", &plan.water_mass);
    to.add("water_to_add_mass", &plan.water_to_add_mass);
    to.object("stock_solution", |to| {
        to.add("naoh_solution_mass", &plan.naoh_solution_mass);
        to.add("koh_solution_mass", &plan.koh_solution_mass);
    });
    let acids = recipe.acids.iter().zip(&plan.acids);
    to.list("acids", acids, |to, (line, mass)| {
        to.add("acid", line.acid.id);
        to.add("name", line.acid.name);
        to.add("mass", mass);
    });
    let additives = recipe.additives.iter().zip(&plan.additives);
    to.list("additives", additives, |to, (line, mass)| {
        to.add("name", &line.name);
        to.add("mass", mass);
    });
    to.add("batter_mass", &plan.batter_mass);
    to.add("superfat", &plan.superfat);
    to.add("superfat_range", &plan.superfat_range);
    to.add("lye_concentration", &plan.lye_concentration);
    to.add("hydroxide_concentration", &plan.hydroxide_concentration);
    to.add("water_to_lye", &plan.water_to_lye);
    to.add("mould", &mould);
    to.add("cautions", plan.cautions(recipe).as_slice());
}
