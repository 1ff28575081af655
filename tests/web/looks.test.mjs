// How the bench looks in every state, on a tablet and on a large screen: nothing runs out of the page, everything is
// large enough for a gloved finger, axe-core finds nothing serious. FW_ACCEPT=1 renews the pictures in renders/bench/.
import assert from "node:assert/strict";
import { test } from "node:test";
import { and_see, keep_picture, on_disk_soon, open_bench, settled } from "./bench.mjs";
import { judge } from "./judge.mjs";

async function states(page, size) {
    const state = async (name) => {
        await judge(page, name);
        await keep_picture(page, `${name}-${size}`);
    };
    await state("first-run");
    await page.getByRole("button", { name: "Put it on the bench" }).click();
    await settled(page);
    await state("demo");

    const grip = await page.getByRole("button", { name: /^Width of the fade/ }).boundingBox();
    await page.mouse.move(grip.x + 24, grip.y + 24);
    await page.mouse.down();
    await page.mouse.move(grip.x + 24, grip.y - 6, { steps: 4 });
    await page.waitForFunction(() => document.querySelector(".stage").dataset.shown === "draft");
    await keep_picture(page, `dragging-${size}`);
    await and_see(page, () => page.mouse.up());

    await page.getByRole("button", { name: "Pin this look" }).click();
    await and_see(page, () => page.getByRole("slider").press("ArrowLeft"));
    await and_see(page, () => page.getByRole("slider").press("ArrowLeft"));
    await page.getByRole("button", { name: "Pin this look" }).click();
    await page.waitForFunction(() => document.querySelectorAll(".pin img").length === 2);
    await page.getByRole("button", { name: "Cut through" }).click();
    await page.getByRole("img", { name: /^Cut:/ }).waitFor();
    await state("pinned-and-cut");
    await page.getByRole("button", { name: "Cut through" }).click();

    await and_see(page, () => page.locator("[data-step='0']").click());
    await state("after-a-coat");
    await and_see(page, () => page.getByRole("button", { name: "Finished" }).click());
    await and_see(page, () => page.locator("[data-key='veil.choice']").selectOption("faults"));
    await state("faults");
    await and_see(page, () => page.locator("[data-key='veil.choice']").selectOption(""));
    await and_see(page, () => page.locator("[data-key='light.choice']").selectOption({ index: 4 }));
    await state("other-light");
    await page.getByRole("button", { name: /^inch/ }).click();
    await page.waitForFunction(() => / in\b/.test(document.querySelector(".grip.wide").textContent));
    await state("us-units");
    await page.locator("summary").click();
    await state("coat-card");

    await page.getByRole("button", { name: "Papers" }).click();
    await state("papers");
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Side by side" }).click();
    await page.waitForFunction(() => document.querySelectorAll(".option img").length === 2);
    await state("client");
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
        const bench = await open_bench({ viewport: { width, height } });
        try {
            await states(bench.page, width);
            assert.deepEqual(bench.complaints, []);
        } finally {
            await bench.close();
        }
    });
}

test("passes written out by hand can be held one by one", async () => {
    const bench = await open_bench({ plans: ["dusk-fade.toml"] });
    const { page } = bench;
    try {
        await page.getByRole("button", { name: /dusk-fade\.toml/ }).click();
        await settled(page);
        await page.locator("[data-step='1']").click();
        const pass = page.getByRole("button", { name: /^Pass 2 of middle:/ });
        const place = await pass.getAttribute("aria-label");
        await pass.focus();
        await and_see(page, () => page.keyboard.press("ArrowUp"));
        assert.notEqual(await pass.getAttribute("aria-label"), place);
        await judge(page, "passes");
        await keep_picture(page, "passes");
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});

// A shield with a dark rim: our own invention.
const RIM = `plan = 1
title = "Shield with a dark rim"

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
[[coats.follows]]
offset = "-20 mm"          # a finger inside the edge
`;

test("a rim is held by its distance from the outline, and the piece is in hand at the ground's step", async () => {
    const bench = await open_bench({ viewport: { width: 1024, height: 768 }, texts: { "rim.toml": RIM } });
    const { page } = bench;
    try {
        await page.getByRole("button", { name: /rim\.toml/ }).click();
        await settled(page);
        const grip = page.getByRole("button", { name: /^Follow 1 of rim/ });
        const place = await grip.getAttribute("aria-label");
        await grip.focus();
        await and_see(page, () => page.keyboard.press("ArrowRight"));
        await settled(page);
        assert.notEqual(await grip.getAttribute("aria-label"), place);
        await on_disk_soon(bench, "rim.toml", (text) => /^offset = "-25 mm" +# a finger inside the edge$/m.test(text));
        await judge(page, "rim");
        await keep_picture(page, "rim");

        await and_see(page, () => page.getByRole("button", { name: /the piece and its ground/ }).click());
        await and_see(page, () => page.getByLabel("ground of the piece").selectOption("black-sealer"));
        await page.getByLabel("Name of the job").fill("Night shield");
        await page.keyboard.press("Enter");
        await page.getByRole("button", { name: /On the bench: Night shield/ }).waitFor();
        await settled(page);
        await judge(page, "piece");
        await keep_picture(page, "piece");
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});

test("a plan with mistakes says what is in the way and keeps the rest to hand", async () => {
    const bench = await open_bench({ plans: ["dusk-fade.toml"] });
    const { page } = bench;
    try {
        await page.getByRole("button", { name: /dusk-fade\.toml/ }).click();
        await settled(page);
        await page.getByLabel(/^extend of middle/).fill("70");
        await page.keyboard.press("Enter");
        const trouble = page.getByRole("alert");
        await trouble.filter({ hasText: /\S/ }).first().waitFor();
        await judge(page, "refused");
        await keep_picture(page, "refused");
        await page.getByRole("button", { name: "Understood" }).click();
        assert.equal(
            await page.getByLabel(/^extend of middle/).inputValue(),
            "2",
            "the control shows what the plan says",
        );
    } finally {
        await bench.close();
    }
});
