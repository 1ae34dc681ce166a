// The inside of one mould: its measures, or how large its cavities are.

import { h } from "./dom.js";
import { choice, field, select } from "./fields.js";
import { change, reshape, valueAt } from "./state.js";

/** The kinds of mould: [key, label]. */
export const KINDS = [
    ["box", "Box"],
    ["cylinder", "Cylinder"],
    ["cavities", "Cavities"],
];

const MEASURES = { box: ["length", "width", "height"], cylinder: ["diameter", "height"] };

/** The kind of the mould at a place; undefined if it has none. */
export function kindAt(at) {
    return KINDS.map(([kind]) => kind).find((kind) => valueAt(`${at}.${kind}`) !== undefined);
}

/**
 * The fields of the mould at a place. `name` tells it from other moulds ("mould 2"), and is left
 * out where there is only one.
 */
export function cavityFields(at, name) {
    const kind = kindAt(at);
    if (kind === undefined) return null;
    if (kind === "cavities") return cavities(at, name && `in ${name}`);
    return measures(at, kind, name && `of ${name}`);
}

/** Where a fault of a part as a whole is shown: at its number. */
const also = (at, of) => (of ? [at] : []);

function measures(at, kind, of) {
    return h(
        "div",
        { class: "fields" },
        MEASURES[kind].map((name) =>
            field({ at: `${at}.${kind}.${name}`, label: `Inside ${name}`, of, kind: "length" }),
        ),
        field({
            at: `${at}.${kind}.count`,
            label: "How many",
            of,
            kind: "count",
            hint: "Left empty: one.",
            also: also(at, of),
        }),
    );
}

/** How the size of a cavity can be known: [key, choice, label, kind]. */
const SIZES = [
    ["volume", "By volume", "Volume of one", "volume"],
    ["water_mass", "By water", "Water that fills one to the brim", "mass"],
    ["bar_mass", "By batter", "Batter that one takes to the brim", "mass"],
];

let sizeShown = "volume";

/** A mould of a kind, still to be described. */
export function newMould(kind) {
    return { [kind]: kind === "cavities" ? { [sizeShown]: "" } : {} };
}

/** Which of them is shown at a place: that which stands there, else that which was shown last. */
function sizeAt(at) {
    const now = SIZES.find(([size]) => valueAt(`${at}.${size}`) !== undefined);
    if (now) [sizeShown] = now;
    return SIZES.find(([size]) => size === sizeShown);
}

function cavities(mould, of) {
    const at = `${mould}.cavities`;
    const [shown, , label, kind] = sizeAt(at);
    const count = field({
        at: `${at}.count`,
        label: "How many cavities",
        of,
        kind: "count",
        also: also(mould, of),
    });
    const size = field({
        at: `${at}.${shown}`,
        label,
        of,
        kind,
        also: [at],
        // Left empty it is a size still to be given.
        set: (value) => change(`${at}.${shown}`, value ?? ""),
    });
    const warmth =
        shown === "water_mass" &&
        field({
            at: `${at}.water_temperature`,
            label: "Temperature of that water",
            of,
            kind: "temperature",
            hint: "Left empty: 20\u00a0°C, 68\u00a0°F.",
        });
    if (of) return h("div", { class: "fields" }, count, sizes(at, of, shown), size, warmth);
    return [
        h("div", { class: "fields" }, count),
        sizes(at, of, shown),
        h("div", { class: "fields" }, size, warmth),
    ];
}

function sizes(at, of, value) {
    const options = SIZES.map(([size, name]) => [size, name]);
    const onchoose = (size) => chooseSize(at, size);
    if (!of)
        return choice({ at: "cavity-size", legend: "Size of a cavity", options, value, onchoose });
    return select({ at: `${at}.size`, label: "Size of one", of, options, value, onchoose });
}

function chooseSize(at, size) {
    sizeShown = size;
    reshape(() => {
        const cavities = valueAt(at);
        for (const [other] of SIZES) delete cavities[other];
        delete cavities.water_temperature;
        cavities[size] = "";
    });
}
