// The recipe on the page, and who wants to know when it changes.
//
// An entry is { id, name, plan, sure, composition, amend, audit, fill, swap, ticked, laidAside }.
// `plan` is the request of the operation plan just as the library takes it; `sure`, `fill` and
// `audit` are the other requests without their plan. A field is bound to a place in the entry, and
// a fault of the library names the same place.

import { get, set } from "./paths.js";

let entry;
const listeners = new Set();
let scheduled = false;

export function current() {
    return entry;
}

/** Shows another entry. */
export function open(next) {
    entry = next;
    changed("entry");
}

export function valueAt(at) {
    return get(entry, at);
}

/** Changes the entry at one place. */
export function change(at, value) {
    set(entry, at, value);
    changed("value");
}

/** Changes the entry so that fields come or go. */
export function reshape(how) {
    how(entry);
    changed("shape");
}

/** Calls `listener(kinds)` after each change; `kinds` is a set of "entry", "shape", "value". */
export function onChange(listener) {
    listeners.add(listener);
}

const kinds = new Set();

function changed(kind) {
    kinds.add(kind);
    if (scheduled) return;
    scheduled = true;
    queueMicrotask(() => {
        scheduled = false;
        const told = new Set(kinds);
        kinds.clear();
        for (const listener of listeners) listener(told);
    });
}

/** A new entry, with as little in it as one can begin with. */
export function blank(name) {
    return {
        id: newId(),
        name,
        plan: {
            mould: { box: {} },
            fats: [{}, {}],
            superfat: 5,
            water: { lye_concentration: 33 },
            scale_step: 1,
        },
        ...emptyTasks(),
    };
}

/** An entry of a plan that came from elsewhere. */
export function ofPlan(name, plan) {
    return { id: newId(), name, plan, ...emptyTasks() };
}

/** The parts of an entry beside its plan. */
export function emptyTasks() {
    return { sure: {}, composition: {}, amend: {}, audit: {}, fill: {}, swap: {}, ticked: {} };
}

function newId() {
    return `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
}

/** An invented batch of an invented maker, to look at before there is one of one's own. */
export function example() {
    return ofPlan("Ferry landing bar (example)", {
        mould: { box: { length: 24, width: 9, height: 6.5 }, fill: 92 },
        fats: [
            { fat: "lard", share: 46 },
            { fat: "coconut-oil", share: 24 },
            { fat: "high-oleic-sunflower-oil", share: 22 },
            { fat: "castor-oil", share: 8 },
        ],
        superfat: 6,
        alkali: { naoh_purity: 99 },
        water: { lye_concentration: 31 },
        additives: [{ name: "Rosemary leaf, ground", of_fats: 0.8 }],
        scale_step: 0.5,
    });
}

/**
 * A plan without the rows in which nothing stands, and for each list which row of the page each
 * row of the request is.
 */
export function request(plan) {
    const rows = {};
    const asked = { ...plan };
    for (const list of ["fats", "acids", "additives"]) {
        if (!Array.isArray(plan[list])) continue;
        rows[list] = plan[list].map((_, i) => i).filter((i) => !isBlank(plan[list][i]));
        asked[list] = rows[list].map((i) => plan[list][i]);
        if (list !== "fats" && asked[list].length === 0) delete asked[list];
    }
    return { asked, rows };
}

function isBlank(row) {
    return (
        typeof row === "object" && row !== null && Object.values(row).every((value) => value === "")
    );
}

/** The place on the page of a place in the request that `request` made. */
export function onPage(at, rows) {
    return at.replace(/^(fats|acids|additives)\[(\d+)\]/, (whole, list, i) => {
        const row = rows[list]?.[Number(i)];
        return row === undefined ? whole : `${list}[${row}]`;
    });
}
