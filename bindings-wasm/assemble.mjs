// Puts the npm package together in bindings-wasm/pkg and prints its sizes; called by `build`.
//
//   node bindings-wasm/assemble.mjs FOLDER
//
// FOLDER has lixivium.wasm and the JavaScript that wasm-bindgen wrote for it.

import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { brotliCompressSync, gzipSync } from "node:zlib";

import { buildSync, transformSync } from "esbuild";

const built = process.argv[2];
const here = new URL("./", import.meta.url).pathname;
const root = `${here}../`;
const pkg = `${here}pkg/`;
const target = ["es2022"];

rmSync(pkg, { recursive: true, force: true });
mkdirSync(`${pkg}js`, { recursive: true });
mkdirSync(`${pkg}cjs`);

const wasm = readFileSync(`${built}/lixivium.wasm`);
writeFileSync(`${pkg}lixivium.wasm`, wasm);
for (const name of readdirSync(`${here}js`)) {
    cpSync(`${here}js/${name}`, `${pkg}js/${name}`);
}
// What the module imports becomes one object, which is smaller than a module with fifty exports.
const imported = [];
const others = readFileSync(`${built}/lixivium_bg.js`, "utf8").replaceAll(
    /^export function (f\d+\([^]*?^\})\n/gm,
    (_, method) => (imported.push(method), ""),
);
const glue = `${others}export const imports = { js: { ${imported} } };`;
writeFileSync(`${pkg}js/glue.js`, transformSync(glue, { target, minifyWhitespace: true }).code);
// Code and tables compress better apart.
const shortBlocks = { level: 9, memLevel: 7 };
writeFileSync(
    `${pkg}js/embedded.js`,
    "// lixivium.wasm, compressed with gzip, in base64. Made by bindings-wasm/build.\n" +
        `export const embedded =\n    "${gzipSync(wasm, shortBlocks).toString("base64")}";\n`,
);

// For require(): the same files as CommonJS. web.js is left out: a module finds its own address,
// a script does not.
for (const name of readdirSync(`${pkg}js`).filter((name) => name !== "web.js")) {
    const text = readFileSync(`${pkg}js/${name}`, "utf8").replaceAll(/(?<=from "\.\/\w+)\.js"/g, '.cjs"');
    if (name.endsWith(".d.ts")) {
        writeFileSync(`${pkg}cjs/${name.replace(/ts$/, "cts")}`, text);
    } else {
        const { code } = transformSync(text, { format: "cjs", platform: "node", target });
        writeFileSync(`${pkg}cjs/${name.replace(/js$/, "cjs")}`, code);
    }
}

// For <script src>: one file that makes the global `lixivium`.
buildSync({
    entryPoints: [`${pkg}js/inline.js`],
    outfile: `${pkg}lixivium.global.js`,
    bundle: true,
    minify: true,
    format: "iife",
    globalName: "lixivium",
    target,
    logLevel: "warning",
});

const cargo = readFileSync(`${root}Cargo.toml`, "utf8");
const [, version] = /^version = "(.*)"$/m.exec(cargo);
const manifest = JSON.parse(readFileSync(`${here}package.in.json`, "utf8"));
writeFileSync(`${pkg}package.json`, `${JSON.stringify({ ...manifest, version }, null, 2)}\n`);
cpSync(`${here}README.md`, `${pkg}README.md`);
for (const name of ["CHANGELOG.md", "LICENSE-APACHE", "LICENSE-MIT"]) {
    cpSync(`${root}${name}`, `${pkg}${name}`);
}

/** Prints how large something is, as it is and as it travels. */
function size(what, bytes) {
    const gzip = gzipSync(bytes, { level: 9 }).length;
    const brotli = brotliCompressSync(bytes).length;
    console.log(`${what}: ${bytes.length} bytes, ${gzip} gzip, ${brotli} brotli`);
}

size("lixivium.wasm", wasm);
size("with all its JavaScript, in one file", readFileSync(`${pkg}lixivium.global.js`));
