// Recipes kept in the browser. Where it keeps nothing, the page works all the same and says so.

const KEY = "lixivium-bench";

/** What is kept: { open: id, system, entries: [entry] }. */
export function load() {
    try {
        const kept = JSON.parse(localStorage.getItem(KEY) ?? "null");
        if (kept && Array.isArray(kept.entries))
            return { ...kept, entries: kept.entries.filter(isEntry) };
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
    return typeof entry?.id === "string" && typeof entry.name === "string" && isPlan(entry.plan);
}

/** Whether something could be the request of a plan; the library says what is wrong inside it. */
export function isPlan(plan) {
    const isObject = (value) =>
        typeof value === "object" && value !== null && !Array.isArray(value);
    return isObject(plan) && Array.isArray(plan.fats) && plan.fats.every(isObject);
}

/** A name that no other entry has. */
export function freeName(name, entries) {
    const taken = new Set(entries.map((entry) => entry.name));
    if (!taken.has(name)) return name;
    for (let i = 2; ; i++) if (!taken.has(`${name} (${i})`)) return `${name} (${i})`;
}
