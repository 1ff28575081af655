// Modules that need no browser: undo history, lengths, differences between plans.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

// A module of the page without the page: read here, so that web/ needs nothing that only Node understands.
const module = (name) => {
    const text = readFileSync(new URL(`../../src/page/${name}`, import.meta.url), "utf8");
    return import(`data:text/javascript,${encodeURIComponent(text)}`);
};
const { differences } = await module("compare.js");
const { History } = await module("history.js");
const { length_text, parse_mm, points_toml } = await module("units.js");

test("a thousand steps are undone to the first text and redone to the last", () => {
    const history = new History("0");
    for (let step = 1; step <= 1000; ++step) history.add(String(step), `step ${step}`);
    for (let step = 1000; step >= 1; --step) {
        assert.equal(history.undo_description, `step ${step}`);
        history.undo();
    }
    assert.equal(history.text, "0");
    assert.equal(history.undo_description, null);
    for (let step = 1; step <= 1000; ++step) history.redo();
    assert.equal(history.text, "1000");
    assert.equal(history.redo_description, null);
});

test("a new step after undo drops the undone ones; the same text is not a step", () => {
    const history = new History("a");
    history.add("b", "to b");
    history.undo();
    history.add("c", "to c");
    history.add("c", "again");
    assert.deepEqual(
        history.steps.map(({ text }) => text),
        ["a", "c"],
    );
});

test("a provisional step is dropped as if it had never been", () => {
    const history = new History("a");
    history.add("b", "to b");
    history.add("wrong", "to wrong", true);
    assert.ok(history.provisional);
    history.drop_last();
    assert.equal(history.text, "b");
    assert.equal(history.redo_description, null);
    assert.ok(!history.provisional);
});

test("an inch is 25.4 mm exactly (international yard and pound agreement, 1959)", () => {
    assert.equal(length_text(25.4, "us"), "1 in");
    assert.equal(length_text(304.8, "us"), "12 in");
    assert.equal(length_text(25.4, "metric"), "25 mm");
    assert.equal(parse_mm("2 in"), 50.8);
    assert.equal(parse_mm("4 cm"), 40);
    assert.equal(parse_mm("4 bar"), null);
});

test("points are written in plan syntax", () => {
    assert.equal(
        points_toml(
            [
                [450, 80],
                [0, 5.2],
            ],
            "metric",
        ),
        '[["450 mm", "80 mm"], ["0 mm", "5.2 mm"]]',
    );
});

const mix = (parts, more = {}) => ({
    name: "plum",
    parts: parts.map((each) => ({ name: "x", parts: each })),
    extend: 2,
    reduce: "12 %",
    ...more,
});
const coat = (name, more = {}) => ({ name, mix: "m", film: "10 µm", passes: [], fade: null, ...more });

const format_length = (mm) => `${mm} mm`;

test("differences are named in a painter's words, and the rest is counted", () => {
    const plan = { mixes: [mix([1, 1])], coats: [coat("a"), coat("b")] };
    assert.deepEqual(differences(plan, plan, format_length), []);
    assert.deepEqual(differences({ ...plan, mixes: [mix([2, 1])] }, plan, format_length), ["plum 2\u00a0:\u00a01"]);
    assert.deepEqual(differences({ ...plan, mixes: [mix([1, 1], { extend: null })] }, plan, format_length), [
        "plum not extended",
    ]);
    assert.deepEqual(differences({ ...plan, coats: [coat("b"), coat("a")] }, plan, format_length), ["order: b, a"]);
    const many = { mixes: [mix([2, 1], { extend: 3, reduce: "5 %" })], coats: [coat("b")] };
    assert.deepEqual(differences(many, plan, format_length), ["plum 2\u00a0:\u00a01", "plum extended 3", "and 2 more"]);
});
