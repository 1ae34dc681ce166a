//! Formulas and molar masses.

use std::fmt;

use crate::exact::Rational;
use crate::sort::sort_by;
use crate::tables::{ATOMIC_WEIGHTS, ELEMENT_SYMBOLS, Element};

/// The atoms of a substance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formula([u16; ELEMENT_SYMBOLS.len()]);

/// NaOH
pub const SODIUM_HYDROXIDE: Formula =
    Formula::of(&[(Element::Na, 1), (Element::O, 1), (Element::H, 1)]);
/// KOH
pub const POTASSIUM_HYDROXIDE: Formula =
    Formula::of(&[(Element::K, 1), (Element::O, 1), (Element::H, 1)]);
/// H2O
pub const WATER: Formula = Formula::of(&[(Element::H, 2), (Element::O, 1)]);
/// C3H8O3
pub const GLYCEROL: Formula = Formula::organic(3, 8, 3);
/// I2
pub const IODINE: Formula = Formula::of(&[(Element::I, 2)]);
/// Na2CO3, soda ash
pub const SODIUM_CARBONATE: Formula =
    Formula::of(&[(Element::Na, 2), (Element::C, 1), (Element::O, 3)]);
/// CaO, quicklime
pub const CALCIUM_OXIDE: Formula = Formula::of(&[(Element::Ca, 1), (Element::O, 1)]);
/// Ca(OH)2, slaked lime
pub const CALCIUM_HYDROXIDE: Formula =
    Formula::of(&[(Element::Ca, 1), (Element::O, 2), (Element::H, 2)]);

impl Formula {
    /// From the atoms of each element. An element that is named twice is added up.
    pub const fn of(atoms: &[(Element, u16)]) -> Self {
        let mut counts = [0; ELEMENT_SYMBOLS.len()];
        let mut i = 0;
        while i < atoms.len() {
            let (element, count) = atoms[i];
            counts[element as usize] += count;
            i += 1;
        }
        Self(counts)
    }

    /// C, H and O.
    pub const fn organic(carbon: u16, hydrogen: u16, oxygen: u16) -> Self {
        let mut counts = [0; ELEMENT_SYMBOLS.len()];
        counts[Element::C as usize] = carbon;
        counts[Element::H as usize] = hydrogen;
        counts[Element::O as usize] = oxygen;
        Self(counts)
    }

    /// How many atoms of an element it has.
    pub const fn count(&self, element: Element) -> u16 {
        self.0[element as usize]
    }

    /// Its molar mass in g/mol: the sum of the abridged standard atomic weights (IUPAC 2021).
    ///
    /// ```
    /// use lixivium::chemistry::{GLYCEROL, SODIUM_HYDROXIDE};
    /// assert_eq!(SODIUM_HYDROXIDE.molar_mass().to_fixed(3), "39.997");
    /// assert_eq!(GLYCEROL.molar_mass().to_fixed(3), "92.094");
    /// ```
    pub const fn molar_mass(&self) -> Rational {
        Rational::decimal(self.ten_thousandths(), 4)
    }

    /// The molar mass in units of 0.0001 g/mol.
    pub(crate) const fn ten_thousandths(&self) -> i64 {
        let mut sum = 0;
        let mut i = 0;
        while i < ATOMIC_WEIGHTS.len() {
            sum += self.0[i] as i64 * ATOMIC_WEIGHTS[i];
            i += 1;
        }
        sum
    }
}

impl fmt::Display for Formula {
    /// In the order of Hill: carbon, hydrogen, then by symbol: `C6H8O7`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut atoms: Vec<_> = ELEMENT_SYMBOLS.iter().zip(self.0).collect();
        let organic = self.count(Element::C) > 0;
        let order = |symbol: &'static str| match symbol {
            "C" if organic => (0, symbol),
            "H" if organic => (1, symbol),
            _ => (2, symbol),
        };
        sort_by(&mut atoms, |(a, _), (b, _)| order(a).cmp(&order(b)));
        for (symbol, count) in atoms {
            match count {
                0 => {}
                1 => f.write_str(symbol)?,
                _ => write!(f, "{symbol}{count}")?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_written_in_the_order_of_hill() {
        assert_eq!(Formula::organic(6, 8, 7).to_string(), "C6H8O7");
        assert_eq!(SODIUM_CARBONATE.to_string(), "CNa2O3");
        assert_eq!(SODIUM_HYDROXIDE.to_string(), "HNaO");
        assert_eq!(WATER.to_string(), "H2O");
    }
}
