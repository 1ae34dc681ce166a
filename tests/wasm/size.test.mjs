// How large the module may be, so that it does not grow unseen.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { brotliCompressSync, gzipSync } from "node:zlib";

// With a standard library built for size it is smaller than with that of rustup.
const LARGEST_GZIP = 135_000;

test("the module keeps to its size", (t) => {
    const wasm = readFileSync(new URL("../../bindings-wasm/pkg/lixivium.wasm", import.meta.url));
    const gzip = gzipSync(wasm, { level: 9 }).length;
    const brotli = brotliCompressSync(wasm).length;
    t.diagnostic(`${wasm.length} bytes, ${gzip} gzip, ${brotli} brotli`);
    assert.ok(gzip <= LARGEST_GZIP, `${gzip} bytes gzipped, of ${LARGEST_GZIP}`);
});
