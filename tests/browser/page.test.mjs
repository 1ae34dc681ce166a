// A maker's work on the page, in Chromium, from the one file on disk.

import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { assertShows, chromium, exported, lixivium, root, weights } from "./bench.mjs";
import { onDisk, openPage, pictures, ready, settled, shown } from "./browsers.mjs";

const { browser, withPage } = chromium();

/** Types the batch of `harvest` into a new batch. */
async function typeHarvest(page) {
    await page.getByRole("button", { name: "New batch" }).click();
    await page.getByLabel("Its name").fill("Harvest loaf");
    await page.getByLabel("Cavities", { exact: true }).check();
    await page.getByLabel("How many cavities").fill("9");
    await page.getByLabel("Volume of one").fill("120");
    await page.getByLabel("Fat 1", { exact: true }).fill("Olive oil");
    await page.getByLabel("Share of fat 1").fill("55");
    await page.getByLabel("Fat 2", { exact: true }).fill("Shea butter, unrefined");
    await page.getByLabel("Share of fat 2").fill("20");
    await page.getByRole("button", { name: "Add a fat", exact: true }).click();
    await page.getByLabel("Fat 3", { exact: true }).fill("coconut oil");
    await page.getByLabel("Share of fat 3").fill("25");
    await page.getByLabel("Superfat", { exact: true }).fill("4.5");
    await page.getByLabel("Both").check();
    await page.getByLabel("Share of potassium hydroxide").fill("8");
    await page.getByLabel("Purity of the sodium hydroxide").fill("98");
    await page.getByLabel("Purity of the potassium hydroxide").fill("90");
    await page.getByLabel("Alkali in the lye").fill("34");
    await page.getByRole("button", { name: "Add an additive" }).click();
    await page.getByLabel("Additive 1", { exact: true }).fill("Honey");
    await page.getByLabel("Amount of additive 1").fill("12 g");
    await page.getByRole("button", { name: "Add an acid" }).click();
    await page.getByLabel("Amount of acid 1").fill("1");
    await page.getByLabel("Smallest step of the scale").fill("0.2");
}

const harvest = {
    mould: { cavities: { count: 9, volume: 120 } },
    fats: [
        { fat: "olive-oil", share: 55 },
        { fat: "shea-butter", share: 20 },
        { fat: "coconut-oil", share: 25 },
    ],
    superfat: 4.5,
    alkali: { koh_share: 8, naoh_purity: 98, koh_purity: 90 },
    water: { lye_concentration: 34 },
    additives: [{ name: "Honey", mass: "12 g" }],
    acids: [{ acid: "citric-acid", of_fats: 1 }],
    scale_step: 0.2,
};

test("a whole batch: typed in, weighed, kept over a reload, printed", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        await assertShows(page, lixivium.plan(harvest));
        const sure = lixivium.assure({ plan: harvest });
        await settled(page);
        assert.equal(await shown(page, "superfat-worst"), sure.worst.superfat.exact);
        assert.equal(await shown(page, "superfat-best"), sure.best.superfat.exact);
        await page.getByRole("checkbox", { name: "Water" }).first().check();
        await page.getByRole("checkbox", { name: "Olive oil" }).check();

        await page.reload();
        await ready(page);
        assert.equal(await page.getByLabel("Its name").inputValue(), "Harvest loaf");
        assert.equal(
            await page.getByLabel("Fat 2", { exact: true }).inputValue(),
            "Shea butter, unrefined",
        );
        await assertShows(page, lixivium.plan(harvest));
        assert.ok(await page.locator("#tick-fat-1").isChecked());
        assert.ok(!(await page.locator("#tick-fat-2").isChecked()));

        // A tick belongs to a weight: it goes when the weight changes.
        await page.getByLabel("Share of fat 1").fill("54");
        await page.getByLabel("Share of fat 2").fill("21");
        assert.ok(!(await page.locator("#tick-fat-1").isChecked()));

        const printed = await page.pdf({ format: "A4", preferCSSPageSize: true });
        writeFileSync(join(pictures, "batch-sheet.pdf"), printed);
        const sheets = printed.toString("latin1").match(/\/Type\s*\/Page\b/g).length;
        assert.ok(sheets <= 2, `a batch sheet of ${sheets} pages`);
    }));

test("each plan of the shared vectors has the same digits on the page", () =>
    withPage(async (page) => {
        const { vectors } = JSON.parse(readFileSync(join(root, "tests/vectors/plan.json"), "utf8"));
        const whole = vectors.filter((vector) => vector.ok);
        assert.ok(whole.length > 5);
        for (const { name, request, answer } of whole) {
            await page.locator("#shelf-file").setInputFiles({
                name: `${name}.json`,
                mimeType: "application/json",
                buffer: Buffer.from(JSON.stringify(request)),
            });
            await page
                .locator("#card-title")
                .filter({ hasText: name.slice(0, 20) })
                .waitFor();
            await assertShows(page, answer);
        }
    }));

