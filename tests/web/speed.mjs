// How long the eye waits: from letting go of a control to the new picture, and from one draft to the next while a grip is
// dragged, at a panel of 1280 px. Prints medians; `node speed.mjs [rounds]`.
import { open_page, wait_until_idle } from "./page.mjs";

const rounds = Number(process.argv[2] ?? 25);
const app = await open_page({ viewport: { width: 1920, height: 1080 } });
const { page } = app;

const median = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const told = (list) =>
    `median ${median(list).toFixed(0)} ms, slowest ${Math.max(...list).toFixed(0)} ms, ${list.length} times`;

/** Times in the page itself: from `act` to the next picture of that kind. */
const until_picture = (kind, act) =>
    page.evaluate(
        ([wanted, does]) =>
            new Promise((then) => {
                const stage = document.querySelector(".stage");
                const old = stage.dataset.picture;
                const begin = performance.now();
                new MutationObserver((_, watcher) => {
                    if (stage.dataset.shown !== wanted || stage.dataset.picture === old) return;
                    watcher.disconnect();
                    requestAnimationFrame(() => then(performance.now() - begin));
                }).observe(stage, { attributes: true });
                const wheel = document.querySelector(".dial input");
                if (does === "input") wheel.value = Number(wheel.value) + (Number(wheel.value) > 4 ? -1 : 1);
                wheel.dispatchEvent(new Event(does, { bubbles: true }));
            }),
        [kind, act],
    );

try {
    await page.getByRole("button", { name: "Create job" }).click();
    await wait_until_idle(page);
    const letting_go = [];
    const dragging = [];
    for (let round = 0; round < rounds; ++round) {
        dragging.push(await until_picture("draft", "input"));
        letting_go.push(await until_picture("whole", "change"));
        await wait_until_idle(page);
    }
    const size = await page.evaluate(() => {
        const { naturalWidth, naturalHeight } = document.querySelector(".stage img");
        return `${naturalWidth} × ${naturalHeight}`;
    });
    console.log(`while dragging, a draft:  ${told(dragging)}`);
    console.log(`after letting go, ${size}: ${told(letting_go)}`);
} finally {
    await app.close();
}
