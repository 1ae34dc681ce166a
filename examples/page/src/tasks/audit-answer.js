// What the weights of a note amount to.

import { cautions } from "../cautions.js";
import { h } from "../dom.js";
import { mass, percent } from "../units.js";

export function auditAnswer(answer) {
    const pair = (label, text, key, told) =>
        h(
            "div",
            { class: "pair" },
            h("dt", {}, label),
            h("dd", { id: key, "data-told": told }, text),
        );
    const range = ({ low, high }, text) =>
        low.exact === high.exact ? text(low) : `${text(low)} to ${text(high)}`;
    const grams = (number) => mass(number);
    const share = (number) => percent(number, 2);
    return [
        h(
            "dl",
            { class: "pairs" },
            answer.superfat && pair("Superfat", share(answer.superfat), "audit-superfat", "Superfat"),
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
        .replace(/^others/, "additives")
        .replace(/^(\w+?)s\[(\d+)\].*/, (_, list, i) => `${list} ${Number(i) + 1}`)
        .replaceAll("_", " ")
        .replace(/^./, (first) => first.toUpperCase());
}