test("bad input is told at its field, and nothing is left to weigh", () =>
    withPage(async (page) => {
        const share = page.getByLabel("Share of fat 2");
        await share.fill("12,5");
        assert.equal(await share.getAttribute("aria-invalid"), "true");
        const described = await share.getAttribute("aria-describedby");
        assert.match(
            await page.locator(`#${described.split(" ")[0]}`).textContent(),
            /decimal mark is a point here: write 12\.5/,
        );
        assert.ok(await page.locator("#card-answer").isHidden());
        assert.match(await page.locator("#card-status").textContent(), /Share of fat 2/);
        await page.locator("#card-status a").first().click();
        assert.equal(
            await page.evaluate(() => document.activeElement.id),
            await share.getAttribute("id"),
        );

        await share.fill("24,0");
        await page.getByRole("button", { name: "Write 24.0" }).click();
        assert.equal(await share.inputValue(), "24.0");
        assert.equal(await share.getAttribute("aria-invalid"), null);
        assert.ok(await page.locator("#card-answer").isVisible());

        const cases = [
            ["Fat 1", "olif oil", "Olive oil"],
            ["Inside length", "2 4 kg", "24"],
            ["Purity of the sodium hydroxide", "120", "99"],
            ["Alkali in the lye", "strong", "31"],
            ["Smallest step of the scale", "-1", "0.5"],
        ];
        for (const [label, bad, good] of cases) {
            const field = page.locator(".recipe").getByLabel(label, { exact: label === "Fat 1" });
            await field.fill(bad);
            assert.equal(await field.getAttribute("aria-invalid"), "true", label);
            assert.ok(
                await page.locator(`#${await field.getAttribute("id")}-fault`).isVisible(),
                label,
            );
            await field.fill(good);
            assert.ok(await page.locator("#card-answer").isVisible(), label);
        }
    }));

test("rows that are still empty are no mistake, and a fault stands in the right row after one", () =>
    withPage(async (page) => {
        await page.getByRole("button", { name: "Add a fat", exact: true }).click();
        await page.getByRole("button", { name: "Add a fat", exact: true }).click();
        assert.ok(await page.locator("#card-answer").isVisible());
        await page.getByLabel("Fat 6", { exact: true }).fill("nothing known");
        assert.equal(
            await page.getByLabel("Fat 6", { exact: true }).getAttribute("aria-invalid"),
            "true",
        );
        assert.equal(
            await page.getByLabel("Fat 5", { exact: true }).getAttribute("aria-invalid"),
            null,
        );
    }));

test("with both alkalis, a share that is not given is asked for", () =>
    withPage(async (page) => {
        await page.getByLabel("Both").check();
        const share = page.getByLabel("Share of potassium hydroxide");
        assert.equal(await share.getAttribute("aria-invalid"), "true");
        await share.fill("12");
        assert.ok(await page.locator("#weigh-koh").isVisible());
        await share.fill("");
        assert.equal(await share.getAttribute("aria-invalid"), "true");
        assert.ok(await page.locator("#card-answer").isHidden());
    }));

test("a link carries a recipe to another browser", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        await page.getByRole("button", { name: "Share", exact: true }).click();
        const link = await page.getByLabel("Link to this recipe").inputValue();
        assert.ok(link.startsWith(`${onDisk}#`));
        await withPage(
            async (other) => {
                assert.equal(await other.getByLabel("Its name").inputValue(), "Harvest loaf");
                await assertShows(other, lixivium.plan(harvest));
                assert.equal(other.url(), onDisk);
            },
            {},
            link,
        );
        await page.goto(`${onDisk}#recipe=cut-off`);
        assert.match(await page.locator("#shelf-told").textContent(), /cannot be read/);
        assert.equal(await page.getByLabel("Its name").inputValue(), "Harvest loaf");
    }));

test("an exported recipe is a request of plan, and comes back as it was", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        const [file] = await Promise.all([
            page.waitForEvent("download"),
            page.getByRole("button", { name: "Export" }).click(),
        ]);
        assert.equal(file.suggestedFilename(), "Harvest loaf.json");
        const text = readFileSync(await file.path(), "utf8");
        assert.deepEqual(JSON.parse(text), harvest);

        await page.getByRole("button", { name: "Remove", exact: true }).first().click();
        await page.locator("#shelf-remove-yes").click();
        assert.notEqual(await page.getByLabel("Its name").inputValue(), "Harvest loaf");
        await page.locator("#shelf-file").setInputFiles({
            name: "Harvest loaf.json",
            mimeType: "application/json",
            buffer: Buffer.from(text),
        });
        await page.locator("#card-title").filter({ hasText: "Harvest loaf" }).waitFor();
        await assertShows(page, lixivium.plan(harvest));

        for (const [bad, says] of [
            ["{", /not JSON/],
            ['{"fats": 1}', /no recipe/],
            ['{"fats": [], "batter": 1}', /"batter" is not known/],
            ['{"fats": [], "mould": 3}', /mould: a number stands here/],
            ['{"fats": [{"fat": {}, "share": []}]}', /fats\[0\]\.share: a list stands here/],
            ['{"fats": [], "water": {"count_acid_water": "yes"}}', /accepted: true or false/],
        ]) {
            await page.locator("#shelf-file").setInputFiles({
                name: "bad.json",
                mimeType: "application/json",
                buffer: Buffer.from(bad),
            });
            await page.locator("#shelf-told").filter({ hasText: says }).waitFor();
        }
    }));

