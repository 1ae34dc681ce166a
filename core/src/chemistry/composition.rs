//! Values calculated from a fatty-acid composition.

use super::FattyAcid;
use super::saponification::{self, triglyceride_molar_mass};
use crate::exact::Rational;
use crate::fault::Faults;

/// A fatty-acid composition: the share of each acid in percent by mass of the fatty acids, as gas
/// chromatography reports it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Composition(Vec<(&'static FattyAcid, Rational)>);

/// How far the sum of the shares may be from 100, in percent, unless they are normalised. Traces
/// below the limit of reporting and rounding stay well inside.
pub const SUM_TOLERANCE: Rational = Rational::integer(2);

/// What to make of shares whose sum is not 100.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shares {
    /// Keep them; their sum is within [`SUM_TOLERANCE`] of 100.
    AsGiven,
    /// Scale them to 100, whatever their sum.
    Normalised,
}

/// What an iodine value is stated for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The fat, its acids bound to glycerol.
    Triglyceride,
    /// The free fatty acids.
    FreeAcid,
}

/// Iodine value for each percent of an acid (AOCS Cd 1c-85): the acid, as triglyceride, as free
/// acid.
const CD_1C_85: [(&str, Rational, Rational); 6] = [
    (
        "C16:1",
        Rational::decimal(950, 3),
        Rational::decimal(9976, 4),
    ),
    (
        "C18:1",
        Rational::decimal(860, 3),
        Rational::decimal(8986, 4),
    ),
    (
        "C18:2",
        Rational::decimal(1732, 3),
        Rational::decimal(1810, 3),
    ),
    (
        "C18:3",
        Rational::decimal(2616, 3),
        Rational::decimal(2735, 3),
    ),
    (
        "C20:1",
        Rational::decimal(785, 3),
        Rational::decimal(8175, 4),
    ),
    (
        "C22:1",
        Rational::decimal(723, 3),
        Rational::decimal(7497, 4),
    ),
];

