// The library: every figure and every sentence about soap on this page comes from here.

import { init, tryCall, version } from "lixivium";

/* global WASM: the address of the module, set by the build; undefined where it comes inside. */

let catalogue = new Map();
let sources = new Map();
let acids = new Map();

/** Makes the library ready and reads its catalogue. */
export async function load() {
    await init(WASM);
    const { answer } = ask("fats", {});
    catalogue = new Map(answer.fats.map((fat) => [fat.id, fat]));
    acids = acidsOf(answer.fats);
    sources = new Map(answer.sources.map((source) => [source.id, source]));
}

/** Carries out an operation: `{ answer, faults: [] }` or `{ faults }`. */
export function ask(operation, request) {
    const answer = tryCall(operation, request);
    return answer.error ? { faults: answer.error.faults } : { answer, faults: [] };
}

/** All fats of the catalogue. */
export function fats() {
    return [...catalogue.values()];
}

/** The entry of a fat by its id; undefined for a fat of one's own. */
export function fat(id) {
    return catalogue.get(id);
}

/** The name of a fat of the catalogue by its id, or of one's own; other texts stay as they are. */
export function nameOf(fat) {
    return catalogue.get(fat)?.name ?? fat.name ?? fat;
}

/** The id of the fat of that name; other texts stay as they are, for the library to judge. */
export function idOf(text) {
    const wanted = text.trim().toLowerCase();
    return fats().find((fat) => fat.name.toLowerCase() === wanted)?.id ?? text;
}

/** The fatty acids of the catalogue, short ones first: "C12:0". */
export function fattyAcids() {
    return [...acids.keys()];
}

/** The name of a fatty acid with its shorthand; what is not known here stays as it is. */
export function fattyAcidName(acid) {
    const name = acids.get(acid);
    return name ? `${name[0].toUpperCase()}${name.slice(1)}, ${acid}` : acid;
}

function acidsOf(fats) {
    const all = fats.flatMap((fat) => fat.fatty_acids.map(({ acid, name }) => [acid, name]));
    return new Map(all.sort(([a], [b]) => a.localeCompare(b, "en", { numeric: true })));
}

/** Where a figure was published. */
export function source(id) {
    return sources.get(id);
}

export { version };
