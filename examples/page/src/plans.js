// Whether something that came from elsewhere can be shown as a recipe.

import { ask } from "./library.js";

/** The bytes that the library takes in one request; no recipe has more. */
const MOST_BYTES = 2 ** 20;

/** What is wrong with so many bytes of a recipe; undefined if nothing is. */
export function tooLarge(name, bytes) {
    if (bytes <= MOST_BYTES) return undefined;
    return { says: `${name} is too large for a recipe; accepted: at most ${MOST_BYTES} bytes.` };
}

export function isObject(value) {
    return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Whether something could be the request of a plan; the library says what is wrong inside it. */
export function isPlan(plan) {
    return isObject(plan) && Array.isArray(plan.fats) && plan.fats.every(isObject);
}

/** The faults with these codes, of places that no field could show. */
function faultsOf(plan, codes) {
    // What was typed as a count can be put right at its field.
    const isCount = ({ code, at }) => code === "wrong_type" && at.endsWith(".count");
    return ask("plan", plan).faults.filter(
        (fault) => codes.includes(fault.code) && !isCount(fault),
    );
}

/** Whether the form has a field for each value: numbers and texts can be put right there. */
export function canBeShown(plan) {
    return isPlan(plan) && faultsOf(plan, ["wrong_type"]).length === 0;
}

/** The recipe { name, plan }, or { says } what is wrong with it. */
export function checked(name, plan) {
    if (!isPlan(plan))
        return {
            says: `${name} is no recipe; accepted: the request of the operation plan, with a list of fats.`,
        };
    const strange = faultsOf(plan, ["wrong_type", "unknown_key", "duplicate_key"]);
    if (strange.length === 0) return { name, plan };
    const says = strange.map(({ at, says }) => `${at}: ${says}`).join("; ");
    return { says: `${name} cannot be taken over: ${says}` };
}
