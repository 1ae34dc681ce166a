// A fat has run out: others in its place, and what that changes.

import { cautions } from "../cautions.js";
import { button, h } from "../dom.js";
import { field, row, select, slot } from "../fields.js";
import { fatField } from "../form-fats.js";
import { nameOf } from "../library.js";
import { exactText } from "../numbers.js";
import { reshape, valueAt } from "../state.js";
import { mass, percent } from "../units.js";
import { differencesTable, signed } from "./differences.js";

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
    const typed = valueAt("swap.rows") ?? [];
    const rows = Array.from({ length: Math.max(2, typed.length) }, (_, i) => typed[i] ?? {});
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
                        hint: "Left empty: the nearest is found.",
                    }),
                ),
            ),
        ),
        h(
            "div",
            { class: "row-actions" },
            button(
                "Another fat in its place",
                () => reshape((entry) => (entry.swap.rows = [...rows, {}])),
                {
                    id: "add-swap",
                },
            ),
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
    ]
        .filter(([, by]) => by.exact !== "0")
        .map(([name, by]) => [name, signed(mass(by))]);
    return [
        h(
            "p",
            { id: "swap-by", "data-told": "" },
            "In its place: ",
            answer.by.map(({ fat, share }) => `${percent(share, 1)} ${nameOf(fat)}`).join(", "),
            ".",
        ),
        differencesTable("What that changes", answer.differences, changes),
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
