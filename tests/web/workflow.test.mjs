// The whole workflow of a job: with the mouse, by touch, and with the keyboard alone.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { change_and_wait, save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";

const ratio = (page) => page.locator(".dial output").textContent();
const forecast = (page) => page.locator("#forecast .sentences").textContent();
const steps = (page) => page.locator("#strip [data-step] .step-name").allTextContents();
const width_handle = (page) => page.getByRole("button", { name: /^Width of the fade/ });
const width_mm = async (page) => Number(/(\d+) mm/.exec(await width_handle(page).getAttribute("aria-label"))[1]);

async function downloaded(page, name) {
    const waiting = page.waitForEvent("download");
    await page.getByRole("button", { name }).press("Enter");
    return readFileSync(await (await waiting).path());
}

async function export_files(page) {
    await page.getByRole("button", { name: "Print & export" }).press("Enter");
    const sheet = await downloaded(page, /^Booth sheet/);
    assert.equal(sheet.subarray(0, 5).toString(), "%PDF-", "the booth sheet is a PDF (ISO 32000-1, 7.5.2)");
    const proof = await downloaded(page, /^Proof\s*PDF/);
    assert.equal(proof.subarray(0, 5).toString(), "%PDF-", "the proof is a PDF");
    await page.keyboard.press("Escape");
}

/** The end of all three workflows: exports made, everything undone and redone, saved, opened again. */
async function finish_workflow(app, opened_text) {
    const { page } = app;
    await export_files(page);
    await change_and_wait(page, () => page.getByRole("button", { name: /^Undo all/ }).press("Enter"));
    assert.equal(await wait_for_file(app, "demo.toml", (text) => text === opened_text), opened_text);
    assert.equal(await ratio(page), "1 : 1");
    await change_and_wait(page, () => page.getByRole("button", { name: /^Redo/ }).press("Enter"));
    const last = await wait_for_file(app, "demo.toml", (text) => text !== opened_text);
    await page.reload();
    await wait_until_idle(page);
    assert.notEqual(await ratio(page), "1 : 1", "the saved plan is open again");
    assert.equal(app.read_file("demo.toml"), last, "opening alone changes nothing");
    assert.deepEqual(app.problems, []);
}

async function create_demo(app, press) {
    await press(app.page.getByRole("button", { name: "Create job" }));
    await wait_until_idle(app.page);
    assert.equal(await ratio(app.page), "1 : 1");
    return app.read_file("demo.toml");
}

test("with the mouse: ratio, fade, versions, order, exports, undo, save, reopen", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 } });
    const { page } = app;
    try {
        const opened = await create_demo(app, (button) => button.click());
        await page.getByRole("button", { name: "Save this version" }).click();

        const before = await forecast(page);
        const dial = await page.getByRole("slider", { name: /^Ratio of/ }).boundingBox();
        await change_and_wait(page, () =>
            page.mouse.click(dial.x + 13 + ((dial.width - 26) * 2) / 8, dial.y + dial.height / 2),
        );
        assert.equal(await ratio(page), "2 : 1");
        await page.waitForFunction((old) => document.querySelector("#forecast .sentences").textContent !== old, before);
        await wait_for_file(app, "demo.toml", (text) => /mid_ratio = 2\b/.test(text));

        const wide = await width_mm(page);
        await drag_with_mouse(page, width_handle(page), 0, 20);
        assert.ok((await width_mm(page)) > wide + 40, "the fade is wider");

        await page.getByRole("button", { name: "Save this version" }).click();
        await page.waitForFunction(() => document.querySelectorAll(".version img").length === 2);
        const first_version = page.locator(".version").first();
        assert.match(await first_version.textContent(), /1\s:\s1/, "the difference is written on the version");
        await page.getByRole("button", { name: "Compare", exact: true }).click();
        await page.waitForFunction(() => document.querySelectorAll(".option img").length === 2);
        await page.getByRole("button", { name: "Close" }).click();

        const [first, second] = await steps(page);
        await drag_step(page, 0, 1);
        await page.waitForFunction(
            (name) => document.querySelector("#strip [data-step='0'] .step-name").textContent === name,
            second,
        );
        assert.deepEqual((await steps(page)).slice(0, 2), [second, first]);
        await finish_workflow(app, opened);
    } finally {
        await app.close();
    }
});

async function drag_with_mouse(page, handle, dx, dy) {
    const box = await handle.boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + dx / 2, y + dy / 2, { steps: 3 });
    await page.waitForFunction(() => document.querySelector(".stage").dataset.shown === "draft");
    await page.mouse.move(x + dx, y + dy, { steps: 3 });
    await change_and_wait(page, () => page.mouse.up());
}

