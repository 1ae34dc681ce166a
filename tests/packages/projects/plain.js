// A page without a bundler, which has the folder of the package on its server.

import { init, tryCall } from "./node_modules/lixivium/js/web.js";

globalThis.ready = init().then(() => ({ tryCall }));
