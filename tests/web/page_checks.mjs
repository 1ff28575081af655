// Checks for every state of the page: nothing overflows, every target is large enough for a gloved finger, axe-core finds
// nothing serious.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TARGET_PX = 44; // WCAG 2.2, success criterion 2.5.5 (enhanced)

/** Fails if the page in its present state breaks one of them; `state` names it in the message. */
export async function check_page(page, state) {
    await no_overflow(page, state);
    await large_targets(page, state);
    await page.evaluate(AXE);
    const { violations } = await page.evaluate(() => axe.run());
    const serious = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
    assert.deepEqual(
        serious.map(({ id, nodes }) => `${state}: ${id}: ${nodes.map((node) => node.target).join(" ")}`),
        [],
    );
}

async function no_overflow(page, state) {
    const [content_width, window_width] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    assert.ok(content_width <= window_width, `${state}: ${content_width} px wide in ${window_width} px`);
    const overflowing = await page.evaluate(() =>
        [...document.querySelectorAll(".mixes, .forecast, dialog[open]")]
            .filter((zone) => zone.scrollWidth > zone.clientWidth + 1)
            .map((zone) => `${zone.className}: ${zone.scrollWidth} px wide in ${zone.clientWidth} px`),
    );
    assert.deepEqual(overflowing, [], state);
}

async function large_targets(page, state) {
    const small = await page.evaluate((min_px) => {
        const scope = document.querySelector("dialog[open]") ?? document;
        return [...scope.querySelectorAll("button, select, summary, input:not([type=radio]), .starter")]
            .map((each) => ({
                name: each.getAttribute("aria-label") ?? each.textContent,
                box: each.getBoundingClientRect(),
            }))
            .filter(({ box }) => box.width > 0 && (box.width < min_px - 0.5 || box.height < min_px - 0.5))
            .map(({ name, box }) => `${name}: ${box.width} × ${box.height}`);
    }, TARGET_PX);
    assert.deepEqual(small, [], state);
}
