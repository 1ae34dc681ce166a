//! Sodium and potassium hydroxide.

use std::num::NonZeroU32;

use super::{Element, Formula, POTASSIUM_HYDROXIDE, Provenance, SODIUM_HYDROXIDE, Source};
use crate::exact::Rational;
use crate::tables::{Solubility, tables};

/// A hydroxide that makes soap: sodium hydroxide for bars, potassium hydroxide for soft soap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Alkali {
    /// Sodium hydroxide, caustic soda, NaOH.
    Naoh,
    /// Potassium hydroxide, caustic potash, KOH.
    Koh,
}

/// How much of an alkali dissolves at a temperature, as published.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SolubilityRow {
    /// °C
    pub temperature: u8,
    /// g of anhydrous alkali in 100 g of water
    pub grams_per_100_g_water: Rational,
    /// Where it was published.
    pub source: &'static Source,
    /// Whether it was read there.
    pub provenance: Provenance,
}

impl Alkali {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Naoh, Self::Koh];

    /// `naoh` or `koh`.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Naoh => "naoh",
            Self::Koh => "koh",
        }
    }

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Naoh => "sodium hydroxide",
            Self::Koh => "potassium hydroxide",
        }
    }

    /// Its formula.
    pub const fn formula(self) -> Formula {
        match self {
            Self::Naoh => SODIUM_HYDROXIDE,
            Self::Koh => POTASSIUM_HYDROXIDE,
        }
    }

    /// Its molar mass: 39.997 or 56.105 g/mol.
    pub const fn molar_mass(self) -> Rational {
        const NAOH: Rational = SODIUM_HYDROXIDE.molar_mass();
        const KOH: Rational = POTASSIUM_HYDROXIDE.molar_mass();
        match self {
            Self::Naoh => NAOH,
            Self::Koh => KOH,
        }
    }

    /// The mass of this alkali that does the work of `mass` of `other`: equal moles.
    ///
    /// mass × M(self) / M(other)
    ///
    /// ```
    /// use lixivium::chemistry::Alkali;
    /// use lixivium::exact::Rational;
    /// let koh = Alkali::Koh.in_place_of(&Rational::ONE, Alkali::Naoh);
    /// assert_eq!(koh.to_fixed(5), "1.40273");
    /// ```
    pub fn in_place_of(self, mass: &Rational, other: Self) -> Rational {
        match (self, other) {
            (Self::Naoh, Self::Koh) => {
                mass * &const { in_thousandths(SODIUM_HYDROXIDE, POTASSIUM_HYDROXIDE) }
            }
            (Self::Koh, Self::Naoh) => {
                mass * &const { in_thousandths(POTASSIUM_HYDROXIDE, SODIUM_HYDROXIDE) }
            }
            _ => mass.clone(),
        }
    }

    /// The oxide, Na2O or K2O, in which older analyses state an alkali.
    pub const fn oxide(self) -> Formula {
        match self {
            Self::Naoh => Formula::of(&[(Element::Na, 2), (Element::O, 1)]),
            Self::Koh => Formula::of(&[(Element::K, 2), (Element::O, 1)]),
        }
    }

    /// The mass of hydroxide that a mass stated as oxide stands for.
    ///
    /// mass × 2 M(hydroxide) / M(oxide); for sodium mass × 1.2907
    ///
    /// ```
    /// use lixivium::chemistry::Alkali;
    /// use lixivium::exact::Rational;
    /// assert_eq!(Alkali::Naoh.of_oxide(&Rational::ONE).to_fixed(4), "1.2907");
    /// ```
    pub fn of_oxide(self, mass: &Rational) -> Rational {
        scaled(mass, self.formula(), self.oxide()) * const { Rational::integer(2) }
    }

    /// The mass of oxide in which a mass of hydroxide would be stated: the inverse of
    /// [`of_oxide`](Self::of_oxide).
    ///
    /// ```
    /// use lixivium::chemistry::Alkali;
    /// use lixivium::exact::Rational;
    /// let oxide = Alkali::Koh.as_oxide(&Rational::integer(7));
    /// assert_eq!(Alkali::Koh.of_oxide(&oxide), Rational::integer(7));
    /// ```
    pub fn as_oxide(self, mass: &Rational) -> Rational {
        scaled(mass, self.oxide(), self.formula()) * const { Rational::decimal(5, 1) }
    }

    /// Its published solubility in water, coldest first. Rows of a second source, shown for
    /// comparison, come after those of the first.
    pub fn solubility_table(self) -> impl Iterator<Item = SolubilityRow> {
        rows(self).map(|row| SolubilityRow {
            temperature: row.temperature,
            grams_per_100_g_water: grams(row),
            source: row.published.source(),
            provenance: row.published.provenance(),
        })
    }

    /// The strongest lye at a temperature, in percent by mass of anhydrous alkali: between the
    /// rows of the first source of [`solubility_table`](Self::solubility_table) the straight
    /// line, `None` below and above them (0 to 100 °C).
    ///
    /// ```
    /// use lixivium::chemistry::Alkali;
    /// use lixivium::exact::Rational;
    /// let strongest = Alkali::Naoh.solubility(&Rational::integer(20)).unwrap();
    /// assert_eq!(strongest.to_fixed(1), "52.2");
    /// assert!(Alkali::Naoh.solubility(&Rational::integer(-1)).is_none());
    /// ```
    pub fn solubility(self, celsius: &Rational) -> Option<Rational> {
        let mut below: Option<&Solubility> = None;
        for row in rows(self) {
            if let Some(below) = below {
                if !row.published.same_source(below.published) {
                    break;
                }
                if at(below) <= *celsius && *celsius <= at(row) {
                    let along = (celsius - &at(below)).checked_div(&(at(row) - at(below)))?;
                    let (low, high) = (grams(below), grams(row));
                    let grams = &low + &(along * (&high - &low));
                    let lye = &grams + &Rational::HUNDRED;
                    return (grams * Rational::HUNDRED).checked_div(&lye);
                }
            }
            below = Some(row);
        }
        None
    }
}

