// Lighthouse: accessibility and best practices, for a phone and a desktop.

import assert from "node:assert/strict";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import lighthouse, { desktopConfig } from "lighthouse";
import { launch } from "puppeteer-core";

import { chromiumFlags, dist, serve } from "./browsers.mjs";

test("Lighthouse gives 100 for accessibility and best practices", async () => {
    const server = await serve(join(dist, "site"));
    const profile = mkdtempSync(join(tmpdir(), "lixivium-lighthouse-"));
    const browser = await launch({
        executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
        headless: true,
        timeout: 180_000,
        args: chromiumFlags,
        userDataDir: profile,
    });
    try {
        for (const [name, config] of [
            ["phone", undefined],
            ["desktop", desktopConfig],
        ]) {
            const page = await browser.newPage();
            const { lhr } = await lighthouse(
                server.address,
                { onlyCategories: ["accessibility", "best-practices"], logLevel: "silent" },
                config,
                page,
            );
            for (const { title, score, auditRefs } of Object.values(lhr.categories)) {
                const failed = auditRefs
                    .map(({ id }) => lhr.audits[id])
                    .filter((audit) => audit.score !== null && audit.score < 1);
                assert.equal(
                    score,
                    1,
                    `${name}, ${title}: ${failed.map((audit) => `${audit.id} (${audit.explanation ?? audit.title})`).join(", ")}`,
                );
            }
            await page.close();
        }
    } finally {
        await browser.close();
        await server.close();
        rmSync(profile, { recursive: true, force: true });
    }
});
