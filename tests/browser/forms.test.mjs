// Moulds, fats, cautions and pasted recipes on the page, held against the library.

import assert from "node:assert/strict";
import { test } from "node:test";

import { assertShows, chromium, exported, lixivium, weights } from "./bench.mjs";
import { ready, settled } from "./browsers.mjs";

const { withPage } = chromium();

/** Fills fields by their labels. */
async function fill(page, entries) {
    for (const [label, text] of Object.entries(entries))
        await page.getByLabel(label, { exact: true }).fill(text);
}

const fats = [
    { fat: "olive-oil", share: 70 },
    { fat: "coconut-oil", share: 30 },
];

/** A new batch of two fats, still without a mould. */
async function begin(page) {
    await page.getByRole("button", { name: "New batch" }).click();
    await fill(page, {
        "Fat 1": "Olive oil",
        "Share of fat 1": "70",
        "Fat 2": "Coconut oil",
        "Share of fat 2": "30",
    });
}

const plain = { superfat: 5, water: { lye_concentration: 33 }, scale_step: 1 };

test("two different moulds together: each with its measures and its fill level", () =>
    withPage(async (page) => {
        await begin(page);
        await fill(page, {
            "Inside length": "21",
            "Inside width": "7.5",
            "Inside height": "3 in",
        });
        await page.getByLabel("Several together").check();
        // What was the mould is the first of them.
        assert.equal(await page.getByLabel("Inside length of mould 1").inputValue(), "21");
        await page.getByLabel("Size of one in mould 2").selectOption({ label: "By water" });
        await fill(page, {
            "Fill level of mould 1": "85",
            "How many cavities in mould 2": "10",
        });
        assert.equal(
            await page
                .getByLabel("Water that fills one to the brim in mould 2")
                .getAttribute("aria-invalid"),
            "true",
        );
        await fill(page, { "Water that fills one to the brim in mould 2": "92" });
        const several = [
            { box: { length: 21, width: 7.5, height: "3 in" }, fill: 85 },
            { cavities: { count: 10, water_mass: 92 } },
        ];
        const two = { ...plain, mould: { several }, fats };
        await assertShows(page, lixivium.plan(two));
        assert.deepEqual(await exported(page), two);

        await page.getByRole("button", { name: "Add another mould" }).click();
        await page.getByLabel("Mould 3", { exact: true }).selectOption({ label: "Cylinder" });
        await fill(page, { "Inside diameter of mould 3": "7", "Inside height of mould 3": "20" });
        const cylinder = { cylinder: { diameter: 7, height: 20 } };
        const three = { ...two, mould: { several: [...several, cylinder] } };
        await assertShows(page, lixivium.plan(three));
        await page.reload();
        await ready(page);
        await assertShows(page, lixivium.plan(three));

        await page.getByRole("button", { name: "Remove mould 1" }).click();
        await assertShows(
            page,
            lixivium.plan({ ...two, mould: { several: [several[1], cylinder] } }),
        );

        // How many were full, and what that says of each.
        await page.getByText("Last time it did not fill").click();
        await page.getByLabel("Cavities that were full").fill("10");
        await page.getByLabel("The next one was full to").fill("40");
        await page.getByRole("button", { name: "Let the mould be as learned" }).click();
        const learned = await exported(page);
        assert.deepEqual(
            learned.mould.several.map(({ cavities }) => Object.keys(cavities)),
            [
                ["count", "bar_mass"],
                ["count", "bar_mass"],
            ],
        );
        await assertShows(page, lixivium.plan(learned));
    }));

test("in ounces the drawing says so, too, on the screen and on paper", () =>
    withPage(async (page) => {
        await begin(page);
        await page.getByLabel("oz, in").check();
        await page.getByLabel("Several together").check();
        await fill(page, {
            "Inside length of mould 1": "9 1/2",
            "Inside width of mould 1": "3.25",
            "Inside height of mould 1": "6 cm",
            "How many cavities in mould 2": "4",
            "Volume of one in mould 2": "3",
        });
        await page.getByLabel("By weight").check();
        await page.getByLabel("Weight of fat 1").fill("60");
        const drawn = await page.locator("#card-mould svg text").allTextContents();
        assert.ok(drawn.includes("box, 9 1/2 in \u00d7 3.25 in \u00d7 6 cm"), drawn.join("; "));
        assert.ok(drawn.includes("4 \u00d7 3 US fl oz"), drawn.join("; "));
        const over = lixivium.plan(await exported(page)).mould.left_over_mass;
        const ounces = lixivium.convert({ quantity: `${over.exact} g`, to: "oz" }).quantity.value;
        const said = drawn.find((line) => line.endsWith("are left over"));
        assert.ok(Math.abs(Number.parseFloat(said) - ounces) <= 0.005, said);
        assert.match(said, /\soz are/);
    }));

