// An old note: weights as they were written down, and what they amount to.

import { button, h } from "../dom.js";
import { field, row, select, slot } from "../fields.js";
import { fatField } from "../form-fats.js";
import { ACIDS } from "../form-others.js";
import { exactText, sign } from "../numbers.js";
import { request, reshape, valueAt } from "../state.js";
import { auditAnswer } from "./audit-answer.js";

export const audit = {
    id: "audit",
    title: "Check weights from a notebook",
    lead: "Write down what the note says; what it does not say stays empty.",
    form: auditForm,
    request: auditRequest,
    answer: auditAnswer,
};

const ALKALIS = [
    ["naoh", "Sodium hydroxide"],
    ["koh", "Potassium hydroxide"],
];

const one = (key, known) => (at, label) =>
    select({ at: `${at}.${key}`, label, options: [["", "choose"], ...known] });

/** What a note lists: one of it, how many rows there are at first, its field, its purity. */
const LISTS = {
    fats: { word: "fat", least: 1, what: (at, label) => fatField({ at: `${at}.fat`, label }) },
    alkalis: { word: "alkali", least: 1, what: one("alkali", ALKALIS), pure: "purity" },
    acids: { word: "acid", least: 0, what: one("acid", ACIDS), pure: "strength" },
    others: {
        word: "additive",
        least: 0,
        what: (at, label) => field({ at: `${at}.name`, label }),
    },
};

function rowsOf(list) {
    return valueAt(`audit.${list}`) ?? Array.from({ length: LISTS[list].least }, () => ({}));
}

function auditForm(plan) {
    return [
        plan &&
            actions(
                button("Begin with the weights of this recipe", () => fromPlan(plan), {
                    id: "audit-from-plan",
                }),
            ),
        rows("fats"),
        actions(adder("fats", "Note another fat")),
        rows("alkalis"),
        actions(adder("alkalis", "Note another alkali")),
        rows("acids"),
        rows("others"),
        actions(
            adder("acids", "Note an acid"),
            adder("others", "Note an additive"),
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
        actions(
            button("Clear the note", () => reshape((entry) => (entry.audit = {})), {
                id: "audit-clear",
            }),
        ),
    ];
}

function actions(...buttons) {
    return h("div", { class: "row-actions" }, buttons);
}

function adder(list, text) {
    const add = () => reshape((entry) => (entry.audit[list] = [...rowsOf(list), {}]));
    return button(text, add, { id: `audit-add-${LISTS[list].word}` });
}

function rows(list) {
    const { word, what, pure } = LISTS[list];
    const line = (_, i) => {
        const at = `audit.${list}[${i}]`;
        const name = `${word} ${i + 1} in the note`;
        const of = `of ${name}`;
        return row(
            {},
            what(at, name[0].toUpperCase() + name.slice(1)),
            field({ at: `${at}.mass`, label: "Weight", of, kind: "mass", also: [at] }),
            pure &&
                field({
                    at: `${at}.${pure}`,
                    label: pure[0].toUpperCase() + pure.slice(1),
                    of,
                    kind: "percent",
                    hint: "Left empty: 100 %.",
                }),
        );
    };
    return h("ol", { class: "rows" }, rowsOf(list).map(line));
}

function fromPlan(plan) {
    const weight = (grams) => `${exactText(grams)} g`;
    reshape((entry) => {
        const { fats, acids, alkali = {} } = request(entry.plan).asked;
        const alkalis = [
            { alkali: "naoh", mass: plan.naoh_mass, purity: alkali.naoh_purity },
            { alkali: "koh", mass: plan.koh_mass, purity: alkali.koh_purity },
        ];
        entry.audit = {
            fats: plan.fats.map((line, i) => ({ fat: fats[i].fat, mass: weight(line.mass) })),
            alkalis: alkalis
                .filter(({ mass }) => sign(mass))
                .map((line) => ({ ...line, mass: weight(line.mass) })),
            acids: plan.acids.map((line, i) => ({
                acid: line.acid,
                mass: weight(line.mass),
                strength: acids[i].strength,
            })),
            others: plan.additives.map(({ name, mass }) => ({ name, mass: weight(mass) })),
            water_mass: weight(plan.water_mass),
        };
    });
}

function auditRequest(entry) {
    const kept = {};
    const record = { ...entry.audit };
    for (const list of Object.keys(LISTS)) {
        const all = record[list] ?? [];
        const isKept = (i) => Object.values(all[i]).some((value) => value !== undefined);
        kept[list] = all.map((_, i) => i).filter(isKept);
        record[list] = kept[list].map((i) => all[i]);
    }
    if (kept.fats.length === 0 && kept.alkalis.length === 0) return null;
    return {
        operation: "audit",
        request: record,
        onPage: (at) =>
            at.replace(/^(\w+)\[(\d+)\]/, (_, list, i) => `${list}[${kept[list][i]}]`),
    };
}
