// How large the module and what starts it may be together, so that they do not grow unseen.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { brotliCompressSync, gzipSync } from "node:zlib";

const bindings = new URL("../../bindings-wasm/", import.meta.url).pathname;
const { buildSync } = createRequire(bindings)("esbuild");

// With the standard library of rustup, which is not built for size, it is larger.
const used = execFileSync(`${bindings}build`, ["--toolchain"], { encoding: "utf8" }).trim();
const LARGEST_GZIP = used === "rustup" ? 118_000 : 90_000;

test("the module and the JavaScript of lixivium/web keep to their size", (t) => {
    const web = buildSync({
        entryPoints: [`${bindings}pkg/js/web.js`],
        bundle: true,
        minify: true,
        format: "esm",
        write: false,
    });
    const files = [readFileSync(`${bindings}pkg/lixivium.wasm`), web.outputFiles[0].contents];
    const sum = (length) => files.map(length).reduce((a, b) => a + b);
    const gzip = sum((file) => gzipSync(file, { level: 9 }).length);
    const brotli = sum((file) => brotliCompressSync(file).length);
    t.diagnostic(`${sum((file) => file.length)} bytes, ${gzip} gzip, ${brotli} brotli`);
    assert.ok(gzip <= LARGEST_GZIP, `${gzip} bytes gzipped, of ${LARGEST_GZIP}`);
});
