// Wide-gamut pictures on screens that can show them, and the client view, which fills the screen.
import assert from "node:assert/strict";
import { test } from "node:test";
import { inflateSync } from "node:zlib";
import { change_and_wait, open_page, wait_until_idle } from "./page.mjs";

/** A PNG's colour profile and its name (PNG 3rd edition, 11.3.2.3: iCCP). */
function profile_of(png) {
    const at = png.indexOf("iCCP");
    assert.ok(at > 0, "the picture carries its profile");
    const chunk = png.subarray(at + 4, at + 4 + png.readUInt32BE(at - 4));
    const end = chunk.indexOf(0);
    return { name: chunk.subarray(0, end).toString("latin1"), profile: inflateSync(chunk.subarray(end + 2)) };
}

/** The next full picture the page receives: the request body, and the colour profile of the answer. */
async function next_full_picture(page, action) {
    const received = new Promise((resolve) => {
        page.route("**/api/picture", async (route) => {
            const body = route.request().postDataJSON();
            const answer = await route.fetch();
            if (answer.ok() && !body.draft) resolve({ body, ...profile_of(await answer.body()) });
            await route.fulfill({ response: answer }).catch(() => {}); // the page may have sent a newer request
        });
    });
    await action();
    const found = await received;
    await page.unrouteAll({ behavior: "wait" });
    return found;
}

test("a wide-gamut screen gets a wide-gamut picture, another screen does not", async () => {
    const app = await open_page({ plans: ["dusk-fade-short.toml"] });
    const { page } = app;
    const screen = await page.context().newCDPSession(page);
    const gamut = (value) =>
        screen.send("Emulation.setEmulatedMedia", { features: [{ name: "color-gamut", value }] });
    try {
        await gamut("srgb");
        const srgb = await next_full_picture(page, () =>
            page.getByRole("button", { name: /dusk-fade-short\.toml/ }).click(),
        );
        assert.equal(srgb.body.wide_gamut, false);
        assert.match(srgb.name, /sRGB/);
        await wait_until_idle(page);

        const wide = await next_full_picture(page, () => gamut("p3"));
        assert.equal(wide.body.wide_gamut, true, "the page requests a new picture when the screen changes");
        assert.match(wide.name, /P3/);
        assert.notDeepEqual(wide.profile, srgb.profile);
        await wait_until_idle(page);

        const again = await next_full_picture(page, () => gamut("srgb"));
        assert.equal(again.body.wide_gamut, false);
        assert.match(again.name, /sRGB/);
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

test("the client view shows the versions alone on the full screen and leaves no dialog open", async () => {
    const app = await open_page({ plans: ["dusk-fade-short.toml"] });
    const { page } = app;
    try {
        await page.getByRole("button", { name: /dusk-fade-short\.toml/ }).click();
        await wait_until_idle(page);
        await page.getByRole("button", { name: "Save this version" }).click();
        await change_and_wait(page, () => page.getByRole("slider", { name: /^Ratio of/ }).press("ArrowLeft"));
        await page.getByRole("button", { name: "Client view" }).click();
        await page.waitForFunction(() => document.fullscreenElement);
        await page.waitForFunction(() => document.querySelectorAll(".option img").length === 2);
        const [client, screen] = await page.evaluate(() => {
            const { width, height } = document.querySelector("dialog.client-view").getBoundingClientRect();
            return [
                [width, height],
                [innerWidth, innerHeight],
            ];
        });
        assert.deepEqual(client, screen, "it fills the screen");
        const is_on_top = await page.evaluate(() => {
            const at = document.elementFromPoint(innerWidth / 2, innerHeight / 2);
            return Boolean(at.closest("dialog.client-view"));
        });
        assert.ok(is_on_top, "nothing of the workspace shows");

        const before = await page.locator(".option img").first().getAttribute("src");
        await page.locator("dialog.client-view select").first().selectOption({ index: 3 });
        await page.waitForFunction((old) => {
            const image = document.querySelector(".option img");
            return image && image.getAttribute("src") !== old;
        }, before);

        await page.getByRole("button", { name: "Close" }).click();
        await page.waitForFunction(() => !document.fullscreenElement);
        assert.equal(await page.locator("dialog[open]").count(), 0);

        await page.getByRole("button", { name: "Client view" }).click();
        await page.waitForFunction(() => document.fullscreenElement);
        await page.evaluate(() => document.exitFullscreen());
        await page.waitForFunction(() => !document.fullscreenElement);
        await page.getByRole("button", { name: "Close" }).click();
        assert.equal(await page.locator("dialog[open]").count(), 0, "leaving the full screen keeps the close button");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
