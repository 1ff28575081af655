// Test fixture: the real server on a temporary folder, with the page open in Debian's Chromium. Console messages, script
// errors and every request that would leave this machine are collected.
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
const TIMEOUT_MS = 60000;
const KEY = "a-key-of-the-tests-0123456789";

/** The server on a folder; it can be killed and restarted on the same port. */
export class Server {
    constructor(folder) {
        this.folder = folder;
    }

    async start() {
        this.port ??= await free_port();
        const child = spawn(PROGRAM, ["serve", this.folder, "--port", String(this.port)], {
            env: { ...process.env, FW_SERVE_KEY: KEY },
            stdio: ["ignore", "pipe", "pipe"],
        });
        this.child = child;
        this.ended = new Promise((resolve) => child.once("exit", resolve));
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
    let output = "";
    return new Promise((resolve, reject) => {
        child.stdout.on("data", (bytes) => {
            output += bytes;
            const found = /http:\/\/127\.0\.0\.1:\d+\/\?key=\S+/.exec(output);
            if (found) resolve(found[0]);
        });
        child.stderr.on("data", (bytes) => {
            output += bytes;
        });
        child.once("exit", () => reject(new Error(`the server ended: ${output}`)));
    });
}

function free_port() {
    return new Promise((resolve) => {
        const server = createServer().listen(0, "127.0.0.1", () => {
            const { port } = server.address();
            server.close(() => resolve(port));
        });
    });
}

const TYPES = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript" };

/** With FW_PAGE=src/page the page is served from that folder instead of from the program: editing it needs no build. */
async function serve_page_from_folder(context) {
    const folder = process.env.FW_PAGE && resolve(ROOT, process.env.FW_PAGE);
    if (!folder) return;
    await context.route(/^http:[^?]*\/(page\/[\w.]+)?$/, async (route) => {
        const name = new URL(route.request().url()).pathname.replace("/page/", "").replace("/", "") || "index.html";
        const answer = await route.fetch({ maxRedirects: 0 });
        const headers = { ...answer.headers(), "content-type": TYPES[extname(name)] };
        if (answer.status() === 401) await route.fulfill({ response: answer });
        else await route.fulfill({ status: 200, headers, body: readFileSync(join(folder, name)) });
    });
}

/**
 * Starts a server and a browser and opens the page.
 * @param {object=} options
 * @param {{width: number, height: number}=} options.viewport
 * @param {boolean=} options.touch  a touch screen
 * @param {string[]=} options.plans  files of presets/plans to put into the folder
 * @param {Object<string, string>=} options.texts  other plans in the folder: name and text
 */
export async function open_page(options = {}) {
    const { viewport = { width: 1280, height: 800 }, touch = false, plans = [], texts = {} } = options;
    const folder = mkdtempSync(join(tmpdir(), "fadewright-page-"));
    for (const plan of plans) writeFileSync(join(folder, plan), readFileSync(join(ROOT, "presets/plans", plan)));
    for (const [name, text] of Object.entries(texts)) writeFileSync(join(folder, name), text);
    const server = await new Server(folder).start();
    const browser = await chromium.launch({ executablePath: "/usr/bin/chromium" });
    const context = await browser.newContext({ viewport, hasTouch: touch, acceptDownloads: true });
    context.setDefaultTimeout(TIMEOUT_MS);
    const page = await context.newPage();
    await serve_page_from_folder(context);
    const problems = collect_problems(page);
    await page.goto(server.address);
    await page.waitForSelector("body[data-ready]");
    const app = { page, server, folder, problems };
    app.read_file = (file) => readFileSync(join(folder, file), "utf8");
    app.close = async () => {
        await browser.close();
        await server.kill();
        rmSync(folder, { recursive: true });
    };
    return app;
}

function collect_problems(page) {
    const problems = [];
    page.on("console", (message) => {
        if (["error", "warning"].includes(message.type()))
            problems.push(`console: ${message.text()} ${message.location().url}`);
    });
    page.on("pageerror", (error) => problems.push(`error: ${error.stack}`));
    page.on("request", (request) => {
        const { protocol, hostname } = new URL(request.url());
        if (protocol.startsWith("http") && hostname !== "127.0.0.1")
            problems.push(`left the machine: ${request.url()}`);
    });
    return problems;
}

/** Waits until the full picture of the present plan is shown and every request is answered. */
export async function wait_until_idle(page) {
    await page.waitForFunction(
        () =>
            document.querySelector(".stage")?.dataset.shown === "final" &&
            !document.querySelector("[aria-busy='true']") &&
            document.body.dataset.busy !== "yes",
    );
}

/** Runs an action that changes the picture, and waits for the new one. */
export async function change_and_wait(page, action) {
    const before = await page.getAttribute(".stage", "data-picture");
    await action();
    await page.waitForFunction((old) => {
        const stage = document.querySelector(".stage");
        return stage.dataset.shown === "final" && stage.dataset.picture !== old;
    }, before);
    await wait_until_idle(page);
}

/** Waits until the text of the file satisfies `condition`; returns it. */
export async function wait_for_file(app, file, condition, timeout_ms = 3000) {
    const end = Date.now() + timeout_ms;
    for (;;) {
        const text = existsSync(join(app.folder, file)) ? app.read_file(file) : "";
        if (condition(text)) return text;
        if (Date.now() > end) throw new Error(`not on disk after ${timeout_ms} ms:\n${text}`);
        await new Promise((resolve) => setTimeout(resolve, 25));
    }
}

/** Saves a screenshot in renders/page/, when pictures are being renewed (FW_ACCEPT=1). */
export async function save_screenshot(page, name) {
    if (process.env.FW_ACCEPT !== "1") return;
    const folder = join(ROOT, "renders/page");
    if (!existsSync(folder)) mkdirSync(folder, { recursive: true });
    await page.screenshot({ path: join(folder, `${name}.png`) });
}
