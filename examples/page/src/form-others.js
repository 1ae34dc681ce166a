// Additives and acids.

import { button, h } from "./dom.js";
import { field, row, select, slot } from "./fields.js";
import { change, current, reshape, valueAt } from "./state.js";

/** The acids: [id, name]. */
export const ACIDS = [
    ["citric-acid", "Citric acid, anhydrous"],
    ["citric-acid-monohydrate", "Citric acid monohydrate"],
    ["lactic-acid", "Lactic acid"],
    ["acetic-acid", "Acetic acid"],
    ["tartaric-acid", "Tartaric acid"],
];

export function othersForm() {
    const { additives = [], acids = [] } = current().plan;
    return [
        h("ol", { class: "rows" }, additives.map(additiveRow)),
        h("ol", { class: "rows" }, acids.map(acidRow)),
        h(
            "div",
            { class: "row-actions" },
            button("Add an additive", () => add("additives", {}, "name"), { id: "add-additive" }),
            button("Add an acid", () => add("acids", { acid: ACIDS[0][0] }, "of_fats"), {
                id: "add-acid",
            }),
        ),
        slot("plan.additives"),
        slot("plan.acids"),
    ];
}

/** An amount: a share of the fats, or a weight if a unit of weight is typed. */
function amountField(at, of) {
    return field({
        at: `${at}.of_fats`,
        label: "Amount",
        of,
        kind: "percent",
        also: [at, `${at}.mass`],
        hint: "Percent of the fats, or a weight such as 20 g.",
        get: () => {
            const { mass, of_fats } = valueAt(at);
            return of_fats ?? (typeof mass === "number" ? `${mass} g` : mass);
        },
        set: (value) => {
            const { mass, of_fats, ...line } = valueAt(at);
            const isMass = typeof value === "string" && /[a-z]\s*$/i.test(value);
            if (value !== undefined) line[isMass ? "mass" : "of_fats"] = value;
            change(at, line);
        },
    });
}

function additiveRow(_, i) {
    const at = `plan.additives[${i}]`;
    const of = `of additive ${i + 1}`;
    return row(
        {},
        field({ at: `${at}.name`, label: `Additive ${i + 1}`, wide: true }),
        amountField(at, of),
        button("\u00d7", () => remove("additives", i), {
            class: "quiet remove",
            "aria-label": `Remove additive ${i + 1}`,
        }),
        h("div", { class: "own fields" }, density(at, of)),
    );
}

function density(at, of) {
    return field({
        at: `${at}.density`,
        label: "Density",
        of,
        kind: "density",
        also: [`${at}.displaces`],
        hint: "If known: for its room in the mould.",
    });
}

function acidRow(line, i) {
    const at = `plan.acids[${i}]`;
    const of = `of acid ${i + 1}`;
    const known = ACIDS.some(([acid]) => acid === line.acid)
        ? ACIDS
        : [...ACIDS, [line.acid, line.acid]];
    return row(
        {},
        select({ at: `${at}.acid`, label: `Acid ${i + 1}`, options: known, wide: true }),
        amountField(at, of),
        button("\u00d7", () => remove("acids", i), {
            class: "quiet remove",
            "aria-label": `Remove acid ${i + 1}`,
        }),
        h(
            "div",
            { class: "own fields" },
            field({
                at: `${at}.strength`,
                label: "Strength",
                of,
                kind: "percent",
                hint: "Left empty: 100 %.",
            }),
            select({
                at: `${at}.alkali`,
                label: "The alkali it takes up",
                of,
                options: [
                    ["", "is added"],
                    ["raise_superfat", "is not added"],
                ],
            }),
            density(at, of),
        ),
    );
}

function add(list, line, focus) {
    reshape((entry) => (entry.plan[list] ??= []).push(line));
    const i = current().plan[list].length - 1;
    queueMicrotask(() =>
        queueMicrotask(() => document.getElementById(`plan-${list}-${i}-${focus}`)?.focus()),
    );
}

function remove(list, i) {
    reshape((entry) => {
        entry.plan[list].splice(i, 1);
        if (entry.plan[list].length === 0) delete entry.plan[list];
        entry.amend = {};
        if (list === "acids") delete entry.sure.tolerances?.acids;
    });
    queueMicrotask(() =>
        queueMicrotask(() =>
            document.getElementById(list === "acids" ? "add-acid" : "add-additive")?.focus(),
        ),
    );
}
