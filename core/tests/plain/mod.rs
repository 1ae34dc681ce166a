//! The arithmetic of a plan once more, short and plain, for any kind of number.
//!
//! With big rationals it is the slow reference that the library is held against, with doubles it
//! shows what exactness is for, and in `benches/` it is what the library's speed is compared
//! with. It knows what a recipe of fats, both alkalis and a lye concentration needs, no acids and
//! no stock solution, and it checks nothing.

use lixivium::chemistry::Alkali;
use lixivium::exact::Rational;
use lixivium::plan::Plan;
use lixivium::recipe::{Amount, FatLine, Recipe, WaterRule};
use num_rational::{BigRational, Ratio};
use num_traits::{NumRef, RefNum, ToPrimitive};

/// A kind of number: the nearest to an exact one, and the whole number below.
pub trait Number: NumRef + Clone + PartialOrd {
    fn of(exact: &Rational) -> Self;
    fn floor(&self) -> Self;
}

impl Number for f64 {
    fn of(exact: &Rational) -> Self {
        exact.to_f64()
    }
    fn floor(&self) -> Self {
        f64::floor(*self)
    }
}

impl Number for BigRational {
    fn of(exact: &Rational) -> Self {
        exact.to_fraction()
    }
    fn floor(&self) -> Self {
        BigRational::floor(self)
    }
}

impl Number for Ratio<i128> {
    fn of(exact: &Rational) -> Self {
        let big = exact.to_fraction();
        let part = |n: &num_bigint::BigInt| n.to_i128().expect("it fits in 128 bits");
        Ratio::new(part(big.numer()), part(big.denom()))
    }
    fn floor(&self) -> Self {
        Ratio::floor(self)
    }
}

/// A recipe in such numbers; shares are fractions of one, the constants stand ready.
pub struct PlainRecipe<N> {
    fats: Vec<PlainFat<N>>,
    superfat: N,
    koh_share: N,
    naoh_purity: N,
    koh_purity: N,
    lye_concentration: N,
    step: Option<N>,
    naoh_per_koh: N,
    koh_per_naoh: N,
    half: N,
    thousand: N,
}

struct PlainFat<N> {
    mass: N,
    value: N,
    low: N,
    high: N,
}

/// What the library's plan holds.
#[derive(Debug, PartialEq)]
pub struct PlainPlan<N> {
    pub fats: Vec<N>,
    pub total_fats: N,
    pub naoh_mass: N,
    pub koh_mass: N,
    pub naoh_pure_mass: N,
    pub koh_pure_mass: N,
    pub water_mass: N,
    pub batter_mass: N,
    pub superfat: N,
    pub superfat_range: (N, N),
    pub koh_share_by_moles: N,
    pub lye_concentration: N,
    pub hydroxide_concentration: N,
    pub water_to_lye: N,
}

impl<N: Number> PlainRecipe<N> {
    /// The same recipe, if it has nothing that is left out here.
    pub fn of(recipe: &Recipe) -> Option<Self> {
        let WaterRule::LyeConcentration(lye_concentration) = &recipe.water.rule else {
            return None;
        };
        let fat = |line: &FatLine| {
            let Amount::Mass(mass) = &line.amount else {
                return None;
            };
            let value = line.fat.saponification_value();
            let end = |end: Option<Rational>| N::of(&end.unwrap_or(value.typical.clone()));
            Some(PlainFat {
                mass: N::of(mass.grams()),
                value: N::of(&value.typical),
                low: end(value.low.clone()),
                high: end(value.high.clone()),
            })
        };
        let (naoh, koh) = (Alkali::Naoh.molar_mass(), Alkali::Koh.molar_mass());
        Some(Self {
            fats: recipe.fats.iter().map(fat).collect::<Option<_>>()?,
            superfat: N::of(recipe.superfat.fraction()),
            koh_share: N::of(recipe.alkali.koh_share.fraction()),
            naoh_purity: N::of(recipe.alkali.naoh_purity.fraction()),
            koh_purity: N::of(recipe.alkali.koh_purity.fraction()),
            lye_concentration: N::of(lye_concentration.fraction()),
            step: recipe.scale_step.as_ref().map(|step| N::of(step.grams())),
            naoh_per_koh: N::of(&naoh.checked_div(&koh)?),
            koh_per_naoh: N::of(&koh.checked_div(&naoh)?),
            half: N::of(&Rational::decimal(5, 1)),
            thousand: N::of(&Rational::integer(1_000)),
        })
    }
}

