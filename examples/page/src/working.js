// How a figure comes about: its formula with its numbers, the published ranges and their sources.

import { h } from "./dom.js";
import { ask, fat as entryOf, source } from "./library.js";
import { exactText, fixed, short, sign } from "./numbers.js";
import { percent } from "./units.js";

/** A formula and its numbers. */
export function formula(name, text) {
    return h(
        "p",
        { class: "formula" },
        h("span", { class: "term" }, name),
        " ",
        h("span", { class: "digits" }, text),
    );
}

/** What fats and acids take up, as the library reckons it from weights alone. */
function need(fats, acids = []) {
    const { answer } = ask("audit", { fats, acids });
    return answer;
}

function records(plan, request) {
    const fats = plan.fats.map((line, i) => ({
        fat: request.fats[i].fat,
        mass: `${exactText(line.mass)} g`,
    }));
    const acids = plan.acids.map((line, i) => ({
        acid: request.acids[i].acid,
        mass: `${exactText(line.mass)} g`,
        ...(request.acids[i].strength === undefined ? {} : { strength: request.acids[i].strength }),
    }));
    return { fats, acids };
}

export function hydroxideWorking(plan, request) {
    const { fats, acids } = records(plan, request);
    const whole = need(fats);
    const all = acids.length ? need(fats, acids) : null;
    const alkali = request.alkali ?? {};
    return [
        h(
            "p",
            { class: "formula" },
            h(
                "span",
                { class: "term" },
                "KOH = \u03a3 weight \u00d7 saponification value / 1000; NaOH = KOH \u00d7 M(NaOH) / M(KOH)",
            ),
        ),
        h(
            "div",
            {
                class: "scroll",
                tabindex: "0",
                role: "region",
                "aria-label": "Potassium hydroxide that each fat takes",
            },
            h(
                "table",
                {},
                h(
                    "thead",
                    {},
                    h(
                        "tr",
                        {},
                        ["Fat", "Weight", "Saponification value", "Published", "KOH"].map((head) =>
                            h("th", { scope: "col" }, head),
                        ),
                    ),
                ),
                h(
                    "tbody",
                    {},
                    plan.fats.map((line, i) => fatLine(line, fats[i])),
                ),
            ),
        ),
        whole &&
            formula(
                "all fats take",
                `${short(whole.full_koh_mass, 3)} g KOH, or ${short(whole.full_naoh_mass, 3)} g NaOH`,
            ),
        all &&
            formula(
                "with the acids",
                `${short(all.full_koh_mass, 3)} g KOH, or ${short(all.full_naoh_mass, 3)} g NaOH`,
            ),
        formula(
            "superfat asked",
            `${request.superfat}${typeof request.superfat === "number" ? " %" : ""} of the fats' need is left out`,
        ),
        sign(plan.naoh_mass)
            ? formula(
                  "as weighed",
                  `${short(plan.naoh_mass, 3)} g at ${alkali.naoh_purity ?? 100} % purity = ${short(plan.naoh_pure_mass, 3)} g NaOH`,
              )
            : null,
        sign(plan.koh_mass)
            ? formula(
                  "as weighed",
                  `${short(plan.koh_mass, 3)} g at ${alkali.koh_purity ?? 100} % purity = ${short(plan.koh_pure_mass, 3)} g KOH`,
              )
            : null,
        request.scale_step !== undefined &&
            formula(
                "scale",
                `step ${request.scale_step}${typeof request.scale_step === "number" ? " g" : ""}, alkali to the step below`,
            ),
    ];
}

function fatLine(line, record) {
    const taken = need([record])?.full_koh_mass;
    const known = typeof record.fat === "string" ? entryOf(line.fat) : undefined;
    const value = known?.published.find((entry) => entry.property === "saponification_value");
    return h(
        "tr",
        {},
        h("th", { scope: "row" }, line.name),
        h("td", {}, `${short(line.mass, 3)} g`),
        h("td", {}, `${short(line.saponification_value, 3)} mg KOH/g`),
        h("td", { class: "source" }, value ? published(value) : ownRange(record.fat)),
        h("td", {}, taken ? `${short(taken, 3)} g` : ""),
    );
}

function ownRange(fat) {
    const range = fat.saponification_range;
    if (fat.fatty_acids) return "from its fatty acids, as you gave them";
    return range ? `your own figure, ${range[0]} to ${range[1]}` : "your own figure";
}

/** A published range with its source. */
function published(value) {
    const { low, high } = value.range;
    const ends = [low && short(low, 3), high && short(high, 3)];
    const range =
        low && high
            ? low.exact === high.exact
                ? ends[0]
                : `${ends[0]} to ${ends[1]}`
            : low
              ? `from ${ends[0]}`
              : `to ${ends[1]}`;
    const from = source(value.source);
    const where = [from?.citation, from?.part].filter(Boolean).join(", ");
    const seen = value.provenance === "memory" ? " [from memory]" : "";
    return [
        h("span", {}, `${range}${value.unit ? ` ${value.unit}` : ""}`),
        " ",
        h("cite", {}, `${where}${seen}`),
    ];
}

export function superfatWorking(plan, request) {
    const { fats } = records(plan, request);
    const whole = need(fats);
    return [
        formula(
            "1 \u2212 (hydroxide \u2212 what acids take) / what the fats take",
            percent(plan.superfat, 4),
        ),
        formula(
            "hydroxide",
            [
                sign(plan.naoh_pure_mass) && `${short(plan.naoh_pure_mass, 3)} g NaOH`,
                sign(plan.koh_pure_mass) && `${short(plan.koh_pure_mass, 3)} g KOH`,
            ]
                .filter(Boolean)
                .join(" + "),
        ),
        whole &&
            formula(
                "the fats take",
                `${short(whole.full_koh_mass, 3)} g KOH, or ${short(whole.full_naoh_mass, 3)} g NaOH`,
            ),
        formula(
            "all fats at the ends of their published ranges",
            `${percent(plan.superfat_range.low, 2)} to ${percent(plan.superfat_range.high, 2)}`,
        ),
    ];
}

export function densityWorking(plan, mould) {
    const { low, high } = mould.batter_density_range ?? {};
    const lines = plan.fats.map((line) => {
        const value = entryOf(line.fat)?.published.find(
            (entry) => entry.property === "relative_density",
        );
        return (
            value &&
            h(
                "p",
                { class: "formula" },
                h("span", { class: "term" }, line.name),
                " ",
                published(value),
                value.temperature
                    ? ` at ${short(value.temperature)}\u00a0°C, water at ${short(value.reference_temperature)}\u00a0°C`
                    : "",
            )
        );
    });
    return [low && formula("range", `${fixed(low, 3)} to ${fixed(high, 3)}\u00a0g/mL`), lines];
}
