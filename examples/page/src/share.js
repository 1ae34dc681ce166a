// A recipe as a link and as a file. Both carry the request of the operation plan as it is.

import { fatsOf } from "./lines.js";
import { checked, tooLarge } from "./plans.js";
import { blank } from "./state.js";

const MARK = "#recipe=";

/** A link to this page with the recipe in it; nothing of it is sent to a server. */
export function linkOf(name, plan) {
    const bytes = new TextEncoder().encode(JSON.stringify({ name, plan }));
    const text = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
    const code = text.replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
    return location.href.split("#")[0] + MARK + code;
}

/** The recipe in a link: { name, plan }, { says } if it cannot be read, null if there is none. */
export function fromLink(hash) {
    if (!hash.startsWith(MARK)) return null;
    const large = tooLarge("The recipe in this link", hash.length);
    if (large) return large;
    try {
        const text = atob(hash.slice(MARK.length).replaceAll("-", "+").replaceAll("_", "/"));
        const { name, plan } = JSON.parse(
            new TextDecoder().decode(Uint8Array.from(text, (c) => c.charCodeAt(0))),
        );
        return checked(typeof name === "string" && name ? name : "Shared recipe", plan);
    } catch {
        return { says: "The recipe in this link cannot be read; the link may have been cut off." };
    }
}

/** The recipe in a text of JSON: { name, plan }, or { says }. */
export function fromText(name, text) {
    let plan;
    try {
        plan = JSON.parse(withTexts(text));
    } catch (error) {
        return { says: `${name} is not JSON: ${error.message}` };
    }
    // Of two members with one name, JSON.parse keeps the last.
    if (namesIn(text) !== membersOf(plan))
        return { says: `${name} has the same name twice in one object; accepted: each name once.` };
    return checked(name.replace(/\.json$/i, ""), plan);
}

/** How many members have a name in a text of JSON. */
function namesIn(text) {
    const texts = [...text.matchAll(/"(?:[^"\\]|\\.)*"(\s*:)?/g)];
    return texts.filter(([, colon]) => colon).length;
}

/** How many members there are in a value of JSON, however deep. */
function membersOf(value) {
    let members = 0;
    const values = [value];
    for (const one of values) {
        if (typeof one !== "object" || one === null) continue;
        const inside = Object.values(one);
        for (const value of inside) values.push(value);
        if (!Array.isArray(one)) members += inside.length;
    }
    return members;
}

/**
 * Numbers that would not come through become texts: those with a decimal comma, which are put right
 * at their fields, and those with more digits than a double holds.
 */
function withTexts(text) {
    return text.replace(/(":\s*)(-?\d+,\d+|-?[\d.]{17,})(?=\s*[,}])/g, '$1"$2"');
}

const PASTED = "Pasted recipe";

/**
 * The recipe in a pasted text, be it a link, JSON, or a list of fats: { name, plan, remark }, or
 * { says }.
 */
export function fromPasted(text) {
    const large = tooLarge("This text", text.length);
    if (large) return large;
    const typed = text.trim();
    if (typed.includes(MARK)) return fromLink(typed.slice(typed.indexOf(MARK)).split(/\s/)[0]);
    if (typed.startsWith("{")) return fromText(PASTED, typed);
    const found = fatsOf(typed);
    if (!found)
        return { says: "No line of this text has a fat and its amount, such as Olive oil 480 g." };
    const { plan } = blank(PASTED);
    plan.fats = found.fats;
    if (found.superfat !== undefined) plan.superfat = found.superfat;
    if (found.fats.some((line) => line.mass !== undefined)) delete plan.mould;
    const remark = found.others.length ? `Left out: ${found.others.join("; ")}.` : "";
    return { name: PASTED, plan, remark };
}

/** Gives a recipe to the browser to be saved as a file. */
export function download(name, plan) {
    const url = URL.createObjectURL(
        new Blob([`${JSON.stringify(plan, null, 2)}\n`], { type: "application/json" }),
    );
    const link = document.createElement("a");
    link.href = url;
    link.download = `${name.replace(/[^\p{L}\p{N} ._()-]+/gu, "_").trim() || "recipe"}.json`;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