test("12 g too much of a fat: what brings the batch back", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        const plan = lixivium.plan(harvest);
        await page.getByText("It went wrong").click();
        await page.locator("#amend-lines-fat-1-mass").fill("12");
        await page.locator("#amend-lines-fat-1-how").selectOption("more");
        const fats = plan.fats.map((fat) => `${fat.mass.exact} g`);
        const [numerator, denominator = "1"] = plan.fats[0].mass.exact.split("/");
        fats[0] = `${BigInt(numerator) + 12n * BigInt(denominator)}/${denominator} g`;
        const amended = lixivium.amend({ plan: harvest, actual: { fats } });
        await page.locator("#amend-add").waitFor();
        const wanted = [
            amended.additions.naoh_mass,
            amended.additions.koh_mass,
            amended.additions.water_mass,
        ].filter(({ exact }) => exact !== "0");
        assert.deepEqual(
            await weights(page, "amend-add"),
            wanted.map(({ exact }) => exact),
        );

        await page.locator("#amend-lines-fat-1-how").selectOption("less");
        await page.locator("#amend-lines-fat-1-mass").fill("9 kg");
        await page.locator("#amend-lines-fat-1-mass[aria-invalid]").waitFor();
        await page.locator("#amend-lines-fat-1-mass").fill("1,5");
        assert.match(
            await page.locator("#amend-lines-fat-1-mass-fault").textContent(),
            /decimal mark is a point/,
        );

        // A copy is the recipe, without what went wrong in this batch of it.
        await page.getByRole("button", { name: "Duplicate" }).click();
        assert.equal(await page.getByLabel("Its name").inputValue(), "Harvest loaf (2)");
        assert.equal(await page.locator("#amend-lines-fat-1-mass").inputValue(), "");
        await page.locator("#amend-lines-fat-1-mass").fill("1 kg");
        await page.locator("#amend-add").waitFor();
        await page.getByRole("button", { name: "Clear what went wrong" }).click();
        assert.equal(await page.locator("#amend-add").count(), 0);
        await assertShows(page, plan);
    }));

test("four cavities and a half: the recipe that fills all", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        await page.getByText("Last time it did not fill").click();
        await page.getByLabel("Cavities that were full").fill("4");
        await page.getByLabel("The next one was full to").fill("50");
        const batter = { plan: harvest, full_cavities: 4, last_cavity: 50 };
        const { scaled } = lixivium.fill({ batter });
        assert.deepEqual(
            await weights(page, "fill-scaled"),
            scaled.fats.map((fat) => fat.mass.exact),
        );
        await page.getByRole("button", { name: "Take over these weights" }).click();
        assert.equal(await shown(page, "weigh-fat-1"), scaled.fats[0].mass.exact);
        assert.equal(await shown(page, "weigh-naoh"), scaled.naoh_mass.exact);
    }));

test("fats by weight that do not fill the mould are scaled to fill it", () =>
    withPage(async (page) => {
        await page.getByLabel("By weight").check();
        await page.getByLabel("Weight of fat 1").fill("200");
        await page.getByLabel("Weight of fat 2").fill("4 oz");
        await page.getByRole("button", { name: "Scale the recipe to fill it" }).click();
        await page
            .getByRole("button", { name: "Scale the recipe to fill it" })
            .waitFor({ state: "detached" });
        const answer = lixivium.plan(await exported(page));
        assert.equal(answer.mould.state, "full");
        await assertShows(page, answer);
    }));

