//! `audit`: what weights amount to that were written down somewhere.

use super::assure::CornerAnswer;
use super::range::{OneOrRange, Span};
use super::view::{List, OptionalList, request, words};
use super::write::{Range, Writer, answer};
use crate::assurance::{self, Portion};
use crate::audit::{Figures, Line, Record, What, audit};
use crate::chemistry::{Acid, Alkali};
use crate::exact::{Interval, Rational};
use crate::fats::Fat;
use crate::fault::{Caution, Faults};
use crate::quantity::{Mass, Quantity, Ratio, SaponificationValue, Share};

/// How far what is stated may be from what is found, unless it is said: 0.5 %, half a unit of the
/// last place of whole percents (common practice, no source).
const TOLERANCE: Rational = Rational::decimal(5, 3);

request! {
    /// Weights as they were written down. A mass that is left out is not known; where it is known
    /// to lie in a range, it is a list of two.
    AuditRequest<'a> {
        /// The fats.
        fats: List<'a, FatRecord<'a>>,
        /// The alkalis that were used; left out: none.
        alkalis: OptionalList<'a, AlkaliRecord<'a>>,
        /// Acids; left out: none.
        acids: OptionalList<'a, AcidRecord<'a>>,
        /// Everything else in the batter; left out: nothing.
        others: OptionalList<'a, OtherRecord<'a>>,
        /// The water of the lye, without that of stock solutions.
        water_mass: Option<OneOrRange<Mass>>,
        /// What else was written down about the batch.
        stated: Option<StatedRequest<'a>>,
        /// How far what is stated may be from the weights: shares in points, masses and ratios in
        /// percent of themselves; left out: 0.5 %.
        tolerance: Option<Share>,
    }

    /// A fat that was written down.
    FatRecord<'a> {
        /// An id or alias of the catalogue, or a fat of one's own.
        fat: Fat,
        /// Its mass.
        mass: Option<OneOrRange<Mass>>,
        /// The range of its saponification value; left out: the published range.
        saponification_range: Option<Span<SaponificationValue>>,
    }

    /// An alkali that was written down.
    AlkaliRecord<'a> {
        /// Which.
        alkali: AlkaliWord,
        /// Its mass as weighed; with stock_solution: that of the solution.
        mass: Option<OneOrRange<Mass>>,
        /// Mass share of hydroxide in it; left out: 100 %.
        purity: Option<OneOrRange<Share>>,
        /// The lye concentration of the stock solution that it was taken from, whose water counts
        /// beside water_mass; left out: it was solid.
        stock_solution: Option<OneOrRange<Share>>,
    }

    /// An acid that was written down.
    AcidRecord<'a> {
        /// Which.
        acid: Acid,
        /// Its mass as bought.
        mass: Option<OneOrRange<Mass>>,
        /// Mass share of the acid in it; left out: 100 %.
        strength: Option<OneOrRange<Share>>,
    }

    /// Something else that was written down.
    OtherRecord<'a> {
        /// Its name.
        name: &'a str,
        /// Its mass.
        mass: Option<OneOrRange<Mass>>,
    }

    /// What was written down about the batch as a whole.
    StatedRequest<'a> {
        /// The superfat.
        superfat: Option<Share>,
        /// alkali as weighed / (alkali as weighed + water).
        lye_concentration: Option<Share>,
        /// water / alkali as weighed.
        water_to_lye: Option<Ratio>,
        /// Potassium hydroxide in the hydroxide, by moles.
        koh_share: Option<Share>,
        /// The mass of all fats.
        total_fats: Option<Mass>,
        /// Everything together.
        batter_mass: Option<Mass>,
    }
}

words! {
    /// An alkali.
    AlkaliWord {
        /// Sodium hydroxide.
        "naoh" => Naoh,
        /// Potassium hydroxide.
        "koh" => Koh,
    }
}

answer! {
    /// What the weights amount to; what is not known enough is null.
    AuditAnswer {
        /// The superfat, ranges of masses at their middle.
        superfat: Option<Share>,
        /// The smallest superfat over all ranges, and a corner that attains it.
        worst: Option<CornerAnswer>,
        /// The largest superfat over all ranges, and a corner that attains it.
        best: Option<CornerAnswer>,
        /// Whether the bar could keep free alkali.
        lye_heavy_possible: Option<bool>,
        /// The mass of all fats.
        total_fats: Option<Range<Mass>>,
        /// Everything together.
        batter_mass: Option<Range<Mass>>,
        /// alkali as weighed / (alkali as weighed + water).
        lye_concentration: Option<Range<Share>>,
        /// water / alkali as weighed.
        water_to_lye: Option<Range<Ratio>>,
        /// Potassium hydroxide in the hydroxide, by moles.
        koh_share_by_moles: Option<Share>,
        /// Pure sodium hydroxide that would saponify everything, the acids included.
        full_naoh_mass: Option<Mass>,
        /// Pure potassium hydroxide that would saponify everything, the acids included.
        full_koh_mass: Option<Mass>,
        /// Masses that were not written down, but follow.
        deduced: Vec<DeducedAnswer>,
        /// Masses that are not known and do not follow.
        unknown: Vec<String>,
        /// What was stated and does not fit the weights.
        inconsistencies: Vec<InconsistencyAnswer>,
        /// What to mind.
        cautions: Vec<Caution>,
    }

    /// A mass that follows from what was written down.
    DeducedAnswer {
        /// Its place, such as `fats[1]` or `water_mass`.
        at: String,
        /// The mass.
        mass: Range<Mass>,
        /// What it follows from.
        from: &'static str,
    }

    /// Something that was stated and does not fit the weights.
    InconsistencyAnswer {
        /// What was stated.
        stated: &'static str,
        /// One plain sentence.
        says: String,
    }
}

