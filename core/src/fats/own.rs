//! Fats of one's own.

use std::sync::Arc;

use super::{Figure, Kind, RelativeDensity, Rule};
use crate::chemistry::{Alkali, Basis, Composition, saponification};
use crate::exact::{Interval, Rational};
use crate::fault::Faults;

/// The smallest saponification value that is accepted, in mg KOH/g; waxes are the lowest.
pub const SMALLEST_SAPONIFICATION_VALUE: Rational = Rational::integer(20);

/// The largest saponification value that is accepted, in mg KOH/g; butyric acid has 637.
pub const LARGEST_SAPONIFICATION_VALUE: Rational = Rational::integer(700);

/// The largest iodine value that is accepted, in g/100 g; docosahexaenoic acid has 464.
pub const LARGEST_IODINE_VALUE: Rational = Rational::integer(500);

/// The most characters that the name of a fat may have.
pub const LONGEST_NAME: usize = 200;

/// How the saponification value of one's own fat is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Saponification {
    /// From the supplier or the laboratory, in mg KOH/g.
    Value(Rational),
    /// As a range with a typical value in it, in mg KOH/g.
    ValueInRange(Rational, Interval),
    /// As g of pure sodium hydroxide for each g of fat.
    NaohPerGram(Rational),
    /// As g of pure potassium hydroxide for each g of fat.
    KohPerGram(Rational),
    /// Calculated from the composition.
    FromComposition,
}

/// The description of a fat of one's own.
///
/// [`Fat::own`](super::Fat::own) checks it and finds all of its faults at once: `empty_name` and
/// `name_too_long` at `name`; `out_of_range` at the value that is not between its limits, with
/// the likely slip of the unit; `typical_outside_range`; `composition_missing` if the
/// saponification value is to be calculated from none.
///
/// ```
/// use lixivium::chemistry::{Composition, Shares};
/// use lixivium::exact::Rational;
/// use lixivium::fats::{Fat, OwnFat, Saponification};
/// let shares = [("C16:0", 25), ("C18:0", 20), ("C18:1", 55)];
/// let shares = shares.map(|(acid, share)| (acid, Rational::integer(share)));
/// let mut own = OwnFat::new("emmer tallow", Saponification::FromComposition);
/// own.composition = Some(Composition::new(shares, Shares::AsGiven).unwrap());
/// let fat = Fat::own(own).unwrap();
/// assert_eq!(fat.saponification_value().typical.to_fixed(1), "194.4");
///
/// let slip = OwnFat::new("olive", Saponification::Value(Rational::decimal(19, 2)));
/// let says = Fat::own(slip).unwrap_err().to_string();
/// assert!(says.contains("g of potassium hydroxide per g"), "{says}");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnFat {
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub kind: Kind,
    /// How its saponification value is known.
    pub saponification: Saponification,
    /// Its iodine value in g/100 g; calculated where a composition is given and this is not.
    pub iodine_value: Option<Rational>,
    /// Its relative density.
    pub relative_density: Option<RelativeDensity>,
    /// Its fatty-acid composition.
    pub composition: Option<Composition>,
}

/// A description without faults, its values worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Checked {
    pub name: String,
    pub kind: Kind,
    pub saponification_value: Figure,
    pub iodine_value: Option<Figure>,
    pub relative_density: Option<RelativeDensity>,
    pub composition: Option<Composition>,
}

impl OwnFat {
    /// A glyceride of which only the saponification value is known.
    pub fn new(name: impl Into<String>, saponification: Saponification) -> Self {
        Self {
            name: name.into(),
            kind: Kind::Glyceride,
            saponification,
            iodine_value: None,
            relative_density: None,
            composition: None,
        }
    }

    pub(super) fn check(self) -> Result<Arc<Checked>, Faults> {
        let mut faults = Faults::new();
        if self.name.trim().is_empty() {
            faults.add("empty_name", "name", "a fat of your own has a name");
        } else if self.name.chars().count() > LONGEST_NAME {
            let says = format_args!("a name has at most {LONGEST_NAME} characters");
            faults.add("name_too_long", "name", says);
        }
        if let Some(density) = &self.relative_density {
            check_density(density, &mut faults);
        }
        let iodine_value = self.iodine_figure(&mut faults);
        let saponification_value = self.saponification_figure(&mut faults);
        faults.or(())?;
        Ok(Arc::new(Checked {
            name: self.name,
            kind: self.kind,
            saponification_value,
            iodine_value,
            relative_density: self.relative_density,
            composition: self.composition,
        }))
    }

