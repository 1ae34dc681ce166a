import { init, plan, tryCall } from "./node_modules/lixivium/js/inline.js";

globalThis.ready = init().then(() => ({ plan, tryCall }));
