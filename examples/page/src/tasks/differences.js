// What one batch has more or less of than another, and whether that is sure.

import { h } from "../dom.js";
import { fixed } from "../numbers.js";

const NAMES = {
    saturated_to_c10: "Saturated acids, up to C10",
    saturated_c12_to_c14: "Saturated acids, C12 and C14",
    saturated_from_c15: "Saturated acids, from C15",
    monounsaturated: "Monounsaturated acids",
    polyunsaturated: "Polyunsaturated acids",
    hydroxylated: "Hydroxylated acids",
    saturated: "All saturated acids",
    saponification_value: "Saponification value",
    calculated_saponification_value: "Saponification value, from the acids",
    iodine_value: "Iodine value",
    oxidizability: "Oxidizability",
    glycerol: "Glycerol set free",
    free_fat: "Fat that stays unsaponified",
    total_fatty_matter: "Total fatty matter, as poured",
    total_fatty_matter_dry: "Total fatty matter, dried",
};

/** The name of a figure of the composition. */
export function figureName(figure) {
    return NAMES[figure] ?? figure.replaceAll("_", " ");
}

/** A name with its unit; an index has none. */
export function withUnit(figure, unit) {
    return `${figureName(figure)}${unit ? `, ${unit}` : ""}`;
}

/**
 * A table of differences, without those that are not seen with the digits that are shown. `before`
 * are other changes above them, each a name and a text.
 */
export function differencesTable(caption, differences, before = []) {
    const shown = differences.filter(({ range }) => [range.low, range.high].some(isSeen));
    return h(
        "table",
        { class: "states" },
        h("caption", {}, caption),
        h(
            "thead",
            {},
            h(
                "tr",
                {},
                ["Figure", "Change", "Range", "Sure"].map((head) =>
                    h("th", { scope: "col" }, head),
                ),
            ),
        ),
        h(
            "tbody",
            {},
            before.map(([name, text]) => row(name, text, "", "")),
            shown.map(({ figure, unit, typical, range, sure }) =>
                row(
                    withUnit(figure, unit),
                    signed(fixed(typical, 1)),
                    `${fixed(range.low, 1)} to ${fixed(range.high, 1)}`,
                    sure ? "yes" : "may be noise",
                ),
            ),
        ),
    );
}

function row(name, ...cells) {
    return h(
        "tr",
        {},
        h("th", { scope: "row" }, name),
        cells.map((cell) => h("td", {}, cell)),
    );
}

function isSeen(number) {
    return /[1-9]/.test(fixed(number, 1));
}

/** A change as text, with its sign; none where no digit of it is seen. */
export function signed(text) {
    return /^\u2212|^[0.]+(?!\S)/.test(text) ? text : `+${text}`;
}