/// The plan: each line the formula as it stands in a textbook.
pub fn plan<N: Number>(recipe: &PlainRecipe<N>) -> PlainPlan<N>
where
    for<'n> &'n N: RefNum<N>,
{
    let down = |mass: N| match &recipe.step {
        Some(step) => (mass / step).floor() * step,
        None => mass,
    };
    let nearest = |mass: N| match &recipe.step {
        Some(step) => (mass / step + &recipe.half).floor() * step,
        None => mass,
    };
    let fats: Vec<N> = recipe
        .fats
        .iter()
        .map(|fat| nearest(fat.mass.clone()))
        .collect();
    let (mut total_fats, mut need) = (N::zero(), N::zero());
    let (mut need_low, mut need_high) = (N::zero(), N::zero());
    for (fat, mass) in recipe.fats.iter().zip(&fats) {
        total_fats = total_fats + mass;
        need = need + mass * &fat.value;
        need_low = need_low + mass * &fat.low;
        need_high = need_high + mass * &fat.high;
    }
    let [need, need_low, need_high] =
        [need, need_low, need_high].map(|milligrams| milligrams / &recipe.thousand);

    let hydroxide = (N::one() - &recipe.superfat) * &need;
    let koh = &hydroxide * &recipe.koh_share;
    let naoh = (hydroxide - &koh) * &recipe.naoh_per_koh;
    let naoh_mass = down(naoh / &recipe.naoh_purity);
    let koh_mass = down(koh / &recipe.koh_purity);
    let naoh_pure_mass = &naoh_mass * &recipe.naoh_purity;
    let koh_pure_mass = &koh_mass * &recipe.koh_purity;
    let alkali = &naoh_mass + &koh_mass;
    let water_per_alkali = (N::one() - &recipe.lye_concentration) / &recipe.lye_concentration;
    let water_mass = nearest(water_per_alkali * &alkali);

    let lye = &alkali + &water_mass;
    let used = &naoh_pure_mass * &recipe.koh_per_naoh + &koh_pure_mass;
    let superfat = |need: &N| N::one() - &used / need;
    PlainPlan {
        superfat: superfat(&need),
        superfat_range: (superfat(&need_low), superfat(&need_high)),
        koh_share_by_moles: &koh_pure_mass / &used,
        lye_concentration: &alkali / &lye,
        hydroxide_concentration: (&naoh_pure_mass + &koh_pure_mass) / &lye,
        water_to_lye: &water_mass / &alkali,
        batter_mass: &total_fats + &lye,
        fats,
        total_fats,
        naoh_mass,
        koh_mass,
        naoh_pure_mass,
        koh_pure_mass,
        water_mass,
    }
}

impl<N: Number> PlainPlan<N> {
    /// The library's plan in these numbers.
    pub fn of(plan: &Plan) -> Self {
        let share = |share: &lixivium::quantity::Share| N::of(share.fraction());
        let mass = |mass: &lixivium::quantity::Mass| N::of(mass.grams());
        Self {
            fats: plan.fats.iter().map(mass).collect(),
            total_fats: mass(&plan.total_fats),
            naoh_mass: mass(&plan.naoh_mass),
            koh_mass: mass(&plan.koh_mass),
            naoh_pure_mass: mass(&plan.naoh_pure_mass),
            koh_pure_mass: mass(&plan.koh_pure_mass),
            water_mass: mass(&plan.water_mass),
            batter_mass: mass(&plan.batter_mass),
            superfat: share(&plan.superfat),
            superfat_range: (share(&plan.superfat_range.0), share(&plan.superfat_range.1)),
            koh_share_by_moles: share(&plan.koh_share_by_moles),
            lye_concentration: share(&plan.lye_concentration),
            hydroxide_concentration: share(&plan.hydroxide_concentration),
            water_to_lye: N::of(plan.water_to_lye.number()),
        }
    }
}
