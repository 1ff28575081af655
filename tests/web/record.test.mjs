// The record, written with fingers and with the keyboard alone: what was mixed and sprayed, in order, never taken back.
import assert from "node:assert/strict";
import { test } from "node:test";
import { keep_picture, on_disk_soon, open_bench, settled } from "./bench.mjs";
import { judge } from "./judge.mjs";

const FADE = "dusk-fade-short.toml";
const RECORD = "dusk-fade-short.record.toml";

async function opened(bench, press) {
    await press(bench.page.getByRole("button", { name: /dusk-fade-short\.toml/ }));
    await settled(bench.page);
    await press(bench.page.getByRole("button", { name: "Record" }));
    await bench.page.getByText("Nothing is written down yet.").waitFor();
}

for (const [width, height] of [
    [1024, 768],
    [1920, 1080],
]) {
    test(`with fingers at ${width} × ${height}: what was poured, and then how it was laid`, async () => {
        const bench = await open_bench({ viewport: { width, height }, touch: true, plans: [FADE] });
        const { page } = bench;
        try {
            await opened(bench, (button) => button.tap());
            await judge(page, "record-empty");
            await page.getByLabel("mixed").selectOption("plum");
            const weights = page.getByLabel(/^weighed of/);
            await weights.first().fill("12.3");
            await page.getByLabel(/^batch of/).first().fill("B1207");
            await page.getByLabel(/^temperature/).fill("22");
            await page.getByLabel(/^changes/).fill("a little more violet, by eye");
            await judge(page, "record");
            await keep_picture(page, `record-${width}`);
            await page.getByRole("button", { name: "Write it down" }).tap();
            await page.locator(".entries li").waitFor();
            assert.match(await page.locator(".entries").textContent(), /mixed 'plum'.*12\.3 g.*B1207.*22 °C.*violet/s);
            assert.equal(await weights.count(), 0, "the form is empty again");

            await page.getByLabel("coat laid").selectOption("dusk: middle");
            await page.getByText("The gun was set otherwise").tap();
            await page.getByLabel(/^air/).fill("1.2");
            await page.getByRole("button", { name: "Write it down" }).tap();
            await page.locator(".entries li").nth(1).waitFor();
            assert.match(await page.locator(".entries li").nth(1).textContent(), /laid 'dusk: middle'.*1\.2 bar/s);
            await judge(page, "recorded");
            await keep_picture(page, `recorded-${width}`);
            const kept = await on_disk_soon(bench, RECORD, (text) => text.includes("1.2 bar"));
            assert.ok(kept.indexOf("12.3 g") < kept.indexOf("1.2 bar"), "in the order in which it was written");
            assert.deepEqual(bench.complaints, []);
        } finally {
            await bench.close();
        }
    });
}

test("with the keyboard alone: an entry that cannot be is told why and stays to be mended", async () => {
    const bench = await open_bench({ viewport: { width: 1024, height: 768 }, plans: [FADE] });
    const { page } = bench;
    try {
        await opened(bench, (button) => button.press("Enter"));
        const note = page.getByLabel(/^changes/);
        const temperature = page.getByLabel(/^temperature/);
        for (let steps = 0; steps < 40 && !(await temperature.evaluate((each) => each === document.activeElement)); ++steps)
            await page.keyboard.press("Tab");
        await page.keyboard.type("22 mm");
        await page.keyboard.press("Enter");
        await page.locator("dialog[open] .refused", { hasText: /\S/ }).waitFor();
        assert.equal(await temperature.inputValue(), "22 mm", "what was typed is still there");
        await judge(page, "record-refused");
        await page.keyboard.press("Control+a");
        await page.keyboard.type("21 degC");
        for (let steps = 0; steps < 20 && !(await note.evaluate((each) => each === document.activeElement)); ++steps)
            await page.keyboard.press("Tab");
        await page.keyboard.type("second pass a bit wet");
        await page.keyboard.press("Enter");
        await page.locator(".entries li").waitFor();
        assert.match(await page.locator(".entries").textContent(), /21 °C.*second pass a bit wet/s);
        assert.equal(await page.locator("dialog[open] .refused").textContent(), "");
        await page.keyboard.press("Escape");
        await page.waitForFunction(() => !document.querySelector("dialog[open]"));
        assert.match(bench.on_disk(RECORD), /second pass a bit wet/);
        assert.deepEqual(bench.complaints.filter((each) => !each.includes("422")), []);
    } finally {
        await bench.close();
    }
});
