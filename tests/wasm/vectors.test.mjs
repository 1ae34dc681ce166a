// The package gives the shared vectors to the digit.

import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";

import { tryCall } from "../../bindings-wasm/pkg/js/node.js";

const folder = new URL("../vectors/", import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith(".json"));
assert.ok(files.length > 0, "there are vectors");

for (const file of files) {
    const { operation, vectors } = JSON.parse(readFileSync(new URL(file, folder), "utf8"));
    // Those with a request_text are no JSON, so that no JavaScript value stands for them.
    for (const { name, request, answer } of vectors.filter((vector) => "request" in vector)) {
        test(`${operation}: ${name}`, () => assert.deepEqual(tryCall(operation, request), answer));
    }
}
