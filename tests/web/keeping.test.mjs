// Nothing is lost: saved within a second, kept through a killed server and a closed browser, never written over what
// somebody else has saved.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { and_see, keep_picture, on_disk_soon, open_bench, settled } from "./bench.mjs";

const KILLS = 50;
const LATEST_MS = 1000;

async function on_the_bench(of) {
    const bench = await open_bench(of);
    await bench.page.getByRole("button", { name: "Put it on the bench" }).click();
    await settled(bench.page);
    return bench;
}

const more_extended = (page) => page.getByRole("button", { name: /^more extend of/ });

test("a change is on disk within a second, remarks and all", async () => {
    const bench = await on_the_bench();
    try {
        const before = bench.on_disk("demo.toml");
        const begin = Date.now();
        await more_extended(bench.page).click();
        const after = await on_disk_soon(bench, "demo.toml", (text) => text !== before);
        assert.ok(Date.now() - begin < LATEST_MS, `${Date.now() - begin} ms`);
        const remarks = (text) => text.split("\n").filter((line) => line.startsWith("#"));
        assert.deepEqual(remarks(after), remarks(before));
        const differ = after.split("\n").filter((line, i) => line !== before.split("\n")[i]);
        assert.equal(differ.length, 1, "one line has changed");
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});

test("the server killed at fifty moments while somebody edits: the plan is whole and at most a second old", async () => {
    const bench = await on_the_bench();
    const { page, server } = bench;
    const texts = [{ at: 0, text: bench.on_disk("demo.toml") }];
    page.on("response", async (response) => {
        if (!response.url().endsWith("/api/change") || response.status() !== 200) return;
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
            const disk = bench.on_disk("demo.toml");
            const known = texts.findLastIndex(({ text }) => text === disk);
            assert.ok(known >= 0, `kill ${kill}: what is on disk was never on the bench:\n${disk}`);
            const newer = texts.slice(known + 1).find(({ text }) => text !== disk);
            assert.ok(!newer || died - newer.at < LATEST_MS, `kill ${kill}: ${died - newer?.at} ms lost`);
            if (kill === 0) {
                await page.getByText("The bench's program has stopped").waitFor();
                await keep_picture(page, "server-gone");
            }
            await server.start();
            await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        }
        const shown = await page.getByLabel(/^extend of/).inputValue();
        assert.match(bench.on_disk("demo.toml"), new RegExp(`extend = ${shown}\\b`), "what is shown is saved at last");
    } finally {
        await bench.close();
    }
});

test("a save whose answer was lost is known again as the bench's own", async () => {
    const bench = await on_the_bench();
    const { page } = bench;
    try {
        const before = bench.on_disk("demo.toml");
        await page.route("**/api/save", async (route) => {
            await route.fetch();
            await route.abort();
        });
        await more_extended(page).click();
        await on_disk_soon(bench, "demo.toml", (text) => text !== before);
        await more_extended(page).click();
        await page.unroute("**/api/save");
        await on_disk_soon(bench, "demo.toml", (text) => /extend = 3\b/.test(text), 10000);
        await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        assert.equal(await page.getByRole("heading", { name: /was changed elsewhere/ }).count(), 0);
    } finally {
        await bench.close();
    }
});

test("a server that is back with another key asks for it and then saves", async () => {
    const bench = await on_the_bench();
    const { page } = bench;
    try {
        const before = bench.on_disk("demo.toml");
        await page.context().clearCookies();
        await more_extended(page).click();
        await page.getByLabel(/wants its new key/).waitFor();
        await keep_picture(page, "new-key");
        assert.equal(bench.on_disk("demo.toml"), before);
        await page.getByLabel(/wants its new key/).fill(bench.server.address);
        await page.keyboard.press("Enter");
        await page.waitForFunction(() => document.querySelector(".job-file").textContent.endsWith("· saved"));
        await more_extended(page).click();
        await on_disk_soon(bench, "demo.toml", (text) => text !== before);
    } finally {
        await bench.close();
    }
});

test("a page that closes before it has saved brings its text back", async () => {
    const bench = await on_the_bench();
    const { page } = bench;
    try {
        await page.route("**/api/save", (route) => route.abort());
        await more_extended(page).click();
        await page.waitForFunction(() =>
            document.querySelector(".job-file").textContent.includes("kept in this browser"),
        );
        const shown = await page.getByLabel(/^extend of/).inputValue();
        await page.unroute("**/api/save");
        await page.evaluate(() => new Promise((then) => setTimeout(then, 50)));
        const other = await page.context().newPage();
        await page.close({ runBeforeUnload: false });
        await other.goto(bench.server.address);
        await settled(other);
        await on_disk_soon(bench, "demo.toml", (text) => new RegExp(`extend = ${shown}\\b`).test(text));
    } finally {
        await bench.close();
    }
});

test("a file that somebody else saved is never written over: both are shown and the painter chooses", async () => {
    const bench = await on_the_bench({ viewport: { width: 1024, height: 768 } });
    const { page, folder } = bench;
    const from_elsewhere = (title) => {
        const theirs = bench.on_disk("demo.toml").replace(/^title = .*$/m, `title = "${title}"`);
        writeFileSync(join(folder, "demo.toml"), theirs);
        return theirs;
    };
    try {
        const theirs = from_elsewhere("Changed in the office");
        await page.getByRole("heading", { name: "demo.toml was changed elsewhere" }).waitFor();
        await page.waitForFunction(() => document.querySelectorAll(".meeting img").length === 2);
        await keep_picture(page, "changed-elsewhere");
        assert.equal(bench.on_disk("demo.toml"), theirs);
        await and_see(page, () => page.getByRole("button", { name: "Take the one on disk" }).click());
        await page.getByRole("button", { name: /On the bench: Changed in the office/ }).waitFor();

        from_elsewhere("Changed twice");
        await page.getByRole("button", { name: "Keep the bench's under another name" }).click();
        await on_disk_soon(bench, "demo-bench.toml", (text) => text.includes("Changed in the office"));
        assert.match(bench.on_disk("demo.toml"), /Changed twice/);

        from_elsewhere("Changed thrice");
        await page.getByRole("button", { name: "Keep the bench's", exact: true }).click();
        await on_disk_soon(bench, "demo.toml", (text) => text.includes("Changed twice"));
        assert.deepEqual(bench.complaints, []);
    } finally {
        await bench.close();
    }
});
