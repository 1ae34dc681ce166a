// What brings a batch back, and what that does to it.

import { cautions } from "../cautions.js";
import { h } from "../dom.js";
import { sign } from "../numbers.js";
import { mass, massPlaces, percent } from "../units.js";

export function amendAnswer(answer, { off }) {
    return [
        off.length > 0 && wentIn(off),
        cautions(answer.cautions),
        h("h3", { class: "sub" }, "Now add"),
        additions(answer.additions, "amend-add", "Now add:"),
        effect(answer),
        answer.room_left && h("p", {}, `Room left in the mould: ${mass(answer.room_left)}.`),
        answer.same_recipe && [
            h("h3", { class: "sub" }, "Or make it a larger batch of the same recipe: add"),
            additions(answer.same_recipe, "amend-same"),
        ],
    ];
}

/** What was understood of what went wrong. */
function wentIn(off) {
    const places = massPlaces(off.flatMap(({ mass, planned }) => [mass, planned]));
    const text = off.map(
        (line) =>
            `${line.name} ${mass(line.mass, places)} in place of ${mass(line.planned, places)}`,
    );
    return h("p", { id: "amend-went-in" }, `So it went in: ${text.join("; ")}.`);
}

/** Things to add; below 0 they are to be taken back. `told` are words for those who cannot see. */
function additions(part, id, told) {
    const rows = [
        ...part.fats.map((fat) => [fat.name, fat.mass]),
        ["Sodium hydroxide", part.naoh_mass, "down"],
        ["Potassium hydroxide", part.koh_mass, "down"],
        ["Water", part.water_mass],
        ...part.acids.map((acid) => [acid.name, acid.mass]),
        ...part.additives.map((additive) => [additive.name, additive.mass]),
    ].filter(([, added]) => sign(added));
    if (rows.length === 0) return h("p", { id, "data-told": told }, "Nothing.");
    const places = massPlaces(rows.map(([, added]) => added));
    return [
        h(
            "ul",
            { class: "weights plain", id, "data-told": told },
            rows.map(([name, added, direction]) => addition(name, added, places, direction)),
        ),
        rows.some(([, added]) => sign(added) < 0) &&
            h("p", { class: "hint" }, "Below 0: take back so much."),
    ];
}

function addition(name, added, places, direction) {
    return h(
        "li",
        {},
        h("span", { class: "name" }, name),
        h("span", { class: "dots", "aria-hidden": "true" }),
        h("data", { value: added.exact, class: "weight" }, mass(added, places, direction)),
    );
}

function effect({ before, after }) {
    const state = (label, read) => {
        const cells = [before, after].map(read);
        if (cells.every((cell) => cell === null)) return null;
        return h(
            "tr",
            {},
            h("th", { scope: "row" }, label),
            cells.map((cell) => h("td", {}, cell ?? "\u2013")),
        );
    };
    const known = (key, text) => (state) => (state[key] ? text(state[key]) : null);
    return h(
        "table",
        { class: "states" },
        h("caption", {}, "What that does"),
        h(
            "thead",
            {},
            h(
                "tr",
                {},
                h("td", {}),
                h("th", { scope: "col" }, "As it is"),
                h("th", { scope: "col" }, "With the additions"),
            ),
        ),
        h(
            "tbody",
            {},
            state(
                "Superfat",
                known("superfat", (share) => percent(share, 2)),
            ),
            state(
                "Superfat over published ranges",
                known(
                    "superfat_range",
                    (range) => `${percent(range.low, 1)} to ${percent(range.high, 1)}`,
                ),
            ),
            state(
                "Lye concentration",
                known("lye_concentration", (share) => percent(share, 1)),
            ),
            state(
                "Batter",
                known("batter_mass", (grams) => mass(grams)),
            ),
            state(
                "Mould filled",
                known("mould", (mould) => percent(mould.mould_filled_likely, 1)),
            ),
        ),
    );
}
