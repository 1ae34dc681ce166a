// The mould did not come out full: scale the recipe by what was seen, and learn the mould.

import { button, h } from "../dom.js";
import { drawing } from "../drawing.js";
import { field, slot } from "../fields.js";
import { mouldKind } from "../form-mould.js";
import { ask } from "../library.js";
import { exactText, fixed, short } from "../numbers.js";
import { request, reshape } from "../state.js";
import { mass, massPlaces, percent } from "../units.js";

export const fill = {
    id: "fill",
    title: "Last time it did not fill: scale the recipe",
    lead: "Say how many cavities this recipe filled, and how full the next one was. A single mould is one cavity.",
    form: () => [
        h(
            "div",
            { class: "fields" },
            field({
                at: "fill.batter.full_cavities",
                label: "Cavities that were full",
                kind: "count",
                hint: mouldKind() === "several" ? "Of all moulds, in their order." : undefined,
            }),
            field({
                at: "fill.batter.last_cavity",
                label: "The next one was full to",
                kind: "percent",
                hint: "Half full: 50.",
            }),
        ),
        slot("fill"),
        slot("fill.mould"),
    ],
    request: fillRequest,
    answer: fillAnswer,
};

function fillRequest(entry, plan) {
    const { full_cavities, last_cavity } = entry.fill.batter ?? {};
    if (full_cavities === undefined && last_cavity === undefined) return null;
    return { operation: "fill", request: { batter: { plan, full_cavities, last_cavity } } };
}

function fillAnswer(answer, { request }) {
    const learned = ask("calibrate", request).answer;
    const picture = ask("picture", request).answer;
    const { scaled } = answer;
    const places = scaled && massPlaces(scaled.fats.map((fat) => fat.mass));
    return [
        picture && drawing(picture, request.batter.plan.mould, answer),
        h(
            "dl",
            { class: "pairs" },
            h(
                "div",
                { class: "pair" },
                h("dt", {}, "To fill the mould, multiply by"),
                h(
                    "dd",
                    { id: "fill-scale", "data-told": "To fill the mould, multiply by" },
                    h(
                        "data",
                        { value: answer.scale_to_fill.exact },
                        fixed(answer.scale_to_fill, 4),
                    ),
                ),
            ),
            learned?.cavities.map((cavity, i) =>
                h(
                    "div",
                    { class: "pair" },
                    h(
                        "dt",
                        {},
                        learned.cavities.length === 1
                            ? "Batter that one cavity took to the brim"
                            : `Batter that one of mould ${i + 1} took to the brim`,
                    ),
                    h("dd", { id: `fill-bar-${i + 1}` }, mass(cavity.bar_mass)),
                ),
            ),
            learned?.batter_density &&
                h(
                    "div",
                    { class: "pair" },
                    h("dt", {}, "Density of the batter"),
                    h("dd", {}, `${fixed(learned.batter_density, 3)} g/mL`),
                ),
            learned?.deviation &&
                h(
                    "div",
                    { class: "pair" },
                    h("dt", {}, "Denser than expected by"),
                    h("dd", {}, percent(learned.deviation, 1)),
                ),
        ),
        scaled && [
            h("h3", { class: "sub" }, "The recipe that fills it"),
            h(
                "ul",
                { class: "weights plain", id: "fill-scaled" },
                scaled.fats.map((fat) =>
                    h(
                        "li",
                        {},
                        h("span", { class: "name" }, fat.name),
                        h("span", { class: "dots", "aria-hidden": "true" }),
                        h(
                            "data",
                            { value: fat.mass.exact, class: "weight" },
                            mass(fat.mass, places),
                        ),
                    ),
                ),
            ),
        ],
        h(
            "div",
            { class: "row-actions" },
            scaled &&
                button("Take over these weights", () => takeOver(scaled), { id: "fill-take" }),
            learned &&
                button("Let the mould be as learned", () => learn(learned.cavities), {
                    id: "fill-learn",
                }),
        ),
    ];
}

/** The fats by weight, as scaled; all else follows them or stays. */
export function takeOver(scaled) {
    reshape((entry) => {
        // Rows in which nothing stands go: what is left are the rows of the answer.
        entry.plan = request(entry.plan).asked;
        delete entry.plan.total_fats;
        for (const list of ["fats", "acids", "additives"]) {
            entry.plan[list]?.forEach((line, i) => {
                if (list === "fats") delete line.share;
                else if (line.mass === undefined) return;
                line.mass = `${exactText(scaled[list][i].mass)} g`;
            });
        }
        entry.fill = {};
    });
}

/** The same mould, described by the batter that a cavity of it takes. */
function learn(kinds) {
    const cavities = ({ count, bar_mass }) => ({ count, bar_mass: `${short(bar_mass, 1)} g` });
    reshape((entry) => {
        const { box, cylinder, cavities: _, several, batter_density, ...rest } = entry.plan.mould;
        delete rest.batter_density_range;
        entry.plan.mould = several
            ? {
                  several: several.map(({ fill }, i) => ({
                      cavities: cavities(kinds[i]),
                      ...(fill === undefined ? {} : { fill }),
                  })),
                  ...rest,
              }
            : { cavities: cavities(kinds[0]), ...rest };
        entry.fill = {};
    });
}