async function drag_step(page, from, to) {
    const a = await page.locator(`[data-step="${from}"]`).boundingBox();
    const b = await page.locator(`[data-step="${to}"]`).boundingBox();
    await page.mouse.move(a.x + a.width / 2, a.y + 20);
    await page.mouse.down();
    await page.mouse.move(b.x + b.width / 2 + 20, b.y + 20, { steps: 6 });
    await change_and_wait(page, () => page.mouse.up());
}

test("by touch: the same workflow on a tablet, and a coat held to hide it", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, touch: true });
    const { page } = app;
    const touch_screen = await page.context().newCDPSession(page);
    const touch = (type, x, y) =>
        touch_screen.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y }] });
    try {
        const opened = await create_demo(app, (button) => button.tap());
        await page.getByRole("button", { name: "Save this version" }).tap();
        const dial = await page.getByRole("slider", { name: /^Ratio of/ }).boundingBox();
        await change_and_wait(page, () =>
            page.touchscreen.tap(dial.x + 13 + ((dial.width - 26) * 2) / 8, dial.y + dial.height / 2),
        );
        assert.equal(await ratio(page), "2 : 1");

        const wide = await width_mm(page);
        const handle = await width_handle(page).boundingBox();
        const [x, y] = [handle.x + handle.width / 2, handle.y + handle.height / 2];
        await touch("touchStart", x, y);
        for (let dy = 4; dy <= 20; dy += 4) await touch("touchMove", x, y + dy);
        await change_and_wait(page, () => touch("touchEnd"));
        assert.ok((await width_mm(page)) > wide + 40, "the fade is wider");

        const step = await page.locator("[data-step='1']").boundingBox();
        await touch("touchStart", step.x + 40, step.y + 20);
        await page.waitForSelector("[data-step='1'].hidden-coat");
        await touch("touchEnd");
        await wait_until_idle(page);
        assert.match(await page.locator(".view-note").textContent(), /without/);
        await change_and_wait(page, () => page.getByRole("button", { name: "All coats" }).tap());
        await page.getByRole("button", { name: "Save this version" }).tap();
        await page.waitForFunction(() => document.querySelectorAll(".version img").length === 2);
        await finish_workflow(app, opened);
    } finally {
        await app.close();
    }
});

test("with the keyboard alone: the same workflow", async () => {
    const app = await open_page({ viewport: { width: 1920, height: 1080 } });
    const { page } = app;
    /** Presses Tab until the focus is on the element called `name`. */
    const tab_to = async (name, key = "Tab") => {
        for (let count = 0; count < 160; ++count) {
            const names = await page.evaluate(() => {
                const at = document.activeElement;
                const label = at.labels?.[0]?.textContent ?? "";
                return `${at.getAttribute("aria-label") ?? ""}|${at.textContent}|${label}`;
            });
            if (names.split("|").some((each) => name.test(each.trim()))) return;
            await page.keyboard.press(key);
        }
        throw new Error(`Tab never reaches ${name}`);
    };
    try {
        await tab_to(/^Create job$/);
        await page.keyboard.press("Enter");
        await wait_until_idle(page);
        const opened = app.read_file("demo.toml");
        await tab_to(/^Save this version$/);
        await page.keyboard.press("Enter");
        await tab_to(/^Ratio of/);
        await change_and_wait(page, () => page.keyboard.press("ArrowLeft"));
        await change_and_wait(page, () => page.keyboard.press("ArrowLeft"));
        assert.equal(await ratio(page), "2 : 1");

        const wide = await width_mm(page);
        await tab_to(/^Width of the fade/);
        await change_and_wait(page, async () => {
            for (let i = 0; i < 6; ++i) await page.keyboard.press("ArrowDown");
        });
        assert.ok((await width_mm(page)) > wide + 40, "the fade is wider");
        await tab_to(/^Save this version$/, "Shift+Tab");
        await page.keyboard.press("Enter");
        await page.waitForFunction(() => document.querySelectorAll(".version img").length === 2);
        await tab_to(/^Compare$/);
        await page.keyboard.press("Enter");
        await page.waitForFunction(() => document.querySelectorAll(".option img").length === 2);
        await save_screenshot(page, "client-view-two-options-1920");
        await page.keyboard.press("Escape");

        const [first, second] = await steps(page);
        await tab_to(/^Move later$/);
        await change_and_wait(page, () => page.keyboard.press("Enter"));
        assert.deepEqual((await steps(page)).slice(0, 2), [second, first]);
        await change_and_wait(page, () => page.keyboard.press("Control+z"));
        assert.deepEqual((await steps(page)).slice(0, 2), [first, second]);
        await finish_workflow(app, opened);
    } finally {
        await app.close();
    }
});
