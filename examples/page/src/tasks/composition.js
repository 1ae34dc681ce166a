// What the bar is made of: shares of fatty acids and the indices of the fats, with their ranges.

import { rangeChart } from "../charts.js";
import { h } from "../dom.js";
import { select, slot } from "../fields.js";
import { fixed } from "../numbers.js";
import { otherRecipes } from "../shelf.js";
import { request } from "../state.js";
import { mass, percent } from "../units.js";
import { differencesTable, figureName, withUnit } from "./differences.js";

export const composition = {
    id: "composition",
    title: "What the bar is made of",
    lead: "The dot is the typical value, the line the published range of these fats.",
    form: compositionForm,
    request: compositionRequest,
    answer: compositionAnswer,
};

function compositionForm() {
    const others = otherRecipes();
    if (others.length === 0) return null;
    return [
        h(
            "div",
            { class: "fields" },
            select({
                at: "composition.with",
                label: "Compare with",
                wide: true,
                options: [["", "nothing"], ...others.map(({ id, name }) => [id, name])],
            }),
        ),
        slot("composition.other"),
    ];
}

function compositionRequest(entry, plan) {
    const other = otherRecipes().find(({ id }) => id === entry.composition?.with);
    return {
        operation: "composition",
        request: other ? { plan, other: request(other.plan).asked } : { plan },
        onPage: (at) => at.replace(/^other.*/, "other"),
        other,
    };
}

const OF_ACIDS = "% of fatty acids";

function compositionAnswer(answer, { other }) {
    const acids = answer.figures.filter((figure) => figure.unit === OF_ACIDS);
    const others = answer.figures.filter((figure) => figure.unit !== OF_ACIDS);
    // The unit of a range stands once, at its end.
    const span = ({ low, high }, text) =>
        low.exact === high.exact ? "" : `${text(low).replace(/\u00a0\S+$/, "")} to ${text(high)}`;
    const unitless = (number) => fixed(number, 1);
    const line = (label, estimate, text) =>
        h(
            "tr",
            {},
            h("th", { scope: "row" }, label),
            h("td", {}, text(estimate.typical)),
            h("td", {}, span(estimate.range, text)),
        );
    return [
        acids.length > 0 && [
            h("h3", { class: "sub" }, "Fatty acids of the fats, percent by weight"),
            rangeChart(
                "Fatty acids of the fats",
                acids.map(({ figure, typical, range }) => ({
                    name: figureName(figure),
                    typical,
                    range,
                })),
            ),
            h(
                "table",
                {},
                heads("Group"),
                h(
                    "tbody",
                    {},
                    acids.map(({ figure, ...estimate }) =>
                        line(
                            figure === "saturated"
                                ? `${figureName(figure)}, the first three together`
                                : figureName(figure),
                            estimate,
                            (number) => percent(number, 1),
                        ),
                    ),
                ),
            ),
        ],
        h("h3", { class: "sub" }, "Indices of the fats, and what the bar holds"),
        h(
            "table",
            {},
            heads("Figure"),
            h(
                "tbody",
                {},
                others.map((figure) =>
                    line(withUnit(figure.figure, figure.unit), figure, unitless),
                ),
                line("Glycerol set free", answer.glycerol_mass, (number) => mass(number)),
                line("Fat that stays unsaponified", answer.free_fat_mass, (number) => mass(number)),
                line("Total fatty matter, as poured", answer.total_fatty_matter, (number) =>
                    percent(number, 1),
                ),
                line("Total fatty matter, dried", answer.total_fatty_matter_dry, (number) =>
                    percent(number, 1),
                ),
            ),
        ),
        answer.unknown.length > 0 &&
            h("p", { class: "hint" }, `Not known: ${unknown(answer.unknown)}.`),
        other &&
            differencesTable(
                `What this recipe has more of than “${other.name}”`,
                answer.differences,
            ),
    ];
}

function heads(first) {
    return h(
        "thead",
        {},
        h(
            "tr",
            {},
            [first, "Typical", "Range"].map((head) => h("th", { scope: "col" }, head)),
        ),
    );
}

function unknown(list) {
    const byFigure = new Map();
    for (const { figure, fat } of list)
        byFigure.set(figure, [...(byFigure.get(figure) ?? []), fat]);
    const shared = new Map();
    for (const [figure, fats] of byFigure) {
        const key = fats.join(", ");
        shared.set(key, [...(shared.get(key) ?? []), figureName(figure).toLowerCase()]);
    }
    return [...shared].map(([fats, figures]) => `${figures.join(", ")} of ${fats}`).join("; ");
}
