// The same where esbuild gives the address of the file.

import { LixiviumError, call, init, plan, tryCall } from "lixivium/web";
import address from "lixivium/lixivium.wasm";

globalThis.ready = init(new URL(address, import.meta.url)).then(() => ({ LixiviumError, call, plan, tryCall }));
