// The same where Vite gives the address of the file.

import { LixiviumError, call, init, plan, tryCall } from "lixivium/web";
import address from "lixivium/lixivium.wasm?url";

globalThis.ready = init(address).then(() => ({ LixiviumError, call, plan, tryCall }));
