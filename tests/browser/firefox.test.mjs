// The one file on disk in Firefox.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch } from "puppeteer-core";

import { onDisk } from "./browsers.mjs";

let browser;
before(async () => {
    browser = await launch({
        browser: "firefox",
        executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr",
        headless: true,
        timeout: 180_000,
        // Without this Firefox lets a file on disk read its neighbours, which browsers do not.
        extraPrefsFirefox: { "security.fileuri.strict_origin_policy": true },
    });
});
after(() => browser.close());

test("a batch is typed in, faults stand at their fields, a reload keeps it", async () => {
    const page = await browser.newPage();
    const wrong = [];
    page.on("pageerror", (error) => wrong.push(error.message));
    await page.goto(onDisk);
    await page.waitForSelector("html[data-ready]");
    const type = (id, text) =>
        page.$eval(
            `#${id}`,
            (input, text) => {
                input.value = text;
                input.dispatchEvent(new Event("input", { bubbles: true }));
            },
            text,
        );
    const exact = (id) => page.$eval(`#${id}`, (data) => data.value);
    await type("plan-superfat", "7,5");
    await page.waitForSelector('#plan-superfat[aria-invalid="true"]');
    await type("plan-superfat", "7.5");
    await page.waitForSelector("#plan-superfat:not([aria-invalid])");
    const naoh = await exact("weigh-naoh");
    assert.match(naoh, /^\d+(\/\d+)?$/);
    await page.click("#tick-water");
    await page.reload();
    await page.waitForSelector("html[data-ready]");
    assert.equal(await page.$eval("#plan-superfat", (input) => input.value), "7.5");
    assert.equal(await exact("weigh-naoh"), naoh);
    assert.ok(await page.$eval("#tick-water", (box) => box.checked));

    await page.click("#shelf-share");
    const link = await page.$eval("#shelf-link", (input) => input.value);
    await page.evaluate(() => localStorage.clear());
    await page.goto("about:blank");
    await page.goto(link);
    await page.waitForSelector("html[data-ready]");
    assert.equal(await exact("weigh-naoh"), naoh);
    assert.equal(await page.evaluate(() => location.hash), "");
    assert.deepEqual(wrong, []);
});
