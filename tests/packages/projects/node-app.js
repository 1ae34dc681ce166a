// For Node: nothing is awaited.

import { plan, tryCall, version } from "lixivium";
import calls from "./calls.json" with { type: "json" };

if (!plan || !version()) throw new Error("the package is not whole");
process.stdout.write(JSON.stringify(calls.map(([operation, request]) => tryCall(operation, request))));
