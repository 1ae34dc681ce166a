//! Values from the laboratory bench.
//!
//! Formulas of ISO 3657 (saponification value), ISO 660 (acid value) and ISO 3961 (iodine
//! value), as worked out in Simmons and Appleton, The Handbook of Soap Manufacture (1908),
//! chapter X. The standards print M(KOH) as 56.1; here it is the 56.105 g/mol of the atomic
//! weights.

use super::{Alkali, FattyAcid, IODINE, saponification};
use crate::exact::Rational;
use crate::fault::Faults;

/// A solution that is run in until the colour changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Titration {
    /// Sample, in g.
    pub sample: Rational,
    /// Solution used, in mL.
    pub volume: Rational,
    /// Its concentration, in mol/L.
    pub concentration: Rational,
}

/// A titration of what is left of a reagent in excess, beside a blank without sample.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackTitration {
    /// Sample, in g.
    pub sample: Rational,
    /// Solution used for the blank, in mL.
    pub blank: Rational,
    /// Solution used for the sample, in mL; less than for the blank.
    pub volume: Rational,
    /// Its concentration, in mol/L.
    pub concentration: Rational,
}

impl BackTitration {
    /// The titration that uses the difference of the blank and the sample.
    ///
    /// # Errors
    /// `not_positive` unless the sample and the concentration are above 0, `negative` if a
    /// volume is below 0, `blank_below_sample` if the blank used less than the sample.
    pub fn net(&self) -> Result<Titration, Faults> {
        let net = Titration {
            sample: self.sample.clone(),
            volume: &self.blank - &self.volume,
            concentration: self.concentration.clone(),
        };
        let mut faults = net.check_sample_and_concentration();
        not_negative("blank", &self.blank, &mut faults);
        not_negative("volume", &self.volume, &mut faults);
        if net.volume.is_negative() {
            faults.add(
                "blank_below_sample",
                "blank",
                "the blank uses at least as much solution as the sample; were they exchanged?",
            );
        }
        faults.or(net)
    }

    /// The saponification value, in mg KOH/g: M(KOH) × c × (V₀ − V) / m (ISO 3657).
    ///
    /// ```
    /// use lixivium::chemistry::titration::BackTitration;
    /// use lixivium::exact::Rational;
    /// let bench = BackTitration {
    ///     sample: Rational::decimal(1_8976, 4),
    ///     blank: Rational::decimal(25_60, 2),
    ///     volume: Rational::decimal(18_95, 2),
    ///     concentration: Rational::ONE,
    /// };
    /// assert_eq!(bench.saponification_value().unwrap().to_fixed(1), "196.6");
    /// ```
    ///
    /// # Errors
    /// Those of [`net`](Self::net).
    pub fn saponification_value(&self) -> Result<Rational, Faults> {
        self.net()?.koh_per_gram()
    }

    /// The iodine value, in g/100 g, of a titration with thiosulphate: 100 × M(I2)/2 × c × (V₀ −
    /// V) / (1000 m) (ISO 3961).
    ///
    /// ```
    /// use lixivium::chemistry::titration::BackTitration;
    /// use lixivium::exact::Rational;
    /// let bench = BackTitration {
    ///     sample: Rational::decimal(3187, 4),
    ///     blank: Rational::decimal(48_5, 1),
    ///     volume: Rational::integer(40),
    ///     concentration: Rational::decimal(1, 1),
    /// };
    /// assert_eq!(bench.iodine_value().unwrap().to_fixed(1), "33.8");
    /// ```
    ///
    /// # Errors
    /// Those of [`net`](Self::net).
    pub fn iodine_value(&self) -> Result<Rational, Faults> {
        let net = self.net()?;
        let grams = net.moles() * IODINE.molar_mass() * const { Rational::integer(50) };
        net.by_sample(&grams)
    }
}

impl Titration {
    /// The acid value, in mg KOH/g: M(KOH) × c × V / m (ISO 660).
    ///
    /// ```
    /// use lixivium::chemistry::{FattyAcid, titration::Titration};
    /// use lixivium::exact::Rational;
    /// let bench = Titration {
    ///     sample: Rational::decimal(1_8976, 4),
    ///     volume: Rational::decimal(5_2, 1),
    ///     concentration: Rational::decimal(1, 1),
    /// };
    /// assert_eq!(bench.acid_value().unwrap().to_fixed(2), "15.37");
    /// let oleic = FattyAcid::find("oleic").unwrap();
    /// assert_eq!(bench.free_fatty_acid(oleic).unwrap().to_fixed(2), "7.74");
    /// ```
    ///
    /// # Errors
    /// `not_positive` unless the sample and the concentration are above 0, `negative` if the
    /// volume is below 0.
    pub fn acid_value(&self) -> Result<Rational, Faults> {
        self.koh_per_gram()
    }

