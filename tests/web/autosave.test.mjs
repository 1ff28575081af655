// Autosave: saved within a second, restored after a killed server and a closed browser, never overwrites a file that was
// changed elsewhere.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { change_and_wait, save_screenshot, wait_for_file, open_page, wait_until_idle } from "./page.mjs";

const KILLS = 50;
const MAX_AGE_MS = 1000;

async function open_demo(options) {
    const app = await open_page(options);
    await app.page.getByRole("button", { name: "Create job" }).click();
    await wait_until_idle(app.page);
    return app;
}

const increase_extend = (page) => page.getByRole("button", { name: /^increase extend of/ });

test("an edit is on disk within a second, comments unchanged", async () => {
    const app = await open_demo();
    try {
        const before = app.read_file("demo.toml");
        const begin = Date.now();
        await increase_extend(app.page).click();
        const after = await wait_for_file(app, "demo.toml", (text) => text !== before);
        assert.ok(Date.now() - begin < MAX_AGE_MS, `${Date.now() - begin} ms`);
        const comments = (text) => text.split("\n").filter((line) => line.startsWith("#"));
        assert.deepEqual(comments(after), comments(before));
        const differ = after.split("\n").filter((line, i) => line !== before.split("\n")[i]);
        assert.equal(differ.length, 1, "one line has changed");
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});

test("the server killed at fifty moments during editing: the plan on disk is complete and at most a second old", async () => {
    const app = await open_demo();
    const { page, server } = app;
    const texts = [{ at: 0, text: app.read_file("demo.toml") }];
    page.on("response", async (response) => {
        if (!response.url().endsWith("/api/edit") || response.status() !== 200) return;
        const answer = await response.json().catch(() => null);
        if (answer) texts.push({ at: Date.now(), text: answer.text });
    });
    let random = 12345;
    const next = () => (random = (random * 1103515245 + 12345) % 2147483648) / 2147483648;
    try {
        for (let kill = 0; kill < KILLS; ++kill) {
            const end = Date.now() + 100 + next() * 900;
            const verb = kill % 2 ? "decrease" : "increase";
            while (Date.now() < end) {
                await page.getByRole("button", { name: new RegExp(`^${verb} extend of`) }).click();
                await page.waitForTimeout(40);
            }
            const killed_at = Date.now();
            await server.kill();
            const disk = app.read_file("demo.toml");
            const known = texts.findLastIndex(({ text }) => text === disk);
            assert.ok(known >= 0, `kill ${kill}: the text on disk was never open on the page:\n${disk}`);
            const newer = texts.slice(known + 1).find(({ text }) => text !== disk);
            assert.ok(!newer || killed_at - newer.at < MAX_AGE_MS, `kill ${kill}: ${killed_at - newer?.at} ms lost`);
            if (kill === 0) {
                await page.getByText("Fadewright has stopped").waitFor();
                await save_screenshot(page, "server-down");
            }
            await server.start();
            await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        }
        await wait_until_idle(page);
        const shown = await page.getByLabel(/^extend of/).inputValue();
        assert.match(app.read_file("demo.toml"), new RegExp(`extend = ${shown}\\b`), "the value shown is saved in the end");
    } finally {
        await app.close();
    }
});

test("a save whose answer was lost is recognised as the page's own", async () => {
    const app = await open_demo();
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

test("a server restarted with another key asks for its address and then saves", async () => {
    const app = await open_demo();
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

test("a page closed before it has saved restores its text", async () => {
    const app = await open_demo();
    const { page } = app;
    try {
        await page.route("**/api/save", (route) => route.abort());
        await increase_extend(page).click();
        await page.waitForFunction(() =>
            document.querySelector(".job-file").textContent.includes("stored in this browser"),
        );
        const shown = await page.getByLabel(/^extend of/).inputValue();
        await page.unroute("**/api/save");
        await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 50)));
        const other = await page.context().newPage();
        await page.close({ runBeforeUnload: false });
        await other.goto(app.server.address);
        await wait_until_idle(other);
        await wait_for_file(app, "demo.toml", (text) => new RegExp(`extend = ${shown}\\b`).test(text));
    } finally {
        await app.close();
    }
});

test("a file changed elsewhere is never overwritten: both versions are shown and the painter chooses", async () => {
    const app = await open_demo({ viewport: { width: 1024, height: 768 } });
    const { page, folder } = app;
    const change_elsewhere = (title) => {
        const theirs = app.read_file("demo.toml").replace(/^title = .*$/m, `title = "${title}"`);
        writeFileSync(join(folder, "demo.toml"), theirs);
        return theirs;
    };
    try {
        const theirs = change_elsewhere("Changed in the office");
        await page.getByRole("heading", { name: "demo.toml was changed outside this window" }).waitFor();
        await page.waitForFunction(() => document.querySelectorAll(".conflict img").length === 2);
        await save_screenshot(page, "conflict");
        assert.equal(app.read_file("demo.toml"), theirs);
        await change_and_wait(page, () => page.getByRole("button", { name: "Use the saved file" }).click());
        await page.getByRole("button", { name: /Open: Changed in the office/ }).waitFor();

        change_elsewhere("Changed twice");
        await page.getByRole("button", { name: "Keep mine as a copy" }).click();
        await wait_for_file(app, "demo-mine.toml", (text) => text.includes("Changed in the office"));
        assert.match(app.read_file("demo.toml"), /Changed twice/);

        change_elsewhere("Changed thrice");
        await page.getByRole("button", { name: "Keep mine", exact: true }).click();
        await wait_for_file(app, "demo.toml", (text) => text.includes("Changed twice"));
        assert.deepEqual(app.problems, []);
    } finally {
        await app.close();
    }
});
