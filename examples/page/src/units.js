// Units as people type and read them. A recipe holds what the library takes: a number in the base
// unit, or text with a unit. A bare number in a field is in the unit that the field shows.

import { ask } from "./library.js";
import { fixed, placesOf, sign } from "./numbers.js";

const SYSTEMS = {
    metric: { mass: "g", length: "cm", volume: "mL", temperature: "°C" },
    ounces: { mass: "oz", length: "in", volume: "US fl oz", temperature: "°F" },
};
const SAME = {
    percent: "%",
    ratio: ": 1",
    grams: "g",
    saponification: "mg KOH/g",
    iodine: "g/100 g",
    density: "g/mL",
};

let system = "metric";

export function useSystem(name) {
    system = name === "ounces" ? name : "metric";
}

export function systemInUse() {
    return system;
}

/** The unit that fields of a kind show. */
export function unitOf(kind) {
    return SYSTEMS[system][kind] ?? SAME[kind] ?? "";
}

const BARE = /^[-+\d\s.,/]+$/;

/** Whether a typed text has no unit of its own. */
export function isBare(text) {
    return text === "" || BARE.test(text);
}

/** What was typed, as a request carries it; undefined for nothing. */
export function read(text, kind) {
    const typed = text.trim();
    if (typed === "") return undefined;
    if (kind === "text") return text;
    if (kind === "count") return number(typed.replace(/^0+(?=\d)/, "")) ?? typed;
    if (isBare(typed) && SYSTEMS.metric[kind]) {
        return system === "metric" ? (number(typed) ?? typed) : `${typed} ${unitOf(kind)}`;
    }
    return number(typed) ?? typed;
}

/** A text as a number if it is written as JavaScript itself would write that number. */
function number(text) {
    return String(Number(text)) === text && Number.isFinite(Number(text))
        ? Number(text)
        : undefined;
}

/** A value of a request, as its field shows it. */
export function show(value, kind) {
    if (value === undefined || value === null) return "";
    if (typeof value === "number") {
        const base = SYSTEMS.metric[kind];
        return base && system !== "metric" ? `${value} ${base}` : String(value);
    }
    const unit = ` ${unitOf(kind)}`;
    return SYSTEMS.metric[kind] && value.endsWith(unit)
        ? value.slice(0, -unit.length)
        : String(value);
}

/** A mass of an answer in the unit of the system, exactly. */
export function inSystem(mass) {
    return system === "metric" ? mass : inUnit(mass, "g", "oz");
}

/** A quantity of an answer in another unit, exactly. */
export function inUnit(quantity, from, to) {
    return ask("convert", { quantity: `${quantity.exact} ${from}`, to }).answer.quantity;
}

/** A mass as text, in the unit of the system. */
export function mass(grams, places = defaultPlaces(), direction = "nearest") {
    return `${fixed(inSystem(grams), places, direction)}\u00a0${unitOf("mass")}`;
}

function defaultPlaces() {
    return system === "metric" ? 1 : 2;
}

/** As many digits after the point as these masses need; a usual number where no end is near. */
export function massPlaces(masses) {
    const weighed = masses.filter((mass) => sign(mass) !== 0);
    const needed = weighed.map((mass) => placesOf(inSystem(mass), 3));
    if (needed.every((places) => places !== null)) return Math.max(0, ...needed);
    return system === "metric" ? 2 : 3;
}

/** A percentage as text. */
export function percent(share, places = 1) {
    return `${fixed(share, places)}\u00a0%`;
}
