// What import and require give is the same, and its errors can be told apart from others.

import assert from "node:assert/strict";
import { createRequire } from "node:module";

import * as imported from "lixivium";

const required = createRequire(import.meta.url)("lixivium");

assert.deepEqual(Object.keys(required).sort(), Object.keys(imported).sort());
for (const { LixiviumError, plan, init } of [imported, required]) {
    await init();
    assert.throws(
        () => plan({ colour: 1 }),
        (error) => {
            assert.ok(error instanceof LixiviumError && error instanceof Error);
            assert.equal(error.name, "LixiviumError");
            assert.ok(error.stack.startsWith("LixiviumError: "));
            const codes = error.faults.map(({ code }) => code);
            assert.deepEqual(codes, ["unknown_key", "missing", "missing", "missing"]);
            return true;
        },
    );
}
