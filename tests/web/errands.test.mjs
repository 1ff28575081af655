// Papers take their time: the page tells how far they are and stops them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { keep_picture, open_bench } from "./bench.mjs";
import { judge } from "./judge.mjs";

test("a proof tells how far it is and is stopped; the next paper is made", async () => {
    const bench = await open_bench({ viewport: { width: 1024, height: 768 }, plans: ["guitar-burst.toml"] });
    const { page } = bench;
    try {
        await page.getByRole("button", { name: /guitar-burst\.toml/ }).click();
        await page.waitForFunction(() => document.querySelector(".stage")?.dataset.shown === "whole");
        await page.getByRole("button", { name: "Papers" }).click();
        await page.getByRole("button", { name: /^Proof\s*PDF/ }).click();
        await page.getByText(/being made: \d+ %/).waitFor();
        await judge(page, "being-made");
        await keep_picture(page, "being-made");
        const before = await page.evaluate(() => performance.now());
        await page.locator("dialog").getByRole("button", { name: "Stop" }).click();
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

test("steps that take long say so where nothing moves, and can be stopped", async () => {
    const bench = await open_bench({ viewport: { width: 1024, height: 768 }, plans: ["guitar-burst.toml"] });
    const { page } = bench;
    try {
        let strips = 0;
        await page.route("**/api/strip", (route) => (++strips === 1 ? undefined : route.continue())); // the first hangs
        await page.getByRole("button", { name: /guitar-burst\.toml/ }).click();
        await page.waitForFunction(() => document.querySelector(".stage")?.dataset.shown === "whole");
        const place = () => page.locator("#strip").boundingBox();
        const before = await place();
        await page.getByText(/the steps are painted/).waitFor();
        assert.deepEqual(await place(), before);
        await judge(page, "steps-painted");
        await keep_picture(page, "steps-painted");
        await page.locator("#strip").getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("#strip .errand"));
        assert.equal(await page.getByRole("alert").filter({ hasText: /\S/ }).count(), 0, "stopping is no trouble");
        await page.locator("[data-key='light.choice']").selectOption({ index: 3 });
        await page.waitForFunction(() => document.querySelectorAll("#strip .step img").length > 3);
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});
