// How the page looks and reads: accessibility, widths, requests, time to the first answer.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";

import { dist, launchChromium, openPage, pictures, serve, settled } from "./browsers.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let browser;
before(async () => (browser = await launchChromium()));
after(() => browser.close());

/** Opens everything that can be opened, with something in it. */
async function openAll(page) {
    for (const summary of await page.locator("summary").all()) {
        if (await summary.isVisible()) await summary.click();
    }
    await page.getByRole("button", { name: "Add a fat of my own" }).click();
    await page.getByRole("button", { name: "Add an acid" }).click();
    await page.locator("#plan-fats-4-fat-name").fill("Farm tallow");
    await page.locator("#plan-fats-4-fat-way").selectOption("fatty_acids");
    await page.locator("#plan-fats-4-fat-fatty_acids-C18-1").fill("46,5");
    await page.getByLabel("Several together").check();
    await page.locator("#plan-acids-0-of_fats").fill("1,5");
}

/** The same with answers in it. */
async function putRight(page) {
    await page.locator("#plan-mould-several-1-cavities-count").fill("6");
    await page.locator("#plan-mould-several-1-cavities-volume").fill("90");
    await page.locator("#plan-fats-3-share").fill("0.5");
    await page.locator("#plan-fats-4-share").fill("7.5");
    await page.locator("#plan-fats-4-fat-fatty_acids-C18-1").fill("46.5");
    await page.locator("#plan-fats-4-fat-fatty_acids-C16-0").fill("28");
    await page.locator("#plan-fats-4-fat-fatty_acids-C18-0").fill("25.5");
    await page.locator("#plan-acids-0-of_fats").fill("1.5");
    await page.locator("#amend-lines-fat-1-mass").fill("420");
    await page.locator("#fill-batter-last_cavity").fill("85");
    await page.locator("#swap-out").selectOption("0");
    await page.locator("#swap-rows-0-fat").fill("Tallow, beef");
    await page.locator("#audit-from-plan").click();
    await page.locator("#swap-take").waitFor();
}

/** What a screen reader, or a test, calls each thing that can be used: "button Print". */
function names(page) {
    return page.evaluate(() => {
        const roles = { a: "link", summary: "fold", textarea: "field", input: "field" };
        const used = document.querySelectorAll("a, button, input, select, textarea, summary");
        return [...used]
            .filter((element) => element.checkVisibility())
            .map((element) => {
                const group = element.type === "radio" ? element.closest("fieldset").id : "";
                const tag = element.localName;
                const role = ["radio", "checkbox"].includes(element.type) ? element.type : tag;
                const own = [...(element.labels ?? [])].map((label) => label.textContent).join();
                const name = element.getAttribute("aria-label") ?? (own || element.textContent);
                return `${roles[role] ?? role} ${group} ${name.trim()}`;
            });
    });
}

async function violations(page) {
    await settled(page);
    await page.evaluate(axe);
    const found = await page.evaluate(() =>
        globalThis.axe.run(document, {
            runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
        }),
    );
    return found.violations.map(
        ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(" | ")}`,
    );
}

for (const colorScheme of ["light", "dark"]) {
    for (const width of [360, 768, 1280]) {
        test(`${colorScheme}, ${width} px: no violation of axe, no scrolling sideways`, async (t) => {
            const page = await openPage(browser, undefined, {
                colorScheme,
                viewport: { width, height: 900 },
            });
            t.after(() => page.context().close());
            const stages = [
                ["", async () => {}],
                ["-faults", openAll],
                ["-all", putRight],
            ];
            for (const [name, reach] of stages) {
                await reach(page);
                const sideways = await page.evaluate(
                    () =>
                        document.documentElement.scrollWidth - document.documentElement.clientWidth,
                );
                assert.equal(sideways, 0, name);
                await page.screenshot({
                    path: join(pictures, `${colorScheme}-${width}${name}.png`),
                    fullPage: true,
                });
            }
            const ids = await page.evaluate(() =>
                [...document.querySelectorAll("[id]")].map(({ id }) => id),
            );
            assert.deepEqual(
                ids.filter((id, i) => ids.indexOf(id) !== i),
                [],
            );
            const called = await names(page);
            assert.ok(called.length > 100);
            assert.deepEqual(
                called.filter((name, i) => called.indexOf(name) !== i),
                [],
            );
            // All that can be seen in the stages before can be seen in the last one, but for faults.
            assert.deepEqual(await violations(page), []);
            await page.locator("#plan-superfat").fill("5,5");
            assert.deepEqual(await violations(page), []);
            assert.deepEqual(page.wrong, []);
        });
    }
}

test("axe sees a label that is missing", async () => {
    const page = await openPage(browser);
    await page.evaluate(() => document.querySelector('label[for="plan-superfat"]').remove());
    assert.match((await violations(page)).join(), /label/);
    await page.context().close();
});

test("on a small phone the mould is in sight at once", async (t) => {
    const page = await openPage(browser, undefined, { viewport: { width: 360, height: 740 } });
    t.after(() => page.context().close());
    const box = await page.getByLabel("Box", { exact: true }).boundingBox();
    assert.ok(box.y + box.height < 740, `${box.y}`);
    // Where there is hardly any height, the batch in short does not stay in the way.
    await page.setViewportSize({ width: 320, height: 256 });
    await page.locator("#plan-superfat").scrollIntoViewIfNeeded();
    const ribbon = await page.locator(".ribbon").boundingBox();
    assert.ok(ribbon.y + ribbon.height <= 0, `${ribbon.y}`);
});

test("on paper the mould stands beside the superfat, or nowhere", async (t) => {
    const page = await openPage(browser);
    t.after(() => page.context().close());
    await settled(page);
    await page.emulateMedia({ media: "print" });
    const [superfat, mould] = await Promise.all(
        ["#h-superfat", "#h-picture"].map((name) => page.locator(name).boundingBox()),
    );
    assert.equal(superfat.y, mould.y);
    assert.ok(superfat.x + superfat.width <= mould.x);
    await page.emulateMedia({ media: "screen" });
    await page.getByLabel("None yet").check();
    await page.emulateMedia({ media: "print" });
    assert.ok(await page.locator("#h-picture").isHidden());
});

test("after it has loaded, the page asks for nothing", async (t) => {
    const server = await serve(join(dist, "site"));
    t.after(server.close);
    const page = await openPage(browser, server.address);
    assert.deepEqual(server.asked.toSorted(), ["/", "/lixivium.wasm", "/page.css", "/page.js"]);
    const time = await page.evaluate(
        () => performance.getEntriesByName("first-answer")[0].startTime,
    );
    console.log(`time to the first answer: site ${Math.round(time)} ms`);
    await page.context().setOffline(true);
    await openAll(page);
    await putRight(page);
    assert.equal(server.asked.length, 4);
    assert.deepEqual(page.wrong, []);
    await page.context().close();
});

test("one file from disk asks for nothing at all", async () => {
    const context = await browser.newContext({ offline: true });
    const page = await context.newPage();
    const asked = [];
    page.on("request", (request) => asked.push(request.url().slice(0, 60)));
    await page.goto(`file://${join(dist, "bench-card.html")}`);
    await page.waitForSelector("html[data-ready]");
    assert.equal(asked.filter((address) => !address.startsWith("data:")).length, 1);
    const time = await page.evaluate(
        () => performance.getEntriesByName("first-answer")[0].startTime,
    );
    console.log(`time to the first answer: one file ${Math.round(time)} ms`);
    await context.close();
});
