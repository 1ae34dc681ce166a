// Recipes kept in the browser. Where it keeps nothing, the page works all the same and says so.

import { canBeShown, isObject } from "./plans.js";
import { emptyTasks } from "./state.js";

const KEY = "lixivium-bench";

/** What is kept: { open: id, system, entries: [entry] }. */
export function load() {
    try {
        const kept = JSON.parse(localStorage.getItem(KEY) ?? "null");
        if (kept && Array.isArray(kept.entries))
            return { ...kept, entries: kept.entries.filter(isEntry).map(whole) };
    } catch {
        // Not allowed here, or not what this page wrote: begin anew.
    }
    return { entries: [] };
}

/** Keeps it; false if this browser does not let it be kept. */
export function save(kept) {
    try {
        localStorage.setItem(KEY, JSON.stringify(kept));
        return true;
    } catch {
        return false;
    }
}

function isEntry(entry) {
    return (
        typeof entry?.id === "string" && typeof entry.name === "string" && canBeShown(entry.plan)
    );
}

/** An entry with all of its parts; one that is missing or damaged is empty. */
function whole(entry) {
    for (const [part, empty] of Object.entries(emptyTasks()))
        if (!isObject(entry[part])) entry[part] = empty;
    return entry;
}

/** A name that no other entry has. */
export function freeName(name, entries) {
    const taken = new Set(entries.map((entry) => entry.name));
    if (!taken.has(name)) return name;
    for (let i = 2; ; i++) if (!taken.has(`${name} (${i})`)) return `${name} (${i})`;
}
