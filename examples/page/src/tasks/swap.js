// A fat has run out: others in its place, and what that changes.

import { cautions } from "../cautions.js";
import { button, h } from "../dom.js";
import { field, row, select, slot } from "../fields.js";
import { fatField } from "../form-fats.js";
import { nameOf } from "../library.js";
import { exactText, fixed } from "../numbers.js";
import { reshape, valueAt } from "../state.js";
import { mass, percent } from "../units.js";
import { figureName } from "./composition.js";

export const swap = {
    id: "swap",
    title: "A fat has run out: put others in its place",
    lead: "Name the fats at hand; without shares the blend nearest to it by fatty acids is found.",
    form: swapForm,
    request: swapRequest,
    answer: swapAnswer,
};

function swapForm(answer) {
    if (!answer) return h("p", { class: "hint" }, "First the recipe needs to be whole.");
    const rows = valueAt("swap.rows") ?? [{}, {}];
    return [
        h(
            "div",
            { class: "fields" },
            select({
                at: "swap.out",
                label: "Fat that has run out",
                options: [["", "choose"], ...answer.fats.map((fat, i) => [String(i), fat.name])],
            }),
        ),
        h(
            "ol",
            { class: "rows" },
            rows.map((_, i) =>
                row(
                    {},
                    fatField({ at: `swap.rows[${i}].fat`, label: `In its place ${i + 1}` }),
                    field({
                        at: `swap.rows[${i}].share`,
                        label: "Share",
                        of: `of what comes in its place ${i + 1}`,
                        kind: "percent",
                        hint: "Left empty: found.",
                    }),
                ),
            ),
        ),
        h(
            "div",
            { class: "row-actions" },
            button("Add another", () => reshape((entry) => (entry.swap.rows = [...rows, {}])), {
                id: "add-swap",
            }),
        ),
        slot("swap.by"),
        slot("swap"),
    ];
}

function swapRequest(entry, plan) {
    const rows = (entry.swap.rows ?? [])
        .map((row, i) => ({ ...row, i }))
        .filter((row) => row.fat !== undefined);
    const out = plan.fats[Number(entry.swap.out ?? "-1")]?.fat;
    if (rows.length === 0 || out === undefined) return null;
    const given = rows.some((row) => row.share !== undefined);
    const places = given ? { by: rows.map((row) => row.i) } : { at_hand: rows.map((row) => row.i) };
    const by = given
        ? { by: rows.map(({ fat, share }) => ({ fat, ...(share === undefined ? {} : { share }) })) }
        : { at_hand: rows.map((row) => row.fat) };
    return {
        operation: "swap",
        request: { plan, replace: out, ...by },
        onPage: (at) =>
            at
                .replace(/^by\[(\d+)\]/, (_, i) => `rows[${places.by[i]}]`)
                .replace(/^at_hand\[(\d+)\]/, (_, i) => `rows[${places.at_hand[i]}].fat`)
                .replace(/^replace/, "out"),
    };
}

function swapAnswer(answer) {
    const changes = [
        ["Sodium hydroxide", answer.naoh_change],
        ["Potassium hydroxide", answer.koh_change],
        ["Water", answer.water_change],
    ].filter(([, by]) => by.exact !== "0");
    return [
        h(
            "p",
            { id: "swap-by" },
            "In its place: ",
            answer.by.map(({ fat, share }) => `${percent(share, 1)} ${nameOf(fat)}`).join(", "),
            ".",
        ),
        h(
            "table",
            { class: "states" },
            h("caption", {}, "What that changes"),
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
                changes.map(([name, by]) =>
                    h(
                        "tr",
                        {},
                        h("th", { scope: "row" }, name),
                        h("td", {}, signed(mass(by), by)),
                        h("td", {}),
                        h("td", {}),
                    ),
                ),
                answer.differences
                    .filter(({ range }) => [range.low, range.high].some((end) => seen(end)))
                    .map(({ figure, unit, typical, range, sure }) =>
                        h(
                            "tr",
                            {},
                            h(
                                "th",
                                { scope: "row" },
                                `${figureName(figure)}${unit ? `, ${unit}` : ""}`,
                            ),
                            h("td", {}, signed(fixed(typical, 1), typical)),
                            h("td", {}, `${fixed(range.low, 1)} to ${fixed(range.high, 1)}`),
                            h("td", {}, sure ? "yes" : "may be noise"),
                        ),
                    ),
            ),
        ),
        h(
            "div",
            { class: "row-actions" },
            button("Take over these fats", () => takeOver(answer), { id: "swap-take" }),
        ),
        cautions(
            answer.plan.cautions.filter(
                (caution) =>
                    caution.code === "may_be_lye_heavy" || caution.code === "range_unknown",
            ),
        ),
    ];
}

/** Whether a change is seen with the digits that are shown. */
function seen(number) {
    return /[1-9]/.test(fixed(number, 1));
}

function signed(text, number) {
    return number.exact.startsWith("-") || number.exact === "0" ? text : `+${text}`;
}

function takeOver({ plan }) {
    reshape((entry) => {
        const own = new Map(
            entry.plan.fats
                .filter((line) => typeof line.fat === "object")
                .map((line) => [line.fat.name, line.fat]),
        );
        entry.plan.fats = plan.fats.map((line) => ({
            fat: own.get(line.fat) ?? line.fat,
            mass: `${exactText(line.mass)} g`,
        }));
        delete entry.plan.total_fats;
        entry.swap = {};
        entry.amend = {};
    });
}
