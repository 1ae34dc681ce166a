//! From the saponification value to alkali, soap and glycerol, and back.
//!
//! The saponification value is the number of mg of potassium hydroxide that saponify 1 g of a
//! fat (ISO 3657). Functions that divide by one of their arguments return `None` where it is 0.

use super::{Alkali, FattyAcid, GLYCEROL, POTASSIUM_HYDROXIDE, WATER};
use crate::exact::Rational;

const KOH: Rational = POTASSIUM_HYDROXIDE.molar_mass();
const THOUSAND: Rational = Rational::integer(1000);

/// Three moles of water leave when three moles of acid and one of glycerol combine: what is left
/// of the glycerol, in g/mol.
const GLYCERYL: Rational =
    Rational::decimal(GLYCEROL.ten_thousandths() - 3 * WATER.ten_thousandths(), 4);

/// The mass of pure alkali that saponifies 1 g of fat, in g.
///
/// SV / 1000 × M(alkali) / M(KOH)
///
/// ```
/// use lixivium::chemistry::{Alkali, saponification::alkali_per_gram};
/// use lixivium::exact::Rational;
/// let coconut = Rational::decimal(256_5, 1);
/// assert_eq!(alkali_per_gram(&coconut, Alkali::Naoh).to_fixed(5), "0.18286");
/// assert_eq!(alkali_per_gram(&coconut, Alkali::Koh).to_fixed(4), "0.2565");
/// ```
pub fn alkali_per_gram(saponification_value: &Rational, alkali: Alkali) -> Rational {
    let koh = saponification_value * &const { Rational::decimal(1, 3) };
    match alkali {
        Alkali::Koh => koh,
        Alkali::Naoh => alkali.in_place_of(&koh, Alkali::Koh),
    }
}

/// The saponification value of a fat, from the mass of pure alkali that saponifies 1 g of it: the
/// inverse of [`alkali_per_gram`].
///
/// ```
/// use lixivium::chemistry::{Alkali, saponification::of_alkali_per_gram};
/// use lixivium::exact::Rational;
/// let value = of_alkali_per_gram(&Rational::decimal(134, 3), Alkali::Naoh);
/// assert_eq!(value.to_fixed(1), "188.0");
/// ```
pub fn of_alkali_per_gram(grams: &Rational, alkali: Alkali) -> Rational {
    Alkali::Koh.in_place_of(grams, alkali) * THOUSAND
}

/// The saponification equivalent: g of fat for each mol of alkali, 1000 M(KOH) / SV (Simmons and
/// Appleton 1908, chapter X).
///
/// ```
/// use lixivium::chemistry::saponification::equivalent;
/// use lixivium::exact::Rational;
/// assert_eq!(equivalent(&Rational::integer(190)).unwrap().to_fixed(1), "295.3");
/// ```
pub fn equivalent(saponification_value: &Rational) -> Option<Rational> {
    (KOH * THOUSAND).checked_div(saponification_value)
}

/// The saponification value from the saponification equivalent, 1000 M(KOH) / SE.
///
/// ```
/// use lixivium::chemistry::saponification::of_equivalent;
/// use lixivium::exact::Rational;
/// assert_eq!(of_equivalent(&Rational::integer(288)).unwrap().to_fixed(1), "194.8");
/// ```
pub fn of_equivalent(equivalent: &Rational) -> Option<Rational> {
    (KOH * THOUSAND).checked_div(equivalent)
}

/// The molar mass of a triglyceride from the mean molar mass of its acids, in g/mol: 3 M +
/// M(glycerol) − 3 M(water).
///
/// ```
/// use lixivium::chemistry::{FattyAcid, saponification::triglyceride_molar_mass};
/// let stearic = FattyAcid::find("stearic").unwrap();
/// let tristearin = triglyceride_molar_mass(&stearic.molar_mass());
/// assert_eq!(tristearin.to_fixed(3), "891.501");
/// ```
pub fn triglyceride_molar_mass(mean_acid_molar_mass: &Rational) -> Rational {
    mean_acid_molar_mass * &const { Rational::integer(3) } + GLYCERYL
}

/// The mean molar mass of the acids of a pure triglyceride, from its saponification value, in
/// g/mol: M(KOH) 1000 / SV − (M(glycerol) − 3 M(water)) / 3.
///
/// ```
/// use lixivium::chemistry::{FattyAcid, saponification::mean_acid_molar_mass};
/// let oleic = FattyAcid::find("oleic").unwrap();
/// let mean = mean_acid_molar_mass(&oleic.saponification_value()).unwrap();
/// assert_eq!(mean, oleic.molar_mass());
/// ```
pub fn mean_acid_molar_mass(saponification_value: &Rational) -> Option<Rational> {
    let third = GLYCERYL.checked_div(&const { Rational::integer(3) })?;
    Some(equivalent(saponification_value)? - third)
}