    /// The free fatty acid, in percent, stated as one acid: M × c × V / (10 m).
    ///
    /// # Errors
    /// Those of [`acid_value`](Self::acid_value).
    pub fn free_fatty_acid(&self, stated_as: &FattyAcid) -> Result<Rational, Faults> {
        let acid_value = self.acid_value()?;
        Ok(saponification::free_fatty_acid(&acid_value, stated_as))
    }

    /// The saponification equivalent, in g/mol: 1000 m / (c V), with V the difference of blank
    /// and sample.
    ///
    /// # Errors
    /// Those of [`acid_value`](Self::acid_value), and `not_positive` if the volume is 0.
    pub fn saponification_equivalent(&self) -> Result<Rational, Faults> {
        self.check()?;
        self.sample
            .checked_div(&self.moles())
            .ok_or_else(|| Faults::one("not_positive", "volume", "the volume is above 0"))
    }

    /// The alkali that the acid run in has neutralised, in percent of the sample, stated as one
    /// hydroxide: M × c × V / (10 m). Free caustic alkali (ISO 456) and total alkali (ISO 685)
    /// are stated so.
    ///
    /// ```
    /// use lixivium::chemistry::{Alkali, titration::Titration};
    /// use lixivium::exact::Rational;
    /// let bench = Titration {
    ///     sample: Rational::integer(10),
    ///     volume: Rational::decimal(1_25, 2),
    ///     concentration: Rational::decimal(1, 1),
    /// };
    /// assert_eq!(bench.alkali(Alkali::Naoh).unwrap().to_fixed(3), "0.050");
    /// ```
    ///
    /// # Errors
    /// Those of [`acid_value`](Self::acid_value).
    pub fn alkali(&self, stated_as: Alkali) -> Result<Rational, Faults> {
        self.check()?;
        let grams = self.moles() * stated_as.molar_mass();
        self.by_sample(&(grams * Rational::HUNDRED))
    }

    /// mg KOH for each g of sample.
    fn koh_per_gram(&self) -> Result<Rational, Faults> {
        self.check()?;
        let grams = self.moles() * Alkali::Koh.molar_mass();
        self.by_sample(&(grams * const { Rational::integer(1000) }))
    }

    /// mol of solution used.
    fn moles(&self) -> Rational {
        &self.volume * &self.concentration * const { Rational::decimal(1, 3) }
    }

    fn by_sample(&self, amount: &Rational) -> Result<Rational, Faults> {
        amount.checked_div(&self.sample).ok_or_else(|| {
            let mut faults = Faults::new();
            positive("sample", &self.sample, &mut faults);
            faults
        })
    }

    fn check_sample_and_concentration(&self) -> Faults {
        let mut faults = Faults::new();
        positive("sample", &self.sample, &mut faults);
        positive("concentration", &self.concentration, &mut faults);
        faults
    }

    fn check(&self) -> Result<(), Faults> {
        let mut faults = self.check_sample_and_concentration();
        not_negative("volume", &self.volume, &mut faults);
        faults.or(())
    }
}

fn positive(at: &str, number: &Rational, faults: &mut Faults) {
    if !number.is_positive() {
        let says = format_args!("the {at} is above 0, not {number}");
        faults.add("not_positive", at, says);
    }
}

fn not_negative(at: &str, number: &Rational, faults: &mut Faults) {
    if number.is_negative() {
        let says = format_args!("a volume is 0 or more, not {number}");
        faults.add("negative", at, says);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bench(sample: i64, blank: i64, volume: i64, concentration: i64) -> BackTitration {
        BackTitration {
            sample: Rational::integer(sample),
            blank: Rational::integer(blank),
            volume: Rational::integer(volume),
            concentration: Rational::integer(concentration),
        }
    }

    fn codes(faults: &Faults) -> Vec<(&str, &str)> {
        faults.iter().map(|f| (f.code, f.at.as_str())).collect()
    }

    #[test]
    fn all_faults_of_a_titration_are_found_at_once() {
        let faults = bench(0, 1, 2, -1).saponification_value().unwrap_err();
        let expected = [
            ("not_positive", "sample"),
            ("not_positive", "concentration"),
            ("blank_below_sample", "blank"),
        ];
        assert_eq!(codes(&faults), expected);
        let faults = bench(1, -2, -3, 1).iodine_value().unwrap_err();
        assert_eq!(
            codes(&faults),
            [("negative", "blank"), ("negative", "volume")]
        );
    }

    #[test]
    fn an_equivalent_needs_some_solution() {
        let none = bench(1, 2, 2, 1).net().unwrap();
        assert_eq!(none.acid_value().unwrap(), Rational::ZERO);
        let faults = none.saponification_equivalent().unwrap_err();
        assert_eq!(codes(&faults), [("not_positive", "volume")]);
    }
}
