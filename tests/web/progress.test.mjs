// Requests that take long: their progress is shown and they can be stopped.
import assert from "node:assert/strict";
import { test } from "node:test";
import { save_screenshot, open_page } from "./page.mjs";
import { check_page } from "./page_checks.mjs";

test("a proof shows its progress and is stopped; the next export is made", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, plans: ["guitar-burst.toml"] });
    const { page } = app;
    try {
        await page.getByRole("button", { name: /guitar-burst\.toml/ }).click();
        await page.waitForFunction(() => document.querySelector(".stage")?.dataset.shown === "final");
        await page.getByRole("button", { name: "Print & export" }).click();
        await page.getByRole("button", { name: /^Proof\s*PDF/ }).click();
        await page.getByText(/Making: \d+ %/).waitFor();
        await check_page(page, "making-proof");
        await save_screenshot(page, "making-proof");
        const before = await page.evaluate(() => performance.now());
        await page.locator("dialog").getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("dialog .progress"));
        const took_ms = (await page.evaluate(() => performance.now())) - before;
        assert.ok(took_ms < 2000, `stopped after ${took_ms} ms`);
        assert.equal(await page.locator("dialog[open] .error").textContent(), "", "stopping is not an error");
        const waiting = page.waitForEvent("download");
        await page.getByRole("button", { name: /^Full-size outline/ }).click();
        assert.match((await waiting).suggestedFilename(), /template\.pdf$/);
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

test("slow thumbnails show their progress without moving the layout, and can be stopped", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, plans: ["guitar-burst.toml"] });
    const { page } = app;
    try {
        let requests = 0;
        await page.route("**/api/thumbnails", (route) => (++requests === 1 ? undefined : route.continue())); // the first is never answered
        await page.getByRole("button", { name: /guitar-burst\.toml/ }).click();
        await page.waitForFunction(() => document.querySelector(".stage")?.dataset.shown === "final");
        const strip_box = () => page.locator("#strip").boundingBox();
        const before = await strip_box();
        await page.getByText(/Drawing the steps/).waitFor();
        assert.deepEqual(await strip_box(), before);
        await check_page(page, "drawing-steps");
        await save_screenshot(page, "drawing-steps");
        await page.locator("#strip").getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("#strip .progress"));
        assert.equal(await page.getByRole("alert").filter({ hasText: /\S/ }).count(), 0, "stopping is not an error");
        await page.locator("[data-key='light.select']").selectOption({ index: 3 });
        await page.waitForFunction(() => document.querySelectorAll("#strip .coat-step img").length > 3);
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
