// Faults and cautions of the library, each shown at the field that it names.

import { button, h } from "./dom.js";
import { fat, nameOf } from "./library.js";
import { parent } from "./paths.js";
import { readings } from "./readings.js";

/** Codes of faults that an empty field has because it is still to be filled in. */
const WANTING = new Set([
    "missing",
    "one_of",
    "bad_number",
    "empty_name",
    "no_fats",
    "empty_composition",
]);

/**
 * Shows faults and cautions, whose places are those of the entry ("plan.fats[0].mass"), and takes
 * away those of before. Returns the faults with the element at which each one stands, `wanted`
 * where it is only empty still; and the cautions with theirs.
 */
export function showFaults(root, faults, cautions) {
    for (const element of root.querySelectorAll(".fault")) {
        element.hidden = true;
        element.replaceChildren();
    }
    for (const input of root.querySelectorAll("[aria-invalid], [data-noted]")) {
        input.removeAttribute("aria-invalid");
        input.removeAttribute("data-noted");
        describe(input, false);
    }
    return {
        faults: faults.map((fault) => showFault(placeOf(root, fault.at), fault)),
        cautions: cautions.map((caution) => showCaution(placeOf(root, caution.at), caution)),
    };
}

/** The field or the slot of a place, or of what is around it. */
function placeOf(root, place) {
    for (let at = place; at !== ""; at = parent(at)) {
        const name = CSS.escape(at);
        const field = root.querySelector(`[data-at~="${name}"]`);
        if (field && document.getElementById(`${field.id}-fault`)) return field;
        const slot = root.querySelector(`[data-slot~="${name}"]`);
        if (slot) return slot;
    }
    return root.querySelector('[data-slot="plan"]');
}

function showFault(element, fault) {
    const isSlot = element.matches("[data-slot]");
    const wanted =
        WANTING.has(fault.code) &&
        (isSlot ? fault.code === "empty_composition" : element.value === "");
    const place = isSlot ? element : document.getElementById(`${element.id}-fault`);
    // An empty field that is still to be filled in is no mistake to be shouted about.
    place.classList.toggle("wanted", wanted);
    const says = wanted && !isSlot ? stillWanted(element) : fault.says;
    write(place, fault.code, says);
    if (!isSlot) {
        element.toggleAttribute("data-wanted", wanted);
        element.setAttribute("aria-invalid", "true");
        const better = [...numbersMeant(element), ...fatsMeant(fault)];
        place.append(...better.map((text) => offer(element, text)));
        describe(element, true);
    }
    return { ...fault, element, wanted };
}

function stillWanted(element) {
    return element.matches("select") ? "Still to choose." : "Still to fill in.";
}

/** A caution goes to its field like a fault, but leaves the field valid. */
function showCaution(element, caution) {
    const isSlot = element.matches("[data-slot]");
    const place = isSlot ? element : document.getElementById(`${element.id}-fault`);
    place.classList.remove("wanted");
    write(place, caution.code, caution.says);
    if (!isSlot) {
        if (caution.write) place.append(offer(element, caution.write));
        element.toggleAttribute("data-noted", true);
        describe(element, true);
    }
    return { ...caution, element };
}

/** What may have been meant where a number is wanted; a count has no decimals. */
function numbersMeant(element) {
    if (!element.closest(".figure")) return [];
    const meant = readings(element.value);
    return element.inputMode === "numeric" ? meant.filter((text) => !text.includes(".")) : meant;
}

/** The names of the fats that the library thinks were meant. */
function fatsMeant({ code, says }) {
    const [, ids = ""] = (code === "unknown_fat" && says.match(/did you mean ([^?]+)\?/)) || [];
    return ids
        .split(/,\s*|\s+or\s+/)
        .filter(fat)
        .map(nameOf);
}

/** The fields of these faults with a decimal comma, of which there is no doubt. */
export function decimalCommas(faults) {
    const fields = new Set(faults.map(({ element }) => element));
    return [...fields].filter(
        (field) => field.value?.includes(",") && numbersMeant(field).length === 1,
    );
}

/** Writes points for them. */
export function writePoints(fields) {
    for (const field of fields) enter(field, numbersMeant(field)[0]);
    fields[0].focus();
}

/** A button that puts another text into a field. */
function offer(input, text) {
    return button(`Write ${text}`, () => {
        enter(input, text);
        input.focus();
    });
}

function enter(input, text) {
    input.value = text;
    input.dispatchEvent(new Event("input", { bubbles: true }));
}

function write(place, code, says) {
    place.hidden = false;
    // What is folded away is not seen.
    const fold = place.closest("details.more");
    if (fold) fold.open = true;
    const told = [...place.querySelectorAll("span")].some((span) => span.textContent === says);
    const sentence = /^\p{L}/u.test(says) ? "sentence" : undefined;
    if (!told) place.append(h("span", { "data-code": code, class: sentence }, says));
}

function describe(input, told) {
    const ids = [told && `${input.id}-fault`, input.dataset.described].filter(Boolean);
    if (ids.length) input.setAttribute("aria-describedby", ids.join(" "));
    else input.removeAttribute("aria-describedby");
}

/** What a field is called, with what only screen readers hear; a slot as its section. */
export function nameOfPlace(element) {
    return (
        element.labels?.[0]?.textContent ??
        element.closest("section")?.querySelector("h3")?.textContent ??
        "Recipe"
    );
}
