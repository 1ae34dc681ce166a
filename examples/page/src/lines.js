// A list of fats as people write it down: a fat and its amount on each line.

import { idOf } from "./library.js";
import { read } from "./units.js";

const NUMBER = String.raw`\d+(?:[.,]\d+)?(?:\s+\d+\/\d+|\/\d+)?`;
const UNIT = String.raw`(?:%|kg|g|lbs?|oz)`;
const AMOUNT = String.raw`${NUMBER}\s*${UNIT}(?:\s*${NUMBER}\s*${UNIT})?`;

/** "Olive oil: 480 g", "Olive oil 480", "480 g olive oil"; bullets and tabs do no harm. */
const LAST = new RegExp(String.raw`^(.*?)[\s:;=|\u2013-]+(${AMOUNT}|${NUMBER})$`, "iu");
const FIRST = new RegExp(String.raw`^(${AMOUNT})\s*(?:of\s+)?(\S.*)$`, "iu");

const NO_FATS = /^(water|lye|naoh|koh|(sodium|potassium) hydroxide|caustic (soda|potash))\b/iu;

/**
 * The fats of a text: { fats, superfat, others }, `others` being lines about water and alkali,
 * which follow from the fats. A name or a number that is not understood stays as it is, for the
 * library to judge. Null if no line has an amount.
 */
export function fatsOf(text) {
    const lines = text
        .split(/\r?\n/)
        .map((line) => line.replace(/^[\s*\u2022-]+/, "").trim())
        .filter((line) => line !== "");
    const found = { fats: [], others: [] };
    for (const line of lines) {
        const { name, amounts } = parts(line);
        if (/^superfat\b/iu.test(name) && amounts.length) found.superfat = share(amounts[0]);
        else if (NO_FATS.test(name)) found.others.push(line);
        else if (amounts.length) found.fats.push({ name, amounts });
        else found.others.push(line);
    }
    if (found.fats.length === 0) return null;
    return { ...found, fats: withAmounts(found.fats) };
}

function parts(line) {
    const first = line.match(FIRST);
    if (first) return { name: first[2], amounts: [first[1]] };
    const amounts = [];
    let name = line;
    for (let last = name.match(LAST); last; last = name.match(LAST)) {
        amounts.unshift(last[2]);
        name = last[1];
    }
    return { name, amounts };
}

/** Weights where each line has one, else shares. */
function withAmounts(fats) {
    const isShare = (amount) => amount.includes("%");
    const weight = ({ amounts }) => amounts.find((amount) => !isShare(amount));
    const byWeight = fats.every((line) => weight(line) !== undefined);
    return fats.map((line) => ({
        fat: idOf(line.name),
        ...(byWeight ? { mass: read(weight(line), "mass") } : { share: share(line.amounts[0]) }),
    }));
}

function share(amount) {
    return read(amount.replace(/\s*%$/, ""), "percent");
}
