// What each bundler is given: a page that imports the package by its name.

import { LixiviumError, call, init, plan, tryCall } from "lixivium";

globalThis.ready = init().then(() => ({ LixiviumError, call, plan, tryCall }));