test("tolerances, composition, swap and audit answer as the library does", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        await page.getByText("How sure is the superfat").click();
        await page.getByLabel("Every weighing off by up to").fill("0.5");
        await page.getByLabel("Superfat to keep at worst").fill("1");
        const sure = lixivium.assure({
            plan: harvest,
            tolerances: { weighing_error: 0.5 },
            floor: 1,
        });
        await settled(page);
        assert.equal(await shown(page, "superfat-worst"), sure.worst.superfat.exact);

        await page.getByText("What the bar is made of").click();
        await page.getByRole("row", { name: /Monounsaturated/ }).waitFor();

        await page.getByText("A fat has run out").click();
        await page
            .getByLabel("Fat that has run out")
            .selectOption({ label: "Shea butter, unrefined" });
        await page.getByLabel("In its place 1", { exact: true }).fill("Cocoa butter");
        // A change of the weights makes the form anew; its empty row stays.
        await page.getByLabel("Superfat", { exact: true }).fill("5");
        await page.getByLabel("In its place 2", { exact: true }).fill("Olive oil");
        await page.locator("#swap-by").filter({ hasText: "Cocoa butter" }).waitFor();

        await page.getByText("Check weights from a notebook").click();
        await page.getByRole("button", { name: "Begin with the weights of this recipe" }).click();
        assert.match(await page.locator("#audit-superfat").textContent(), /%/);
    }));

test("ounces: a bare number is in ounces, and changing the unit changes no weight", () =>
    withPage(async (page) => {
        await typeHarvest(page);
        const before = await shown(page, "weigh-fat-1");
        await page.getByLabel("oz, in").check();
        assert.equal(await shown(page, "weigh-fat-1"), before);
        assert.match(await page.locator("#weigh-fat-1").textContent(), /\soz$/);
        await page.getByLabel("By weight").check();
        await page.getByLabel("Weight of fat 1").fill("12");
        assert.equal(
            await shown(page, "weigh-fat-1"),
            lixivium.plan({
                ...harvest,
                mould: undefined,
                fats: [{ fat: "olive-oil", mass: "12 oz" }],
                superfat: 5,
                additives: undefined,
                acids: undefined,
            }).fats[0].mass.exact,
        );
    }));

test("with the keyboard alone: a new batch, typed in and ticked", () =>
    withPage(async (page) => {
        /** Tabs on until the focus is on that element. */
        const tabTo = async (id) => {
            for (let i = 0; i < 150; i++) {
                const focused = await page.evaluate(
                    () => document.activeElement.id || document.activeElement.parentElement.id,
                );
                if (focused === id) return;
                await page.keyboard.press("Tab");
            }
            assert.fail(`${id} is not reached with Tab`);
        };
        await tabTo("shelf-new");
        await page.keyboard.press("Enter");
        await page.waitForFunction(() => document.activeElement.id === "mould-kind-box");
        await page.keyboard.press("ArrowLeft");
        await tabTo("plan-fats-0-fat");
        await page.keyboard.type("Lard");
        await tabTo("plan-fats-0-share");
        await page.keyboard.type("60");
        await tabTo("plan-fats-1-fat");
        await page.keyboard.type("Olive oil");
        await tabTo("plan-fats-1-share");
        await page.keyboard.type("40");
        await tabTo("tick-water");
        await page.keyboard.press("Space");
        assert.ok(await page.locator("#tick-water").isChecked());
        await tabTo("figure-superfat");
    }));

test("two tabs do not take each other's recipes away", async () => {
    const first = await openPage(browser());
    const second = await first.context().newPage();
    await second.goto(onDisk);
    await ready(second);
    await second.getByRole("button", { name: "New batch" }).click();
    await second.getByLabel("Its name").fill("Second tab");
    await first
        .locator("#shelf-open option", { hasText: "Second tab" })
        .waitFor({ state: "attached" });
    await first.getByLabel("Superfat", { exact: true }).fill("7");
    await second.reload();
    await ready(second);
    const names = await second.locator("#shelf-open option").allTextContents();
    assert.deepEqual(names.toSorted(), ["Ferry landing bar (example)", "Second tab"]);
    await first.context().close();
});

test("where the browser keeps nothing the page works and says so", async () => {
    const context = await browser().newContext();
    await context.addInitScript(() => {
        Object.defineProperty(window, "localStorage", {
            get: () => {
                throw new DOMException("not here", "SecurityError");
            },
        });
    });
    const page = await context.newPage();
    await page.goto(onDisk);
    await ready(page);
    assert.ok(await page.locator("#shelf-kept").isVisible());
    assert.ok(await page.locator("#weigh-naoh").isVisible());
    await context.close();
});

test("what was kept and is damaged does not keep the page from starting", async () => {
    for (const kept of [
        "{",
        '{"entries":[{"id":1}]}',
        '{"entries":[{"id":"a","name":"b","plan":{"fats":[null]}}]}',
    ]) {
        const context = await browser().newContext();
        await context.addInitScript(
            (kept) =>
                localStorage.getItem("lixivium-bench") ??
                localStorage.setItem("lixivium-bench", kept),
            kept,
        );
        const page = await context.newPage();
        await page.goto(onDisk);
        await ready(page);
        assert.ok(await page.locator("#weigh-naoh").isVisible());
        await context.close();
    }
});
