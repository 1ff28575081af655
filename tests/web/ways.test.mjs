// Other ways to make a fade: compared, chosen, searched for, and stopped; by mouse and by keys.
import assert from "node:assert/strict";
import { test } from "node:test";
import { and_see, keep_picture, on_disk_soon, open_bench, settled } from "./bench.mjs";
import { judge } from "./judge.mjs";

const FADE = "dusk-fade-short.toml";

async function open_ways(page) {
    await page.getByRole("button", { name: /dusk-fade-short\.toml/ }).click();
    await settled(page);
    const card = page.locator("details.coat-card");
    if (!(await card.evaluate((each) => each.open))) await card.locator("summary").first().click();
    await page.getByRole("button", { name: "Other ways" }).click();
}

const pictures = (page) =>
    page.waitForFunction(() => {
        const cards = document.querySelectorAll(".way-card");
        return cards.length > 6 && document.querySelectorAll(".way-card img").length === cards.length;
    });

for (const [width, height] of [
    [1024, 768],
    [1920, 1080],
]) {
    test(`a way is chosen at ${width} × ${height}: the remarks stay, and back goes back`, async () => {
        const bench = await open_bench({ viewport: { width, height }, plans: [FADE] });
        const { page } = bench;
        try {
            const opened = bench.on_disk(FADE);
            await open_ways(page);
            await pictures(page);
            await settled(page);
            assert.match(await page.locator(".advice").textContent(), /Advice: .+: .+Next: /, "with its reason");
            assert.match(await page.locator(".way-card").first().textContent(), /advised/, "the best comes first");
            assert.equal(await page.getByText("in the plan now").count(), 1);
            await judge(page, "ways");
            await keep_picture(page, `ways-${width}`);
            const over = page.getByRole("button", { name: "Take this way: plum straight over apricot" });
            await and_see(page, () => over.click());
            const taken = await on_disk_soon(bench, FADE, (text) => text !== opened);
            assert.doesNotMatch(taken, /method = "middles"/);
            const remarks = (text) => text.split("\n").filter((line) => line.startsWith("#"));
            assert.deepEqual(remarks(taken), remarks(opened));
            await and_see(page, () => page.getByRole("button", { name: /^Back: .*plum straight/ }).click());
            assert.equal(await on_disk_soon(bench, FADE, (text) => text === opened), opened);
            assert.deepEqual(bench.complaints, []);
        } finally {
            await bench.close();
        }
    });
}

test("a search tells how far it is, is stopped by a key, and the best so far is taken", async () => {
    const bench = await open_bench({ viewport: { width: 1024, height: 768 }, plans: [FADE] });
    const { page } = bench;
    try {
        const opened = bench.on_disk(FADE);
        await open_ways(page);
        await pictures(page);
        await page.getByRole("button", { name: "Search for a smoother one" }).press("Enter");
        await page.getByText(/a smoother fade is searched for: \d+ %/).waitFor();
        await judge(page, "searching");
        await page.getByText(/a smoother fade is searched for/).scrollIntoViewIfNeeded();
        await keep_picture(page, "searching");
        await page.getByRole("button", { name: "Stop, keep the best so far" }).press("Enter");
        const found = page.locator(".way-card").first();
        await found.getByText("found by searching").waitFor();
        await found.locator("img").waitFor();
        await judge(page, "searched");
        await found.scrollIntoViewIfNeeded();
        await keep_picture(page, "searched");
        const take = page.getByRole("button", { name: "Take this way: found by searching" });
        if (await take.count()) {
            await and_see(page, () => take.press("Enter"));
            await on_disk_soon(bench, FADE, (text) => text !== opened);
        }
        assert.deepEqual(bench.complaints.filter((each) => !each.includes("409")), []);
    } finally {
        await bench.close();
    }
});

test("the ways are left when they are closed before they are known", async () => {
    const bench = await open_bench({ plans: [FADE] });
    const { page } = bench;
    try {
        await page.route("**/api/ways", () => {}); // never answered
        await open_ways(page);
        await page.getByText(/each way is laid on this panel/).waitFor();
        await page.getByRole("button", { name: "Stop" }).click();
        await page.waitForFunction(() => !document.querySelector("dialog[open]"));
        assert.equal(await page.getByRole("alert").filter({ hasText: /\S/ }).count(), 0, "stopping is no trouble");
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});
