// The mould: which one, or several together, and how it is filled.

import { button, h } from "./dom.js";
import { choice, field, more, row, select, slot } from "./fields.js";
import { KINDS, cavityFields, kindAt, newMould } from "./form-cavity.js";
import { reshape, valueAt } from "./state.js";

const AT = "plan.mould";

export function mouldKind() {
    if (valueAt(`${AT}.several`) !== undefined) return "several";
    return kindAt(AT) ?? "none";
}

export function mouldForm() {
    const kind = mouldKind();
    return [
        choice({
            at: "mould-kind",
            legend: "Which mould",
            options: [...KINDS, ["several", "Several together"], ["none", "None yet"]],
            value: kind,
            onchoose: choose,
        }),
        slot(AT),
        kind === "several" ? several() : cavityFields(AT),
        kind !== "none" && filling(),
    ];
}

/** What was typed for another kind comes back when one returns to it. */
function choose(kind) {
    reshape((entry) => {
        const { box, cylinder, cavities, several, ...rest } = entry.plan.mould ?? {};
        const before = { box, cylinder, cavities, several };
        entry.laidAside = { ...entry.laidAside, ...defined(before) };
        if (kind === "none") {
            delete entry.plan.mould;
            if (byShare(entry.plan)) entry.plan.total_fats ??= 1000;
            return;
        }
        const anew =
            kind === "several" ? { several: parts(before, entry.laidAside) } : newMould(kind);
        entry.plan.mould = { ...anew, ...rest };
        if (entry.laidAside[kind]) entry.plan.mould[kind] = entry.laidAside[kind];
        delete entry.plan.total_fats;
    });
}

function defined(values) {
    return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));
}

/** The mould that was there, or one that was there before, and another one beside it. */
function parts(before, laidAside) {
    const isTyped = (mould) => Object.values(mould ?? {}).some((value) => value !== "");
    const kinds = KINDS.map(([kind]) => kind);
    const kind =
        kinds.find((kind) => isTyped(before[kind])) ??
        kinds.find((kind) => isTyped(laidAside[kind])) ??
        "box";
    const first = laidAside[kind] ? { [kind]: structuredClone(laidAside[kind]) } : newMould(kind);
    return [first, newMould(kind === "cavities" ? "box" : "cavities")];
}

export function byShare(plan) {
    return !plan.fats.some((line) => line.mass !== undefined);
}

function several() {
    const all = valueAt(`${AT}.several`);
    return [
        h("p", { class: "hint" }, "They are filled in this order."),
        h(
            "ol",
            { class: "rows", id: "moulds" },
            all.map((_, i) => part(i, all.length)),
        ),
        slot(`${AT}.several`),
        h(
            "div",
            { class: "row-actions" },
            button("Add another mould", addPart, { id: "add-mould" }),
        ),
    ];
}

function part(i, count) {
    const at = `${AT}.several[${i}]`;
    return row(
        { id: `mould-${i + 1}` },
        select({
            at: `${at}.kind`,
            label: `Mould ${i + 1}`,
            options: KINDS,
            value: kindAt(at),
            onchoose: (kind) => choosePart(at, kind),
            wide: true,
        }),
        field({
            at: `${at}.fill`,
            label: "Fill level",
            of: `of mould ${i + 1}`,
            kind: "percent",
        }),
        count > 1 &&
            button("\u00d7", () => removePart(i), {
                class: "quiet remove",
                "aria-label": `Remove mould ${i + 1}`,
                id: `remove-mould-${i + 1}`,
            }),
        h("div", { class: "own" }, cavityFields(at, `mould ${i + 1}`)),
    );
}

function choosePart(at, kind) {
    reshape(() => {
        const part = valueAt(at);
        for (const [other] of KINDS) delete part[other];
        Object.assign(part, newMould(kind));
    });
}

function addPart() {
    const i = valueAt(`${AT}.several`).length;
    reshape((entry) => entry.plan.mould.several.push(newMould("box")));
    focusLater(`plan-mould-several-${i}-kind`);
}

function removePart(i) {
    reshape((entry) => entry.plan.mould.several.splice(i, 1));
    focusLater("add-mould");
}

/** Gives an element the focus once the form stands. */
function focusLater(id) {
    queueMicrotask(() => queueMicrotask(() => document.getElementById(id)?.focus()));
}

function filling() {
    const several = mouldKind() === "several";
    return more(
        "mould-more",
        "How it is filled",
        field({
            at: `${AT}.fill`,
            label: several ? "Fill all to" : "Fill to",
            kind: "percent",
            hint: several
                ? "Where a mould says nothing else; left empty: to the brim."
                : "Of the height; left empty: to the brim.",
        }),
        field({
            at: `${AT}.waste`,
            label: "Stays in the bowl",
            kind: "mass",
            hint: "A weight, or a share such as 2\u00a0%.",
        }),
        select({
            at: `${AT}.err_on`,
            label: "If in doubt",
            options: [
                ["", "never overflow"],
                ["always_full", "always full"],
            ],
        }),
        field({
            at: `${AT}.pour_temperature`,
            label: "Poured at",
            kind: "temperature",
            hint: "Left empty: 40\u00a0°C, 104\u00a0°F.",
        }),
        field({
            at: `${AT}.batter_density`,
            label: "Density of the batter",
            kind: "density",
            hint: "If you measured it; left empty: from its parts.",
        }),
        field({
            at: `${AT}.contraction`,
            label: "Smaller than its parts by",
            kind: "percent",
            hint: "Below 0: air beaten in.",
        }),
    );
}
