// The module comes inside and is started on import: nothing has to be awaited.

import { gunzipSync } from "node:zlib";

import { embedded } from "./embedded.js";
import { initSync, start } from "./module.js";

export { LixiviumError, call, initSync, tryCall, version } from "./module.js";
export * from "./operations.js";

function unpacked() {
    return gunzipSync(Buffer.from(embedded, "base64"));
}

initSync(unpacked());

/** Does nothing more: the module is started. Here so that the same code runs in browsers. */
export function init(source) {
    return start(source, unpacked);
}
