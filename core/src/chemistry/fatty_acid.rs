//! The fatty acids.

use super::saponification::triglyceride_molar_mass;
use super::{FattyAcid, Formula, IODINE, POTASSIUM_HYDROXIDE, saponification};
use crate::exact::Rational;
use crate::tables::tables;

impl FattyAcid {
    /// All of them, by chain length.
    pub fn all() -> &'static [Self] {
        &tables().acids
    }

    /// By shorthand (`C18:1`) or trivial name (`oleic acid`, `oleic-acid`, `oleic`), in any case.
    ///
    /// ```
    /// use lixivium::chemistry::FattyAcid;
    /// let oleic = FattyAcid::find("C18:1").unwrap();
    /// assert_eq!(FattyAcid::find("Oleic acid"), Some(oleic));
    /// assert_eq!(FattyAcid::find("oleic-acid"), Some(oleic));
    /// assert_eq!(FattyAcid::find("oleic"), Some(oleic));
    /// ```
    pub fn find(name: &str) -> Option<&'static Self> {
        let name = name.trim();
        let alike = |byte: u8| match byte {
            b'-' => b' ',
            _ => byte.to_ascii_lowercase(),
        };
        let is = |known: &str| {
            let mut pairs = known.bytes().zip(name.bytes());
            known.len() == name.len() && pairs.all(|(a, b)| alike(a) == alike(b))
        };
        Self::all().iter().find(|acid| {
            let short = acid.name.strip_suffix(" acid");
            is(acid.id) || is(acid.name) || short.is_some_and(is)
        })
    }

    /// Its formula.
    pub const fn formula(&self) -> Formula {
        Formula::organic(self.carbon as u16, self.hydrogen as u16, self.oxygen as u16)
    }

    /// Its molar mass in g/mol.
    ///
    /// ```
    /// use lixivium::chemistry::FattyAcid;
    /// let oleic = FattyAcid::find("oleic").unwrap();
    /// assert_eq!(oleic.molar_mass().to_fixed(3), "282.468");
    /// ```
    pub const fn molar_mass(&self) -> Rational {
        self.formula().molar_mass()
    }

    /// The molar mass of the triglyceride of this acid alone, in g/mol: 3 M + M(glycerol) −
    /// 3 M(water).
    pub fn triglyceride_molar_mass(&self) -> Rational {
        triglyceride_molar_mass(&self.molar_mass())
    }

    /// The acid value of the pure acid, in mg KOH/g: 1000 M(KOH) / M.
    ///
    /// ```
    /// use lixivium::chemistry::FattyAcid;
    /// let stearic = FattyAcid::find("stearic").unwrap();
    /// assert_eq!(stearic.acid_value().to_fixed(2), "197.22");
    /// ```
    pub fn acid_value(&self) -> Rational {
        let per_gram = Rational::ratio(
            POTASSIUM_HYDROXIDE.ten_thousandths(),
            self.formula().ten_thousandths(),
        );
        per_gram.unwrap_or_default() * Rational::integer(1000)
    }

    /// The saponification value of the pure triglyceride of this acid, in mg KOH/g.
    ///
    /// ```
    /// use lixivium::chemistry::FattyAcid;
    /// let lauric = FattyAcid::find("C12:0").unwrap();
    /// assert_eq!(lauric.saponification_value().to_fixed(2), "263.40");
    /// ```
    pub fn saponification_value(&self) -> Rational {
        saponification::of_triglyceride(&self.triglyceride_molar_mass()).unwrap_or_default()
    }

    /// The iodine value of the pure acid, in g/100 g: 100 × double bonds × M(I2) / M.
    ///
    /// ```
    /// use lixivium::chemistry::FattyAcid;
    /// let linoleic = FattyAcid::find("linoleic").unwrap();
    /// assert_eq!(linoleic.iodine_value().to_fixed(2), "180.99");
    /// ```
    pub fn iodine_value(&self) -> Rational {
        self.iodine_of(&self.molar_mass())
    }

    /// The iodine value of the pure triglyceride of this acid, in g/100 g: 100 × 3 × double
    /// bonds × M(I2) / M(triglyceride).
    pub fn triglyceride_iodine_value(&self) -> Rational {
        self.iodine_of(&self.triglyceride_molar_mass()) * Rational::integer(3)
    }

    fn iodine_of(&self, molar_mass: &Rational) -> Rational {
        let grams = Rational::integer(100 * i64::from(self.double_bonds)) * IODINE.molar_mass();
        grams.checked_div(molar_mass).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unambiguous() {
        for acid in FattyAcid::all() {
            assert_eq!(FattyAcid::find(acid.id), Some(acid));
            assert_eq!(FattyAcid::find(&acid.name.to_uppercase()), Some(acid));
        }
        assert_eq!(FattyAcid::find("C99:9"), None);
    }
}
