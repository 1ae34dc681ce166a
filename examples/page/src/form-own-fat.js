// A fat of one's own: what is known of how much alkali it takes, and what else is known of it.

import { h } from "./dom.js";
import { field, more, pair, select, slot } from "./fields.js";
import { fattyAcidName, fattyAcids } from "./library.js";
import { id } from "./paths.js";
import { change, reshape, valueAt } from "./state.js";

/** How the alkali that it takes can be known: [key, label]. */
const WAYS = [
    ["saponification_value", "saponification value"],
    ["naoh_per_gram", "NaOH for 1\u00a0g"],
    ["koh_per_gram", "KOH for 1\u00a0g"],
    ["fatty_acids", "fatty acids"],
];

/** The acids that are asked for at once; most sheets of suppliers name no others. */
const USUAL_ACIDS = ["C12:0", "C14:0", "C16:0", "C18:0", "C18:1", "C18:1-OH", "C18:2", "C18:3"];

/** A fat of one's own that is still to be described. */
export function newOwnFat() {
    return { name: "", saponification_value: "" };
}

function wayOf(fat) {
    return WAYS.map(([way]) => way).find((way) => fat[way] !== undefined) ?? WAYS[0][0];
}

/** The fields of the fat at a place; `of` tells it from others ("of fat 1"). */
export function ownFields(at, of) {
    const way = wayOf(valueAt(at));
    const known = select({
        at: `${at}.way`,
        label: "What is known",
        of,
        options: WAYS,
        value: way,
        onchoose: (next) => chooseWay(at, next),
    });
    return h(
        "div",
        { class: "own" },
        h("div", { class: "fields" }, known, way !== "fatty_acids" && figure(at, way, of)),
        way === "saponification_value" && range(at, of),
        way === "fatty_acids" && acids(`${at}.fatty_acids`, of),
        more(
            `${id(at)}-more`,
            "What else is known of it",
            way !== "fatty_acids" &&
                field({ at: `${at}.iodine_value`, label: "Iodine value", of, kind: "iodine" }),
            field({
                at: `${at}.density`,
                label: "Density, liquid",
                of,
                kind: "density",
                hint: "For its room in the mould.",
            }),
            field({
                at: `${at}.density_temperature`,
                label: "Density measured at",
                of,
                kind: "temperature",
                hint: "Left empty: 20\u00a0°C, 68\u00a0°F.",
            }),
        ),
    );
}

/** The one figure that counts. Left empty it is still to be given, so that the way stays. */
function figure(at, way, of) {
    const [label, kind] = {
        saponification_value: ["Saponification value", "saponification"],
        naoh_per_gram: ["NaOH for 1\u00a0g", "grams"],
        koh_per_gram: ["KOH for 1\u00a0g", "grams"],
    }[way];
    return field({
        at: `${at}.${way}`,
        label,
        of,
        kind,
        also: [at],
        set: (value) => change(`${at}.${way}`, value ?? ""),
    });
}

function range(at, of) {
    const ends = pair({
        at: `${at}.saponification_range`,
        ends: [{ label: "Lowest value" }, { label: "Highest value" }],
        of,
        kind: "saponification",
        hint: "If a range is known.",
    });
    return h("div", { class: "fields" }, ends);
}

function chooseWay(at, next) {
    reshape(() => {
        const fat = valueAt(at);
        for (const [way] of WAYS) delete fat[way];
        delete fat.saponification_range;
        if (next === "fatty_acids") delete fat.iodine_value;
        fat[next] = next === "fatty_acids" ? {} : "";
    });
}

function acids(at, of) {
    const given = Object.keys(valueAt(at) ?? {});
    const shown = [...new Set([...USUAL_ACIDS, ...given])];
    const others = fattyAcids().filter((acid) => !shown.includes(acid));
    return [
        h("p", { class: "hint" }, "Percent by weight of the fatty acids; together 100\u00a0%."),
        h(
            "div",
            { class: "fields" },
            shown.map((acid) =>
                field({
                    at: `${at}.${acid}`,
                    label: fattyAcidName(acid),
                    of,
                    kind: "percent",
                    set: (value) => change(at, withShare(valueAt(at), acid, value)),
                }),
            ),
            select({
                at: `${at}.another`,
                label: "Another acid",
                of,
                options: [["", "choose"], ...others.map((acid) => [acid, fattyAcidName(acid)])],
                value: "",
                onchoose: (acid) => addAcid(at, acid),
            }),
        ),
        slot(at),
    ];
}

/** The shares with one more, in another place or none; with none at all it is still by acids. */
function withShare(shares, acid, value) {
    const { [acid]: _, ...others } = shares ?? {};
    return value === undefined ? others : { ...shares, [acid]: value };
}

function addAcid(at, acid) {
    if (acid === "") return;
    reshape(() => (valueAt(at)[acid] = ""));
    const name = id(`${at}.${acid}`);
    queueMicrotask(() => queueMicrotask(() => document.getElementById(name)?.focus()));
}