pub(super) fn run(
    request: AuditRequest,
    unread: Faults,
    to: &mut impl Writer,
) -> Result<(), Faults> {
    let mut faults = Faults::new();
    let mut record = record(request, &mut faults);
    unread.with(faults.or(()))?;
    let audit = audit(&mut record)?;
    let (found, bounds) = (&audit.found, audit.bounds.as_ref());
    let point = |figure: &Option<Interval>| figure.as_ref().map(|point| point.low().clone());
    let koh = audit.full_need.as_ref();
    let naoh = koh.map(|koh| Alkali::Naoh.in_place_of(koh, Alkali::Koh));
    to.add("superfat", &point(&found.superfat));
    to.add("worst", &bounds.map(|bounds| &bounds.low));
    to.add("best", &bounds.map(|bounds| &bounds.high));
    to.add(
        "lye_heavy_possible",
        &bounds.map(|bounds| bounds.lye_heavy_possible()),
    );
    to.add("total_fats", &found.total_fats);
    to.add("batter_mass", &found.batter_mass);
    to.add("lye_concentration", &found.lye_concentration);
    to.add("water_to_lye", &found.water_to_lye);
    to.add("koh_share_by_moles", &point(&found.koh_share));
    to.add("full_naoh_mass", &naoh);
    to.add("full_koh_mass", &koh);
    to.list("deduced", &audit.deduced, |to, deduced| {
        to.add("at", &deduced.at);
        to.add("mass", &deduced.mass);
        to.add("from", deduced.from);
    });
    to.texts("unknown", &audit.unknown);
    to.list("inconsistencies", &audit.inconsistencies, |to, found| {
        to.add("stated", found.stated);
        to.add("says", &found.says);
    });
    to.add("cautions", audit.cautions().as_slice());
    Ok(())
}

fn record(request: AuditRequest, faults: &mut Faults) -> Record {
    let mut share = |share: Option<OneOrRange<Share>>, list: &str, i: usize, name: &str| {
        let whole = || Interval::point(Rational::ONE);
        let range = share.map_or_else(whole, |share| share.0.fractions());
        assurance::check_share(&range, format_args!("{list}[{i}].{name}"), faults);
        range
    };
    let mut lines = Vec::new();
    for (i, line) in request.fats().enumerate() {
        let range = line.saponification_range().map(|range| range.interval);
        let portion = assurance::fat(&line.fat(), &Rational::ZERO, range.as_ref());
        note(&mut lines, "fats", i, What::Fat(portion), line.mass());
    }
    for (i, line) in request.alkalis().into_iter().enumerate() {
        let purity = share(line.purity(), "alkalis", i, "purity");
        let strength = share(line.stock_solution(), "alkalis", i, "stock_solution");
        let reckoned = Share::of_one(purity.middle() * strength.middle());
        let range = &purity * &strength;
        let portion = match line.alkali() {
            AlkaliWord::Naoh => Portion::naoh(Rational::ZERO, &reckoned, &range),
            AlkaliWord::Koh => Portion::koh(Rational::ZERO, &reckoned, &range),
        };
        let what = What::Alkali(portion, strength);
        note(&mut lines, "alkalis", i, what, line.mass());
    }
    for (i, line) in request.acids().into_iter().enumerate() {
        let strength = share(line.strength(), "acids", i, "strength");
        let reckoned = Share::of_one(strength.middle());
        let portion = Portion::acid(&line.acid(), Rational::ZERO, &reckoned, &strength);
        note(&mut lines, "acids", i, What::Acid(portion), line.mass());
    }
    for (i, line) in request.others().into_iter().enumerate() {
        note(&mut lines, "others", i, What::Other, line.mass());
    }
    note(
        &mut lines,
        "water_mass",
        0,
        What::Water,
        request.water_mass(),
    );
    let tolerance = request.tolerance().unwrap_or(Share::of_one(TOLERANCE));
    if tolerance.fraction().is_negative() {
        faults.add(
            "negative",
            "tolerance",
            "a tolerance is not below 0; accepted: 0 or more, such as \"0.5 %\"",
        );
    }
    Record {
        lines,
        stated: request.stated().map(stated).unwrap_or_default(),
        tolerance,
    }
}

/// Adds a line of a list, or the water.
fn note(lines: &mut Vec<Line>, list: &str, i: usize, what: What, mass: Option<OneOrRange<Mass>>) {
    let mass = mass.map(|mass| mass.0.interval);
    let at = match what {
        What::Water => list.to_owned(),
        _ => format!("{list}[{i}]"),
    };
    lines.push(Line { at, what, mass });
}

fn stated(request: StatedRequest) -> Figures<Rational> {
    fn base<Q: Quantity>(quantity: Option<Q>) -> Option<Rational> {
        quantity.map(|quantity| quantity.to_base())
    }
    Figures {
        superfat: base(request.superfat()),
        lye_concentration: base(request.lye_concentration()),
        water_to_lye: base(request.water_to_lye()),
        koh_share: base(request.koh_share()),
        total_fats: base(request.total_fats()),
        batter_mass: base(request.batter_mass()),
    }
}
