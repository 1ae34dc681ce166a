// A worker thread answers calls.json.

import { readFileSync } from "node:fs";
import { isMainThread, parentPort, Worker } from "node:worker_threads";

import { tryCall } from "lixivium";

if (isMainThread) {
    new Worker(new URL(import.meta.url)).on("message", (text) => process.stdout.write(text));
} else {
    const calls = JSON.parse(readFileSync("calls.json", "utf8"));
    parentPort.postMessage(JSON.stringify(calls.map((call) => tryCall(...call))));
}
