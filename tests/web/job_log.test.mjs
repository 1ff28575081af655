// The job log, by touch and with the keyboard alone: what was mixed and sprayed, in order, never changed afterwards.
import assert from "node:assert/strict";
import { test } from "node:test";
import { save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";
import { check_page } from "./page_checks.mjs";

const FADE = "dusk-fade-short.toml";
const LOG_FILE = "dusk-fade-short.record.toml";

async function open_log(app, press) {
    await press(app.page.getByRole("button", { name: /dusk-fade-short\.toml/ }));
    await wait_until_idle(app.page);
    await press(app.page.getByRole("button", { name: "Job log" }));
    await app.page.getByText("No entries yet.").waitFor();
}

for (const [width, height] of [
    [1024, 768],
    [1920, 1080],
]) {
    test(`by touch at ${width} × ${height}: a mix made, then a coat sprayed`, async () => {
        const app = await open_page({ viewport: { width, height }, touch: true, plans: [FADE] });
        const { page } = app;
        try {
            await open_log(app, (button) => button.tap());
            await check_page(page, "job-log-empty");
            await page.getByLabel("Mix made").selectOption("plum");
            const weights = page.getByLabel(/^grams of/);
            await weights.first().fill("12.3");
            await page.getByLabel(/^batch of/).first().fill("B1207");
            await page.getByLabel(/^temperature/).fill("22");
            await page.getByLabel(/^Notes/).fill("a little more violet, by eye");
            await check_page(page, "job-log");
            await save_screenshot(page, `job-log-${width}`);
            await page.getByRole("button", { name: "Add entry" }).tap();
            await page.locator(".entries li").waitFor();
            assert.match(await page.locator(".entries").textContent(), /mixed 'plum'.*12\.3 g.*B1207.*22 °C.*violet/s);
            assert.equal(await weights.count(), 0, "the form is empty again");

            await page.getByLabel("Coat sprayed").selectOption("dusk: mid colour");
            await page.getByText("Gun settings differed from the plan").tap();
            await page.getByLabel(/^air/).fill("1.2");
            await page.getByRole("button", { name: "Add entry" }).tap();
            await page.locator(".entries li").nth(1).waitFor();
            assert.match(await page.locator(".entries li").nth(1).textContent(), /sprayed 'dusk: mid colour'.*1\.2 bar/s);
            await check_page(page, "job-log-entries");
            await save_screenshot(page, `job-log-entries-${width}`);
            const saved = await wait_for_file(app, LOG_FILE, (text) => text.includes("1.2 bar"));
            assert.ok(saved.indexOf("12.3 g") < saved.indexOf("1.2 bar"), "in the order in which they were entered");
            assert.deepEqual(app.problems, []);
        } finally {
            await app.close();
        }
    });
}

test("with the keyboard alone: an invalid entry is rejected with its reason and stays to be corrected", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, plans: [FADE] });
    const { page } = app;
    try {
        await open_log(app, (button) => button.press("Enter"));
        const note = page.getByLabel(/^Notes/);
        const temperature = page.getByLabel(/^temperature/);
        for (let steps = 0; steps < 40 && !(await temperature.evaluate((each) => each === document.activeElement)); ++steps)
            await page.keyboard.press("Tab");
        await page.keyboard.type("22 mm");
        await page.keyboard.press("Enter");
        await page.locator("dialog[open] .error", { hasText: /\S/ }).waitFor();
        assert.equal(await temperature.inputValue(), "22 mm", "the typed text is still there");
        await check_page(page, "job-log-rejected");
        await page.keyboard.press("Control+a");
        await page.keyboard.type("21 degC");
        for (let steps = 0; steps < 20 && !(await note.evaluate((each) => each === document.activeElement)); ++steps)
            await page.keyboard.press("Tab");
        await page.keyboard.type("second pass a bit wet");
        await page.keyboard.press("Enter");
        await page.locator(".entries li").waitFor();
        assert.match(await page.locator(".entries").textContent(), /21 °C.*second pass a bit wet/s);
        assert.equal(await page.locator("dialog[open] .error").textContent(), "");
        await page.keyboard.press("Escape");
        await page.waitForFunction(() => !document.querySelector("dialog[open]"));
        assert.match(app.read_file(LOG_FILE), /second pass a bit wet/);
        assert.deepEqual(app.problems.filter((each) => !each.includes("422")), []);
    } finally {
        await app.close();
    }
});
