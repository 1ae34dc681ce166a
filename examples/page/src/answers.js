// The bench card: what to weigh, how full the mould will be, how safe the superfat is.

import { cautions, cautionsAt } from "./cautions.js";
import { band } from "./charts.js";
import { button, h, put } from "./dom.js";
import { drawing } from "./drawing.js";
import { mass, massPlaces, percent, systemInUse } from "./units.js";
import { fixed, placesOf, sign } from "./numbers.js";
import { figures } from "./figures.js";

/** What is weighed, in the order of the bench: [key, name, mass, group]. */
export function weighed(plan) {
    const stock = plan.stock_solution;
    const lye = [
        ["water", "Water", plan.water_to_add_mass],
        stock.naoh_solution_mass
            ? ["naoh", "Stock lye of sodium hydroxide", stock.naoh_solution_mass]
            : ["naoh", "Sodium hydroxide", plan.naoh_mass],
        stock.koh_solution_mass
            ? ["koh", "Stock lye of potassium hydroxide", stock.koh_solution_mass]
            : ["koh", "Potassium hydroxide", plan.koh_mass],
    ];
    const rows = (list, group) =>
        list.map((row, i) => [`${group}-${i + 1}`, row.name, row.mass, group]);
    const all = [
        ...lye.map((row) => [...row, "lye"]),
        ...rows(plan.fats, "fat"),
        ...rows(plan.acids, "acid"),
        ...rows(plan.additives, "additive"),
    ];
    return all.filter(([, , mass]) => sign(mass) !== 0);
}

const GROUPS = [
    ["lye", "The lye"],
    ["fat", "The fats"],
    ["acid", "The acids"],
    ["additive", "The additives"],
];

/** Shows a batch on the card. `entry` is what is on the page, `results` what the library said. */
export function showCard(card, entry, { plan, picture, request }, { onTick, onFill }) {
    put(card.weigh, weighTable(plan, entry, cautionsAt("lye", plan.cautions), onTick));
    put(
        card.mould,
        picture
            ? mouldPicture(plan.mould, picture, request, onFill)
            : h(
                  "p",
                  { class: "hint" },
                  "Give a mould, and it is drawn here as full as it will be.",
              ),
    );
    put(card.figures, figures(plan, request));
}

/** Shows how sure the batch is: what to mind, and the superfat from worst to best. */
export function showAssurance(card, { plan, sure, waits }) {
    const all = [...plan.cautions, ...(sure?.cautions ?? [])];
    put(
        card.before,
        cautions(cautionsAt("before", all)),
        h("p", { id: "card-asked", hidden: true }),
    );
    if (!waits) put(card.superfat, sure ? band(sure) : null, cautions(cautionsAt("superfat", all)));
}

function mouldPicture(mould, picture, request, onFill) {
    const byWeight = request.fats.some((line) => line.mass !== undefined);
    return [
        drawing(picture, request.mould, mould),
        byWeight &&
            mould.state !== "full" &&
            button("Scale the recipe to fill it", onFill, { id: "scale-to-fill" }),
        cautions(cautionsAt("mould", mould.mould_cautions)),
    ];
}

function weighTable(plan, entry, lyeCautions, onTick) {
    const rows = weighed(plan);
    const places = massPlaces(rows.map(([, , mass]) => mass));
    return GROUPS.map(([group, title]) => {
        const own = rows.filter((row) => row[3] === group);
        if (own.length === 0) return null;
        return h(
            "section",
            { class: "group" },
            h("h4", {}, title),
            group === "lye" && cautions(lyeCautions),
            h(
                "ul",
                { class: "weights" },
                own.map((row) => weightRow(row, entry, places, onTick)),
            ),
        );
    });
}

/** The purity of an alkali, or the strength of its lye, as it was typed: it belongs to the weight. */
function strength(key, { alkali = {}, stock_solution = {} }) {
    const text = (typed) => (typeof typed === "number" ? `${typed}\u00a0%` : typed);
    if (stock_solution[key] !== undefined) return `, ${text(stock_solution[key])}`;
    const purity = alkali[`${key}_purity`];
    return purity === undefined ? "" : `, purity ${text(purity)}`;
}

function weightRow([key, name, grams, group], entry, places, onTick) {
    const direction = group === "lye" && key !== "water" ? "down" : "nearest";
    const text = mass(grams, places, direction);
    const box = h("input", {
        type: "checkbox",
        id: `tick-${key}`,
        checked: entry.ticked[key] === grams.exact,
        onchange: () => onTick(key, box.checked ? grams.exact : undefined),
    });
    return h(
        "li",
        {},
        h(
            "label",
            { for: `tick-${key}` },
            box,
            h("span", { class: "name" }, name, strength(key, entry.plan)),
            h("span", { class: "dots", "aria-hidden": "true" }),
            h(
                "span",
                { class: "amount" },
                h("data", { value: grams.exact, class: "weight", id: `weigh-${key}` }, text),
                systemInUse() !== "metric" &&
                    h("small", {}, ` ${fixed(grams, placesOf(grams, 3) ?? 2, direction)}\u00a0g`),
            ),
        ),
    );
}

/** One line for those who cannot see the card, and for the bar of small screens. */
export function inShort({ plan, sure }) {
    const rows = weighed(plan);
    const places = massPlaces(rows.map(([, , mass]) => mass));
    const lye = rows.filter(([, , , group]) => group === "lye");
    const parts = lye.map(([key, name, grams]) => {
        const direction = key === "water" ? "nearest" : "down";
        return `${name.toLowerCase()} ${mass(grams, places, direction)}`;
    });
    const range = sure
        ? [sure.worst.superfat, sure.best.superfat]
        : [plan.superfat_range.low, plan.superfat_range.high];
    parts.push(`superfat ${percent(range[0])} to ${percent(range[1])}`);
    return `${parts.join(", ")}.`;
}
