// What was weighed in truth. Sums and differences of weights are left to the library, too.

import { weighed } from "../answers.js";
import { ask } from "../library.js";
import { exactText, sign } from "../numbers.js";
import { isBare, mass, massPlaces } from "../units.js";

/** The things that can have gone wrong: [key, name, planned mass]; of the water: all of it. */
export function lines(plan) {
    const others = weighed(plan).filter(
        ([key]) => key !== "water" && key !== "naoh" && key !== "koh",
    );
    const alkali = [
        ["naoh", "Sodium hydroxide", plan.naoh_mass],
        ["koh", "Potassium hydroxide", plan.koh_mass],
        ["water", "Water of the lye", plan.water_mass],
    ].filter(([, , planned]) => sign(planned));
    return [...others, ...alkali];
}

/** What was typed as otherwise than planned: [{ key, name, planned, mass }], and the faults of it. */
export function truth(plan, typed = {}) {
    const faults = [];
    const off = [];
    for (const [key, name, planned] of lines(plan)) {
        if (typed[key]?.mass === undefined) continue;
        const found = inTruth(planned, typed[key]);
        faults.push(...found.faults.map((fault) => ({ ...fault, at: `amend.lines.${key}.mass` })));
        off.push({ key, name, planned, mass: found.mass });
    }
    return { off, faults };
}

/** One weight: what is typed is the whole of it, or how much `more` or `less` than planned. */
function inTruth(planned, { mass: typed, how }) {
    const fat = "olive-oil";
    const whole = `${exactText(planned)} g`;
    const line = { fat, mass: typed };
    if (how === "more") {
        const { answer, faults } = ask("audit", { fats: [line, { fat, mass: whole }] });
        return { mass: answer?.total_fats.low, faults };
    }
    if (how === "less") {
        const stated = { total_fats: whole };
        const { answer, faults } = ask("audit", { fats: [line, { fat }], stated });
        const rest = answer?.deduced.find((deduced) => deduced.at === "fats[1]");
        if (rest) return { mass: rest.mass.low, faults };
        const ofTyped = faults.filter(({ at }) => at.startsWith("fats[0]"));
        return { faults: ofTyped.length ? ofTyped : [tooMuch(planned)] };
    }
    // What was forgotten weighs nothing, which is no batch of its own.
    const quantity = isBare(String(typed)) ? `${typed} g` : typed;
    const { answer, faults } = ask("convert", { quantity, to: "g" });
    return { mass: answer?.quantity, faults };
}

function tooMuch(planned) {
    const most = mass(planned, massPlaces([planned]));
    return {
        code: "more_than_planned",
        says: `${most} were planned; accepted: at most so much too little`,
    };
}

/** The same as the request of amend has it: lists are whole, or left out. */
export function actual(plan, off) {
    const grams = new Map(off.map(({ key, mass }) => [key, `${exactText(mass)} g`]));
    const found = {};
    for (const [list, group] of [
        ["fats", "fat"],
        ["acids", "acid"],
        ["additives", "additive"],
    ]) {
        const masses = plan[list].map((_, i) => grams.get(`${group}-${i + 1}`));
        if (masses.every((mass) => mass === undefined)) continue;
        found[list] = masses.map((mass, i) => mass ?? `${exactText(plan[list][i].mass)} g`);
    }
    for (const key of ["naoh", "koh", "water"])
        if (grams.has(key)) found[`${key}_mass`] = grams.get(key);
    return found;
}
