// Made from the table of operations by bindings-wasm/tests/types.rs; not to be edited.

import { call } from "./module.js";

/** Plans a batch: from fats, superfat, alkali and water to what is weighed. */
export function plan(request) {
    return call("plan", request);
}

/**
 * Says how safe a batch is: the worst case over all tolerances, where the spread comes from, the
 * most alkali that is still safe, and how likely too little superfat is.
 */
export function assure(request) {
    return call("assure", request);
}

/**
 * Works out weights that were written down: superfat and its range, what follows, what is missing
 * and what does not fit together. Corrects nothing.
 */
export function audit(request) {
    return call("audit", request);
}

/** Finds the smallest additions that bring a batch back that went wrong. */
export function amend(request) {
    return call("amend", request);
}

/**
 * Puts other fats in the place of one: the new lye, what changes, and the nearest blend of the
 * fats at hand.
 */
export function swap(request) {
    return call("swap", request);
}

/**
 * Says what the fats of a bar are made of and what the bar holds, typical and as ranges; and what
 * differs between two batches beyond noise.
 */
export function composition(request) {
    return call("composition", request);
}

/** Lists fats with their published figures, each with its source. */
export function fats(request) {
    return call("fats", request);
}

/** Says how full a mould will be, and scales the recipe so that it is full. */
export function fill(request) {
    return call("fill", request);
}

/** Learns from a batch that was weighed and poured how much the cavities of a mould take. */
export function calibrate(request) {
    return call("calibrate", request);
}

/** Draws a mould from above, each cavity as full as it will be, as SVG. */
export function picture(request) {
    return call("picture", request);
}

/** Converts a quantity to another unit of the same dimension. */
export function convert(request) {
    return call("convert", request);
}