test("another kind of mould and back: what was typed is still there", () =>
    withPage(async (page) => {
        await page.getByLabel("Cylinder").check();
        await page.getByLabel("Inside diameter").fill("8");
        await page.getByLabel("Box").check();
        assert.equal(await page.getByLabel("Inside length").inputValue(), "24");
        await page.getByLabel("Cylinder").check();
        assert.equal(await page.getByLabel("Inside diameter").inputValue(), "8");
        // With the arrow keys the way to several leads over the others.
        await page.getByLabel("Box").check();
        for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
        await page.getByLabel("Several together").waitFor();
        assert.equal(await page.getByLabel("Inside length of mould 1").inputValue(), "24");
    }));

test("fats of one's own, known in each of the four ways", () =>
    withPage(async (page) => {
        await page.getByRole("button", { name: "New batch" }).click();
        await page.getByLabel("None yet").check();
        await page.getByLabel("By weight").check();
        for (const i of [1, 2]) await page.getByRole("button", { name: `Remove fat 1` }).click();
        for (const i of [1, 2, 3, 4])
            await page.getByRole("button", { name: "Add a fat of my own" }).click();
        const ways = [
            "saponification value",
            "NaOH for 1\u00a0g",
            "KOH for 1\u00a0g",
            "fatty acids",
        ];
        for (const [i, way] of ways.entries()) {
            const of = `of fat ${i + 2}`;
            await page.getByLabel(`What is known ${of}`).selectOption({ label: way });
            await fill(page, { [`Fat ${i + 2}, my own: name`]: way, [`Weight ${of}`]: "200" });
        }
        await fill(page, {
            "Saponification value of fat 2": "191.5",
            "Lowest value of fat 2": "188",
            "NaOH for 1 g of fat 3": "0.1375",
            "KOH for 1 g of fat 4": "0.197",
            "Lauric acid, C12:0 of fat 5": "9",
            "Oleic acid, C18:1 of fat 5": "61",
            "Palmitic acid, C16:0 of fat 5": "24.5",
        });
        // One end of a range asks for the other.
        const highest = page.getByLabel("Highest value of fat 2");
        assert.equal(await highest.getAttribute("aria-invalid"), "true");
        await highest.fill("195");
        await page.locator("#plan-fats-4-fat-fatty_acids-slot").waitFor();
        assert.match(
            await page.locator("#plan-fats-4-fat-fatty_acids-slot").textContent(),
            /come to 94\.5 %/,
        );
        await page
            .getByLabel("Another acid of fat 5")
            .selectOption({ label: "Palmitoleic acid, C16:1" });
        await fill(page, { "Palmitoleic acid, C16:1 of fat 5": "5.5" });
        const own = (name, figures) => ({ fat: { name, ...figures }, mass: 200 });
        const request = {
            ...plain,
            fats: [
                own(ways[0], { saponification_value: 191.5, saponification_range: [188, 195] }),
                own(ways[1], { naoh_per_gram: 0.1375 }),
                own(ways[2], { koh_per_gram: 0.197 }),
                own(ways[3], {
                    fatty_acids: { "C12:0": 9, "C18:1": 61, "C16:0": 24.5, "C16:1": 5.5 },
                }),
            ],
        };
        await assertShows(page, lixivium.plan(request));
        assert.deepEqual(await exported(page), request);

        // A figure in another measure is told at its field; a way stays while its field is empty.
        await page.getByLabel("NaOH for 1 g of fat 3").fill("191.5");
        assert.match(
            await page.locator("#plan-fats-2-fat-naoh_per_gram-fault").textContent(),
            /of sodium hydroxide, not 191\.5/,
        );
        await page.getByLabel("NaOH for 1 g of fat 3").fill("");
        await page.getByRole("button", { name: "Add a fat", exact: true }).click();
        assert.ok(await page.getByLabel("NaOH for 1 g of fat 3").isVisible());
    }));

