// The packed package in Chromium without a bundler: as a module, as a plain script, from disk, in
// workers, under a Content-Security-Policy that is strict or too strict.

import assert from "node:assert/strict";
import { cpSync, readFileSync, renameSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";

import { browser, check, copy, page, POLICY, project, run, serve, text, tool, write } from "./lib.mjs";

let chromium;
let folder;
let server;

before(async () => {
    folder = project("pages");
    server = await serve(folder);
    chromium = await browser();
});
after(async () => {
    server?.close();
    await chromium?.close();
});

const scripts = {
    "a module script that fetches the module": "plain.js",
    "a module script with the module inside": "plain-inline.js",
    "a worker that loads scripts": "global-worker-page.js",
    "a worker to which the page sends the compiled module": "sent-page.js",
};
for (const [name, script] of Object.entries(scripts)) {
    test(`${name}, under a strict policy`, async () => {
        write(folder, "page.html", page(script));
        await check(chromium, `${server.address}page.html`);
    });
}

const global = page("node_modules/lixivium/lixivium.global.js", "") + page("global.js", "");

test("two plain scripts, under a strict policy", async () => {
    write(folder, "page.html", global);
    await check(chromium, `${server.address}page.html`);
});

test("two plain scripts from disk", async () => {
    write(folder, "page.html", global);
    await check(chromium, pathToFileURL(join(folder, "page.html")).href);
});

test("one file of HTML from disk", async () => {
    const options = ["--bundle", "--minify", "--format=esm", "--outfile=whole.js", "--log-level=warning"];
    run(tool("esbuild/bin/esbuild"), ["app.js", ...options], folder);
    const script = readFileSync(join(folder, "whole.js"), "utf8").replaceAll("</script", "<\\/script");
    const whole = `<!doctype html><meta charset="utf-8"><title>Test</title><script type="module">${script}</script>`;
    // In a folder of its own, with nothing beside it.
    write(`${folder}-alone`, "page.html", whole);
    await check(chromium, pathToFileURL(join(`${folder}-alone`, "page.html")).href);
});

/** What `init` of a page is rejected with. */
async function rejection(address) {
    const tab = await chromium.newPage();
    await tab.goto(address);
    const says = await tab.evaluate(() => globalThis.ready.then(() => "started", (error) => error.message));
    await tab.close();
    return says;
}

test("a policy that forbids WebAssembly is named", async () => {
    const strict = await serve(folder, POLICY.replace(" 'wasm-unsafe-eval'", ""));
    write(folder, "page.html", page("plain-inline.js"));
    const says = await rejection(`${strict.address}page.html`);
    strict.close();
    assert.match(says, /Content-Security-Policy needs 'wasm-unsafe-eval' in its script-src/);
});

test("a module that is not there is named", async () => {
    const wasm = join(folder, "node_modules/lixivium/lixivium.wasm");
    write(folder, "page.html", page("plain.js"));
    renameSync(wasm, `${wasm}.away`);
    const says = await rejection(`${server.address}page.html`);
    renameSync(`${wasm}.away`, wasm);
    assert.match(says, /lixivium\.wasm answered 404; give init\(\) the address/);
});

test("a call that fails leaves the page usable", async () => {
    write(folder, "page.html", page("plain-inline.js"));
    const tab = await chromium.newPage();
    await tab.goto(`${server.address}page.html`);
    const found = await tab.evaluate(async () => {
        const request = {
            fats: [{ fat: { name: "tallow of the farm", saponification_value: 198 }, mass: 1000 }],
            superfat: 0,
            alkali: { koh_share: 100 },
            water: { lye_concentration: 30 },
        };
        const { plan } = await globalThis.ready;
        const failing = {
            get fats() {
                // As the module does where it fails inside.
                throw new WebAssembly.RuntimeError("unreachable");
            },
        };
        let says;
        try {
            plan(failing);
        } catch (error) {
            says = error.message;
        }
        return { says, koh_mass: plan(request).koh_mass };
    });
    await tab.close();
    assert.match(found.says, /failed inside.*the next call works again/);
    assert.deepEqual(found.koh_mass, { value: 198, exact: "198" });
});

test("examples/web shows the lye from disk, and what is wrong with what is typed", async () => {
    copy("../../examples/web/index.html", folder);
    cpSync(join(folder, "node_modules/lixivium/lixivium.global.js"), join(folder, "lixivium.global.js"));
    assert.ok(text("../../examples/web/index.html").split("\n").length <= 40);
    const { plan } = createRequire(join(folder, "index.js"))("lixivium");
    const lye = (canola, coconut, superfat) => {
        const batch = plan({
            fats: [
                { fat: "canola-oil", mass: canola },
                { fat: "coconut-oil", mass: coconut },
            ],
            superfat,
            water: { lye_concentration: 30 },
            scale_step: "0.1 g",
        });
        return `${batch.naoh_mass.value} g sodium hydroxide in ${batch.water_mass.value} g water`;
    };

    const tab = await chromium.newPage();
    await tab.goto(pathToFileURL(join(folder, "index.html")).href);
    const shows = (hasText) => tab.locator("output", { hasText }).waitFor();
    await shows(lye("1 lb 4 oz", 210, 6));
    await shows("Lye burns");
    await tab.getByLabel("Canola oil").fill("480");
    await tab.getByLabel("Superfat").fill("7.5 %");
    await shows(lye(480, 210, 7.5));
    await tab.getByLabel("Coconut oil").fill("210,5");
    await shows("fats[1].mass: the decimal mark is a point here");
    await tab.close();
});
