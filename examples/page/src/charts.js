// Charts, drawn as SVG. Each one repeats what stands beside it in words and figures.

import { h, s } from "./dom.js";
import { sign } from "./numbers.js";
import { percent } from "./units.js";

/**
 * The superfat as a band: from the worst case to the best over everything that is not known
 * exactly, with the planned value in it and the floor that is to be kept.
 */
export function band(sure) {
    const { worst, best, superfat, floor } = sure;
    const low = Math.min(worst.superfat.value, 0) - 1;
    const high = Math.max(best.superfat.value, floor.value, 1) + 1;
    const at = (share) => (100 * (share - low)) / (high - low);
    const x = (share) => `${at(share)}%`;
    const stretch = (from, to, style) =>
        s("rect", {
            x: x(from),
            y: 30,
            width: `${Math.max(0.4, at(to) - at(from))}%`,
            height: 30,
            class: style,
        });
    const upright = (share, y1, y2, style) =>
        s("line", { x1: x(share), x2: x(share), y1, y2, class: style });
    const words = `Superfat from ${percent(worst.superfat)} at worst to ${percent(best.superfat)} at best; as weighed ${percent(superfat)}.`;
    const place = at(superfat.value);
    return h(
        "figure",
        { class: "band" },
        h(
            "p",
            { class: "band-words" },
            h(
                "data",
                {
                    value: worst.superfat.exact,
                    id: "superfat-worst",
                    class: sign(worst.superfat) < 0 ? "free" : "",
                },
                percent(worst.superfat),
            ),
            " at worst, ",
            h("data", { value: best.superfat.exact, id: "superfat-best" }, percent(best.superfat)),
            " at best",
        ),
        s(
            "svg",
            { role: "img", "aria-label": words, class: "chart", width: "100%", height: 90 },
            stretch(low, 0, "danger"),
            stretch(worst.superfat.value, best.superfat.value, "range"),
            worst.superfat.value < 0 &&
                stretch(worst.superfat.value, Math.min(0, best.superfat.value), "range free"),
            s("line", { x1: 0, x2: "100%", y1: 60, y2: 60, class: "axis" }),
            ticks(low, high).map((tick) => [
                upright(tick, 60, 66, "axis"),
                s(
                    "text",
                    { x: x(tick), y: 84, "text-anchor": "middle" },
                    `${String(tick).replace("-", "\u2212")}\u00a0%`,
                ),
            ]),
            upright(0, 22, 66, "zero"),
            sign(floor) !== 0 && upright(floor.value, 26, 60, "floor"),
            upright(superfat.value, 24, 60, "planned"),
            s(
                "text",
                {
                    x: x(superfat.value),
                    y: 16,
                    "text-anchor": place < 25 ? "start" : place > 75 ? "end" : "middle",
                    class: "strong",
                },
                `as weighed ${percent(superfat)}`,
            ),
        ),
        h("figcaption", {}, "Left of 0 % there is free alkali."),
    );
}

/** Round values on an axis, about five of them, none so near its ends that its text is cut off. */
function ticks(low, high) {
    const rough = (high - low) / 5;
    const step = [1, 2, 5, 10, 20, 50, 100].find((step) => step >= rough) ?? 200;
    const margin = (high - low) * 0.06;
    const found = [];
    for (let tick = Math.ceil((low + margin) / step) * step; tick <= high - margin; tick += step)
        found.push(tick);
    return found;
}

const ROW = 46;

/**
 * Ranges of percent under each other on one axis, each with its typical value. `rows` is a list of
 * { name, typical, range }; a table with the same figures is to stand beside it.
 */
export function rangeChart(title, rows) {
    const bottom = rows.length * ROW + 6;
    const x = (number) => `${number.value}%`;
    const upright = (at, style) =>
        s("line", { x1: `${at}%`, x2: `${at}%`, y1: 0, y2: bottom, class: style });
    return s(
        "svg",
        {
            class: "chart ranges-chart",
            role: "img",
            "aria-label": `${title}; the table below has the figures.`,
            width: "100%",
            height: bottom + 26,
        },
        [0, 25, 50, 75, 100].map((at) => [
            upright(at, "grid"),
            s(
                "text",
                {
                    x: `${at}%`,
                    y: bottom + 20,
                    "text-anchor": at === 0 ? "start" : at === 100 ? "end" : "middle",
                },
                `${at}\u00a0%`,
            ),
        ]),
        rows.map(({ name, typical, range }, i) => {
            const y = i * ROW + 34;
            return [
                s("text", { x: 0, y: y - 14, class: "label" }, name),
                s("line", { x1: x(range.low), x2: x(range.high), y1: y, y2: y, class: "stretch" }),
                s("circle", { cx: x(typical), cy: y, r: 5, class: "point" }),
            ];
        }),
        s("line", { x1: 0, x2: "100%", y1: bottom, y2: bottom, class: "axis" }),
    );
}

/** A share as the length of a bar. For a table that has the figures. */
export function lengthBar(share) {
    return s(
        "svg",
        { class: "length-bar", "aria-hidden": "true", height: 10, width: "100%" },
        s("rect", { x: 0, y: 2, width: `${share.value}%`, height: 8, class: "length" }),
    );
}
