// A project that has the packed package installed, a server, a browser, and the shared vectors.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { basename, extname, join } from "node:path";
import { fileURLToPath } from "node:url";

import { chromium } from "playwright-core";

const here = fileURLToPath(new URL(".", import.meta.url));

/** A file of the repository, by its path from here; what it says; and a copy of it. */
export const beside = (path) => join(here, path);
export const text = (path) => readFileSync(beside(path), "utf8");
export const copy = (path, folder) => cpSync(beside(path), join(folder, basename(path)));

/** The package as `npm pack` made it; set by the stage. */
export const packed = process.env.LXV_TARBALL;
assert.ok(existsSync(packed ?? ""), "LXV_TARBALL names the packed package");

/** The program of that name which tests/packages has installed. */
export const tool = (path) => beside(`node_modules/${path}`);

/** A fresh folder in which `npm install` has put the packed package, with the files of projects/. */
export function project(name) {
    const parent = process.env.LXV_PROJECTS;
    mkdirSync(parent, { recursive: true });
    const folder = mkdtempSync(join(parent, `${name}-`));
    cpSync(beside("projects"), folder, { recursive: true });
    write(folder, "package.json", JSON.stringify({ private: true, type: "module" }));
    // The package has no dependencies, so that nothing has to be asked of a registry.
    run("npm", ["install", "--offline", "--no-audit", "--no-fund", "--silent", packed], folder);
    return folder;
}

export function write(folder, name, text) {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
}

/** What a program prints; it throws with all of it where the program fails. */
export function run(program, args, folder) {
    try {
        return execFileSync(program, args, {
            cwd: folder,
            encoding: "utf8",
            maxBuffer: 2 ** 28,
            stdio: ["ignore", "pipe", "pipe"],
        });
    } catch (error) {
        throw new Error(`${program} ${args.join(" ")} failed:\n${error.stdout}${error.stderr}`);
    }
}

/** The shared vectors of requests that are JSON values. */
export const vectors = readdirSync(beside("../vectors"))
    .filter((name) => name.endsWith(".json"))
    .flatMap((name) => {
        const { operation, vectors } = JSON.parse(text(`../vectors/${name}`));
        const asked = vectors.filter((vector) => "request" in vector);
        return asked.map(({ request, answer }) => ({ operation, request, answer }));
    });
assert.ok(vectors.length > 0);

/** Each operation and request of the vectors. */
export const calls = vectors.map(({ operation, request }) => [operation, request]);

/** Compares the JSON text of the answers to `calls` with the vectors, one at a time. */
export function compare(found) {
    const each = JSON.parse(found);
    assert.equal(each.length, vectors.length);
    for (const [i, { operation, request, answer }] of vectors.entries()) {
        assert.deepEqual(each[i], answer, `${operation} ${JSON.stringify(request)}`);
    }
}

/** The page of a project: one script. */
export const page = (script, type = 'type="module" ') =>
    `<!doctype html><meta charset="utf-8"><title>Test</title><script ${type}src="${script}"></script>\n`;

/** Only scripts of the page's own place, and WebAssembly. */
export const POLICY =
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; connect-src 'self'; worker-src 'self'";

const types = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".wasm": "application/wasm",
};

/** Serves a folder under a Content-Security-Policy; gives the address and what was asked for. */
export async function serve(folder, policy = POLICY) {
    const asked = [];
    const server = createServer((request, response) => {
        const path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
        asked.push(path);
        const file = join(folder, path);
        if (!existsSync(file)) {
            response.writeHead(404, { "content-type": "text/html" }).end("<!doctype html>nothing here");
            return;
        }
        response.writeHead(200, {
            "content-security-policy": policy,
            "content-type": types[extname(file)] ?? "application/octet-stream",
        });
        response.end(readFileSync(file));
    });
    await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
    const { port } = server.address();
    return { address: `http://127.0.0.1:${port}/`, asked, close: () => server.close() };
}

/** A slow machine is no fault: how long to wait, in milliseconds. */
const PATIENCE = 120_000;

/** A headless Chromium; `LXV_CHROMIUM` names the program where it is not on the path. */
export function browser() {
    const found = process.env.LXV_CHROMIUM ?? run("which", ["chromium"]).trim();
    const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"];
    const quiet = ["--disable-background-networking", "--disable-component-update", "--disable-sync"];
    return chromium.launch({ executablePath: found, args: [...args, ...quiet], timeout: PATIENCE });
}

/** Opens a page, in which `ready` gives the package, and compares all answers with the vectors. */
export async function check(browser, address) {
    const tab = await browser.newPage();
    try {
        const errors = [];
        tab.on("pageerror", (error) => errors.push(error.message));
        tab.on("console", (message) => {
            // Chromium asks each server for an icon of the page.
            const icon = message.location().url.endsWith("/favicon.ico");
            if (message.type() === "error" && !icon) errors.push(message.text());
        });
        await tab.goto(address, { timeout: PATIENCE });
        const found = await tab.evaluate(async (calls) => {
            const { tryCall } = await globalThis.ready;
            const answers = [];
            for (const [operation, request] of calls) {
                answers.push(await tryCall(operation, request));
            }
            return JSON.stringify(answers);
        }, calls);
        compare(found);
        assert.deepEqual(errors, []);
    } finally {
        await tab.close();
    }
}
