// A bench for the tests: the real server on a folder of its own, and Debian's Chromium before it. What the page complains
// about and every request that would leave this machine is noted.
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { extname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

/** The top of the project. */
export const ROOT = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const PROGRAM = process.env.FW_PROGRAM ?? join(ROOT, "build/release/fadewright");
const PATIENCE_MS = 60000;
const KEY = "a-key-of-the-tests-0123456789";

/** The server on a folder; it can be killed and started again on the same port. */
export class Server {
    constructor(folder) {
        this.folder = folder;
    }

    async start() {
        this.port ??= await free_port();
        const child = spawn(PROGRAM, ["serve", this.folder, "--port", String(this.port)], {
            env: { ...process.env, FW_BENCH_KEY: KEY },
            stdio: ["ignore", "pipe", "pipe"],
        });
        this.child = child;
        this.ended = new Promise((then) => child.once("exit", then));
        this.address = await printed_address(child);
        return this;
    }

    /** Ends it as a power cut would. */
    async kill() {
        this.child.kill("SIGKILL");
        await this.ended;
    }
}

function printed_address(child) {
    let told = "";
    return new Promise((then, fail) => {
        child.stdout.on("data", (bytes) => {
            told += bytes;
            const found = /http:\/\/127\.0\.0\.1:\d+\/\?key=\S+/.exec(told);
            if (found) then(found[0]);
        });
        child.stderr.on("data", (bytes) => {
            told += bytes;
        });
        child.once("exit", () => fail(new Error(`the server ended: ${told}`)));
    });
}

function free_port() {
    return new Promise((then) => {
        const server = createServer().listen(0, "127.0.0.1", () => {
            const { port } = server.address();
            server.close(() => then(port));
        });
    });
}

const TYPES = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript" };

/** With FW_PAGE=web the page comes from that folder instead of the program: no build for a change of the page. */
async function page_from_folder(context) {
    const from = process.env.FW_PAGE && resolve(ROOT, process.env.FW_PAGE);
    if (!from) return;
    await context.route(/^http:[^?]*\/(bench\/[\w.]+)?$/, async (route) => {
        const name = new URL(route.request().url()).pathname.replace("/bench/", "").replace("/", "") || "index.html";
        const answer = await route.fetch({ maxRedirects: 0 });
        const headers = { ...answer.headers(), "content-type": TYPES[extname(name)] };
        if (answer.status() === 401) await route.fulfill({ response: answer });
        else await route.fulfill({ status: 200, headers, body: readFileSync(join(from, name)) });
    });
}

/**
 * A server, a browser and a page.
 * @param {object=} of
 * @param {{width: number, height: number}=} of.viewport
 * @param {boolean=} of.touch  a screen for fingers
 * @param {string[]=} of.plans  files of presets/plans that lie in the folder
 * @param {Object<string, string>=} of.texts  other plans in the folder: name and text
 */
export async function open_page(of = {}) {
    const { viewport = { width: 1280, height: 800 }, touch = false, plans = [], texts = {} } = of;
    const folder = mkdtempSync(join(tmpdir(), "bench-"));
    for (const plan of plans) writeFileSync(join(folder, plan), readFileSync(join(ROOT, "presets/plans", plan)));
    for (const [name, text] of Object.entries(texts)) writeFileSync(join(folder, name), text);
    const server = await new Server(folder).start();
    const browser = await chromium.launch({ executablePath: "/usr/bin/chromium" });
    const context = await browser.newContext({ viewport, hasTouch: touch, acceptDownloads: true });
    context.setDefaultTimeout(PATIENCE_MS);
    const page = await context.newPage();
    await page_from_folder(context);
    const complaints = listen_to(page);
    await page.goto(server.address);
    await page.waitForSelector("body[data-ready]");
    const app = { page, server, folder, complaints };
    app.on_disk = (file) => readFileSync(join(folder, file), "utf8");
    app.close = async () => {
        await browser.close();
        await server.kill();
        rmSync(folder, { recursive: true });
    };
    return app;
}

function listen_to(page) {
    const complaints = [];
    page.on("console", (message) => {
        if (["error", "warning"].includes(message.type()))
            complaints.push(`console: ${message.text()} ${message.location().url}`);
    });
    page.on("pageerror", (error) => complaints.push(`error: ${error.stack}`));
    page.on("request", (request) => {
        const { protocol, hostname } = new URL(request.url());
        if (protocol.startsWith("http") && hostname !== "127.0.0.1")
            complaints.push(`left the machine: ${request.url()}`);
    });
    return complaints;
}

/** Waits until the whole picture of the present text is shown and all is said about it. */
export async function wait_until_idle(page) {
    await page.waitForFunction(
        () =>
            document.querySelector(".stage")?.dataset.shown === "final" &&
            !document.querySelector("[aria-busy='true']") &&
            document.body.dataset.busy !== "yes",
    );
}

/** Does something that changes the picture, and waits for the new one. */
export async function change_and_wait(page, act) {
    const before = await page.getAttribute(".stage", "data-picture");
    await act();
    await page.waitForFunction((old) => {
        const stage = document.querySelector(".stage");
        return stage.dataset.shown === "final" && stage.dataset.picture !== old;
    }, before);
    await wait_until_idle(page);
}

/** Waits until the file on disk is what `wanted` says of its text. */
export async function wait_for_file(app, file, wanted, within_ms = 3000) {
    const end = Date.now() + within_ms;
    for (;;) {
        const text = existsSync(join(app.folder, file)) ? app.read_file(file) : "";
        if (wanted(text)) return text;
        if (Date.now() > end) throw new Error(`not on disk after ${within_ms} ms:\n${text}`);
        await new Promise((then) => setTimeout(then, 25));
    }
}

/** Keeps a picture of the page in renders/page/, when pictures are being renewed (FW_ACCEPT=1). */
export async function save_screenshot(page, name) {
    if (process.env.FW_ACCEPT !== "1") return;
    const folder = join(ROOT, "renders/page");
    if (!existsSync(folder)) mkdirSync(folder, { recursive: true });
    await page.screenshot({ path: join(folder, `${name}.png`) });
}