    /// The basis on which values are calculated from the composition.
    fn is_free_acid(&self) -> bool {
        self.kind == Kind::FattyAcid
    }

    fn saponification_figure(&self, faults: &mut Faults) -> Figure {
        let mut range = None;
        let (typical, rule) = match &self.saponification {
            Saponification::Value(value) => {
                check_value("saponification_value", value, value, faults);
                (value.clone(), Rule::Given)
            }
            Saponification::ValueInRange(value, ends) => {
                check_value("saponification_value", value, value, faults);
                check_value("saponification_range[0]", ends.low(), ends.low(), faults);
                check_value("saponification_range[1]", ends.high(), ends.high(), faults);
                if !ends.contains(value) {
                    let says = format_args!(
                        "the saponification value {} lies outside its range, {} to {}",
                        value.fixed(2),
                        ends.low().fixed(2),
                        ends.high().fixed(2)
                    );
                    faults.add("typical_outside_range", "saponification_value", says);
                }
                range = Some(ends.clone());
                (value.clone(), Rule::Given)
            }
            Saponification::NaohPerGram(grams) => {
                let value = saponification::of_alkali_per_gram(grams, Alkali::Naoh);
                check_value("naoh_per_gram", grams, &value, faults);
                (value, Rule::Given)
            }
            Saponification::KohPerGram(grams) => {
                let value = saponification::of_alkali_per_gram(grams, Alkali::Koh);
                check_value("koh_per_gram", grams, &value, faults);
                (value, Rule::Given)
            }
            Saponification::FromComposition => {
                let Some(composition) = &self.composition else {
                    faults.add(
                        "composition_missing",
                        "composition",
                        "a saponification value is calculated from a fatty-acid composition; give \
                         one, or give the saponification value",
                    );
                    return figure(Rational::ZERO, None, Rule::Calculated);
                };
                let value = if self.is_free_acid() {
                    composition.acid_value()
                } else {
                    composition.saponification_value()
                };
                (value, Rule::Calculated)
            }
        };
        figure(typical, range, rule)
    }

    fn iodine_figure(&self, faults: &mut Faults) -> Option<Figure> {
        if let Some(value) = &self.iodine_value {
            if value.is_negative() || *value > LARGEST_IODINE_VALUE {
                let says = format_args!(
                    "an iodine value lies between 0 and {LARGEST_IODINE_VALUE} g/100 g, not {}",
                    value.fixed(2)
                );
                faults.add("out_of_range", "iodine_value", says);
            }
            return Some(figure(value.clone(), None, Rule::Given));
        }
        let basis = if self.is_free_acid() {
            Basis::FreeAcid
        } else {
            Basis::Triglyceride
        };
        let calculated = self.composition.as_ref()?.iodine_value(basis);
        Some(figure(calculated, None, Rule::Calculated))
    }
}

fn figure(typical: Rational, range: Option<Interval>, rule: Rule) -> Figure {
    Figure {
        typical,
        low: range.as_ref().map(|r| r.low().clone()),
        high: range.as_ref().map(|r| r.high().clone()),
        rule,
    }
}

/// Checks a saponification value that was `given` in the unit of the field `at`.
fn check_value(at: &str, given: &Rational, value: &Rational, faults: &mut Faults) {
    let accepted = SMALLEST_SAPONIFICATION_VALUE..=LARGEST_SAPONIFICATION_VALUE;
    if accepted.contains(value) {
        return;
    }
    let alkali = match at {
        "naoh_per_gram" => Some(Alkali::Naoh),
        "koh_per_gram" => Some(Alkali::Koh),
        _ => None,
    };
    let mut says = match alkali {
        None => format!(
            "a saponification value lies between {SMALLEST_SAPONIFICATION_VALUE} and \
             {LARGEST_SAPONIFICATION_VALUE} mg KOH/g, not {}",
            given.fixed(3)
        ),
        Some(alkali) => {
            let limit = |value| saponification::alkali_per_gram(&value, alkali).fixed(3);
            format!(
                "1 g of fat takes between {} and {} g of {}, not {}",
                limit(SMALLEST_SAPONIFICATION_VALUE),
                limit(LARGEST_SAPONIFICATION_VALUE),
                alkali.name(),
                given.fixed(3)
            )
        }
    };
    if alkali.is_none() && given.is_positive() && *given < Rational::ONE {
        says.push_str("; a figure in g of potassium hydroxide per g goes into koh_per_gram");
    }
    if alkali.is_some() && accepted.contains(given) {
        says.push_str("; a figure in mg KOH/g goes into saponification_value");
    }
    faults.add("out_of_range", at, says);
}

