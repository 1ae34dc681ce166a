// It went wrong: what was weighed in truth, and what brings the batch back.

import { cautions, weighed } from "../answers.js";
import { h } from "../dom.js";
import { field, row, select, slot } from "../fields.js";
import { fatField } from "../form-fats.js";
import { ask } from "../library.js";
import { exactText, sign } from "../numbers.js";
import { change, valueAt } from "../state.js";
import { mass, massPlaces, percent } from "../units.js";

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

/** The things that can have gone wrong: [key, name, planned mass]; of the water: all of it. */
function lines(plan) {
    const others = weighed(plan).filter(
        ([key]) => key !== "water" && key !== "naoh" && key !== "koh",
    );
    const alkali = [
        ["naoh", "Sodium hydroxide", plan.naoh_mass],
        ["koh", "Potassium hydroxide", plan.koh_mass],
        ["water", "Water of the lye", plan.water_mass],
    ].filter(([, , planned]) => sign(planned));
    return [...others, ...alkali];
}

function amendForm(plan) {
    if (!plan) return h("p", { class: "hint" }, "First the recipe needs to be whole.");
    const all = lines(plan);
    const places = massPlaces(all.map(([, , planned]) => planned));
    return [
        h(
            "ol",
            { class: "rows" },
            all.map(([key, name, planned]) =>
                row(
                    {},
                    field({
                        at: `amend.lines.${key}.mass`,
                        label: name,
                        kind: "mass",
                        of: "was off, by weight",
                        hint: `planned ${mass(planned, places)}`,
                    }),
                    select({
                        at: `amend.lines.${key}.how`,
                        label: "That is",
                        of: `for ${name}`,
                        options: HOW,
                    }),
                ),
            ),
        ),
        h(
            "div",
            { class: "fields" },
            select({
                at: "amend.stage",
                label: "How far it has come",
                wide: true,
                options: [
                    ["", "mixed, or the lye is made"],
                    ["apart", "all stands apart"],
                    ["bar", "finished bars, to melt again"],
                ],
            }),
            fatField({
                at: "amend.fat",
                label: "Fat to add",
                hint: "Left empty: the fats of the recipe.",
            }),
            field({
                at: "amend.room",
                label: "Batter that the mould takes",
                kind: "mass",
                hint: "To see whether it still fits.",
            }),
        ),
        h(
            "fieldset",
            { class: "choice", id: "amend-may" },
            h("legend", {}, "What may be added"),
            h("div", { class: "options" }, MAY.map(mayAdd)),
        ),
        slot("amend"),
    ];
}

const MAY = [
    ["fats", "Fats"],
    ["naoh", "Sodium hydroxide"],
    ["koh", "Potassium hydroxide"],
    ["water", "Water"],
];

function mayAdd([word, label]) {
    const now = valueAt("amend.may_add") ?? MAY.map(([word]) => word);
    return h(
        "label",
        {},
        h("input", {
            type: "checkbox",
            id: `amend-may-${word}`,
            checked: now.includes(word),
            onchange: (event) => {
                const before = valueAt("amend.may_add") ?? MAY.map(([word]) => word);
                change(
                    "amend.may_add",
                    MAY.map(([word]) => word).filter((other) =>
                        other === word ? event.target.checked : before.includes(other),
                    ),
                );
            },
        }),
        h("span", {}, label),
    );
}