impl Composition {
    /// From the share of each acid (by shorthand or trivial name) in percent by mass.
    ///
    /// ```
    /// use lixivium::chemistry::{Composition, Shares};
    /// use lixivium::exact::Rational;
    /// let of = |shares: &[(&str, i64)], how| {
    ///     let shares = shares.iter().map(|(acid, share)| (*acid, Rational::integer(*share)));
    ///     Composition::new(shares, how)
    /// };
    /// let oil = of(&[("C16:0", 12), ("oleic", 75), ("C18:2", 13)], Shares::AsGiven).unwrap();
    /// assert_eq!(oil.saponification_value().to_fixed(1), "192.5");
    /// let faults = of(&[("C16:0", 12), ("C18:1", 75)], Shares::AsGiven).unwrap_err();
    /// assert!(faults.to_string().contains("come to 87 %"));
    /// assert!(of(&[("C16:0", 12), ("C18:1", 75)], Shares::Normalised).is_ok());
    /// ```
    ///
    /// # Errors
    /// `unknown_acid`, `acid_twice`, `negative` at the acid; `empty_composition` if no share is
    /// above 0; `sum_not_100` if the sum is farther from 100 than [`SUM_TOLERANCE`] and the
    /// shares are not to be normalised.
    pub fn new<'a>(
        shares: impl IntoIterator<Item = (&'a str, Rational)>,
        how: Shares,
    ) -> Result<Self, Faults> {
        let mut faults = Faults::new();
        let mut found: Vec<(&'static FattyAcid, Rational)> = Vec::new();
        for (name, share) in shares {
            let Some(acid) = FattyAcid::find(name) else {
                let says = "this is no fatty acid known here; write a shorthand such as C18:1 or \
                            a trivial name such as oleic";
                faults.add("unknown_acid", name, says);
                continue;
            };
            if share.is_negative() {
                let says = format_args!("the share of an acid is 0 % or more, not {share} %");
                faults.add("negative", name, says);
            } else if found.iter().any(|(known, _)| *known == acid) {
                faults.add(
                    "acid_twice",
                    name,
                    format_args!("{} is given twice", acid.name),
                );
            } else {
                found.push((acid, share));
            }
        }
        let composition = faults.or(Self(found))?;
        let sum = composition.sum();
        if sum.is_zero() {
            let says = "a composition has at least one acid with a share above 0 %";
            return Err(Faults::one("empty_composition", "", says));
        }
        if how == Shares::Normalised {
            return Ok(composition.scaled(&sum));
        }
        if (&sum - &Rational::HUNDRED).abs() > SUM_TOLERANCE {
            let says = format_args!(
                "the shares come to {} %; accepted: shares that come to 100 %, or at most \
                 {SUM_TOLERANCE} % more or less",
                sum.to_plain()
            );
            return Err(Faults::one("sum_not_100", "", says));
        }
        Ok(composition)
    }

    /// From shares of different acids, none of them negative, scaled to 100 %; `None` if no share
    /// is above 0.
    pub(crate) fn normalised(shares: Vec<(&'static FattyAcid, Rational)>) -> Option<Self> {
        let composition = Self(shares);
        let sum = composition.sum();
        (!sum.is_zero()).then(|| composition.scaled(&sum))
    }

    fn scaled(mut self, sum: &Rational) -> Self {
        for (_, share) in &mut self.0 {
            let percent = (&*share * &Rational::HUNDRED).checked_div(sum);
            *share = percent.unwrap_or_default();
        }
        self
    }

    /// The acids and their shares in percent, in the order in which they were given.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = (&'static FattyAcid, &Rational)> {
        self.0.iter().map(|(acid, share)| (*acid, share))
    }

    /// The share of one acid in percent; 0 if it was not given.
    pub fn share(&self, id: &str) -> Rational {
        self.share_where(|acid| acid.id == id)
    }

    /// The share of a group of acids in percent.
    ///
    /// ```
    /// use lixivium::chemistry::{Composition, Shares};
    /// use lixivium::exact::Rational;
    /// let shares = [("C12:0", 48), ("C18:1", 52)].map(|(a, s)| (a, Rational::integer(s)));
    /// let oil = Composition::new(shares, Shares::AsGiven).unwrap();
    /// assert_eq!(oil.share_where(|acid| acid.double_bonds == 0), Rational::integer(48));
    /// ```
    pub fn share_where(&self, belongs: impl Fn(&FattyAcid) -> bool) -> Rational {
        let group = self.0.iter().filter(|(acid, _)| belongs(acid));
        group.map(|(_, share)| share).sum()
    }

    /// The sum of all shares, in percent.
    pub fn sum(&self) -> Rational {
        self.0.iter().map(|(_, share)| share).sum()
    }

    /// The mean molar mass of the acids in g/mol: Σ w / Σ (w / M), the harmonic mean, since the
    /// shares are by mass. What is missing from 100 % is taken to be like the rest.
    pub fn mean_molar_mass(&self) -> Rational {
        // No molar mass is 0.
        let moles = self
            .balanced_sum(&|acid, share| share.checked_div(&acid.molar_mass()).unwrap_or_default());
        self.sum().checked_div(&moles).unwrap_or_default()
    }

    /// The saponification value of the pure triglycerides, in mg KOH/g: 3 × 1000 M(KOH) / (3 M +
    /// M(glycerol) − 3 M(water)), M being [`mean_molar_mass`](Self::mean_molar_mass).
    ///
    /// Stoichiometry, so exact for a fat without free acids, partial glycerides and
    /// unsaponifiable matter. With a mass fraction u of the latter, multiply by 1 − u.
    pub fn saponification_value(&self) -> Rational {
        let molar_mass = triglyceride_molar_mass(&self.mean_molar_mass());
        saponification::of_triglyceride(&molar_mass).unwrap_or_default()
    }

    /// The acid value of the free acids, in mg KOH/g: 1000 M(KOH) / M, M being
    /// [`mean_molar_mass`](Self::mean_molar_mass).
    pub fn acid_value(&self) -> Rational {
        saponification::of_equivalent(&self.mean_molar_mass()).unwrap_or_default()
    }

    /// The calculated saponification value in the form of AOCS Cd 3a-94, in mg KOH/g: 3 × 56.1 ×
    /// 1000 / (3 M + 92.09 − 3 × 18), M being the arithmetic mean Σ w M / Σ w (the formula is
    /// written down from memory of the method).
    ///
    /// For shares by mass it reads low: by less than 1 on oils of C16 and C18 acids, by up to 8
    /// on lauric fats. For comparison with laboratory reports;
    /// [`saponification_value`](Self::saponification_value) is the one to reckon with.
    pub fn saponification_value_cd_3a_94(&self) -> Rational {
        let weighted = self.0.iter().map(|(acid, w)| w * &acid.molar_mass());
        let mean = weighted.sum::<Rational>().checked_div(&self.sum());
        let glyceryl = const { Rational::decimal(92_09 - 54_00, 2) };
        let molar_mass = mean.unwrap_or_default() * const { Rational::integer(3) } + glyceryl;
        const { Rational::integer(168_300) }
            .checked_div(&molar_mass)
            .unwrap_or_default()
    }

    /// The calculated iodine value of AOCS Cd 1c-85 (ISO 3961 Annex B), in g/100 g: the sum of
    /// share × factor over C16:1, C18:1, C18:2, C18:3, C20:1 and C22:1.
    ///
    /// The method has no factor for ricinoleic acid (castor oil) and the rarer acids; see
    /// [`iodine_value`](Self::iodine_value).
    pub fn iodine_value_cd_1c_85(&self, basis: Basis) -> Rational {
        let terms = CD_1C_85.into_iter().map(|(id, triglyceride, free)| {
            let factor = match basis {
                Basis::Triglyceride => triglyceride,
                Basis::FreeAcid => free,
            };
            self.share(id) * factor
        });
        terms.sum()
    }

    /// The iodine value from all double bonds, in g/100 g: Σ w × 100 d M(I2) / M of the free
    /// acids, × 3 M / M(triglyceride) for the fat, M being
    /// [`mean_molar_mass`](Self::mean_molar_mass). Stoichiometry.
    ///
    /// ```
    /// use lixivium::chemistry::{Basis, Composition, Shares};
    /// use lixivium::exact::Rational;
    /// let castor = [("ricinoleic", 90), ("linoleic", 5), ("oleic", 5)];
    /// let castor = castor.map(|(acid, share)| (acid, Rational::integer(share)));
    /// let castor = Composition::new(castor, Shares::AsGiven).unwrap();
    /// assert_eq!(castor.iodine_value(Basis::Triglyceride).to_fixed(1), "86.4");
    /// ```
    pub fn iodine_value(&self, basis: Basis) -> Rational {
        let acids = self.balanced_sum(&|acid, share| (share * &acid.iodine_value()).percent());
        match basis {
            Basis::FreeAcid => acids,
            Basis::Triglyceride => {
                let mean = self.mean_molar_mass();
                let acids_in_fat = (&mean * &const { Rational::integer(3) })
                    .checked_div(&triglyceride_molar_mass(&mean));
                acids * acids_in_fat.unwrap_or_default()
            }
        }
    }

    /// The sum of one term for each acid. Adding neighbours first keeps the fractions short, and so
    /// most of the work on machine integers.
    fn balanced_sum(&self, term: &dyn Fn(&FattyAcid, &Rational) -> Rational) -> Rational {
        fn halves(terms: &[Rational]) -> Rational {
            match terms {
                [] => Rational::ZERO,
                [one] => one.clone(),
                _ => {
                    let (left, right) = terms.split_at(terms.len() / 2);
                    (halves(left) + halves(right)).reduced()
                }
            }
        }
        let terms: Vec<_> = self
            .0
            .iter()
            .map(|(acid, share)| term(acid, share))
            .collect();
        halves(&terms)
    }

    /// The calculated oxidizability, (1 × C18:1 + 10.3 × C18:2 + 21.6 × C18:3) / 100: how fast
    /// the unsaturated acids take up oxygen, relative to oleic acid (Fatemi and Hammond, Lipids
    /// 15 (1980) 379-385; coefficients from memory, unverified).
    ///
    /// ```
    /// use lixivium::chemistry::{Composition, Shares};
    /// use lixivium::exact::Rational;
    /// let shares = [("C18:1", 25), ("C18:2", 60)].map(|(a, s)| (a, Rational::integer(s)));
    /// let oil = Composition::new(shares, Shares::Normalised).unwrap();
    /// assert_eq!(oil.oxidizability().to_fixed(2), "7.56");
    /// ```
    pub fn oxidizability(&self) -> Rational {
        let weighted = self.share("C18:1")
            + self.share("C18:2") * const { Rational::decimal(103, 1) }
            + self.share("C18:3") * const { Rational::decimal(216, 1) };
        weighted.percent()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(shares: &[(&str, i64)], how: Shares) -> Result<Composition, Faults> {
        let shares = shares.iter().map(|(a, s)| (*a, Rational::integer(*s)));
        Composition::new(shares, how)
    }

    #[test]
    fn a_single_acid_gives_its_own_values() {
        for acid in FattyAcid::all() {
            let pure = of(&[(acid.id, 100)], Shares::AsGiven).unwrap();
            assert_eq!(pure.mean_molar_mass(), acid.molar_mass());
            assert_eq!(pure.saponification_value(), acid.saponification_value());
            assert_eq!(pure.acid_value(), acid.acid_value());
            assert_eq!(pure.iodine_value(Basis::FreeAcid), acid.iodine_value());
        }
    }

    #[test]
    fn the_factors_of_the_method_are_those_of_the_double_bonds() {
        for (id, triglyceride, free) in CD_1C_85 {
            let acid = FattyAcid::find(id).unwrap();
            let off = |factor: Rational, pure: Rational| (factor - pure.percent()).abs();
            assert!(off(triglyceride, acid.triglyceride_iodine_value()) < Rational::decimal(1, 3));
            assert!(off(free, acid.iodine_value()) < Rational::decimal(1, 3));
        }
    }

    #[test]
    fn every_fault_of_a_composition_has_its_place() {
        let faults = of(
            &[("C99", 1), ("C18:1", -1), ("C18:0", 1), ("stearic", 1)],
            Shares::AsGiven,
        );
        let faults = faults.unwrap_err();
        let found: Vec<_> = faults.iter().map(|f| (f.code, f.at.as_str())).collect();
        let expected = [
            ("unknown_acid", "C99"),
            ("negative", "C18:1"),
            ("acid_twice", "stearic"),
        ];
        assert_eq!(found, expected);
        for how in [Shares::AsGiven, Shares::Normalised] {
            let faults = of(&[("C18:1", 0)], how).unwrap_err();
            assert_eq!(faults.iter().next().unwrap().code, "empty_composition");
        }
    }

    #[test]
    fn the_tolerance_of_the_sum_includes_its_ends() {
        for (share, accepted) in [(97, false), (98, true), (102, true), (103, false)] {
            assert_eq!(of(&[("C18:1", share)], Shares::AsGiven).is_ok(), accepted);
        }
        let scaled = of(&[("C18:1", 103), ("C18:0", 103)], Shares::Normalised).unwrap();
        assert_eq!(scaled.share("C18:1"), Rational::integer(50));
    }
}
