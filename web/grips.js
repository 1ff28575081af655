// What can be taken hold of on the panel for the coat in hand: the ends and the width of a fade, passes, corners of a
// sweep, the offset of a follow; and the line of the cut. Each grip says where it is and what the plan becomes when it
// is moved (coats of /api/look).
import { make } from "./draw.js";
import { job, pick } from "./job.js";
import { length_text, length_toml, mm_of, place_toml, places_toml } from "./lengths.js";

/**
 * Lines to draw and grips to hold, for the present coat and cut.
 * @param {object} place  px() and mm() of the shown picture
 * @param {number} width  of the shown picture in pixels
 * @param {number} height  of it
 * @param {?object} held  the grip that is being moved: {key, at}
 * @returns {{lines: Node[], grips: object[]}} a grip: {key, name, at, kind, move(at) → changes, words, cut?}
 */
export function grips(place, width, height, held) {
    const hands = { lines: [], grips: [] };
    const coat = job.model.coats?.[job.coat];
    if (coat?.fade) fade_grips(coat, hands, place, held);
    else if (coat?.passes) coat.passes.forEach((pass, index) => pass_grips(coat, pass, index, hands, place));
    if (job.look.cutting && job.look.cut) cut_grips(hands, place);
    return { lines: hands.lines, grips: hands.grips.map((grip) => within_reach(grip, place, width, height)) };
}

/** A grip stays where a finger reaches it even if its place lies outside the picture. */
function within_reach(grip, place, width, height) {
    const [x, y] = place.px(grip.at);
    const at = place.mm([Math.min(width - 22, Math.max(22, x)), Math.min(height - 22, Math.max(22, y))]);
    const off = add(grip.at, at, -1);
    return { ...grip, at, move: (to) => grip.move(add(to, off)) };
}

