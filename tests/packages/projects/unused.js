// Nothing of what is imported is used, so that nothing of it is in the bundle.

import { init, plan } from "lixivium";

globalThis.ready = "nothing";