fn check_density(density: &RelativeDensity, faults: &mut Faults) {
    let plausible = const { Rational::decimal(5, 1)..=Rational::decimal(15, 1) };
    if density.low > density.high
        || !plausible.contains(&density.low)
        || !plausible.contains(&density.high)
    {
        let says = format_args!(
            "a relative density lies between 0.5 and 1.5, its low end not above its high end; \
             this one is {} to {}",
            density.low.fixed(3),
            density.high.fixed(3)
        );
        faults.add("out_of_range", "relative_density", says);
    }
}

#[cfg(test)]
mod tests {
    use super::super::Fat;
    use super::*;
    use crate::chemistry::Shares;

    fn faults(own: OwnFat) -> Vec<(&'static str, String, String)> {
        let faults = Fat::own(own).unwrap_err();
        let parts = faults
            .iter()
            .map(|f| (f.code, f.at.clone(), f.says.clone()));
        parts.collect()
    }

    fn with(saponification: Saponification) -> OwnFat {
        OwnFat::new("house fat", saponification)
    }

    #[test]
    fn alkali_per_gram_is_turned_into_a_saponification_value() {
        let grams = Rational::decimal(136, 3);
        let naoh = Fat::own(with(Saponification::NaohPerGram(grams.clone()))).unwrap();
        let value = naoh.typical_saponification_value();
        let expected = grams * Rational::ratio(56_105_000, 39_997).unwrap();
        assert_eq!(value, expected);
        let koh = Fat::own(with(Saponification::KohPerGram(Rational::decimal(19, 2)))).unwrap();
        assert_eq!(koh.typical_saponification_value(), Rational::integer(190));
    }

    #[test]
    fn a_slip_of_the_unit_is_named() {
        let found = faults(with(Saponification::NaohPerGram(Rational::integer(190))));
        assert!(found[0].2.contains("saponification_value"), "{found:?}");
        let found = faults(with(Saponification::KohPerGram(Rational::decimal(1, 3))));
        assert_eq!(
            (found[0].0, found[0].1.as_str()),
            ("out_of_range", "koh_per_gram")
        );
        let found = faults(with(Saponification::Value(Rational::integer(701))));
        assert_eq!(found[0].1, "saponification_value");
    }

    #[test]
    fn all_faults_of_a_fat_are_found_at_once() {
        let range = Interval::new(Rational::integer(1), Rational::integer(195)).unwrap();
        let mut own = with(Saponification::ValueInRange(Rational::integer(200), range));
        own.name = " ".to_owned();
        own.iodine_value = Some(Rational::integer(501));
        own.relative_density = Some(RelativeDensity {
            low: Rational::integer(900),
            high: Rational::integer(920),
            temperature: Rational::integer(20),
            reference_temperature: Rational::integer(20),
        });
        let found = faults(own);
        let places: Vec<_> = found
            .iter()
            .map(|(code, at, _)| (*code, at.as_str()))
            .collect();
        let expected = [
            ("empty_name", "name"),
            ("out_of_range", "relative_density"),
            ("out_of_range", "iodine_value"),
            ("out_of_range", "saponification_range[0]"),
            ("typical_outside_range", "saponification_value"),
        ];
        assert_eq!(places, expected);
    }

    #[test]
    fn values_from_a_composition_are_those_of_its_kind() {
        let composition = Composition::new([("stearic", Rational::HUNDRED)], Shares::AsGiven);
        let composition = composition.unwrap();
        for (kind, expected) in [(Kind::Glyceride, "188.80"), (Kind::FattyAcid, "197.22")] {
            let mut own = with(Saponification::FromComposition);
            own.kind = kind;
            own.composition = Some(composition.clone());
            let fat = Fat::own(own).unwrap();
            assert_eq!(fat.saponification_value().typical.to_fixed(2), expected);
            assert_eq!(fat.iodine_value().unwrap().rule, Rule::Calculated);
        }
        let found = faults(with(Saponification::FromComposition));
        assert_eq!(found[0].0, "composition_missing");
        let mut long = with(Saponification::Value(Rational::integer(190)));
        long.name = "x".repeat(LONGEST_NAME + 1);
        assert_eq!(faults(long)[0].0, "name_too_long");
    }
}