test("a share that may have been meant as a fraction is asked about at its field", () =>
    withPage(async (page) => {
        await begin(page);
        await page.getByLabel("Cavities", { exact: true }).check();
        await fill(page, { "How many cavities": "8", "Volume of one": "110" });
        const superfat = page.getByLabel("Superfat", { exact: true });
        await superfat.fill("0.05");
        const told = page.locator("#plan-superfat-fault");
        assert.match(await told.textContent(), /is read as 0\.05 %.*if you meant 5 %/);
        assert.match(await superfat.getAttribute("aria-describedby"), /plan-superfat-fault/);
        assert.equal(await superfat.getAttribute("aria-invalid"), null);
        assert.equal(await page.locator("#card .cautions", { hasText: "is read as" }).count(), 0);
        await page.locator("#card-asked").getByRole("link", { name: "Superfat" }).click();
        assert.ok(await superfat.evaluate((input) => input === document.activeElement));
        await page.getByRole("button", { name: "Write 5", exact: true }).click();
        assert.equal(await superfat.inputValue(), "5");
        assert.ok(await told.isHidden());
        assert.ok(await page.locator("#card-asked").isHidden());
        await assertShows(
            page,
            lixivium.plan({ ...plain, mould: { cavities: { count: 8, volume: 110 } }, fats }),
        );

        // A caution opens what its field is folded into.
        await page.getByText("How it is filled").click();
        await page.getByLabel("Volume of one").fill("2000");
        await page.getByLabel("Fill to").fill("0.9");
        await page.getByText("How it is filled").click();
        await page.getByLabel("Alkali in the lye").fill("34");
        assert.match(
            await page.locator("#plan-mould-fill-fault").textContent(),
            /is read as 0\.9 %.*if you meant 90 %/,
        );
        assert.ok(await page.locator("#plan-mould-fill-fault").isVisible());
        // So does one about the water, which stands on the card as well.
        await page.getByLabel("None yet").check();
        await page.getByLabel("Alkali in the lye").fill("56");
        await page.locator("#plan-water-lye_concentration-fault").waitFor();
        await page.locator("#card-weigh").getByText("too little water to dissolve").waitFor();
    }));

test("an iodine value to reach, by several fats, before the lye is made", () =>
    withPage(async (page) => {
        await begin(page);
        await page.getByLabel("None yet").check();
        await page.getByText("It went wrong").click();
        await page
            .getByLabel("How far it has come")
            .selectOption({ label: "fats mixed, lye not made" });
        await page.getByLabel("Fat to add 1").fill("Cocoa butter");
        await page.getByRole("button", { name: "Another fat to add" }).click();
        await page.getByLabel("Fat to add 2").fill("Tallow, beef");
        await page.getByLabel("Iodine value to reach").fill("56");
        const plan = { ...plain, fats, total_fats: 1000 };
        const fatsToAdd = [
            "cocoa-butter",
            lixivium.fats({}).fats.find(({ name }) => name === "Tallow, beef").id,
        ];
        const asked = { plan, actual: {}, stage: "fats_mixed", iodine_value: 56, fats: fatsToAdd };
        const { additions } = lixivium.amend(asked);
        const wanted = [
            ...additions.fats.map(({ mass }) => mass),
            additions.naoh_mass,
            additions.koh_mass,
            additions.water_mass,
        ].filter(({ exact }) => exact !== "0");
        assert.ok(wanted.length > 1);
        await page.locator("#amend-add data").first().waitFor();
        assert.deepEqual(
            await weights(page, "amend-add"),
            wanted.map(({ exact }) => exact),
        );

        await page.getByLabel("Iodine value to reach").fill("56,5");
        await page.locator("#amend-iodine_value[aria-invalid]").waitFor();
        await page.getByLabel("Iodine value to reach").fill("");
        await page
            .getByLabel("How far it has come")
            .selectOption({ label: "finished bars, to melt again" });
        await page.getByLabel("All bars weigh now").fill("1180");
        await page.getByLabel("Free alkali in them, as NaOH").fill("0.3");
        const bars = lixivium.amend({
            plan,
            actual: {},
            stage: "bar",
            bar: { mass: 1180, free_alkali: 0.3 },
            fats: fatsToAdd,
        });
        const fatsAdded = bars.additions.fats.map(({ mass }) => mass.exact);
        assert.deepEqual(
            (await weights(page, "amend-add")).slice(0, 1),
            fatsAdded.filter((exact) => exact !== "0").slice(0, 1),
        );
    }));

