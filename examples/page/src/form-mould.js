// The mould: which one, how many, its inside measures.

import { h } from "./dom.js";
import { choice, field, more, select, slot } from "./fields.js";
import { current, reshape, valueAt } from "./state.js";

const KINDS = ["box", "cylinder", "cavities", "several"];

export function mouldKind() {
    const mould = current().plan.mould;
    return mould ? (KINDS.find((kind) => mould[kind] !== undefined) ?? "none") : "none";
}

export function mouldForm() {
    const kind = mouldKind();
    const options = [
        ["box", "Box"],
        ["cylinder", "Cylinder"],
        ["cavities", "Cavities"],
        ["none", "None yet"],
    ];
    if (kind === "several") options.push(["several", "Several"]);
    return [
        choice({ at: "mould-kind", legend: "Which mould", options, value: kind, onchoose: choose }),
        slot("plan.mould"),
        kind === "box" && measures("box", ["length", "width", "height"]),
        kind === "cylinder" && measures("cylinder", ["diameter", "height"]),
        kind === "cavities" && cavities(),
        kind === "several" &&
            h(
                "p",
                { class: "hint" },
                `${current().plan.mould.several.length} moulds that came with the recipe; they are kept as they are.`,
            ),
        kind !== "none" && filling(),
    ];
}

function choose(kind) {
    reshape((entry) => {
        const { box, cylinder, cavities, several, ...rest } = entry.plan.mould ?? {};
        if (kind === "none") {
            delete entry.plan.mould;
            if (byShare(entry.plan)) entry.plan.total_fats ??= 1000;
        } else {
            entry.plan.mould = { [kind]: {}, ...rest };
            delete entry.plan.total_fats;
        }
    });
}

export function byShare(plan) {
    return !plan.fats.some((line) => line.mass !== undefined);
}

function measures(kind, names) {
    const label = (name) => `Inside ${name}`;
    return h(
        "div",
        { class: "fields" },
        names.map((name) =>
            field({ at: `plan.mould.${kind}.${name}`, label: label(name), kind: "length" }),
        ),
        field({
            at: `plan.mould.${kind}.count`,
            label: "How many",
            kind: "count",
            hint: "Left empty: one.",
        }),
    );
}

const SIZES = [
    ["volume", "By volume"],
    ["water_mass", "By water"],
    ["bar_mass", "By batter"],
];
const SIZE_LABELS = {
    volume: ["Volume of one", "volume"],
    water_mass: ["Water that fills one to the brim", "mass"],
    bar_mass: ["Batter that one takes to the brim", "mass"],
};

let sizeShown = "volume";

function cavities() {
    const at = "plan.mould.cavities";
    const now = SIZES.map(([size]) => size).find((size) => valueAt(`${at}.${size}`) !== undefined);
    sizeShown = now ?? sizeShown;
    const [label, kind] = SIZE_LABELS[sizeShown];
    return [
        h(
            "div",
            { class: "fields" },
            field({ at: `${at}.count`, label: "How many cavities", kind: "count" }),
        ),
        choice({
            at: "cavity-size",
            legend: "Size of a cavity",
            options: SIZES,
            value: sizeShown,
            onchoose: (size) => {
                sizeShown = size;
                reshape((entry) => {
                    for (const [other] of SIZES) delete entry.plan.mould.cavities[other];
                    delete entry.plan.mould.cavities.water_temperature;
                });
            },
        }),
        h(
            "div",
            { class: "fields" },
            field({ at: `${at}.${sizeShown}`, label, kind, also: [at] }),
            sizeShown === "water_mass" &&
                field({
                    at: `${at}.water_temperature`,
                    label: "Temperature of that water",
                    kind: "temperature",
                    hint: "Left empty: 20 °C.",
                }),
        ),
    ];
}

function filling() {
    const at = "plan.mould";
    return more(
        "mould-more",
        "How it is filled",
        field({
            at: `${at}.fill`,
            label: "Fill to",
            kind: "percent",
            hint: "Of the height; left empty: to the brim.",
        }),
        field({
            at: `${at}.waste`,
            label: "Stays in the bowl",
            kind: "mass",
            hint: "A weight, or a share such as 2 %.",
        }),
        select({
            at: `${at}.err_on`,
            label: "If in doubt",
            options: [
                ["", "never overflow"],
                ["always_full", "always full"],
            ],
        }),
        field({
            at: `${at}.pour_temperature`,
            label: "Poured at",
            kind: "temperature",
            hint: "Left empty: 40 °C.",
        }),
        field({
            at: `${at}.batter_density`,
            label: "Density of the batter",
            kind: "density",
            hint: "If you measured it; left empty: from its parts.",
        }),
        field({
            at: `${at}.contraction`,
            label: "Smaller than its parts by",
            kind: "percent",
            hint: "Below 0: air beaten in.",
        }),
    );
}
