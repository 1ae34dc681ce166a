// An old note: weights as they were written down, and what they amount to.

import { cautions } from "../cautions.js";
import { button, h } from "../dom.js";
import { field, row, select, slot } from "../fields.js";
import { fatField } from "../form-fats.js";
import { exactText, sign } from "../numbers.js";
import { reshape, valueAt } from "../state.js";
import { mass, percent } from "../units.js";

export const audit = {
    id: "audit",
    title: "Check weights from a notebook",
    lead: "Write down what the note says; what it does not say stays empty.",
    form: auditForm,
    request: auditRequest,
    answer: auditAnswer,
};

function auditForm(plan) {
    const rows = (list) => valueAt(`audit.${list}`) ?? [{}];
    return [
        plan &&
            h(
                "div",
                { class: "row-actions" },
                button("Begin with the weights of this recipe", () => fromPlan(plan), {
                    id: "audit-from-plan",
                }),
            ),
        h(
            "ol",
            { class: "rows" },
            rows("fats").map((_, i) =>
                row(
                    {},
                    fatField({ at: `audit.fats[${i}].fat`, label: `Fat ${i + 1} in the note` }),
                    field({
                        at: `audit.fats[${i}].mass`,
                        label: "Weight",
                        of: `of fat ${i + 1} in the note`,
                        kind: "mass",
                        also: [`audit.fats[${i}]`],
                    }),
                ),
            ),
        ),
        h(
            "div",
            { class: "row-actions" },
            button(
                "Add a fat to the note",
                () => reshape((entry) => (entry.audit.fats = [...rows("fats"), {}])),
                { id: "audit-add-fat" },
            ),
        ),
        h(
            "ol",
            { class: "rows" },
            rows("alkalis").map((_, i) =>
                row(
                    {},
                    select({
                        at: `audit.alkalis[${i}].alkali`,
                        label: `Alkali ${i + 1} in the note`,
                        options: [
                            ["", "choose"],
                            ["naoh", "Sodium hydroxide"],
                            ["koh", "Potassium hydroxide"],
                        ],
                    }),
                    field({
                        at: `audit.alkalis[${i}].mass`,
                        label: "Weight",
                        of: `of alkali ${i + 1} in the note`,
                        kind: "mass",
                    }),
                    field({
                        at: `audit.alkalis[${i}].purity`,
                        label: "Purity",
                        of: `of alkali ${i + 1} in the note`,
                        kind: "percent",
                        hint: "Left empty: 100 %.",
                    }),
                ),
            ),
        ),
        h(
            "div",
            { class: "row-actions" },
            button(
                "Add an alkali to the note",
                () => reshape((entry) => (entry.audit.alkalis = [...rows("alkalis"), {}])),
                { id: "audit-add-alkali" },
            ),
        ),
        h(
            "div",
            { class: "fields" },
            field({ at: "audit.water_mass", label: "Water in the note", kind: "mass" }),
            field({ at: "audit.stated.superfat", label: "Superfat, as stated", kind: "percent" }),
            field({
                at: "audit.stated.lye_concentration",
                label: "Lye concentration, as stated",
                kind: "percent",
            }),
            field({ at: "audit.stated.total_fats", label: "All fats, as stated", kind: "mass" }),
            field({ at: "audit.stated.batter_mass", label: "Batter, as stated", kind: "mass" }),
        ),
        slot("audit"),
        h(
            "div",
            { class: "row-actions" },
            button("Clear the note", () => reshape((entry) => (entry.audit = {})), {
                id: "audit-clear",
            }),
        ),
    ];
}

