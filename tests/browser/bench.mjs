// What the tests of a maker's work share: the library to hold the page against, pages, the card.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import { after, before } from "node:test";
import { fileURLToPath } from "node:url";

import { launchChromium, openPage, shown } from "./browsers.mjs";

export const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
export const lixivium = createRequire(import.meta.url)(
    join(root, "bindings-wasm/pkg/cjs/node.cjs"),
);

/**
 * One Chromium for the tests of a file: { browser(), withPage }. `withPage` runs with a fresh page,
 * and sees that nothing went wrong in it.
 */
export function chromium() {
    let browser;
    before(async () => (browser = await launchChromium()));
    after(() => browser.close());
    async function withPage(run, options, address) {
        const page = await openPage(browser, address, options);
        try {
            await run(page);
            assert.deepEqual(page.wrong, []);
        } finally {
            await page.context().close();
        }
    }
    return { browser: () => browser, withPage };
}

/** Checks each number on the card against an answer of plan. */
export async function assertShows(page, answer) {
    const rows = [
        ["weigh-water", answer.water_to_add_mass],
        ["weigh-naoh", answer.stock_solution.naoh_solution_mass ?? answer.naoh_mass],
        ["weigh-koh", answer.stock_solution.koh_solution_mass ?? answer.koh_mass],
        ...answer.fats.map((fat, i) => [`weigh-fat-${i + 1}`, fat.mass]),
        ...answer.acids.map((acid, i) => [`weigh-acid-${i + 1}`, acid.mass]),
        ...answer.additives.map((additive, i) => [`weigh-additive-${i + 1}`, additive.mass]),
    ].filter(([, mass]) => mass.exact !== "0");
    const figures = [
        ["value-superfat", answer.superfat],
        ["value-lye-concentration", answer.lye_concentration],
        ["value-water-to-lye", answer.water_to_lye],
        ["value-total-fats", answer.total_fats],
        ["value-batter", answer.batter_mass],
    ];
    for (const [id, number] of [...rows, ...figures])
        assert.equal(await shown(page, id), number.exact, id);
    assert.equal(await page.locator("#card-weigh .weight").count(), rows.length);
}

/** The request that the page exports. */
export async function exported(page) {
    const [file] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("button", { name: "Export" }).click(),
    ]);
    return JSON.parse(readFileSync(await file.path(), "utf8"));
}

/** The exact numbers of all weights in an element. */
export function weights(page, id) {
    return page.locator(`#${id} data`).evaluateAll((all) => all.map((data) => data.value));
}
