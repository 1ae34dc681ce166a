// The mould from above, as the library draws it; its captions in the unit of the page.

import { captions } from "./measures.js";
import { mass, systemInUse } from "./units.js";

/**
 * The picture as part of this document. `mould` is the mould as it was asked for, `filling` how
 * full it gets.
 */
export function drawing(picture, mould, filling) {
    const parsed = new DOMParser().parseFromString(picture.svg, "image/svg+xml");
    const svg = document.importNode(parsed.documentElement, true);
    svg.setAttribute("class", "drawing");
    if (systemInUse() !== "metric") inOunces(svg, captions(mould), filling.left_over_mass);
    return svg;
}

/** Captions stand at the left, one above each kind of cavity; then what stays over, in g. */
function inOunces(svg, ofKinds, leftOver) {
    const lines = [...svg.querySelectorAll("text:not([text-anchor])")];
    ofKinds.forEach((caption, i) => (lines[i].textContent = caption));
    if (!leftOver) return;
    for (const line of [...lines, svg.querySelector("desc")])
        line.textContent = line.textContent.replace(/[\d.]+ g\b(?! of)/, mass(leftOver));
}
