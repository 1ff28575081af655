// Nothing is lost: saved within a second, kept through a killed server and a closed browser, never written over what
// somebody else has saved.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { change_and_wait, save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";

const KILLS = 50;
const LATEST_MS = 1000;

async function on_the_bench(of) {
    const app = await open_page(of);
    await app.page.getByRole("button", { name: "Create job" }).click();
    await wait_until_idle(app.page);
    return app;
}

const increase_extend = (page) => page.getByRole("button", { name: /^increase extend of/ });

test("a change is on disk within a second, remarks and all", async () => {
    const app = await on_the_bench();
    try {
        const before = app.read_file("demo.toml");
        const begin = Date.now();
        await increase_extend(app.page).click();
        const after = await wait_for_file(app, "demo.toml", (text) => text !== before);
        assert.ok(Date.now() - begin < LATEST_MS, `${Date.now() - begin} ms`);
        const remarks = (text) => text.split("\n").filter((line) => line.startsWith("#"));
        assert.deepEqual(remarks(after), remarks(before));
        const differ = after.split("\n").filter((line, i) => line !== before.split("\n")[i]);
        assert.equal(differ.length, 1, "one line has changed");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

test("the server killed at fifty moments while somebody edits: the plan is whole and at most a second old", async () => {
    const app = await on_the_bench();
    const { page, server } = app;
    const texts = [{ at: 0, text: app.read_file("demo.toml") }];
    page.on("response", async (response) => {
        if (!response.url().endsWith("/api/edit") || response.status() !== 200) return;
        const told = await response.json().catch(() => null);
        if (told) texts.push({ at: Date.now(), text: told.text });
    });
    let random = 12345;
    const next = () => (random = (random * 1103515245 + 12345) % 2147483648) / 2147483648;
    try {
        for (let kill = 0; kill < KILLS; ++kill) {
            const end = Date.now() + 100 + next() * 900;
            const way = kill % 2 ? "less" : "more";
            while (Date.now() < end) {
                await page.getByRole("button", { name: new RegExp(`^${way} extend of`) }).click();
                await page.waitForTimeout(40);
            }
            const died = Date.now();
            await server.kill();
            const disk = app.read_file("demo.toml");
            const known = texts.findLastIndex(({ text }) => text === disk);
            assert.ok(known >= 0, `kill ${kill}: what is on disk was never on the bench:\n${disk}`);
            const newer = texts.slice(known + 1).find(({ text }) => text !== disk);
            assert.ok(!newer || died - newer.at < LATEST_MS, `kill ${kill}: ${died - newer?.at} ms lost`);
            if (kill === 0) {
                await page.getByText("Fadewright has stopped").waitFor();
                await save_screenshot(page, "server-down");
            }
            await server.start();
            await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        }
        const shown = await page.getByLabel(/^extend of/).inputValue();
        assert.match(app.read_file("demo.toml"), new RegExp(`extend = ${shown}\\b`), "what is shown is saved at last");
    } finally {
        await app.close();
    }
});

test("a save whose answer was lost is known again as the bench's own", async () => {
    const app = await on_the_bench();
    const { page } = app;
    try {
        const before = app.read_file("demo.toml");
        await page.route("**/api/save", async (route) => {
            await route.fetch();
            await route.abort();
        });
        await increase_extend(page).click();
        await wait_for_file(app, "demo.toml", (text) => text !== before);
        await increase_extend(page).click();
        await page.unroute("**/api/save");
        await wait_for_file(app, "demo.toml", (text) => /extend = 3\b/.test(text), 10000);
        await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        assert.equal(await page.getByRole("heading", { name: /was changed outside this window/ }).count(), 0);
    } finally {
        await app.close();
    }
});

test("a server that is back with another key asks for it and then saves", async () => {
    const app = await on_the_bench();
    const { page } = app;
    try {
        const before = app.read_file("demo.toml");
        await page.context().clearCookies();
        await increase_extend(page).click();
        await page.getByLabel(/was restarted/).waitFor();
        await save_screenshot(page, "new-address");
        assert.equal(app.read_file("demo.toml"), before);
        await page.getByLabel(/was restarted/).fill(app.server.address);
        await page.keyboard.press("Enter");
        await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        await increase_extend(page).click();
        await wait_for_file(app, "demo.toml", (text) => text !== before);
    } finally {
        await app.close();
    }
});

test("a page that closes before it has saved brings its text back", async () => {
    const app = await on_the_bench();
    const { page } = app;
    try {
        await page.route("**/api/save", (route) => route.abort());
        await increase_extend(page).click();
        await page.waitForFunction(() =>
            document.querySelector(".job-file").textContent.includes("stored in this browser"),
        );
        const shown = await page.getByLabel(/^extend of/).inputValue();
        await page.unroute("**/api/save");
        await page.evaluate(() => new Promise((then) => setTimeout(then, 50)));
        const other = await page.context().newPage();
        await page.close({ runBeforeUnload: false });
        await other.goto(app.server.address);
        await wait_until_idle(other);
        await wait_for_file(app, "demo.toml", (text) => new RegExp(`extend = ${shown}\\b`).test(text));
    } finally {
        await app.close();
    }
});

test("a file that somebody else saved is never written over: both are shown and the painter chooses", async () => {
    const app = await on_the_bench({ viewport: { width: 1024, height: 768 } });
    const { page, folder } = app;
    const from_elsewhere = (title) => {
        const theirs = app.read_file("demo.toml").replace(/^title = .*$/m, `title = "${title}"`);
        writeFileSync(join(folder, "demo.toml"), theirs);
        return theirs;
    };
    try {
        const theirs = from_elsewhere("Changed in the office");
        await page.getByRole("heading", { name: "demo.toml was changed outside this window" }).waitFor();
        await page.waitForFunction(() => document.querySelectorAll(".conflict img").length === 2);
        await save_screenshot(page, "conflict");
        assert.equal(app.read_file("demo.toml"), theirs);
        await change_and_wait(page, () => page.getByRole("button", { name: "Use the saved file" }).click());
        await page.getByRole("button", { name: /Open: Changed in the office/ }).waitFor();

        from_elsewhere("Changed twice");
        await page.getByRole("button", { name: "Keep mine as a copy" }).click();
        await wait_for_file(app, "demo-mine.toml", (text) => text.includes("Changed in the office"));
        assert.match(app.read_file("demo.toml"), /Changed twice/);

        from_elsewhere("Changed thrice");
        await page.getByRole("button", { name: "Keep mine", exact: true }).click();
        await wait_for_file(app, "demo.toml", (text) => text.includes("Changed twice"));
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
