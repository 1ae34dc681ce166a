// What goes wrong at a bench on the page: numbers typed in other ways, rows left empty, damaged and
// huge files, the same recipe in two tabs.

import assert from "node:assert/strict";
import { test } from "node:test";

import { assertShows, chromium, exported, lixivium } from "./bench.mjs";
import { onDisk, openPage, ready } from "./browsers.mjs";

const { browser, withPage } = chromium();

test("a number written in another way is offered as the library reads it", () =>
    withPage(async (page) => {
        const cases = [
            ["Inside length", "1.234,5", ["1234.5"]],
            ["Inside length", "1,234.5", ["1234.5"]],
            ["Inside length", "1 234,5", ["1234.5"]],
            ["Inside length", "1'234", ["1234"]],
            ["Inside length", "1,234", ["1.234", "1234"]],
            ["Inside length", "1,234,567", ["1234567"]],
            ["Inside length", "9½ in", ["9 1/2 in"]],
            ["Inside length", "２４，５", ["24.5"]],
            ["Inside length", "2 lb 3", []],
            ["How many", "2,5", []],
            ["How many", "1,000", ["1000"]],
            ["How many", "１２", ["12"]],
        ];
        for (const [label, typed, offered] of cases) {
            const field = page.getByLabel(label, { exact: true });
            await field.fill(typed);
            const fault = page.locator(`#${await field.getAttribute("id")}-fault`);
            assert.deepEqual(
                await fault.getByRole("button").allTextContents(),
                offered.map((text) => `Write ${text}`),
                typed,
            );
            if (offered.length) {
                await fault.getByRole("button").last().click();
                assert.equal(await field.inputValue(), offered.at(-1));
            }
            await field.fill(label === "How many" ? "" : "24");
        }
        await page.getByLabel("How many", { exact: true }).fill("007");
        assert.ok(await page.locator("#card-answer").isVisible());
        assert.equal((await exported(page)).mould.box.count, 7);
    }));

test("rows left empty are in the way of nothing", () =>
    withPage(async (page) => {
        await page.getByRole("button", { name: "Add a fat", exact: true }).click();
        const total = await page.locator("#value-total-fats").getAttribute("value");
        await page.getByLabel("By weight").check();
        assert.equal(await page.locator("#value-total-fats").getAttribute("value"), total);
        await page.getByLabel("Weight of fat 1").fill("100");
        await page.getByRole("button", { name: "Add an additive" }).click();
        await page.getByLabel("Additive 2", { exact: true }).fill("Honey");
        await page.getByLabel("Amount of additive 2").fill("20 g");
        await page.getByLabel("Additive 1", { exact: true }).fill("");
        await page.getByLabel("Amount of additive 1").fill("");
        await page.getByRole("button", { name: "Scale the recipe to fill it" }).click();
        await page.locator("#scale-to-fill").waitFor({ state: "detached" });
        const answer = lixivium.plan(await exported(page));
        assert.equal(answer.mould.state, "full");
        await assertShows(page, answer);
    }));

test("a fat that was forgotten is one of which nothing went in", () =>
    withPage(async (page) => {
        await page.getByText("It went wrong").click();
        const weight = page.getByLabel("Coconut oil was off, by weight");
        const how = page.getByLabel("That is for Coconut oil");
        await weight.fill("0");
        const plan = await exported(page);
        const { fats } = lixivium.plan(plan);
        const masses = fats.map(({ mass }) => mass.value);
        const { before } = lixivium.amend({ plan, actual: { fats: masses.with(1, 0) } });
        const shown = page.getByRole("row", { name: /^Superfat −?\d/ }).getByRole("cell").first();
        const superfat = `${before.superfat.value.toFixed(2)}\u00a0%`.replace("-", "\u2212");
        assert.equal(await shown.textContent(), superfat);
        await how.selectOption({ label: "too little" });
        await weight.fill(String(masses[1]));
        assert.equal(await shown.textContent(), superfat);

        const fault = page.locator("#amend-lines-fat-2-mass-fault");
        await weight.fill("500");
        assert.match(await fault.textContent(), /^212\sg were planned; accepted: at most so much/);
        await how.selectOption({ label: "in all" });
        await weight.fill("-5");
        assert.match(await fault.textContent(), /not below 0/);
    }));