/// The saponification value of a pure triglyceride, from its molar mass: 3 × 1000 M(KOH) / M.
///
/// ```
/// use lixivium::chemistry::saponification::of_triglyceride;
/// use lixivium::exact::Rational;
/// let triolein = Rational::decimal(885_45, 2);
/// assert_eq!(of_triglyceride(&triolein).unwrap().to_fixed(1), "190.1");
/// ```
pub fn of_triglyceride(molar_mass: &Rational) -> Option<Rational> {
    (KOH * const { Rational::integer(3000) }).checked_div(molar_mass)
}

/// The ester value: the part of the saponification value that is not free acid, SV − AV.
///
/// ```
/// use lixivium::chemistry::saponification::ester_value;
/// use lixivium::exact::Rational;
/// let (sv, av) = (Rational::decimal(196_6, 1), Rational::decimal(15_3, 1));
/// assert_eq!(ester_value(&sv, &av).to_fixed(1), "181.3");
/// ```
pub fn ester_value(saponification_value: &Rational, acid_value: &Rational) -> Rational {
    saponification_value - acid_value
}

/// The glycerol that 100 g of a glyceride set free, in g: EV × M(glycerol) / (3 M(KOH)) / 10.
/// Waxes, free fatty acids and resins give none.
///
/// ```
/// use lixivium::chemistry::saponification::glycerol_per_100_g;
/// use lixivium::exact::Rational;
/// assert_eq!(glycerol_per_100_g(&Rational::integer(190)).to_fixed(2), "10.40");
/// ```
pub fn glycerol_per_100_g(ester_value: &Rational) -> Rational {
    let factor = Rational::ratio(
        GLYCEROL.ten_thousandths(),
        30 * POTASSIUM_HYDROXIDE.ten_thousandths(),
    );
    ester_value * &factor.unwrap_or_default()
}

/// The anhydrous soap that 1 g of acid makes, in g: (M + M(alkali) − M(water)) / M.
///
/// ```
/// use lixivium::chemistry::{Alkali, saponification::soap_per_gram_of_acid};
/// use lixivium::exact::Rational;
/// let mean = Rational::integer(277);
/// assert_eq!(soap_per_gram_of_acid(&mean, Alkali::Naoh).unwrap().to_fixed(4), "1.0794");
/// ```
pub fn soap_per_gram_of_acid(acid_molar_mass: &Rational, alkali: Alkali) -> Option<Rational> {
    let soap = acid_molar_mass + &alkali.molar_mass() - WATER.molar_mass();
    soap.checked_div(acid_molar_mass)
}

/// The fatty anhydride that 1 g of fatty acid stands for, in g: two acids lose one water,
/// 1 − M(water) / (2 M). Total fatty matter is stated in either form.
///
/// ```
/// use lixivium::chemistry::saponification::anhydride_per_gram_of_acid;
/// use lixivium::exact::Rational;
/// let mean = Rational::integer(277);
/// assert_eq!(anhydride_per_gram_of_acid(&mean).unwrap().to_fixed(4), "0.9675");
/// ```
pub fn anhydride_per_gram_of_acid(acid_molar_mass: &Rational) -> Option<Rational> {
    let water = WATER.molar_mass() * const { Rational::decimal(5, 1) };
    Some(Rational::ONE - water.checked_div(acid_molar_mass)?)
}

/// The free fatty acid of a fat, in percent by mass and stated as one acid (oleic, for palm oil
/// palmitic, for coconut and palm kernel oil lauric): AV × M / (10 M(KOH)).
///
/// ```
/// use lixivium::chemistry::{FattyAcid, saponification::free_fatty_acid};
/// use lixivium::exact::Rational;
/// let oleic = FattyAcid::find("oleic").unwrap();
/// assert_eq!(free_fatty_acid(&Rational::decimal(1_99, 2), oleic).to_fixed(2), "1.00");
/// ```
pub fn free_fatty_acid(acid_value: &Rational, stated_as: &FattyAcid) -> Rational {
    let factor = Rational::ratio(
        stated_as.formula().ten_thousandths(),
        10 * POTASSIUM_HYDROXIDE.ten_thousandths(),
    );
    acid_value * &factor.unwrap_or_default()
}
