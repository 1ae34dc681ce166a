// Browsers for the tests, the pages in them, and a server of files that counts what it is asked.

import { mkdirSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import { dirname, extname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
export const dist = resolve(here, "../../examples/page/dist");
export const onDisk = pathToFileURL(join(dist, "bench-card.html")).href;

/** Where screenshots and printed pages go, to be looked at. */
export const pictures = resolve(process.env.PICTURES ?? join(here, "pictures"));
mkdirSync(pictures, { recursive: true });

export const chromiumFlags = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
];

export function launchChromium() {
    return chromium.launch({
        executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
        args: chromiumFlags,
        timeout: 180_000,
    });
}

/** A page that fails its test when something goes wrong in it that nobody sees. */
export async function openPage(browser, address = onDisk, options = {}) {
    const context = await browser.newContext({
        viewport: { width: 1280, height: 900 },
        ...options,
    });
    context.setDefaultTimeout(90_000);
    const page = await context.newPage();
    page.wrong = [];
    page.on("pageerror", (error) => page.wrong.push(error.message));
    page.on("console", (message) => message.type() === "error" && page.wrong.push(message.text()));
    await page.goto(address);
    await ready(page);
    return page;
}

/** Waits until the page has answered for the first time. */
export function ready(page) {
    return page.waitForSelector("html[data-ready]");
}

/** Waits until nothing is still to be reckoned. */
export function settled(page) {
    return page.waitForFunction(() => !document.querySelector("[aria-busy]"));
}

const KINDS = {
    ".html": "text/html",
    ".js": "text/javascript",
    ".css": "text/css",
    ".wasm": "application/wasm",
};

/** Serves a folder: { address, asked, close }. */
export async function serve(folder) {
    const asked = [];
    const server = createServer((request, response) => {
        const { pathname } = new URL(request.url, "http://localhost");
        asked.push(pathname);
        const path = pathname === "/" ? "/index.html" : pathname;
        try {
            const body = readFileSync(join(folder, path));
            response.writeHead(200, { "content-type": KINDS[extname(path)] });
            response.end(body);
        } catch {
            response.writeHead(404).end();
        }
    });
    await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
    return {
        address: `http://127.0.0.1:${server.address().port}/`,
        asked,
        close: () => {
            server.closeAllConnections();
            server.close();
        },
    };
}

/** The exact number that an element of the page shows. */
export function shown(page, id) {
    return page.locator(`#${id}`).getAttribute("value");
}
