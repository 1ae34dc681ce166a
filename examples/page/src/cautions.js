// Cautions of the library: where each of them stands.

import { h } from "./dom.js";

/** Codes of cautions that have a place of their own on the card; all others stand at its top. */
const PLACES = {
    lye_burns: "before",
    corrosive: "before",
    irritant: "before",
    alkali_into_water: "lye",
    will_not_dissolve: "lye",
    may_be_lye_heavy: "superfat",
    range_unknown: "superfat",
    below_floor_possible: "superfat",
    reckoned_outside_range: "superfat",
    no_safe_alkali: "superfat",
    density_unknown: "mould",
    left_over: "mould",
    may_overflow: "mould",
    fraction_for_percent: "field",
};

/** Cautions as a list; each one once. */
export function cautions(list, attributes = {}) {
    const once = list.filter(
        (caution, i) => list.findIndex((other) => other.says === caution.says) === i,
    );
    if (once.length === 0) return null;
    return h(
        "ul",
        { class: "cautions", ...attributes },
        once.map((caution) => h("li", { "data-code": caution.code }, caution.says)),
    );
}

/** The cautions that stand at a place of the card. */
export function cautionsAt(place, list) {
    return list.filter((caution) => placeOf(caution) === place);
}

function placeOf(caution) {
    const place = PLACES[caution.code] ?? "before";
    return place === "field" && !asked(caution) ? "before" : place;
}

/** A share that is asked about; the library begins the sentence with the place of the share. */
function asked({ code, says }) {
    const found = says.match(/^(\S+)( is read as .* if you meant (\S+) %.*)$/);
    return found && { code, at: found[1], says: `This${found[2]}`, write: found[3] };
}

/**
 * The cautions of a plan that belong to a field: { code, at, says, write }. `at` is the place in
 * the plan; `write`, where there is one, is what was probably meant.
 */
export function fieldCautions(plan) {
    const all = [...plan.cautions, ...(plan.mould?.mould_cautions ?? [])];
    const water = all.filter(({ code }) => code === "will_not_dissolve");
    return [
        ...cautionsAt("field", all).map(asked),
        ...water.map((caution) => ({ ...caution, at: "water" })),
    ];
}
