// The page in every state, on a tablet and on a large screen: nothing overflows, every target is large enough for a gloved
// finger, axe-core finds nothing serious. FW_ACCEPT=1 renews the screenshots in renders/page/.
import assert from "node:assert/strict";
import { test } from "node:test";
import { change_and_wait, save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";
import { check_page } from "./page_checks.mjs";

async function states(page, size) {
    const state = async (name) => {
        await check_page(page, name);
        await save_screenshot(page, `${name}-${size}`);
    };
    await state("first-run");
    await page.getByRole("button", { name: "Create job" }).click();
    await wait_until_idle(page);
    await state("demo");

    const handle = await page.getByRole("button", { name: /^Width of the fade/ }).boundingBox();
    await page.mouse.move(handle.x + 24, handle.y + 24);
    await page.mouse.down();
    await page.mouse.move(handle.x + 24, handle.y - 6, { steps: 4 });
    await page.waitForFunction(() => document.querySelector(".stage").dataset.shown === "draft");
    await save_screenshot(page, `dragging-${size}`);
    await change_and_wait(page, () => page.mouse.up());

    await page.getByRole("button", { name: "Save this version" }).click();
    await change_and_wait(page, () => page.getByRole("slider").press("ArrowLeft"));
    await change_and_wait(page, () => page.getByRole("slider").press("ArrowLeft"));
    await page.getByRole("button", { name: "Save this version" }).click();
    await page.waitForFunction(() => document.querySelectorAll(".version img").length === 2);
    await page.getByRole("button", { name: "Cross-section" }).click();
    await page.getByRole("img", { name: /^Cross-section:/ }).waitFor();
    await state("versions-and-section");
    await page.getByRole("button", { name: "Cross-section" }).click();

    await change_and_wait(page, () => page.locator("[data-step='0']").click());
    await state("after-a-coat");
    await change_and_wait(page, () => page.getByRole("button", { name: "All coats" }).click());
    await change_and_wait(page, () => page.locator("[data-key='overlay.select']").selectOption("defects"));
    await state("defects");
    await change_and_wait(page, () => page.locator("[data-key='overlay.select']").selectOption(""));
    await change_and_wait(page, () => page.locator("[data-key='light.select']").selectOption({ index: 4 }));
    await state("other-light");
    await page.getByRole("button", { name: /^in\b.*mils/ }).click();
    await page.waitForFunction(() => / in\b/.test(document.querySelector(".handle.width").textContent));
    await state("us-units");
    await page.locator("summary").click();
    await state("coat-card");

    await page.getByRole("button", { name: "Print & export" }).click();
    assert.match(
        await page.locator("dialog[open] .safety-note").textContent(),
        /isocyanates.*supplied-air respirator.*data sheets/,
        "the caution stands where the booth sheet is offered",
    );
    await state("exports");
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Compare", exact: true }).click();
    await page.waitForFunction(() => document.querySelectorAll(".option img").length === 2);
    await state("client-view");
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: /^Jobs\./ }).click();
    await page.getByRole("heading", { name: /^Jobs in/ }).waitFor();
    await state("jobs");
    await page.keyboard.press("Escape");
}

for (const [width, height] of [
    [1024, 768],
    [1920, 1080],
]) {
    test(`every state at ${width} × ${height}`, async () => {
        const app = await open_page({ viewport: { width, height } });
        try {
            await states(app.page, width);
            assert.deepEqual(app.problems, []);
        } finally {
            await app.close();
        }
    });
}

test("listed passes can be moved one by one", async () => {
    const app = await open_page({ plans: ["dusk-fade.toml"] });
    const { page } = app;
    try {
        await page.getByRole("button", { name: /dusk-fade\.toml/ }).click();
        await wait_until_idle(page);
        await page.locator("[data-step='1']").click();
        const pass = page.getByRole("button", { name: /^Pass 2 of mid colour:/ });
        const label = await pass.getAttribute("aria-label");
        await pass.focus();
        await change_and_wait(page, () => page.keyboard.press("ArrowUp"));
        assert.notEqual(await pass.getAttribute("aria-label"), label);
        await check_page(page, "passes");
        await save_screenshot(page, "passes");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

// A shield with a dark edge: our own invention.
const EDGE_PLAN = `plan = 1
title = "Shield with a dark edge"

[panel]
width = "300 mm"
height = "400 mm"
corner_radius = "140 mm"
ground = "white-primer"

[mixes.rim]
parts = { carbon-black = 1, burnt-sienna = 3 }
extend = 3
reduce = "15 %"

[[coats]]
name = "rim"
mix = "rim"
gun = "detail-gun-fan"
[[coats.outline_passes]]
offset = "-20 mm"          # a finger inside the edge
`;

test("an outline pass is moved by its offset, and the ground's step selects the workpiece", async () => {
    const app = await open_page({ viewport: { width: 1024, height: 768 }, texts: { "rim.toml": EDGE_PLAN } });
    const { page } = app;
    try {
        await page.getByRole("button", { name: /rim\.toml/ }).click();
        await wait_until_idle(page);
        const handle = page.getByRole("button", { name: /^Outline pass 1 of rim/ });
        const label = await handle.getAttribute("aria-label");
        await handle.focus();
        await change_and_wait(page, () => page.keyboard.press("ArrowRight"));
        await wait_until_idle(page);
        assert.notEqual(await handle.getAttribute("aria-label"), label);
        await wait_for_file(app, "rim.toml", (text) => /^offset = "-25 mm" +# a finger inside the edge$/m.test(text));
        await check_page(page, "outline-pass");
        await save_screenshot(page, "outline-pass");

        await change_and_wait(page, () => page.getByRole("button", { name: /the piece and its ground/ }).click());
        await change_and_wait(page, () => page.getByLabel("ground of the piece").selectOption("black-sealer"));
        await page.getByLabel("Name of the job").fill("Night shield");
        await page.keyboard.press("Enter");
        await page.getByRole("button", { name: /Open: Night shield/ }).waitFor();
        await wait_until_idle(page);
        await check_page(page, "workpiece");
        await save_screenshot(page, "workpiece");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

test("an edit that makes the plan invalid is rejected with its reason, and the control goes back", async () => {
    const app = await open_page({ plans: ["dusk-fade.toml"] });
    const { page } = app;
    try {
        await page.getByRole("button", { name: /dusk-fade\.toml/ }).click();
        await wait_until_idle(page);
        await page.getByLabel(/^extend of mid-colour/).fill("70");
        await page.keyboard.press("Enter");
        const alert = page.getByRole("alert");
        await alert.filter({ hasText: /\S/ }).first().waitFor();
        await check_page(page, "rejected-edit");
        await save_screenshot(page, "rejected-edit");
        await page.getByRole("button", { name: "Dismiss" }).click();
        assert.equal(
            await page.getByLabel(/^extend of mid-colour/).inputValue(),
            "2",
            "the control shows what the plan says",
        );
    } finally {
        await app.close();
    }
});