function line(points, kind, place) {
    const d = points
        .map(place.px)
        .map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`)
        .join("");
    return [make("svg:path", { d, class: `hand-under ${kind}` }), make("svg:path", { d, class: `hand-line ${kind}` })];
}

function add(a, b, by = 1) {
    return [a[0] + b[0] * by, a[1] + b[1] * by];
}

function fade_grips(coat, hands, place, held) {
    const { fade } = coat;
    if (fade.start && fade.end) ended_fade(coat, hands, place, held);
    else if (fade.path) path_fade(coat, hands, place);
    else if (fade.inward) rim_fade(coat, hands);
}

/** The ends as they are while one of them or the width is moved. */
function moved_ends({ start, end }, held) {
    if (held?.key === "start") return [held.at, end];
    if (held?.key === "end") return [start, held.at];
    if (held?.key !== "width") return [start, end];
    return widened(start, end, held.at);
}

/** Both ends as far from the middle as `at`, a place three quarters of the way, says. */
function widened(start, end, at) {
    const way = add(end, start, -1);
    const length = Math.hypot(...way) || 1;
    const along = [way[0] / length, way[1] / length];
    const middle = add(start, way, 0.5);
    const off = add(at, middle, -1);
    const half = Math.max(5, 2 * (off[0] * along[0] + off[1] * along[1]));
    return [add(middle, along, -half), add(middle, along, half)];
}

function distance(a, b) {
    return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function ended_fade(coat, hands, place, held) {
    const { at, from, to } = coat.fade;
    const [start, end] = moved_ends(coat.fade, held);
    const way = add(end, start, -1);
    const length = Math.hypot(...way) || 1;
    const across = [-way[1] / length, way[0] / length];
    const bar = 60 * place.mm_per_px;
    const side = add(start, way, 0.75);
    for (const p of [start, end]) hands.lines.push(line([add(p, across, -bar), add(p, across, bar)], "edge", place));
    hands.lines.push(line([start, end], "way", place), line([side, add(side, across, 1.5 * bar)], "edge", place));
    const set = (a, b) => [
        { set: `${at}.start`, to: place_toml(a, job.units) },
        { set: `${at}.end`, to: place_toml(b, job.units) },
    ];
    const grip = (key, name, kind, where, short, move, words) =>
        hands.grips.push({ key, name, kind, at: where, short, move, words: `${coat.name}: ${words}` });
    grip("start", `Here all is still ${from}`, "ring", start, from, (p) => set(p, end), "beginning moved");
    grip("end", `Here all is ${to}`, "ring", end, to, (p) => set(start, p), "end moved");
    const wide = length_text(distance(start, end), job.units);
    const widen = (p) => set(...widened(coat.fade.start, coat.fade.end, p));
    grip("width", `Width of the fade, ${wide}`, "wide", add(side, across, 1.5 * bar), wide, widen, "width changed");
}

function path_fade(coat, hands, place) {
    const { at, path } = coat.fade;
    hands.lines.push(line(path, "way", place));
    path.forEach((p, index) =>
        hands.grips.push({
            key: `path ${index}`,
            name: `Place ${index + 1} of the halfway line`,
            kind: "ring",
            at: p,
            short: "",
            move: (to) => [
                {
                    set: `${at}.path`,
                    to: places_toml(
                        path.map((each, i) => (i === index ? to : each)),
                        job.units,
                    ),
                },
            ],
            words: `${coat.name}: halfway line moved`,
        }),
    );
}

/** Where the outline is farthest left at half height: from here on it is counted inward. */
function rim_place() {
    const rings = job.model.panel?.outline ?? [];
    const heights = rings.flat().map((corner) => corner[1]);
    if (heights.length === 0) return [0, 0];
    const half = (Math.min(...heights) + Math.max(...heights)) / 2 + 1e-6;
    const crossings = rings.flatMap((ring) =>
        ring.flatMap((a, i) => {
            const b = ring[(i + 1) % ring.length];
            if (a[1] < half === b[1] < half) return [];
            return [a[0] + ((half - a[1]) / (b[1] - a[1])) * (b[0] - a[0])];
        }),
    );
    return [Math.min(...crossings), half];
}

function rim_fade(coat, hands) {
    const inward = mm_of(coat.fade.inward) ?? 0;
    const rim = rim_place();
    hands.grips.push({
        key: "inward",
        name: `Halfway line, ${length_text(inward, job.units)} inside the rim`,
        kind: "ring",
        at: add(rim, [inward, 0]),
        short: "halfway",
        move: ([x]) => [{ set: `${coat.fade.at}.inward`, to: length_toml(Math.max(0, x - rim[0]), job.units) }],
        words: `${coat.name}: halfway line moved`,
    });
}

function pass_grips(coat, pass, index, hands, place) {
    const held = index === job.pass;
    const take = () => held || pick({ pass: index });
    if (pass.kind === "follow") {
        follow_grip(coat, pass, index, hands, take);
        return;
    }
    if (!pass.line?.length) return;
    const sweep = pass.kind === "sweep";
    const [a, b] = [pass.line[0], pass.line[pass.line.length - 1]];
    hands.lines.push(
        line(sweep ? [a, [b[0], a[1]], b, [a[0], b[1]], a] : pass.line, held ? "pass held" : "pass", place),
    );
    const set = (points) =>
        sweep
            ? [
                  { set: `${pass.at}.from`, to: place_toml(points[0], job.units) },
                  { set: `${pass.at}.to`, to: place_toml(points.at(-1), job.units) },
              ]
            : [{ set: `${pass.at}.path`, to: places_toml(points, job.units) }];
    const stair = 0.12 + (0.76 * index) / Math.max(1, coat.passes.length - 1);
    const share = b[0] < a[0] ? 1 - stair : stair;
    const hold = add(a, add(b, a, -1), share);
    const what = sweep ? `Sweep ${index + 1}` : `Pass ${index + 1}`;
    hands.grips.push({
        key: `${pass.at} all`,
        name: `${what} of ${coat.name}`,
        kind: "bar",
        at: hold,
        short: String(index + 1),
        take,
        move: (p) => set(pass.line.map((each) => add(each, add(p, hold, -1)))),
        words: `${coat.name}: ${what.toLowerCase()} moved`,
    });
    if (!held) return;
    for (const [end, words] of [
        [0, "begins"],
        [pass.line.length - 1, "ends"],
    ]) {
        hands.grips.push({
            key: `${pass.at} ${words}`,
            name: `${what} of ${coat.name} ${words}`,
            kind: "ring",
            at: pass.line[end],
            short: "",
            take,
            move: (p) => set(pass.line.map((each, i) => (i === end ? p : each))),
            words: `${coat.name}: where ${what.toLowerCase()} ${words}`,
        });
    }
}

function follow_grip(coat, pass, index, hands, take) {
    const offset = mm_of(pass.offset);
    if (offset === null) return;
    const rim = rim_place();
    hands.grips.push({
        key: pass.at,
        name: `Follow ${index + 1} of ${coat.name}, ${length_text(offset, job.units)} from its line`,
        kind: "bar",
        at: add(rim, [-offset, -30 * index]),
        short: String(index + 1),
        take,
        move: ([x]) => [{ set: `${pass.at}.offset`, to: length_toml(rim[0] - x, job.units) }],
        words: `${coat.name}: offset changed`,
    });
}

function cut_grips(hands, place) {
    const { from, to } = job.look.cut;
    hands.lines.push(line([from, to], "cut", place));
    for (const [which, at, words] of [
        ["from", from, "begins"],
        ["to", to, "ends"],
    ]) {
        hands.grips.push({
            key: `cut ${which}`,
            name: `The cut ${words} here`,
            kind: "blade",
            at,
            short: "",
            cut: which,
            move: (p) => p,
            words: "",
        });
    }
}
