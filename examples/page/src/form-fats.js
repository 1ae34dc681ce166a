// The fats: from the catalogue or one's own, by share or by weight.

import { button, h } from "./dom.js";
import { choice, field, row, slot } from "./fields.js";
import { mouldKind } from "./form-mould.js";
import { newOwnFat, ownFields } from "./form-own-fat.js";
import { fats, idOf, nameOf } from "./library.js";
import { exactText } from "./numbers.js";
import { current, request, reshape } from "./state.js";

/** The proposals of every field that takes a fat of the catalogue. */
export function fatProposals() {
    return h(
        "datalist",
        { id: "fats-known" },
        fats().map((fat) =>
            h(
                "option",
                { value: fat.name },
                fat.aliases.map((alias) => alias.replaceAll("-", " ")).join(", "),
            ),
        ),
    );
}

/** A field for a fat of the catalogue. */
export function fatField({ at, label, of, also, hint }) {
    return field({
        at,
        label,
        of,
        also,
        hint,
        list: "fats-known",
        wide: true,
        shown: (id) => nameOf(id ?? ""),
        typed: (text) => (text.trim() === "" ? undefined : idOf(text)),
    });
}

let amountShown = "share";

/** Whether amounts are typed as shares or as masses. */
function amounts() {
    const { fats } = current().plan;
    if (fats.some((line) => line.mass !== undefined)) amountShown = "mass";
    else if (fats.some((line) => line.share !== undefined)) amountShown = "share";
    return amountShown;
}

/** `answer` gives the last answer of plan, from which amounts are taken over. */
export function fatsForm(answer) {
    const amount = amounts();
    const { plan } = current();
    return [
        choice({
            at: "fats-by",
            legend: "Amounts",
            options: [
                ["share", "By share"],
                ["mass", "By weight"],
            ],
            value: amount,
            onchoose: (next) => switchAmounts(next, answer()),
        }),
        h(
            "ol",
            { class: "rows" },
            plan.fats.map((line, i) => fatRow(line, i, amount)),
        ),
        slot("plan.fats"),
        h(
            "div",
            { class: "row-actions" },
            button("Add a fat", () => addFat({}), { id: "add-fat" }),
            button("Add a fat of my own", () => addFat({ fat: newOwnFat() }), {
                id: "add-own-fat",
            }),
        ),
        amount === "share" &&
            mouldKind() === "none" &&
            h(
                "div",
                { class: "fields" },
                field({ at: "plan.total_fats", label: "All fats together", kind: "mass" }),
            ),
    ];
}

function fatRow(line, i, amount) {
    const at = `plan.fats[${i}]`;
    const of = `of fat ${i + 1}`;
    const own = typeof line.fat === "object" && line.fat !== null;
    return row(
        { id: `fat-${i + 1}` },
        own
            ? field({ at: `${at}.fat.name`, label: `Fat ${i + 1}, my own: name`, wide: true })
            : fatField({ at: `${at}.fat`, label: `Fat ${i + 1}` }),
        field({
            at: `${at}.${amount}`,
            label: amount === "share" ? "Share" : "Weight",
            of,
            kind: amount === "share" ? "percent" : "mass",
            also: [at],
        }),
        button("\u00d7", () => removeFat(i), {
            class: "quiet remove",
            "aria-label": `Remove fat ${i + 1}`,
            id: `remove-fat-${i + 1}`,
        }),
        own && ownFields(`${at}.fat`, of),
    );
}

function addFat(line) {
    const i = current().plan.fats.length;
    reshape((entry) => entry.plan.fats.push(line));
    const name = line.fat ? `plan-fats-${i}-fat-name` : `plan-fats-${i}-fat`;
    queueMicrotask(() => queueMicrotask(() => document.getElementById(name)?.focus()));
}

function removeFat(i) {
    reshape((entry) => {
        entry.plan.fats.splice(i, 1);
        if (entry.plan.fats.length === 0) entry.plan.fats.push({});
        entry.amend = {};
        entry.swap = {};
        delete entry.sure.tolerances?.fats;
    });
    queueMicrotask(() => queueMicrotask(() => document.getElementById("add-fat")?.focus()));
}

/** From shares to masses or back: the amounts of the last answer, so that nothing changes. */
function switchAmounts(next, answer) {
    amountShown = next;
    reshape((entry) => {
        const { plan } = entry;
        const rows = request(plan).rows.fats;
        for (const line of plan.fats) {
            delete line.share;
            delete line.mass;
        }
        if (answer?.fats.length === rows.length)
            answer.fats.forEach((fat, i) => {
                const line = plan.fats[rows[i]];
                if (next === "mass") line.mass = `${exactText(fat.mass)} g`;
                else line.share = exactText(fat.share);
            });
        delete plan.total_fats;
        if (next === "share" && !plan.mould)
            plan.total_fats = answer ? `${exactText(answer.total_fats)} g` : 1000;
    });
}
