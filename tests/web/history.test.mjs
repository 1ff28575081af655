// The small pieces that need no browser: steps back and forward, lengths, what differs.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

// A page's module without the page: it is read here, so that web/ needs nothing that only Node understands.
const module = (name) => {
    const text = readFileSync(new URL(`../../web/${name}`, import.meta.url), "utf8");
    return import(`data:text/javascript,${encodeURIComponent(text)}`);
};
const { differences } = await module("differs.js");
const { History } = await module("history.js");
const { length_text, mm_of, places_toml } = await module("lengths.js");

test("a thousand steps go back to the first text and forward to the last", () => {
    const history = new History("0");
    for (let step = 1; step <= 1000; ++step) history.add(String(step), `step ${step}`);
    for (let step = 1000; step >= 1; --step) {
        assert.equal(history.back_words, `step ${step}`);
        history.back();
    }
    assert.equal(history.text, "0");
    assert.equal(history.back_words, null);
    for (let step = 1; step <= 1000; ++step) history.forward();
    assert.equal(history.text, "1000");
    assert.equal(history.forward_words, null);
});

test("a new step after going back drops what was undone; the same text is no step", () => {
    const history = new History("a");
    history.add("b", "to b");
    history.back();
    history.add("c", "to c");
    history.add("c", "again");
    assert.deepEqual(
        history.steps.map(({ text }) => text),
        ["a", "c"],
    );
});

test("a step on trial goes again as if it had never been", () => {
    const history = new History("a");
    history.add("b", "to b");
    history.add("wrong", "to wrong", true);
    assert.ok(history.on_trial);
    history.drop();
    assert.equal(history.text, "b");
    assert.equal(history.forward_words, null);
    assert.ok(!history.on_trial);
});

test("an inch is 25.4 mm exactly (international yard and pound agreement, 1959)", () => {
    assert.equal(length_text(25.4, "us"), "1 in");
    assert.equal(length_text(304.8, "us"), "12 in");
    assert.equal(length_text(25.4, "metric"), "25 mm");
    assert.equal(mm_of("2 in"), 50.8);
    assert.equal(mm_of("4 cm"), 40);
    assert.equal(mm_of("4 bar"), null);
});

test("places are written as a plan takes them", () => {
    assert.equal(
        places_toml(
            [
                [450, 80],
                [0, 5.2],
            ],
            "metric",
        ),
        '[["450 mm", "80 mm"], ["0 mm", "5.2 mm"]]',
    );
});

const pot = (parts, more = {}) => ({
    name: "middle",
    parts: parts.map((each) => ({ what: "x", parts: each })),
    extend: 2,
    reduce: "12 %",
    ...more,
});
const coat = (name, more = {}) => ({ name, mix: "m", film: "10 µm", passes: [], fade: null, ...more });

const long = (mm) => `${mm} mm`;

test("what differs is told in a painter's words, and the rest is counted", () => {
    const one = { pots: [pot([1, 1])], coats: [coat("a"), coat("b")] };
    assert.deepEqual(differences(one, one, long), []);
    assert.deepEqual(differences({ ...one, pots: [pot([2, 1])] }, one, long), ["middle 2\u00a0:\u00a01"]);
    assert.deepEqual(differences({ ...one, pots: [pot([1, 1], { extend: null })] }, one, long), [
        "middle extended not",
    ]);
    assert.deepEqual(differences({ ...one, coats: [coat("b"), coat("a")] }, one, long), ["laid b, a"]);
    const much = { pots: [pot([2, 1], { extend: 3, reduce: "5 %" })], coats: [coat("b")] };
    assert.deepEqual(differences(much, one, long), ["middle 2\u00a0:\u00a01", "middle extended 3", "and 2 more"]);
});