fn rows(alkali: Alkali) -> impl Iterator<Item = &'static Solubility> {
    let is_koh = alkali == Alkali::Koh;
    let rows = tables().solubility.iter();
    rows.filter(move |row| row.is_koh == is_koh)
}

fn at(row: &Solubility) -> Rational {
    Rational::integer(row.temperature.into())
}

fn grams(row: &Solubility) -> Rational {
    Rational::decimal(row.tenths.into(), 1)
}

/// M(`to`) / M(`from`); both have at most three decimals, so 0.001 g/mol is the unit.
const fn in_thousandths(to: Formula, from: Formula) -> Rational {
    let (to, from) = (to.ten_thousandths(), from.ten_thousandths());
    assert!(to % 10 == 0 && from % 10 == 0);
    Rational::fraction(to / 10, NonZeroU32::new((from / 10) as u32).unwrap())
}

/// `mass` × M(`to`) / M(`from`).
pub(super) fn scaled(mass: &Rational, to: Formula, from: Formula) -> Rational {
    // The molar masses have the same denominator, and that of `from` is above 0.
    let ratio = Rational::ratio(to.ten_thousandths(), from.ten_thousandths());
    mass * &ratio.unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn solubility_rises_along_the_rows_that_are_used() {
        for alkali in Alkali::ALL {
            let mut last = Rational::ZERO;
            for celsius in 0..=100 {
                let now = alkali.solubility(&Rational::integer(celsius)).unwrap();
                assert!(now > last, "{} at {celsius} °C", alkali.name());
                last = now;
            }
            assert!(alkali.solubility(&Rational::decimal(1001, 1)).is_none());
        }
    }

    #[test]
    fn the_second_source_is_listed_but_not_used() {
        let crc: Vec<_> = Alkali::Naoh
            .solubility_table()
            .filter(|row| row.source.id == "crc")
            .collect();
        assert_eq!(crc.len(), 1);
        let half_way = Alkali::Naoh.solubility(&Rational::integer(25)).unwrap();
        assert_eq!(half_way.to_fixed(2), "53.27");
    }
}
