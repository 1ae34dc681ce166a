// The same with the entry that fetches the module.

import { LixiviumError, call, init, plan, tryCall } from "lixivium/web";

globalThis.ready = init().then(() => ({ LixiviumError, call, plan, tryCall }));
