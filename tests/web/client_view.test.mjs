// What only the eye gets: a picture in more colours where the screen has them, and the client's view that fills it.
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

/** The next whole picture that comes to the page: what was asked, and what its profile says. */
async function next_whole_picture(page, act) {
    const come = new Promise((then) => {
        page.route("**/api/picture", async (route) => {
            const asked = route.request().postDataJSON();
            const answer = await route.fetch();
            if (answer.ok() && !asked.draft) then({ asked, ...profile_of(await answer.body()) });
            await route.fulfill({ response: answer }).catch(() => {}); // the page may have asked anew
        });
    });
    await act();
    const found = await come;
    await page.unrouteAll({ behavior: "wait" });
    return found;
}

test("on a screen with more colours the picture has them, and only there", async () => {
    const app = await open_page({ plans: ["dusk-fade-short.toml"] });
    const { page } = app;
    const screen = await page.context().newCDPSession(page);
    const gamut = (value) =>
        screen.send("Emulation.setEmulatedMedia", { features: [{ name: "color-gamut", value }] });
    try {
        await gamut("srgb");
        const usual = await next_whole_picture(page, () =>
            page.getByRole("button", { name: /dusk-fade-short\.toml/ }).click(),
        );
        assert.equal(usual.asked.wide_gamut, false);
        assert.match(usual.name, /sRGB/);
        await wait_until_idle(page);

        const wide = await next_whole_picture(page, () => gamut("p3"));
        assert.equal(wide.asked.wide_gamut, true, "the page asks anew when the screen changes");
        assert.match(wide.name, /P3/);
        assert.notDeepEqual(wide.profile, usual.profile);
        await wait_until_idle(page);

        const again = await next_whole_picture(page, () => gamut("srgb"));
        assert.equal(again.asked.wide_gamut, false);
        assert.match(again.name, /sRGB/);
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

test("the client sees the looks alone on the whole screen, and the bench comes back as it was", async () => {
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
        const shown = await page.evaluate(() => {
            const at = document.elementFromPoint(innerWidth / 2, innerHeight / 2);
            return Boolean(at.closest("dialog.client-view"));
        });
        assert.ok(shown, "nothing of the bench shows");

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
        assert.equal(await page.locator("dialog[open]").count(), 0, "leaving the full screen leaves a way back");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
