// How sure: what is not known exactly, and what the superfat can be for all of it.

import { lengthBar } from "../charts.js";
import { button, h } from "../dom.js";
import { field, pair, select, slot } from "../fields.js";
import { fixed, sign } from "../numbers.js";
import { reshape } from "../state.js";
import { mass, percent } from "../units.js";

export const sure = {
    id: "sure",
    title: "How sure is the superfat",
    lead: "Scales, purities and fats are never known exactly. Say how far each may be off.",
    form: sureForm,
    answer: sureAnswer,
};

function span(at, label, kind, of = "") {
    const ends = [
        { label: `${label}, lowest`, of },
        { label: "highest", of: `${label} ${of}` },
    ];
    return h("div", { class: "span" }, pair({ at, ends, kind }));
}

function sureForm(answer) {
    const at = "sure.tolerances";
    return [
        h(
            "div",
            { class: "fields" },
            field({
                at: `${at}.weighing_error`,
                label: "Every weighing off by up to",
                kind: "mass",
            }),
            field({
                at: `${at}.scale_step`,
                label: "Step of the scale",
                kind: "mass",
                hint: "Half of it comes to every weighing.",
            }),
            field({
                at: "sure.floor",
                label: "Superfat to keep at worst",
                kind: "percent",
                hint: "Left empty: 0 %.",
            }),
            select({
                at: "sure.distribution",
                label: "Within its range each value is",
                wide: true,
                options: [
                    ["", "equally likely"],
                    ["triangular", "likeliest in the middle"],
                ],
            }),
        ),
        answer && sign(answer.naoh_mass)
            ? span(`${at}.naoh_purity`, "Purity of the sodium hydroxide", "percent")
            : null,
        answer && sign(answer.koh_mass)
            ? span(`${at}.koh_purity`, "Purity of the potassium hydroxide", "percent")
            : null,
        answer?.fats.map((fat, i) =>
            span(
                `${at}.fats[${i}].saponification_range`,
                `${fat.name}, certificate`,
                "saponification",
            ),
        ),
        answer?.acids.map((acid, i) =>
            span(`${at}.acids[${i}].strength`, `${acid.name}, strength`, "percent"),
        ),
        slot("sure"),
    ];
}

const INPUTS = {
    weighing: "weighing",
    saponification_value: "saponification value",
    purity: "purity",
    koh_per_gram: "alkali it takes",
};
const NAMES = { naoh: "Sodium hydroxide", koh: "Potassium hydroxide" };

function sureAnswer(answer) {
    const seen = answer.spreads.filter(({ share }) => fixed(share, 0) !== "0");
    const line = (label, value, key) =>
        h("div", { class: "pair" }, h("dt", {}, label), h("dd", { id: key }, value));
    const safeMass = (safe, alkali, key) =>
        safe && sign(safe)
            ? line(
                  `Most ${alkali} that keeps the floor at worst`,
                  mass(safe, undefined, "down"),
                  key,
              )
            : null;
    return [
        h(
            "dl",
            { class: "pairs" },
            line("Superfat at worst", percent(answer.worst.superfat, 2), "sure-worst"),
            line("Superfat at best", percent(answer.best.superfat, 2), "sure-best"),
            line("Chance of free alkali", chance(answer.lye_heavy), "sure-lye-heavy"),
            sign(answer.floor)
                ? line(
                      `Chance of less than ${percent(answer.floor, 1)}`,
                      chance(answer.below_floor),
                      "sure-below",
                  )
                : null,
            safeMass(answer.safe_naoh_mass, "sodium hydroxide", "sure-naoh"),
            safeMass(answer.safe_koh_mass, "potassium hydroxide", "sure-koh"),
            answer.superfat_for_floor
                ? line(
                      "Superfat to plan for that",
                      [
                          percent(answer.superfat_for_floor, 2),
                          " ",
                          button("Plan it", () => planSuperfat(answer.superfat_for_floor), {
                              class: "quiet",
                              id: "sure-plan-it",
                          }),
                      ],
                      "sure-superfat",
                  )
                : null,
        ),
        h("h3", { class: "sub" }, "Where the spread comes from"),
        h(
            "table",
            { class: "spreads" },
            h(
                "thead",
                {},
                h(
                    "tr",
                    {},
                    ["What", "Share of the spread", "Superfat if it alone varies"].map((head) =>
                        h("th", { scope: "col" }, head),
                    ),
                ),
            ),
            h(
                "tbody",
                {},
                seen.map(spreadRow),
                seen.length < answer.spreads.length &&
                    h(
                        "tr",
                        {},
                        h("th", { scope: "row" }, "Each of the others"),
                        h("td", { colspan: "2" }, "below 1\u00a0%"),
                    ),
            ),
        ),
        h(
            "ul",
            { class: "assumptions" },
            answer.assumptions.map((text) => h("li", {}, text)),
        ),
    ];
}

function spreadRow({ name, input, share, alone }) {
    return h(
        "tr",
        {},
        h("th", { scope: "row" }, `${NAMES[name] ?? name}, ${INPUTS[input]}`),
        h("td", { class: "bar" }, percent(share, 0), lengthBar(share)),
        h("td", {}, `${percent(alone.low, 1)} to ${percent(alone.high, 1)}`),
    );
}

/** A probability, or the two bounds between which it lies. */
function chance({ exact, at_least, at_most }) {
    const [low, high] = [odds(exact ?? at_least), odds(exact ?? at_most)];
    return low === high ? low : `${low} to ${high}`;
}

/** What is possible is not shown as impossible, nor what is likely as certain. */
function odds(share) {
    const text = fixed(share, 2);
    if (text === "0.00" && sign(share)) return "below 0.01\u00a0%";
    if (text === "100.00" && share.exact !== "100") return "above 99.99\u00a0%";
    return `${sign(share) ? text : "0"}\u00a0%`;
}

/** Up, so that the floor is kept. */
function planSuperfat(share) {
    reshape((entry) => (entry.plan.superfat = Number(fixed(share, 2, "up"))));
}
