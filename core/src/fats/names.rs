//! Fats by name.

use super::CatalogueFat;
use crate::fault::Faults;
use crate::sort::sort_by;
use crate::tables::{FAT_NAMES, FATS};

/// How many names are proposed for one that is not known.
const PROPOSALS: usize = 3;

/// Nothing is proposed for names longer than this.
const LONGEST_COMPARED: usize = 60;

/// The fat of the catalogue with this identifier or alias, in any case; spaces, underscores and
/// hyphens are alike. Nothing is allocated if it is found.
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
    if let Some(fat) = written_as(name.bytes()).or_else(|| written_as(kebab(name))) {
        return Ok(fat);
    }
    Err(Faults::one("unknown_fat", "", unknown(name)))
}

/// The fat with a name of exactly these bytes.
fn written_as(name: impl Iterator<Item = u8> + Clone) -> Option<&'static CatalogueFat> {
    let mut slot = slot_of(hash(name.clone()));
    while let Some((known, _)) = FAT_NAMES.get(usize::from(SLOTS[slot])) {
        if known.bytes().eq(name.clone()) {
            return Some(fat_at(SLOTS[slot].into()));
        }
        slot = slot_of(slot as u32 + 1);
    }
    None
}

/// Size of the hash table: a power of two that leaves more than half of it empty.
const SLOT_COUNT: usize = 512;

/// No name; beyond the end of the names.
const EMPTY: u8 = u8::MAX;

const _: () = assert!(FAT_NAMES.len() < SLOT_COUNT / 2 && FAT_NAMES.len() < EMPTY as usize);

/// Where each name stands, by its hash; a name whose place is taken stands in the next free one.
static SLOTS: [u8; SLOT_COUNT] = {
    let mut slots = [EMPTY; SLOT_COUNT];
    let mut place = 0;
    while place < FAT_NAMES.len() {
        let name = FAT_NAMES[place].0.as_bytes();
        let mut sum = HASH_OF_NOTHING;
        let mut i = 0;
        while i < name.len() {
            sum = hash_step(sum, name[i]);
            i += 1;
        }
        let mut slot = slot_of(sum);
        while slots[slot] != EMPTY {
            slot = slot_of(slot as u32 + 1);
        }
        slots[slot] = place as u8;
        place += 1;
    }
    slots
};

const fn slot_of(hash: u32) -> usize {
    hash as usize % SLOT_COUNT
}

// FNV-1a, 32 bits.
const HASH_OF_NOTHING: u32 = 0x811c_9dc5;

const fn hash_step(sum: u32, byte: u8) -> u32 {
    (sum ^ byte as u32).wrapping_mul(0x0100_0193)
}

fn hash(bytes: impl Iterator<Item = u8>) -> u32 {
    bytes.fold(HASH_OF_NOTHING, hash_step)
}

fn fat_at(place: usize) -> &'static CatalogueFat {
    &FATS[usize::from(FAT_NAMES[place].1)]
}

/// The bytes of a name as the catalogue writes them: lower case, hyphens between words.
fn kebab(name: &str) -> impl Iterator<Item = u8> + Clone {
    let name = name.trim();
    let is_gap = |b: u8| matches!(b, b' ' | b'_' | b'-');
    let mut last_was_gap = false;
    name.bytes().filter_map(move |byte| {
        let gap = is_gap(byte);
        let again = gap && last_was_gap;
        last_was_gap = gap;
        match (gap, again) {
            (_, true) => None,
            (true, _) => Some(b'-'),
            _ => Some(byte.to_ascii_lowercase()),
        }
    })
}

fn unknown(name: &str) -> String {
    let shown: String = name.chars().take(LONGEST_COMPARED).collect();
    let proposals = nearest(name);
    let hint = if proposals.is_empty() {
        String::new()
    } else {
        format!(" (did you mean {}?)", proposals.join(" or "))
    };
    format!(
        "\"{shown}\" is no fat of the catalogue{hint}; accepted: the id or another name of a fat \
         in the catalogue, or a fat of your own with its saponification value"
    )
}

/// The ids of the fats whose names are most like this one, the nearest first.
fn nearest(name: &str) -> Vec<&'static str> {
    let wanted: String = kebab(name).map(char::from).collect();
    if wanted.is_empty() || name.len() > LONGEST_COMPARED {
        return Vec::new();
    }
    let mut scored: Vec<((bool, usize), &'static str)> = Vec::new();
    for (place, (known, _)) in FAT_NAMES.iter().enumerate() {
        if let Some(score) = distance(&wanted, known) {
            let id = fat_at(place).id;
            match scored.iter_mut().find(|(_, other)| *other == id) {
                Some(entry) => entry.0 = entry.0.min(score),
                None => scored.push((score, id)),
            }
        }
    }
    sort_by(&mut scored, Ord::cmp);
    scored
        .into_iter()
        .take(PROPOSALS)
        .map(|(_, id)| id)
        .collect()
}

/// How far two names are from each other, if they are near: a name within the other, or a slip or
/// two, before what is merely alike.
fn distance(wanted: &str, known: &str) -> Option<(bool, usize)> {
    if wanted.len() > 3 && (known.contains(wanted) || wanted.contains(known)) {
        return Some((false, wanted.len().abs_diff(known.len())));
    }
    let edits = strsim::osa_distance(wanted, known);
    (edits * 3 <= wanted.len().max(known.len())).then_some((edits > 2, edits))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_found_in_any_spelling() {
        for (place, (name, _)) in FAT_NAMES.iter().enumerate() {
            let fat = fat_at(place);
            let loud = name.replace('-', "  ").to_uppercase();
            for spelling in [
                *name,
                loud.as_str(),
                &name.replace('-', "_"),
                &format!(" {name}\t"),
            ] {
                assert_eq!(find(spelling).unwrap(), fat, "{spelling}");
            }
        }
    }

    #[test]
    fn an_unknown_name_is_answered_with_the_nearest_ones() {
        let nearest_to = |name| nearest(name);
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