test("a recipe is pasted as a list, with decimal commas, as JSON, as a link", () =>
    withPage(async (page) => {
        const paste = async (text) => {
            await page.getByRole("button", { name: "Paste", exact: true }).click();
            await page.getByLabel("Recipe as text").fill(text);
            await page.getByRole("button", { name: "Take it over" }).click();
        };
        await paste("nothing of use");
        await page.locator("#shelf-told").filter({ hasText: "No line of this text" }).waitFor();
        await page.keyboard.press("Escape");
        assert.equal(await page.getByLabel("Recipe as text").count(), 0);
        assert.equal(await page.evaluate(() => document.activeElement.id), "shelf-paste");

        await paste(
            [
                "Olive oil: 512,5 g",
                "- coconut oil\t2 lb 3 oz",
                "100 g castor oil",
                "Water 250 g",
                "Superfat 6,5 %",
            ].join("\n"),
        );
        await page.locator("#shelf-told").filter({ hasText: "Left out: Water 250 g." }).waitFor();
        assert.ok(await page.locator("#card-answer").isHidden());
        await page.getByRole("button", { name: "Write points for all decimal commas" }).click();
        const list = {
            ...plain,
            superfat: 6.5,
            fats: [
                { fat: "olive-oil", mass: 512.5 },
                { fat: "coconut-oil", mass: "2 lb 3 oz" },
                { fat: "castor-oil", mass: 100 },
            ],
        };
        await assertShows(page, lixivium.plan(list));
        await page.getByRole("button", { name: "Share", exact: true }).click();
        const link = await page.getByLabel("Link to this recipe").inputValue();
        await page.getByLabel("Superfat", { exact: true }).fill("3");

        await paste(`${JSON.stringify({ ...list, superfat: 4.25 }).replace("4.25", "4,25")}`);
        const superfat = page.getByLabel("Superfat", { exact: true });
        assert.equal(await superfat.inputValue(), "4,25");
        assert.equal(await superfat.getAttribute("aria-invalid"), "true");
        await page.getByRole("button", { name: "Write 4.25" }).click();
        await assertShows(page, lixivium.plan({ ...list, superfat: 4.25 }));

        await paste(`Have a look: ${link}`);
        await assertShows(page, lixivium.plan(list));

        await paste("lard 45 %\nolif oil 55 %");
        await page.getByRole("button", { name: "Write Olive oil" }).click();
        assert.equal(await page.getByLabel("Fat 2", { exact: true }).inputValue(), "Olive oil");
        assert.equal(await page.getByLabel("Share of fat 2").inputValue(), "55");
    }));

test("the batch in short stays in sight of a long form, on paper only the sheet is printed", () =>
    withPage(async (page) => {
        const rail = page.locator(".rail p");
        assert.ok(await rail.isHidden());
        await page.getByLabel("Smallest step of the scale").scrollIntoViewIfNeeded();
        await page.evaluate(() => scrollTo(0, document.querySelector("#card-figures").offsetTop));
        await rail.waitFor({ state: "visible" });
        assert.match(await rail.textContent(), /^water .*superfat .*\s%\.$/);
        await page.getByLabel("By weight").check();
        await page.getByLabel("Weight of fat 1").fill("100");
        await settled(page);
        await page.emulateMedia({ media: "print" });
        const seen = await page.locator("button, input[type=text], select, .rail p, .ribbon").all();
        for (const element of seen) assert.ok(await element.isHidden());
        assert.ok(await page.locator("#weigh-naoh").isVisible());
    }));

test("lye made up ahead is what is weighed, and what the batch in short says", () =>
    withPage(async (page) => {
        await page.getByText("What counts as water").click();
        await page.getByLabel("Stock lye of sodium hydroxide").fill("48");
        const { stock_solution, water_to_add_mass } = lixivium.plan(await exported(page));
        assert.equal(
            await page.locator("#weigh-naoh").getAttribute("value"),
            stock_solution.naoh_solution_mass.exact,
        );
        assert.match(
            await page.locator("#card-weigh").textContent(),
            /Stock lye of sodium hydroxide, 48\s%/,
        );
        const short = await page.locator("#card-short").textContent();
        const [water, lye] = short.match(/[\d.]+(?=\sg)/g).map(Number);
        assert.equal(water, water_to_add_mass.value);
        assert.equal(lye, stock_solution.naoh_solution_mass.value);
    }));

test("what a recipe is made of beside another one of the shelf", () =>
    withPage(async (page) => {
        const first = await exported(page);
        await begin(page);
        await page.getByText("What the bar is made of").click();
        const other = page.getByLabel("Compare with");
        await other.selectOption({ label: "Ferry landing bar (example)" });
        assert.equal(await page.getByText("What this recipe has more of than").count(), 0);
        await page.getByLabel("None yet").check();
        const { differences } = lixivium.composition({
            plan: { ...plain, fats, total_fats: 1000 },
            other: first,
        });
        const iodine = differences.find(({ figure }) => figure === "iodine_value");
        const row = page
            .getByRole("table", { name: /more of than “Ferry landing bar/ })
            .getByRole("row", { name: /^Iodine value/ });
        const cells = await row.getByRole("cell").allTextContents();
        assert.equal(
            Number(cells[0].replace("\u2212", "-")),
            Number(iodine.typical.value.toFixed(1)),
        );
        assert.equal(cells[2], iodine.sure ? "yes" : "may be noise");
    }));

