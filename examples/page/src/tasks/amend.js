// It went wrong: what was weighed in truth, and what may bring the batch back.

import { button, h } from "../dom.js";
import { field, row, select, slot } from "../fields.js";
import { fatField } from "../form-fats.js";
import { change, reshape, valueAt } from "../state.js";
import { mass, massPlaces } from "../units.js";
import { amendAnswer } from "./amend-answer.js";
import { actual, lines, truth } from "./truth.js";

export const amend = {
    id: "amend",
    title: "It went wrong: bring the batch back",
    lead: "Say what went in otherwise than planned. What is left empty was weighed as planned.",
    form: amendForm,
    request: amendRequest,
    answer: amendAnswer,
};

const HOW = [
    ["", "in all"],
    ["more", "too much"],
    ["less", "too little"],
];

const STAGES = [
    ["", "fats and lye mixed"],
    ["apart", "all apart"],
    ["fats_mixed", "fats mixed, lye not made"],
    ["lye_made", "lye made, fats apart"],
    ["bar", "finished bars, to melt again"],
];

const MAY = [
    ["fats", "Fats"],
    ["naoh", "Sodium hydroxide"],
    ["koh", "Potassium hydroxide"],
    ["water", "Water"],
];

function amendForm(plan) {
    if (!plan) return h("p", { class: "hint" }, "First the recipe needs to be whole.");
    const all = lines(plan);
    const places = massPlaces(all.map(([, , planned]) => planned));
    return [
        h(
            "ol",
            { class: "rows" },
            all.map(([key, name, planned]) => lineRow(key, name, mass(planned, places))),
        ),
        h(
            "div",
            { class: "fields" },
            select({
                at: "amend.stage",
                label: "How far it has come",
                wide: true,
                options: STAGES,
                onchoose: chooseStage,
            }),
            valueAt("amend.stage") === "bar" && titrated(),
        ),
        mayAdd(),
        fatsToAdd(),
        h("div", { class: "fields" }, targets()),
        slot("amend"),
        h(
            "div",
            { class: "row-actions" },
            button("Clear what went wrong", () => reshape((entry) => (entry.amend = {})), {
                id: "amend-clear",
            }),
        ),
    ];
}

function lineRow(key, name, planned) {
    return row(
        {},
        field({
            at: `amend.lines.${key}.mass`,
            label: name,
            kind: "mass",
            of: "was off, by weight",
            hint: `planned ${planned}`,
        }),
        select({
            at: `amend.lines.${key}.how`,
            label: "That is",
            of: `for ${name}`,
            options: HOW,
        }),
    );
}

function chooseStage(stage) {
    reshape(({ amend }) => {
        if (stage === "") delete amend.stage;
        else amend.stage = stage;
        if (stage !== "bar") delete amend.bar;
    });
}

function titrated() {
    return [
        field({
            at: "amend.bar.mass",
            label: "All bars weigh now",
            kind: "mass",
            hint: "If they were titrated.",
        }),
        field({
            at: "amend.bar.free_alkali",
            label: "Free alkali in them, as NaOH",
            kind: "percent",
        }),
    ];
}

function fatsToAdd() {
    const fats = valueAt("amend.fats") ?? [""];
    return [
        h(
            "ol",
            { class: "rows" },
            fats.map((_, i) =>
                h(
                    "li",
                    {},
                    fatField({
                        at: `amend.fats[${i}]`,
                        label: `Fat to add ${i + 1}`,
                        hint: i === 0 ? "Left empty: the fats of the recipe." : undefined,
                    }),
                ),
            ),
        ),
        h(
            "div",
            { class: "row-actions" },
            button("Another fat to add", () => reshape(addFat), { id: "amend-add-fat" }),
        ),
    ];
}

function addFat(entry) {
    entry.amend.fats = [...(entry.amend.fats ?? [""]), ""];
}

function targets() {
    return [
        field({
            at: "amend.iodine_value",
            label: "Iodine value to reach",
            kind: "iodine",
            hint: "Of a bar that was hard enough; left empty: as it comes.",
        }),
        field({
            at: "amend.saturated",
            label: "Saturated acids to reach",
            kind: "percent",
            hint: "Of all fatty acids; left empty: as it comes.",
        }),
        field({
            at: "amend.room",
            label: "Batter that the mould takes",
            kind: "mass",
            hint: "Where the recipe has no mould.",
        }),
    ];
}

function mayAdd() {
    const words = () => valueAt("amend.may_add") ?? MAY.map(([word]) => word);
    const box = ([word, label]) =>
        h(
            "label",
            {},
            h("input", {
                type: "checkbox",
                id: `amend-may-${word}`,
                checked: words().includes(word),
                onchange: ({ target }) => {
                    const before = words();
                    const wanted = (other) =>
                        other === word ? target.checked : before.includes(other);
                    change("amend.may_add", MAY.map(([word]) => word).filter(wanted));
                },
            }),
            h("span", {}, label),
        );
    return h(
        "fieldset",
        { class: "choice", id: "amend-may" },
        h("legend", {}, "What may be added"),
        h("div", { class: "options" }, MAY.map(box)),
    );
}

/** The request, or the faults of what was typed, or nothing if nothing is to be brought back. */
function amendRequest(entry, plan, answer) {
    const { lines, fats = [], ...rest } = entry.amend;
    const { off, faults } = truth(answer, lines);
    if (faults.length) return { faults };
    const wanted = ["iodine_value", "saturated", "bar"].some((key) => rest[key] !== undefined);
    if (off.length === 0 && !wanted) return null;
    const rows = fats.map((_, i) => i).filter((i) => fats[i] !== "");
    return {
        operation: "amend",
        request: {
            plan,
            actual: actual(answer, off),
            ...rest,
            ...(rows.length ? { fats: rows.map((i) => fats[i]) } : {}),
        },
        onPage: (at) => onForm(at, rows),
        off,
    };
}

/** The place in this form of a place in the request; `rows` are those of the fats to add. */
function onForm(at, rows) {
    return at
        .replace(/^fats\[(\d+)\]/, (_, i) => `fats[${rows[i]}]`)
        .replace(/^actual\.(\w+)s\[(\d+)\]/, (_, one, i) => `lines.${one}-${Number(i) + 1}.mass`)
        .replace(/^actual\.(\w+)_mass/, "lines.$1.mass");
}