/** The request, or the faults of what was typed, or nothing if nothing went wrong. */
function amendRequest(entry, plan, answer) {
    const typed = entry.amend.lines ?? {};
    const off = lines(answer).filter(([key]) => typed[key]?.mass !== undefined);
    if (off.length === 0) return null;
    const faults = [];
    const truth = new Map();
    for (const [key, , planned] of off) {
        const found = inTruth(planned, typed[key]);
        faults.push(...found.faults.map((fault) => ({ ...fault, at: `amend.lines.${key}.mass` })));
        truth.set(key, found.mass);
    }
    if (faults.length) return { faults };
    const actual = {};
    for (const [list, group] of [
        ["fats", "fat"],
        ["acids", "acid"],
        ["additives", "additive"],
    ]) {
        if (![...truth.keys()].some((key) => key.startsWith(`${group}-`))) continue;
        actual[list] = answer[list].map(
            (line, i) => truth.get(`${group}-${i + 1}`) ?? `${exactText(line.mass)} g`,
        );
    }
    for (const key of ["naoh", "koh", "water"])
        if (truth.has(key)) actual[`${key}_mass`] = truth.get(key);
    const { lines: _, ...rest } = entry.amend;
    return { operation: "amend", request: { plan, actual, ...rest } };
}

/** What was weighed in truth. Sums and differences of weights are left to the library, too. */
function inTruth(planned, { mass: typed, how }) {
    if (!how) {
        const { faults } = ask("audit", { fats: [{ fat: "olive-oil", mass: typed }] });
        return { mass: typed, faults };
    }
    const fat = "olive-oil";
    const whole = `${exactText(planned)} g`;
    const sum =
        how === "more"
            ? {
                  fats: [
                      { fat, mass: typed },
                      { fat, mass: whole },
                  ],
              }
            : { fats: [{ fat, mass: typed }, { fat }], stated: { total_fats: whole } };
    const { answer, faults } = ask("audit", sum);
    if (faults.length) return { faults };
    if (how === "more") return { mass: `${exactText(answer.total_fats.low)} g`, faults };
    const rest = answer.deduced.find((deduced) => deduced.at === "fats[1]");
    if (rest) return { mass: `${exactText(rest.mass.low)} g`, faults };
    return {
        faults: answer.inconsistencies.map(({ says }) => ({ code: "more_than_planned", says })),
    };
}

function amendAnswer(answer) {
    const { before, after } = answer;
    const state = (label, of, text) =>
        h(
            "tr",
            {},
            h("th", { scope: "row" }, label),
            [before, after].map((state) => h("td", {}, state[of] ? text(state[of]) : "\u2013")),
        );
    return [
        cautions(answer.cautions),
        h("h3", { class: "sub" }, "Now add"),
        additions(answer.additions, "amend-add"),
        h(
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
                state("Superfat", "superfat", (share) => percent(share, 2)),
                state(
                    "Superfat over published ranges",
                    "superfat_range",
                    (range) => `${percent(range.low, 1)} to ${percent(range.high, 1)}`,
                ),
                state("Lye concentration", "lye_concentration", (share) => percent(share, 1)),
                state("Batter", "batter_mass", (grams) => mass(grams)),
            ),
        ),
        answer.room_left && h("p", {}, `Room left in the mould: ${mass(answer.room_left)}.`),
        answer.same_recipe && [
            h("h3", { class: "sub" }, "Or make it a larger batch of the same recipe: add"),
            additions(answer.same_recipe, "amend-same"),
        ],
    ];
}

function additions(part, id) {
    const rows = [
        ...part.fats.map((fat) => [fat.name, fat.mass]),
        ["Sodium hydroxide", part.naoh_mass, "down"],
        ["Potassium hydroxide", part.koh_mass, "down"],
        ["Water", part.water_mass],
        ...part.acids.map((acid) => [acid.name, acid.mass]),
        ...part.additives.map((additive) => [additive.name, additive.mass]),
    ].filter(([, added]) => sign(added));
    if (rows.length === 0) return h("p", { id }, "Nothing.");
    const places = massPlaces(rows.map(([, added]) => added));
    return h(
        "ul",
        { class: "weights plain", id },
        rows.map(([name, added, direction]) =>
            h(
                "li",
                {},
                h("span", { class: "name" }, name),
                h("span", { class: "dots", "aria-hidden": "true" }),
                h("data", { value: added.exact, class: "weight" }, mass(added, places, direction)),
            ),
        ),
    );
}
