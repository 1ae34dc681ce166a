// Superfat, alkali and water; acids and additives; the scale.

import { button, h } from "./dom.js";
import { check, choice, field, more, row, select, slot } from "./fields.js";
import { short } from "./numbers.js";
import { change, current, reshape, valueAt } from "./state.js";

export function alkaliForm() {
    const at = "plan.alkali";
    const share = valueAt(`${at}.koh_share`);
    const kind = kindOf(share);
    return [
        h(
            "div",
            { class: "fields" },
            field({ at: "plan.superfat", label: "Superfat", kind: "percent" }),
        ),
        choice({
            at: "alkali-kind",
            legend: "Alkali",
            options: [
                ["naoh", "Sodium hydroxide"],
                ["koh", "Potassium hydroxide"],
                ["both", "Both"],
            ],
            value: kind,
            onchoose: chooseAlkali,
        }),
        h(
            "div",
            { class: "fields" },
            kind === "both" &&
                field({
                    at: `${at}.koh_share`,
                    label: "Share of potassium hydroxide",
                    kind: "percent",
                    // Left empty it is a share still to be given, not none.
                    set: (value) => change(`${at}.koh_share`, value ?? ""),
                }),
            kind === "both" &&
                select({
                    at: `${at}.share_by`,
                    label: "Counted by",
                    options: [
                        ["", "moles"],
                        ["mass", "weight"],
                    ],
                }),
            kind !== "koh" &&
                field({
                    at: `${at}.naoh_purity`,
                    label: "Purity of the sodium hydroxide",
                    kind: "percent",
                    hint: "Left empty: 100 %.",
                }),
            kind !== "naoh" &&
                field({
                    at: `${at}.koh_purity`,
                    label: "Purity of the potassium hydroxide",
                    kind: "percent",
                    hint: "Left empty: 100 %.",
                }),
        ),
        slot(at),
    ];
}

function kindOf(share) {
    if (share === undefined || share === 0) return "naoh";
    return share === 100 ? "koh" : "both";
}

function chooseAlkali(kind) {
    reshape((entry) => {
        const alkali = (entry.plan.alkali ??= {});
        if (kind === "naoh") {
            delete alkali.koh_share;
            delete alkali.share_by;
            delete alkali.koh_purity;
        } else if (kind === "koh") {
            alkali.koh_share = 100;
            delete alkali.share_by;
            delete alkali.naoh_purity;
        } else {
            alkali.koh_share = "";
        }
    });
}

const RULES = [
    ["lye_concentration", "Lye concentration", "percent", "Alkali in the lye"],
    ["water_to_lye", "Water to alkali", "ratio", "Parts of water to one of alkali"],
    ["of_fats", "Share of the fats", "percent", "Water for 100 of fats"],
];

let ruleShown = "lye_concentration";

export function waterForm(answer) {
    const at = "plan.water";
    ruleShown =
        RULES.map(([rule]) => rule).find((rule) => valueAt(`${at}.${rule}`) !== undefined) ??
        ruleShown;
    const [, , kind, label] = RULES.find(([rule]) => rule === ruleShown);
    return [
        choice({
            at: "water-rule",
            legend: "Water by",
            options: RULES.map(([rule, name]) => [rule, name]),
            value: ruleShown,
            onchoose: (rule) => chooseRule(rule, answer()),
        }),
        h("div", { class: "fields" }, field({ at: `${at}.${ruleShown}`, label, kind, also: [at] })),
        more(
            "water-more",
            "What counts as water, and lye made up ahead",
            check({
                at: `${at}.count_alkali_water`,
                label: "What the alkali is not counts as water",
            }),
            check({ at: `${at}.count_acid_water`, label: "The water in the acids counts" }),
            field({
                at: "plan.stock_solution.naoh",
                label: "Stock lye of sodium hydroxide",
                kind: "percent",
                also: ["plan.stock_solution"],
            }),
            field({
                at: "plan.stock_solution.koh",
                label: "Stock lye of potassium hydroxide",
                kind: "percent",
            }),
        ),
    ];
}

/** The figure of the last answer under the new rule, where it has one. */
function chooseRule(rule, answer) {
    ruleShown = rule;
    reshape((entry) => {
        for (const [other] of RULES) delete entry.plan.water?.[other];
        entry.plan.water ??= {};
        if (answer?.[rule]) entry.plan.water[rule] = Number(short(answer[rule], 2));
    });
}

const ACIDS = [
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
        select({ at: `${at}.acid`, label: `Acid ${i + 1}`, options: known }),
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
    });
    queueMicrotask(() =>
        queueMicrotask(() =>
            document.getElementById(list === "acids" ? "add-acid" : "add-additive")?.focus(),
        ),
    );
}

export function scaleForm() {
    return h(
        "div",
        { class: "fields" },
        field({
            at: "plan.scale_step",
            label: "Smallest step of the scale",
            kind: "mass",
            hint: "Left empty: nothing is rounded.",
        }),
    );
}