test("a file that is too large is refused before it is read", () =>
    withPage(async (page) => {
        await page.locator("#shelf-file").setInputFiles({
            name: "huge.json",
            mimeType: "application/json",
            buffer: Buffer.alloc(2 ** 20 + 1, " "),
        });
        await page
            .locator("#shelf-told")
            .filter({ hasText: "huge.json is too large for a recipe" })
            .waitFor();
    }));

test("no digit of a file is lost", () =>
    withPage(async (page) => {
        const mass = "500.000000000000000001";
        const rest = '"superfat": 5, "water": {"lye_concentration": 33}';
        await page.locator("#shelf-file").setInputFiles({
            name: "fine.json",
            mimeType: "application/json",
            buffer: Buffer.from(`{"fats": [{"fat": "olive-oil", "mass": ${mass}}], ${rest}}`),
        });
        await page.locator("#card-title").filter({ hasText: "fine" }).waitFor();
        assert.equal(await page.getByLabel("Weight of fat 1").inputValue(), mass);
        const fats = [{ fat: "olive-oil", mass }];
        await assertShows(
            page,
            lixivium.plan({ fats, superfat: 5, water: { lye_concentration: 33 } }),
        );
    }));

test("a file that says one thing twice is refused", () =>
    withPage(async (page) => {
        const told = page.locator("#shelf-told");
        const take = (name, text) =>
            page
                .locator("#shelf-file")
                .setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
        await take("twice.json", '{"fats": [{"fat": "olive-oil", "mass": 5, "mass": 6}], "superfat": 5}');
        await told.filter({ hasText: "twice.json has the same name twice" }).waitFor();
        await take("deep.json", `{"fats": ${"[".repeat(9e4)}${"]".repeat(9e4)}}`);
        await told.filter({ hasText: "deep is no recipe" }).waitFor();
        const name = 'tallow \\"mass\\": 5';
        const own = `{"name": "${name}", "saponification_value": 197}`;
        await take("once.json", `{"fats": [{"fat": ${own}, "mass": 500}], "superfat": 5}`);
        await page.locator("#card-title").filter({ hasText: "once" }).waitFor();
    }));

test("a recipe that is kept without all its parts is still there", async () => {
    const plan = {
        fats: [{ fat: "olive-oil", mass: 500 }],
        superfat: 5,
        water: { lye_concentration: 33 },
    };
    const damaged = { fats: [{ fat: "lard", mass: [1] }], acids: [null], additives: 7 };
    const context = await browser().newContext();
    await context.addInitScript(
        (kept) => localStorage.setItem("lixivium-bench", kept),
        JSON.stringify({
            open: "b",
            entries: [
                { id: "a", name: "Plain", plan, ticked: null },
                { id: "b", name: "Damaged", plan: damaged },
            ],
        }),
    );
    const page = await context.newPage();
    await page.goto(onDisk);
    await ready(page);
    assert.deepEqual(await page.locator("#shelf-open option").allTextContents(), ["Plain"]);
    await assertShows(page, lixivium.plan(plan));
    await context.close();
});

test("the same recipe in two tabs: what is typed in one is seen in the other", async () => {
    const first = await openPage(browser());
    const second = await first.context().newPage();
    await second.goto(onDisk);
    await ready(second);
    await first.getByLabel("Superfat", { exact: true }).fill("7");
    await second.waitForFunction(() => document.getElementById("plan-superfat").value === "7");
    await second.getByLabel("Alkali in the lye").fill("33");
    await first.waitForFunction(
        () => document.getElementById("plan-water-lye_concentration").value === "33",
    );
    assert.equal(await first.getByLabel("Superfat", { exact: true }).inputValue(), "7");
    await first.context().close();
});

test("a recipe has a name, and no other one has the same", () =>
    withPage(async (page) => {
        await page.getByRole("button", { name: "Duplicate" }).click();
        await page.locator("#shelf-told").filter({ hasText: "a copy of" }).waitFor();
        const name = page.getByLabel("Its name");
        await name.fill("Ferry landing bar (example)");
        await name.press("Enter");
        assert.equal(await name.inputValue(), "Ferry landing bar (example) (2)");
        await name.fill(" ");
        await name.blur();
        assert.equal(await name.inputValue(), "Batch");
        assert.equal(await page.locator("#card-title").textContent(), "Batch");
    }));

