// The packed package in each bundler, without a plugin for WebAssembly. What comes out is run in
// Chromium under a strict Content-Security-Policy and has to give the vectors to the digit.

import assert from "node:assert/strict";
import { readdirSync, renameSync, statSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";

import { createServer as createViteServer } from "vite";

import { browser, calls, check, compare, page, project, run, serve, tool, write } from "./lib.mjs";

let chromium;
let folder;
let server;

before(async () => {
    folder = project("bundlers");
    server = await serve(folder);
    chromium = await browser();
});
after(async () => {
    server?.close();
    await chromium?.close();
});

const vite = tool("vite/bin/vite.js");
const webpack = tool("webpack/bin/webpack.js");
const esbuild = tool("esbuild/bin/esbuild");
const rollup = tool("rollup/dist/bin/rollup");
const resolve = tool("@rollup/plugin-node-resolve");

/** Makes OUT of SCRIPT, a file of the project, and a page OUT/index.html with it. */
const bundlers = {
    vite(script, out) {
        write(folder, "index.html", page(`./${script}`));
        run("node", [vite, "build", "--base=./", `--outDir=${out}`, "--logLevel=warn"], folder);
    },
    webpack(script, out) {
        run("node", [webpack, "--mode=production", `--entry=./${script}`, "-o", out], folder);
        write(folder, `${out}/index.html`, page("main.js", "defer "));
    },
    esbuild(script, out, ...options) {
        const common = ["--bundle", "--minify", "--format=esm", "--log-level=warning"];
        run(esbuild, [script, ...common, `--outfile=${out}/main.js`, ...options], folder);
        write(folder, `${out}/index.html`, page("main.js"));
    },
    rollup(script, out) {
        // Rollup by itself finds no package at all; this is how it is told to look for them.
        run("node", [rollup, script, "-d", out, "-p", resolve, "--silent"], folder);
        write(folder, `${out}/index.html`, page(script));
    },
};

for (const [name, bundle] of Object.entries(bundlers)) {
    test(`${name} takes the default entry, and the page asks for nothing but its script`, async () => {
        bundle("app.js", name);
        server.asked.length = 0;
        await check(chromium, `${server.address}${name}/index.html`);
        const asked = server.asked.filter((path) => path !== "/favicon.ico");
        assert.equal(asked.length, 2, `${asked}`);
    });
}

for (const name of ["vite", "webpack"]) {
    test(`${name} puts the module of lixivium/web beside the script`, async () => {
        const out = `${name}-fetched`;
        bundlers[name]("fetched.js", out);
        const files = readdirSync(join(folder, out), { recursive: true });
        assert.equal(files.filter((file) => file.endsWith(".wasm")).length, 1, `${files}`);
        await check(chromium, `${server.address}${out}/index.html`);
    });

    test(`${name} takes a worker`, async () => {
        const out = `${name}-worker`;
        bundlers[name]("worker-page.js", out);
        await check(chromium, `${server.address}${out}/index.html`);
    });
}

test("vite and esbuild give the address of lixivium/lixivium.wasm", async () => {
    bundlers.vite("vite-address.js", "vite-address");
    await check(chromium, `${server.address}vite-address/index.html`);
    bundlers.esbuild("esbuild-address.js", "esbuild-address", "--loader:.wasm=file");
    await check(chromium, `${server.address}esbuild-address/index.html`);
});

for (const [script, optimizeDeps] of [
    ["app.js", {}],
    ["fetched.js", { exclude: ["lixivium"] }],
]) {
    test(`the development server of vite takes ${script}`, async () => {
        write(folder, "index.html", page(`./${script}`));
        const server = await createViteServer({ root: folder, logLevel: "error", optimizeDeps, server: { port: 0 } });
        try {
            await server.listen();
            await check(chromium, server.resolvedUrls.local[0]);
        } finally {
            await server.close();
        }
    });
}

for (const name of ["webpack", "esbuild", "rollup"]) {
    test(`${name} leaves out what is not used`, () => {
        bundlers[name]("unused.js", `${name}-unused`);
        const scripts = readdirSync(join(folder, `${name}-unused`)).filter((file) => file.endsWith(".js"));
        const [script, ...others] = scripts;
        assert.deepEqual(others, []);
        assert.ok(statSync(join(folder, `${name}-unused`, script)).size < 500);
    });
}

for (const format of ["esm", "cjs"]) {
    test(`esbuild bundles it for Node, ${format}, and the bundle runs without the package`, () => {
        write(folder, "calls.json", JSON.stringify(calls));
        const out = `bundled/${format}.${format === "esm" ? "mjs" : "cjs"}`;
        const options = ["--bundle", "--platform=node", `--format=${format}`, "--log-level=warning"];
        run(esbuild, ["node-app.js", ...options, `--outfile=${out}`], folder);
        const alone = `${folder}-${format}.${format === "esm" ? "mjs" : "cjs"}`;
        renameSync(join(folder, out), alone);
        compare(run("node", [alone]));
    });
}
