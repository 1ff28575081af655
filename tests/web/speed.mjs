// Latency of the picture: from releasing a control to the new picture, and from a drag step to its draft, at a panel of 1280 px. Prints medians; `node speed.mjs [rounds]`.
import { open_page, wait_until_idle } from "./page.mjs";

const rounds = Number(process.argv[2] ?? 25);
const app = await open_page({ viewport: { width: 1920, height: 1080 } });
const { page } = app;

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const summary = (list) =>
    `median ${median(list).toFixed(0)} ms, slowest ${Math.max(...list).toFixed(0)} ms, ${list.length} times`;

/** Measured in the page itself: from an event of the dial to the next picture of that kind. */
const time_to_picture = (kind, event_name) =>
    page.evaluate(
        ([wanted, event_name]) =>
            new Promise((resolve) => {
                const stage = document.querySelector(".stage");
                const old = stage.dataset.picture;
                const begin = performance.now();
                new MutationObserver((_, watcher) => {
                    if (stage.dataset.shown !== wanted || stage.dataset.picture === old) return;
                    watcher.disconnect();
                    requestAnimationFrame(() => resolve(performance.now() - begin));
                }).observe(stage, { attributes: true });
                const dial = document.querySelector(".dial input");
                if (event_name === "input") dial.value = Number(dial.value) + (Number(dial.value) > 4 ? -1 : 1);
                dial.dispatchEvent(new Event(event_name, { bubbles: true }));
            }),
        [kind, event_name],
    );

try {
    await page.getByRole("button", { name: "Create job" }).click();
    await wait_until_idle(page);
    const releases = [];
    const drafts = [];
    for (let round = 0; round < rounds; ++round) {
        drafts.push(await time_to_picture("draft", "input"));
        releases.push(await time_to_picture("final", "change"));
        await wait_until_idle(page);
    }
    const size = await page.evaluate(() => {
        const { naturalWidth, naturalHeight } = document.querySelector(".stage img");
        return `${naturalWidth} × ${naturalHeight}`;
    });
    console.log(`while dragging, a draft:  ${summary(drafts)}`);
    console.log(`after release, ${size}: ${summary(releases)}`);
} finally {
    await app.close();
}
