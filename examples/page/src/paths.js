// Places in a recipe, written as the library writes them: "plan.fats[0].mass".

/** "plan.fats[0].mass" → ["plan", "fats", 0, "mass"]. */
export function steps(at) {
    const found = at.match(/[^.[\]]+/g) ?? [];
    return found.map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

/** The value at a place; undefined if there is none. */
export function get(root, at) {
    let value = root;
    for (const step of steps(at)) {
        if (value === null || typeof value !== "object") return undefined;
        value = value[step];
    }
    return value;
}

/**
 * Puts a value at a place and makes what is missing on the way; undefined takes the value away.
 * A list keeps its length: an item that is taken away stays as an empty text, and a list of
 * nothing but empty texts goes.
 */
export function set(root, at, value) {
    const path = steps(at);
    const last = path.pop();
    let owner = root;
    path.forEach((step, i) => {
        const next = path[i + 1] ?? last;
        if (owner[step] === null || typeof owner[step] !== "object") {
            if (value === undefined) return;
            owner[step] = typeof next === "number" ? [] : {};
        }
        owner = owner[step];
    });
    if (value !== undefined) {
        owner[last] = value;
        if (Array.isArray(owner)) for (let i = 0; i < last; i++) owner[i] ??= "";
    } else if (Array.isArray(owner) && typeof last === "number") {
        owner[last] = "";
        if (owner.every((item) => item === "")) set(root, parent(at), undefined);
    } else if (owner) {
        delete owner[last];
    }
}

/** The place around a place: "fats[0].mass" → "fats[0]" → "fats" → "". */
export function parent(at) {
    return at.replace(/(^|\.)[^.[\]]+$|\[\d+\]$/, "");
}

/** A place as an id for the document: "plan.fats[0].mass" → "plan-fats-0-mass". */
export function id(at) {
    return at.replace(/[^A-Za-z0-9_]+/g, "-").replace(/-$/, "");
}