test("a chance that is small is not shown as none", () =>
    withPage(async (page) => {
        await page.getByText("How sure is the superfat").click();
        await settled(page);
        assert.match(await page.locator("#sure-lye-heavy").textContent(), /^0\s%$/);
        await page.getByLabel("Superfat to keep at worst").fill("3.5");
        await settled(page);
        const { below_floor } = lixivium.assure({ plan: await exported(page), floor: 3.5 });
        const { exact, at_most } = below_floor;
        const most = (exact ?? at_most).value;
        assert.ok(most > 0 && most < 0.005, `${most}`);
        assert.match(await page.locator("#sure-below").textContent(), /^below 0\.01\s%$/);
    }));

test("a note of everything that a batch takes", () =>
    withPage(async (page) => {
        await begin(page);
        await page.getByLabel("None yet").check();
        await page.getByRole("button", { name: "Add a fat of my own" }).click();
        await fill(page, {
            "Share of fat 1": "60",
            "Fat 3, my own: name": "House tallow",
            "Saponification value of fat 3": "196",
            "Share of fat 3": "10",
        });
        await page.getByRole("button", { name: "Add an acid" }).click();
        await fill(page, { "Amount of acid 1": "15 g", "Strength of acid 1": "80" });
        await page.getByText("Check weights from a notebook").click();
        await page.getByRole("button", { name: "Begin with the weights of this recipe" }).click();
        assert.equal(
            await page.getByLabel("Fat 3 in the note", { exact: true }).inputValue(),
            "House tallow",
        );
        assert.equal(await page.getByLabel("Strength of acid 1 in the note").inputValue(), "80");
        await fill(page, { "Weight of acid 1 in the note": "25" });
        await page.getByRole("button", { name: "Note an additive" }).click();
        await fill(page, { "Additive 1 in the note": "Clay" });
        await page.getByText("Not known: Additive 1.").waitFor();
        await fill(page, { "Weight of additive 1 in the note": "6" });
        const { fats, ...planned } = lixivium.plan(await exported(page));
        const own = { name: "House tallow", saponification_value: 196 };
        const { superfat } = lixivium.audit({
            fats: fats.map(({ mass }, i) => ({
                fat: ["olive-oil", "coconut-oil", own][i],
                mass: mass.value,
            })),
            alkalis: [{ alkali: "naoh", mass: planned.naoh_mass.value }],
            acids: [{ acid: "citric-acid", mass: 25, strength: 80 }],
            others: [{ name: "Clay", mass: 6 }],
            water_mass: planned.water_mass.value,
        });
        assert.equal(
            await page.locator("#audit-superfat").textContent(),
            `${superfat.value.toFixed(2)}\u00a0%`,
        );
        await page.getByRole("button", { name: "Clear the note" }).click();
        assert.equal(await page.getByLabel("Acid 1 in the note", { exact: true }).count(), 0);
    }));

test("the screen stays on from the first tick to the last", () =>
    withPage(async (page) => {
        await page.addInitScript(() => {
            globalThis.awake = [];
            const request = async (kind) => {
                awake.push(kind);
                return { release: () => awake.push("released") };
            };
            Object.defineProperty(navigator, "wakeLock", { value: { request } });
        });
        await page.reload();
        await ready(page);
        const boxes = await page.locator("#card-weigh").getByRole("checkbox").all();
        const asked = () => page.evaluate(() => awake);
        assert.deepEqual(await asked(), []);
        for (const box of boxes.slice(0, -1)) await box.check();
        assert.deepEqual(await asked(), ["screen"]);
        await boxes.at(-1).check();
        assert.deepEqual(await asked(), ["screen", "released"]);
        await page.getByRole("button", { name: "Clear the ticks" }).click();
        assert.deepEqual(await asked(), ["screen", "released"]);
    }));

test("what is reckoned late takes nothing away from under a finger", () =>
    withPage(async (page) => {
        await page.getByText("What the bar is made of").click();
        await page.locator("#task-composition-answer table").first().waitFor();
        await page.locator("#superfat-worst").waitFor();
        await settled(page);
        const stay = await page.evaluate(() => {
            const tapped = ["#tick-water", "#task-composition-answer table", "#plan-superfat"];
            const elements = tapped.map((name) => document.querySelector(name));
            const band = document.querySelector("#superfat-worst");
            dispatchEvent(new Event("beforeprint"));
            return [...elements.map((element) => element.isConnected), !band.isConnected];
        });
        assert.deepEqual(stay, [true, true, true, true]);
    }));