function fromPlan(plan) {
    const weight = (grams) => `${exactText(grams)} g`;
    reshape((entry) => {
        const { naoh_purity, koh_purity } = entry.plan.alkali ?? {};
        const own = entry.plan.fats.filter((line) => Object.keys(line).length > 0);
        entry.audit = {
            fats: plan.fats.map((line, i) => ({ fat: own[i].fat, mass: weight(line.mass) })),
            alkalis: [
                ["naoh", plan.naoh_mass, naoh_purity],
                ["koh", plan.koh_mass, koh_purity],
            ]
                .filter(([, grams]) => sign(grams))
                .map(([alkali, grams, purity]) => ({
                    alkali,
                    mass: weight(grams),
                    ...(purity === undefined ? {} : { purity }),
                })),
            water_mass: weight(plan.water_mass),
            ...(plan.acids.length
                ? {
                      acids: plan.acids.map((line, i) => ({
                          acid: line.acid,
                          mass: weight(line.mass),
                          ...(entry.plan.acids[i].strength === undefined
                              ? {}
                              : { strength: entry.plan.acids[i].strength }),
                      })),
                  }
                : {}),
            ...(plan.additives.length
                ? {
                      others: plan.additives.map((line) => ({
                          name: line.name,
                          mass: weight(line.mass),
                      })),
                  }
                : {}),
        };
    });
}

function auditRequest(entry) {
    const rows = {};
    const record = { ...entry.audit };
    for (const list of ["fats", "alkalis"]) {
        const all = record[list] ?? [];
        rows[list] = all.map((_, i) => i).filter((i) => Object.keys(all[i]).length > 0);
        record[list] = rows[list].map((i) => all[i]);
    }
    if (rows.fats.length === 0 && rows.alkalis.length === 0) return null;
    return {
        operation: "audit",
        request: record,
        onPage: (at) =>
            at.replace(/^(fats|alkalis)\[(\d+)\]/, (_, list, i) => `${list}[${rows[list][i]}]`),
    };
}

function auditAnswer(answer) {
    const pair = (label, text, key) =>
        h("div", { class: "pair" }, h("dt", {}, label), h("dd", { id: key }, text));
    const range = ({ low, high }, text) =>
        low.exact === high.exact ? text(low) : `${text(low)} to ${text(high)}`;
    const grams = (number) => mass(number);
    const share = (number) => percent(number, 2);
    return [
        h(
            "dl",
            { class: "pairs" },
            answer.superfat && pair("Superfat", share(answer.superfat), "audit-superfat"),
            answer.worst &&
                pair(
                    "Over the published ranges",
                    `${percent(answer.worst.superfat, 1)} to ${percent(answer.best.superfat, 1)}`,
                    "audit-range",
                ),
            answer.full_naoh_mass &&
                pair(
                    "Pure sodium hydroxide that would take up everything",
                    mass(answer.full_naoh_mass, undefined, "down"),
                    "audit-full",
                ),
            answer.total_fats && pair("All fats", range(answer.total_fats, grams)),
            answer.batter_mass && pair("Batter", range(answer.batter_mass, grams)),
            answer.lye_concentration &&
                pair("Lye concentration", range(answer.lye_concentration, share)),
            answer.deduced.map((deduced) =>
                pair(
                    `${place(deduced.at)}, which follows from ${deduced.from.replaceAll("_", " ")}`,
                    range(deduced.mass, grams),
                ),
            ),
        ),
        answer.unknown.length > 0 &&
            h("p", { class: "hint" }, `Not known: ${answer.unknown.map(place).join(", ")}.`),
        answer.inconsistencies.length > 0 &&
            h(
                "ul",
                { class: "cautions", id: "audit-odd" },
                answer.inconsistencies.map(({ says }) =>
                    h("li", {}, h("span", { class: "sentence" }, says)),
                ),
            ),
        cautions(answer.cautions),
    ];
}

/** A place of the library's in words: "fats[1]" → "fat 2". */
function place(at) {
    return at
        .replace(/^(\w+?)s\[(\d+)\].*/, (_, list, i) => `${list} ${Number(i) + 1}`)
        .replaceAll("_", " ")
        .replace(/^./, (first) => first.toUpperCase());
}
