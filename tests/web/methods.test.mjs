// The methods of a fade, by mouse and by keys: comparing and using them, searching for a better one, stopping.
import assert from "node:assert/strict";
import { test } from "node:test";
import { change_and_wait, save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";
import { check_page } from "./page_checks.mjs";

const FADE = "dusk-fade-short.toml";

async function open_methods(page) {
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
    test(`a method is used at ${width} × ${height}: comments stay, and undo restores the plan`, async () => {
        const app = await open_page({ viewport: { width, height }, plans: [FADE] });
        const { page } = app;
        try {
            const opened = app.read_file(FADE);
            await open_methods(page);
            await pictures(page);
            await wait_until_idle(page);
            assert.match(await page.locator(".advice").textContent(), /Recommended: .+: .+Runner-up: /, "with its reason");
            assert.match(await page.locator(".method-card").first().textContent(), /recommended/, "the recommended method comes first");
            assert.equal(await page.getByText("current plan").count(), 1);
            await check_page(page, "methods");
            await save_screenshot(page, `methods-${width}`);
            const over = page.getByRole("button", { name: "Use this method: plum straight over apricot" });
            await change_and_wait(page, () => over.click());
            const edited = await wait_for_file(app, FADE, (text) => text !== opened);
            assert.doesNotMatch(edited, /method = "mid-colours"/);
            const comments = (text) => text.split("\n").filter((line) => line.startsWith("#"));
            assert.deepEqual(comments(edited), comments(opened));
            await change_and_wait(page, () => page.getByRole("button", { name: /^Undo: .*plum straight/ }).click());
            assert.equal(await wait_for_file(app, FADE, (text) => text === opened), opened);
            assert.deepEqual(app.problems, []);
        } finally {
            await app.close();
        }
    });
}

test("a search shows its progress, is stopped with a key, and the best result so far is used", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, plans: [FADE] });
    const { page } = app;
    try {
        const opened = app.read_file(FADE);
        await open_methods(page);
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
        const use_button = page.getByRole("button", { name: "Use this method: Best found" });
        if (await use_button.count()) {
            await change_and_wait(page, () => use_button.press("Enter"));
            await wait_for_file(app, FADE, (text) => text !== opened);
        }
        assert.deepEqual(app.problems.filter((each) => !each.includes("409")), []);
    } finally {
        await app.close();
    }
});

test("stopping the comparison closes the dialog", async () => {
    const app = await open_page({ plans: [FADE] });
    const { page } = app;
    try {
        await page.route("**/api/methods", () => {}); // never answered
        await open_methods(page);
        await page.getByText(/Trying each method/).waitFor();
        await page.getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("dialog[open]"));
        assert.equal(await page.getByRole("alert").filter({ hasText: /\S/ }).count(), 0, "stopping is not an error");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
