// What every state of the page must keep: nothing runs out of it, everything is large enough for a gloved finger, axe-core
// finds nothing serious.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TARGET_PX = 44; // WCAG 2.2, success criterion 2.5.5 (enhanced)

/** Fails if the page as it stands breaks one of them; `state` names it then. */
export async function check_page(page, state) {
    await no_overflow(page, state);
    await large_targets(page, state);
    await page.evaluate(AXE);
    const { violations } = await page.evaluate(() => axe.run());
    const grave = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
    assert.deepEqual(
        grave.map(({ id, nodes }) => `${state}: ${id}: ${nodes.map((node) => node.target).join(" ")}`),
        [],
    );
}

async function no_overflow(page, state) {
    const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    assert.ok(wide <= room, `${state}: ${wide} px wide in ${room} px`);
    const cut_off = await page.evaluate(() =>
        [...document.querySelectorAll(".pots, .happen, dialog[open]")]
            .filter((zone) => zone.scrollWidth > zone.clientWidth + 1)
            .map((zone) => `${zone.className}: ${zone.scrollWidth} px wide in ${zone.clientWidth} px`),
    );
    assert.deepEqual(cut_off, [], state);
}

async function large_targets(page, state) {
    const small = await page.evaluate((least) => {
        const scope = document.querySelector("dialog[open]") ?? document;
        return [...scope.querySelectorAll("button, select, summary, input:not([type=radio]), .start")]
            .map((each) => ({
                what: each.getAttribute("aria-label") ?? each.textContent,
                box: each.getBoundingClientRect(),
            }))
            .filter(({ box }) => box.width > 0 && (box.width < least - 0.5 || box.height < least - 0.5))
            .map(({ what, box }) => `${what}: ${box.width} × ${box.height}`);
    }, TARGET_PX);
    assert.deepEqual(small, [], state);
}