test("a link or a question of the shelf goes when the recipe is another", () =>
    withPage(async (page) => {
        await page.getByRole("button", { name: "Share", exact: true }).click();
        await page.getByLabel("Link to this recipe").waitFor();
        await page.getByLabel("Superfat", { exact: true }).fill("9");
        assert.equal(await page.getByLabel("Link to this recipe").count(), 0);
        await page.getByRole("button", { name: "Duplicate" }).click();
        await page.getByRole("button", { name: "Remove", exact: true }).click();
        await page.getByLabel("Recipe on the bench").selectOption({ index: 0 });
        assert.equal(await page.locator("#shelf-remove-yes").count(), 0);
        // A text that is being pasted stays.
        await page.getByRole("button", { name: "Paste", exact: true }).click();
        await page.getByLabel("Recipe as text").fill("Lard 400 g");
        await page.getByLabel("Superfat", { exact: true }).fill("8");
        assert.equal(await page.getByLabel("Recipe as text").inputValue(), "Lard 400 g");
    }));

test("who cannot see the page hears once what came of what was typed", () =>
    withPage(async (page) => {
        await page.evaluate(() => {
            globalThis.heard = [];
            const announcer = document.getElementById("announcer");
            new MutationObserver(() => heard.push(announcer.textContent)).observe(announcer, {
                childList: true,
            });
        });
        const hears = async (pattern) => {
            await page.waitForFunction(() => heard.length);
            await page.waitForTimeout(1000);
            const [first, ...more] = await page.evaluate(() => heard.splice(0));
            assert.match(first, pattern);
            assert.deepEqual(more, []);
        };
        await hears(/^Weigh water/);
        await page.getByLabel("Superfat", { exact: true }).fill("5,5");
        await hears(/^One entry is wanted\. Superfat: the decimal mark/);
        await page.getByLabel("Superfat", { exact: true }).fill("5.5");
        await hears(/^Weigh water/);
        await page.getByText("It went wrong").click();
        await page.getByLabel("Lard was off, by weight").fill("12,0");
        await hears(/^Lard was off, by weight: the decimal mark/);
        await page.getByLabel("Lard was off, by weight").fill("12");
        await page.getByLabel("That is for Lard").selectOption({ label: "too much" });
        await hears(/^Now add: Sodium hydroxide, [\d.]+\sg, Water, [\d.]+\sg$/);
    }));

test("with the keyboard alone: pasted, removed, scaled, and the focus is never lost", () =>
    withPage(async (page) => {
        const focused = () => page.evaluate(() => document.activeElement.id);
        const press = async (id) => {
            await page.locator(`#${id}`).focus();
            await page.keyboard.press("Enter");
        };
        await press("shelf-paste");
        await page.keyboard.type("Lard 300 g");
        await page.keyboard.press("Enter");
        await page.keyboard.type("Coconut oil 100 g");
        await page.keyboard.press("Tab");
        await page.keyboard.press("Enter");
        await page.locator("#card-title").filter({ hasText: "Pasted recipe" }).waitFor();
        assert.equal(await page.locator("#weigh-fat-2").getAttribute("value"), "100");
        assert.equal(await focused(), "shelf-paste");

        await press("shelf-remove");
        await page.keyboard.press("Shift+Tab");
        await page.keyboard.press("Enter");
        await page.locator("#card-title").filter({ hasText: "Ferry landing bar" }).waitFor();
        assert.equal(await focused(), "shelf-remove");

        await page.getByLabel("By weight").check();
        await page.getByLabel("Weight of fat 1").fill("100");
        await press("scale-to-fill");
        await page.locator("#scale-to-fill").waitFor({ state: "detached" });
        assert.equal(await focused(), "card");

        await page.getByText("A fat has run out").click();
        await page.getByLabel("Fat that has run out").selectOption({ label: "Lard" });
        await page.getByLabel("In its place 1", { exact: true }).fill("Cocoa butter");
        await press("swap-take");
        await page.locator("#swap-take").waitFor({ state: "detached" });
        assert.match(
            await page.evaluate(() => document.activeElement.textContent),
            /^A fat has run out/,
        );
    }));
