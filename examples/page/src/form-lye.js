// Superfat, alkali and water; the scale.

import { h } from "./dom.js";
import { check, choice, field, more, select, slot } from "./fields.js";
import { short } from "./numbers.js";
import { change, reshape, valueAt } from "./state.js";

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
