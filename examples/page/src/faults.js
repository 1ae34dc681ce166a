// Faults of the library, each shown at the field that it names.

import { button, h } from "./dom.js";
import { parent } from "./paths.js";

/**
 * Shows faults, whose places are those of the entry ("plan.fats[0].mass"), and takes away those of
 * before. Returns them with the element at which each one stands.
 */
export function showFaults(root, faults) {
    for (const element of root.querySelectorAll(".fault")) {
        element.hidden = true;
        element.replaceChildren();
    }
    for (const input of root.querySelectorAll("[aria-invalid]")) {
        input.removeAttribute("aria-invalid");
        describe(input, false);
    }
    return faults.map((fault) => ({ ...fault, element: showOne(root, fault) }));
}

function showOne(root, fault) {
    for (let at = fault.at; at !== ""; at = parent(at)) {
        const input = root.querySelector(`[data-at~="${CSS.escape(at)}"]`);
        if (input) {
            mark(input, fault);
            return input;
        }
        const slot = root.querySelector(`[data-slot~="${CSS.escape(at)}"]`);
        if (slot) {
            write(slot, fault);
            return slot;
        }
    }
    const general = root.querySelector('[data-slot="plan"]');
    if (general) write(general, fault);
    return general;
}

function mark(input, fault) {
    const place = document.getElementById(`${input.id}-fault`);
    if (!place) return;
    // An empty field that is still to be filled in is no mistake to be shouted about.
    place.classList.toggle("wanted", input.value === "");
    input.toggleAttribute("data-wanted", input.value === "");
    input.setAttribute("aria-invalid", "true");
    write(place, fault);
    if (/^\D*\d+,\d+\D*$/.test(input.value))
        place.append(offer(input, input.value.replace(",", ".")));
    describe(input, true);
}

/** A button that puts another text into a field. */
function offer(input, text) {
    return button(`Write ${text}`, () => {
        input.value = text;
        input.focus();
        input.dispatchEvent(new Event("input", { bubbles: true }));
    });
}

function write(place, fault) {
    place.hidden = false;
    place.append(h("span", { "data-code": fault.code }, fault.says));
}

function describe(input, faulty) {
    const ids = [faulty && `${input.id}-fault`, input.dataset.described].filter(Boolean);
    if (ids.length) input.setAttribute("aria-describedby", ids.join(" "));
    else input.removeAttribute("aria-describedby");
}
