// How large the module may be, so that it does not grow unseen.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { brotliCompressSync, gzipSync } from "node:zlib";

// With the standard library of rustup, which is not built for size, it is larger.
const build = new URL("../../bindings-wasm/build", import.meta.url).pathname;
const used = execFileSync(build, ["--toolchain"], { encoding: "utf8" }).trim();
const LARGEST_GZIP = used === "rustup" ? 115_000 : 90_000;

test("the module keeps to its size", (t) => {
    const wasm = readFileSync(new URL("../../bindings-wasm/pkg/lixivium.wasm", import.meta.url));
    const gzip = gzipSync(wasm, { level: 9 }).length;
    const brotli = brotliCompressSync(wasm).length;
    t.diagnostic(`${wasm.length} bytes, ${gzip} gzip, ${brotli} brotli`);
    assert.ok(gzip <= LARGEST_GZIP, `${gzip} bytes gzipped, of ${LARGEST_GZIP}`);
});
