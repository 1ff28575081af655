// Papers take their time: the page tells how far they are and stops them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { keep_picture, open_bench, settled } from "./bench.mjs";
import { judge } from "./judge.mjs";

test("a proof tells how far it is and is stopped; the next paper is made", async () => {
    const bench = await open_bench({ viewport: { width: 1024, height: 768 }, plans: ["guitar-burst.toml"] });
    const { page } = bench;
    try {
        await page.getByRole("button", { name: /guitar-burst\.toml/ }).click();
        await settled(page);
        await page.getByRole("button", { name: "Papers" }).click();
        await page.getByRole("button", { name: /^Proof\s*PDF/ }).click();
        await page.getByText(/being made: \d+ %/).waitFor();
        await judge(page, "being-made");
        await keep_picture(page, "being-made");
        const before = await page.evaluate(() => performance.now());
        await page.getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("dialog .errand"));
        const took_ms = (await page.evaluate(() => performance.now())) - before;
        assert.ok(took_ms < 2000, `stopped after ${took_ms} ms`);
        assert.equal(await page.locator("dialog[open] .refused").textContent(), "", "stopping is no trouble");
        const waiting = page.waitForEvent("download");
        await page.getByRole("button", { name: /^Outline at true size/ }).click();
        assert.match((await waiting).suggestedFilename(), /template\.pdf$/);
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});
