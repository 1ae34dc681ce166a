//! Fats by name.

use std::sync::LazyLock;

use super::{CatalogueFat, catalogue};
use crate::fault::{Faults, listed};
use crate::sort::sort_by;
use crate::spellings::Spellings;

/// How many names are proposed for one that is not known.
const PROPOSALS: usize = 3;

/// Nothing is proposed for names longer than this.
const LONGEST_COMPARED: usize = 60;

/// The fat of the catalogue with this identifier or alias, in any case; spaces, underscores and
/// hyphens are alike. Nothing is allocated for a name in lower case with hyphens.
///
/// ```
/// use lixivium::fats::find;
/// assert_eq!(find("Arachis Oil").unwrap().id, "peanut-oil");
/// let says = find("olvie oil").unwrap_err().to_string();
/// assert!(says.contains("did you mean olive-oil"), "{says}");
/// // Which rapeseed oil? High and low erucic ones differ by 13 mg KOH/g.
/// let says = find("rapeseed oil").unwrap_err().to_string();
/// assert!(says.contains("canola-oil") && says.contains("high-erucic-rapeseed-oil"), "{says}");
/// ```
///
/// # Errors
/// `unknown_fat`, with the nearest names.
pub fn find(name: &str) -> Result<&'static CatalogueFat, Faults> {
    if let Some(fat) = written_as(name) {
        return Ok(fat);
    }
    let wanted = kebab(name);
    if let Some(fat) = written_as(&wanted) {
        return Ok(fat);
    }
    let proposals = listed(&nearest(name, &wanted), " or ");
    let (before, after) = match proposals.is_empty() {
        true => ("", ""),
        false => (" (did you mean ", "?)"),
    };
    let says = format_args!(
        "\"{name:.LONGEST_COMPARED$}\" is no fat of the catalogue{before}{proposals}{after}; \
         accepted: the id or another name of a fat in the catalogue, or a fat of your own with its \
         saponification value"
    );
    Err(Faults::one("unknown_fat", "", says))
}

/// The fat with exactly this name.
fn written_as(name: &str) -> Option<&'static CatalogueFat> {
    let names = &*NAMES;
    let mut slot = hash(name);
    while let Some((known, fat)) = names.all.get(usize::from(names.slots[slot])) {
        if *known == name {
            return Some(fat);
        }
        slot = next(slot);
    }
    None
}

/// The names of the fats, and where each stands in the list by its hash; a name whose slot is
/// taken stands in the next free one.
struct Names {
    all: Vec<(&'static str, &'static CatalogueFat)>,
    slots: [u8; SLOT_COUNT],
}

/// Size of the hash table: a power of two that leaves more than half of it empty.
const SLOT_COUNT: usize = 512;

/// No name: the build script allows fewer.
const EMPTY: u8 = u8::MAX;

static NAMES: LazyLock<Names> = LazyLock::new(|| {
    let mut names = Names {
        all: Vec::new(),
        slots: [EMPTY; SLOT_COUNT],
    };
    for fat in catalogue() {
        let spellings = Spellings {
            first: Some(fat.id),
            others: fat.aliases,
        };
        for name in spellings {
            let mut slot = hash(name);
            while names.slots[slot] != EMPTY {
                slot = next(slot);
            }
            names.slots[slot] = names.all.len() as u8;
            names.all.push((name, fat));
        }
    }
    names
});

fn next(slot: usize) -> usize {
    (slot + 1) % SLOT_COUNT
}

/// FNV-1a, 32 bits, as a slot.
fn hash(name: &str) -> usize {
    let step = |sum: u32, byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    name.bytes().fold(0x811c_9dc5, step) as usize % SLOT_COUNT
}

/// A name as the catalogue writes them: lower case, hyphens between words.
fn kebab(name: &str) -> String {
    let mut kebab = String::with_capacity(name.len());
    for byte in name.trim().bytes() {
        if !matches!(byte, b' ' | b'_' | b'-') {
            kebab.push(char::from(byte.to_ascii_lowercase()));
        } else if !kebab.ends_with('-') {
            kebab.push('-');
        }
    }
    kebab
}

/// The ids of the fats whose names are most like this one, in kebab-case `wanted`, the nearest
/// first.
fn nearest(name: &str, wanted: &str) -> Vec<&'static str> {
    if wanted.is_empty() || name.len() > LONGEST_COMPARED {
        return Vec::new();
    }
    let mut scored: Vec<(usize, &'static str)> = Vec::new();
    for (known, fat) in &NAMES.all {
        if let Some(score) = distance(wanted, known) {
            match scored.last_mut() {
                Some((best, id)) if *id == fat.id => *best = score.min(*best),
                _ => scored.push((score, fat.id)),
            }
        }
    }
    sort_by(&mut scored, Ord::cmp);
    let mut ids = Vec::new();
    for (_, id) in scored.iter().take(PROPOSALS) {
        ids.push(*id);
    }
    ids
}

/// Whether a text stands in another. (The standard library's search is for long texts.)
fn stands_in(inner: &str, outer: &str) -> bool {
    let mut parts = outer.as_bytes().windows(inner.len().max(1));
    parts.any(|part| part == inner.as_bytes())
}

/// How far two names are from each other, if they are near: a name within the other, or a slip or
/// two, before what is merely alike.
fn distance(wanted: &str, known: &str) -> Option<usize> {
    if wanted.len() > 3 && (stands_in(wanted, known) || stands_in(known, wanted)) {
        return Some(wanted.len().abs_diff(known.len()));
    }
    let edits = strsim::osa_distance(wanted, known);
    let alike = edits * 3 <= wanted.len().max(known.len());
    alike.then_some(edits + if edits > 2 { LONGEST_COMPARED } else { 0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_found_in_any_spelling() {
        assert!(NAMES.all.len() > catalogue().len());
        for (name, fat) in &NAMES.all {
            let loud = name.replace('-', "  ").to_uppercase();
            for spelling in [
                *name,
                loud.as_str(),
                &name.replace('-', "_"),
                &format!(" {name}\t"),
            ] {
                assert_eq!(find(spelling).unwrap(), *fat, "{spelling}");
            }
        }
    }

    #[test]
    fn an_unknown_name_is_answered_with_the_nearest_ones() {
        let nearest_to = |name| nearest(name, &kebab(name));
        assert_eq!(nearest_to("olve oil")[0], "olive-oil");
        assert_eq!(nearest_to("organic coconut oil")[0], "coconut-oil");
        assert_eq!(nearest_to("karite")[0], "shea-butter");
        assert_eq!(nearest_to("palm")[0], "palm-oil");
        assert!(nearest_to("rapeseed oil").contains(&"canola-oil"));
        for nothing in ["", "  ", "zzzzzzzzzzzz", &"olive-oil".repeat(20)] {
            assert_eq!(nearest_to(nothing), [""; 0], "{nothing}");
            let fault = find(nothing).unwrap_err();
            assert_eq!(fault.iter().next().unwrap().code, "unknown_fat");
        }
    }

    #[test]
    fn text_of_any_kind_is_survived() {
        for text in [
            "huile d'olive",
            "масло",
            "🫒",
            "a\0b",
            "-",
            "--",
            "olive–oil",
        ] {
            assert!(find(text).is_err(), "{text}");
        }
    }
}
