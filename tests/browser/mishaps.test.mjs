// What goes wrong at a bench on the page: numbers typed in other ways.

import assert from "node:assert/strict";
import { test } from "node:test";

import { chromium, exported } from "./bench.mjs";

const { withPage } = chromium();

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
