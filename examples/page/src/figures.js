// What the batch amounts to, each figure with its working and the sources of what went into it.

import { h } from "./dom.js";
import { measures } from "./measures.js";
import { fixed, short, sign } from "./numbers.js";
import { mass, massPlaces, percent } from "./units.js";
import { densityWorking, formula, hydroxideWorking, superfatWorking } from "./working.js";

/** The figures of a plan. `request` is what was asked for it. */
export function figures(plan, request) {
    const { naoh_mass, koh_mass, water_mass } = plan;
    const fats = plan.fats.map((fat) => fat.mass);
    const masses = massPlaces([...fats, naoh_mass, koh_mass, water_mass]);
    const g = (grams, direction) => mass(grams, masses, direction);
    const grams = (number) => `${short(number, 3)} g`;
    const alkali = [
        sign(plan.naoh_mass) && `${grams(plan.naoh_mass)} NaOH`,
        sign(plan.koh_mass) && `${grams(plan.koh_mass)} KOH`,
    ]
        .filter(Boolean)
        .join(" + ");
    const { mould } = plan;
    return [
        figure(
            "alkali",
            "Pure hydroxide",
            [
                sign(plan.naoh_pure_mass) && `${g(plan.naoh_pure_mass, "down")}\u00a0NaOH`,
                sign(plan.koh_pure_mass) && `${g(plan.koh_pure_mass, "down")}\u00a0KOH`,
            ]
                .filter(Boolean)
                .join(" + "),
            plan.naoh_pure_mass,
            hydroxideWorking(plan, request),
        ),
        figure(
            "superfat",
            "Superfat, as weighed",
            percent(plan.superfat, 2),
            plan.superfat,
            superfatWorking(plan, request),
        ),
        figure(
            "lye-concentration",
            "Lye concentration",
            percent(plan.lye_concentration, 1),
            plan.lye_concentration,
            [
                formula(
                    "alkali / (alkali + water)",
                    `(${alkali}) / (${alkali} + ${grams(plan.water_mass)} water) = ${percent(plan.lye_concentration, 3)}`,
                ),
                formula("of it hydroxide", percent(plan.hydroxide_concentration, 3)),
            ],
        ),
        figure(
            "water-to-lye",
            "Water to alkali",
            `${fixed(plan.water_to_lye, 2)}\u00a0:\u00a01`,
            plan.water_to_lye,
            [
                formula(
                    "water / alkali",
                    `${grams(plan.water_mass)} / (${alkali}) = ${fixed(plan.water_to_lye, 4)}`,
                ),
            ],
        ),
        sign(plan.koh_mass) && sign(plan.naoh_mass)
            ? figure(
                  "koh-share",
                  "Potassium share, by moles",
                  percent(plan.koh_share_by_moles, 1),
                  plan.koh_share_by_moles,
                  [formula("n(KOH) / (n(NaOH) + n(KOH))", percent(plan.koh_share_by_moles, 4))],
              )
            : null,
        figure("total-fats", "All fats", g(plan.total_fats), plan.total_fats, [
            formula(
                "sum of the fats",
                `${plan.fats.map((fat) => grams(fat.mass)).join(" + ")} = ${grams(plan.total_fats)}`,
            ),
        ]),
        figure("batter", "Batter, as poured", g(plan.batter_mass), plan.batter_mass, [
            formula(
                "fats + alkali + water + acids + additives",
                [
                    grams(plan.total_fats),
                    alkali,
                    grams(plan.water_mass),
                    ...[...plan.acids, ...plan.additives].map((line) => grams(line.mass)),
                ].join(" + ") + ` = ${grams(plan.batter_mass)}`,
            ),
        ]),
        mould?.cavities.map(
            ({ count, bar_mass, bar_mass_range }, i) =>
                bar_mass &&
                figure(
                    `bar-${i + 1}`,
                    holds(count, mould.cavities.length > 1 ? i + 1 : undefined),
                    mass(bar_mass),
                    bar_mass,
                    [
                        bar_mass_range &&
                            formula(
                                "of the lightest batter and of the densest",
                                `${mass(bar_mass_range.low)} to ${mass(bar_mass_range.high)}`,
                            ),
                    ],
                ),
        ),
        mould?.batter_density &&
            figure(
                "density",
                "Density of the batter",
                `${fixed(mould.batter_density, 3)}\u00a0g/mL`,
                mould.batter_density,
                densityWorking(plan, mould),
            ),
        mould?.mould_volume &&
            figure(
                "mould-volume",
                "Mould, as far as it is filled",
                `${fixed(mould.mould_volume, 0)}\u00a0mL`,
                mould.mould_volume,
                [
                    formula(
                        "volume",
                        `${measures(request.mould)} = ${short(mould.mould_volume, 3)} mL`,
                    ),
                    formula("filled, in doubt to the safe side", percent(mould.mould_filled, 1)),
                    mould.mould_filled_range &&
                        formula(
                            "over all published densities",
                            `${percent(mould.mould_filled_range.low, 1)} to ${percent(mould.mould_filled_range.high, 1)}`,
                        ),
                ],
            ),
    ];
}

/** Of one mould, or of the several that are numbered. */
function holds(count, number) {
    const name = number ? `mould ${number}` : "the mould";
    const one = count === 1 ? name : `One of the ${count} in ${name}`;
    return `${one[0].toUpperCase()}${one.slice(1)} holds`;
}

function figure(key, label, text, number, working) {
    return h(
        "details",
        { class: "worked", id: `figure-${key}` },
        h(
            "summary",
            {},
            h("span", { class: "name" }, label),
            h("span", { class: "dots", "aria-hidden": "true" }),
            h("data", { value: number.exact, id: `value-${key}` }, text),
        ),
        h("div", { class: "working" }, working),
    );
}
