// Other ways to make a fade: compared, chosen, searched for, and stopped; by mouse and by keys.
import assert from "node:assert/strict";
import { test } from "node:test";
import { change_and_wait, save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";
import { check_page } from "./page_checks.mjs";

const FADE = "dusk-fade-short.toml";

async function open_ways(page) {
    await page.getByRole("button", { name: /dusk-fade-short\.toml/ }).click();
    await wait_until_idle(page);
    const card = page.locator("details.coat-card");
    if (!(await card.evaluate((each) => each.open))) await card.locator("summary").first().click();
    await page.getByRole("button", { name: "Compare methods" }).click();
}

const pictures = (page) =>
    page.waitForFunction(() => {
        const cards = document.querySelectorAll(".method-card");
        return cards.length > 6 && document.querySelectorAll(".method-card img").length === cards.length;
    });

for (const [width, height] of [
    [1024, 768],
    [1920, 1080],
]) {
    test(`a way is chosen at ${width} × ${height}: the remarks stay, and back goes back`, async () => {
        const app = await open_page({ viewport: { width, height }, plans: [FADE] });
        const { page } = app;
        try {
            const opened = app.read_file(FADE);
            await open_ways(page);
            await pictures(page);
            await wait_until_idle(page);
            assert.match(await page.locator(".advice").textContent(), /Advice: .+: .+Next: /, "with its reason");
            assert.match(await page.locator(".method-card").first().textContent(), /recommended/, "the best comes first");
            assert.equal(await page.getByText("current plan").count(), 1);
            await check_page(page, "methods");
            await save_screenshot(page, `methods-${width}`);
            const over = page.getByRole("button", { name: "Use this method: plum straight over apricot" });
            await change_and_wait(page, () => over.click());
            const taken = await wait_for_file(app, FADE, (text) => text !== opened);
            assert.doesNotMatch(taken, /method = "mid-colours"/);
            const remarks = (text) => text.split("\n").filter((line) => line.startsWith("#"));
            assert.deepEqual(remarks(taken), remarks(opened));
            await change_and_wait(page, () => page.getByRole("button", { name: /^Undo: .*plum straight/ }).click());
            assert.equal(await wait_for_file(app, FADE, (text) => text === opened), opened);
            assert.deepEqual(app.problems, []);
        } finally {
            await app.close();
        }
    });
}

test("a search tells how far it is, is stopped by a key, and the best so far is taken", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, plans: [FADE] });
    const { page } = app;
    try {
        const opened = app.read_file(FADE);
        await open_ways(page);
        await pictures(page);
        await page.getByRole("button", { name: "Search for a smoother fade" }).press("Enter");
        await page.getByText(/Searching for a smoother fade: \d+ %/).waitFor();
        await check_page(page, "searching");
        await page.getByText(/Searching for a smoother fade/).scrollIntoViewIfNeeded();
        await save_screenshot(page, "searching");
        await page.getByRole("button", { name: "Stop and keep the best so far" }).press("Enter");
        const found = page.locator(".method-card").first();
        await found.getByText("Best found").waitFor();
        await found.locator("img").waitFor();
        await check_page(page, "search-result");
        await found.scrollIntoViewIfNeeded();
        await save_screenshot(page, "search-result");
        const take = page.getByRole("button", { name: "Use this method: Best found" });
        if (await take.count()) {
            await change_and_wait(page, () => take.press("Enter"));
            await wait_for_file(app, FADE, (text) => text !== opened);
        }
        assert.deepEqual(app.problems.filter((each) => !each.includes("409")), []);
    } finally {
        await app.close();
    }
});

test("the ways are left when they are closed before they are known", async () => {
    const app = await open_page({ plans: [FADE] });
    const { page } = app;
    try {
        await page.route("**/api/methods", () => {}); // never answered
        await open_ways(page);
        await page.getByText(/Trying each method/).waitFor();
        await page.getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("dialog[open]"));
        assert.equal(await page.getByRole("alert").filter({ hasText: /\S/ }).count(), 0, "stopping is no trouble");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
