// The module comes inside: one import, nothing to fetch, the same in every bundler.

import { embedded } from "./embedded.js";
import { start } from "./module.js";

export { LixiviumError, call, initSync, tryCall, version } from "./module.js";
export * from "./operations.js";

/** Starts the module from what is embedded, or from `source`. */
export function init(source) {
    return start(source, unpacked);
}

async function unpacked() {
    const packed = Uint8Array.from(atob(embedded), (letter) => letter.charCodeAt(0));
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(stream).arrayBuffer();
}
