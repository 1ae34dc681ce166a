// What the bar is made of: shares of fatty acids and the indices of the fats, with their ranges.

import { rangeChart } from "../charts.js";
import { h } from "../dom.js";
import { fixed } from "../numbers.js";
import { mass, percent } from "../units.js";

export const composition = {
    id: "composition",
    title: "What the bar is made of",
    lead: "The dot is the typical value, the line the published range of these fats.",
    form: () => null,
    request: (_entry, plan) => ({ operation: "composition", request: { plan } }),
    answer: compositionAnswer,
};

const NAMES = {
    saturated_to_c10: "Saturated acids, up to C10",
    saturated_c12_to_c14: "Saturated acids, C12 and C14",
    saturated_from_c15: "Saturated acids, from C15",
    monounsaturated: "Monounsaturated acids",
    polyunsaturated: "Polyunsaturated acids",
    hydroxylated: "Hydroxylated acids",
    saturated: "All saturated acids, the first three together",
    saponification_value: "Saponification value",
    calculated_saponification_value: "Saponification value, from the acids",
    iodine_value: "Iodine value",
    oxidizability: "Oxidizability",
};

export function figureName(figure) {
    return NAMES[figure] ?? figure.replaceAll("_", " ");
}

const OF_ACIDS = "% of fatty acids";

function compositionAnswer(answer) {
    const acids = answer.figures.filter((figure) => figure.unit === OF_ACIDS);
    const others = answer.figures.filter((figure) => figure.unit !== OF_ACIDS);
    const span = (range, text) =>
        range.low.exact === range.high.exact ? "" : `${text(range.low)} to ${text(range.high)}`;
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
                    acids.map((figure) =>
                        line(figureName(figure.figure), figure, (number) => percent(number, 1)),
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
                    line(
                        `${figureName(figure.figure)}${figure.unit ? `, ${figure.unit}` : ""}`,
                        figure,
                        unitless,
                    ),
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
