// The module is a file of its own, fetched by init().

import { start } from "./module.js";

export { LixiviumError, call, initSync, tryCall, version } from "./module.js";
export * from "./operations.js";

/** Starts the module from the file beside this one, or from `source`. */
export function init(source) {
    return start(source, () => new URL("../lixivium.wasm", import.meta.url));
}
