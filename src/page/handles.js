// The handles on the panel for the selected coat: ends and width of a fade, its midline, passes, sweeps, the offset
// of an outline pass; and the line of the cross-section. Each handle has a point and says which edits a move of it
// makes (coats of /api/model).
import { make } from "./dom.js";
import { job, select } from "./job.js";
import { length_text, length_toml, parse_mm, point_toml, points_toml } from "./units.js";

/**
 * Lines and handles for the selected coat and the cross-section.
 * @param {object} map  to_px(), to_mm() and mm_per_px of the shown picture
 * @param {number} width  of the shown picture in pixels
 * @param {number} height  of it
 * @param {?object} drag  the handle that is being moved: {id, point}
 * @returns {{lines: Node[], handles: object[]}} a handle: {id, name, point, kind, label, move(point) → edits,
 *     description, select?(), section_end?}
 */
export function panel_handles(map, width, height, drag) {
    const out = { lines: [], handles: [] };
    const coat = job.model.coats?.[job.coat];
    if (coat?.fade) add_fade_handles(coat, out, map, drag);
    else if (coat?.passes) coat.passes.forEach((pass, index) => add_pass_handles(coat, pass, index, out, map));
    if (job.view.section_open && job.view.section_line) add_section_handles(out, map);
    return { lines: out.lines, handles: out.handles.map((handle) => clamp_to_picture(handle, map, width, height)) };
}

/** A handle stays within reach even if its point lies outside the picture. */
function clamp_to_picture(handle, map, width, height) {
    const [x, y] = map.to_px(handle.point);
    const point = map.to_mm([Math.min(width - 22, Math.max(22, x)), Math.min(height - 22, Math.max(22, y))]);
    const offset = add(handle.point, point, -1);
    return { ...handle, point, move: (target) => handle.move(add(target, offset)) };
}

function line_paths(points, kind, map) {
    const d = points
        .map(map.to_px)
        .map(([x, y], i) => `${i ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`)
        .join("");
    return [
        make("svg:path", { d, class: `handle-outline ${kind}` }),
        make("svg:path", { d, class: `handle-line ${kind}` }),
    ];
}

function add(a, b, factor = 1) {
    return [a[0] + b[0] * factor, a[1] + b[1] * factor];
}

function distance(a, b) {
    return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function add_fade_handles(coat, out, map, drag) {
    const { fade } = coat;
    if (fade.start && fade.end) add_straight_fade(coat, out, map, drag);
    else if (fade.path) add_path_fade(coat, out, map);
    else if (fade.inward) add_outline_fade(coat, out);
}

/** The ends of the fade while one of them or the width is dragged. */
function dragged_ends({ start, end }, drag) {
    if (drag?.id === "start") return [drag.point, end];
    if (drag?.id === "end") return [start, drag.point];
    if (drag?.id !== "width") return [start, end];
    return ends_from_width_handle(start, end, drag.point);
}

/** The ends at equal distances from the midpoint, when `point` is three quarters of the way between them. */
function ends_from_width_handle(start, end, point) {
    const span = add(end, start, -1);
    const length = Math.hypot(...span) || 1;
    const direction = [span[0] / length, span[1] / length];
    const midpoint = add(start, span, 0.5);
    const offset = add(point, midpoint, -1);
    const half = Math.max(5, 2 * (offset[0] * direction[0] + offset[1] * direction[1]));
    return [add(midpoint, direction, -half), add(midpoint, direction, half)];
}

function add_straight_fade(coat, out, map, drag) {
    const { key, from, to } = coat.fade;
    const [start, end] = dragged_ends(coat.fade, drag);
    const span = add(end, start, -1);
    const length = Math.hypot(...span) || 1;
    const normal = [-span[1] / length, span[0] / length];
    const bar = 60 * map.mm_per_px;
    const width_foot = add(start, span, 0.75);
    const width_point = add(width_foot, normal, 1.5 * bar);
    for (const p of [start, end])
        out.lines.push(line_paths([add(p, normal, -bar), add(p, normal, bar)], "edge", map));
    out.lines.push(line_paths([start, end], "axis", map), line_paths([width_foot, width_point], "edge", map));
    const set_ends = (a, b) => [
        { set: `${key}.start`, to: point_toml(a, job.units) },
        { set: `${key}.end`, to: point_toml(b, job.units) },
    ];
    const width = length_text(distance(start, end), job.units);
    out.handles.push(
        {
            id: "start",
            name: `Fade starts: pure ${from}`,
            kind: "ring",
            point: start,
            label: from,
            move: (p) => set_ends(p, end),
            description: `${coat.name}: start moved`,
        },
        {
            id: "end",
            name: `Fade ends: pure ${to}`,
            kind: "ring",
            point: end,
            label: to,
            move: (p) => set_ends(start, p),
            description: `${coat.name}: end moved`,
        },
        {
            id: "width",
            name: `Width of the fade, ${width}`,
            kind: "width",
            point: width_point,
            label: width,
            move: (p) => set_ends(...ends_from_width_handle(coat.fade.start, coat.fade.end, p)),
            description: `${coat.name}: width changed`,
        },
    );
}

function add_path_fade(coat, out, map) {
    const { key, path } = coat.fade;
    out.lines.push(line_paths(path, "axis", map));
    path.forEach((point, index) =>
        out.handles.push({
            id: `path ${index}`,
            name: `Midline point ${index + 1}`,
            kind: "ring",
            point,
            label: "",
            move: (target) => [
                {
                    set: `${key}.path`,
                    to: points_toml(
                        path.map((each, i) => (i === index ? target : each)),
                        job.units,
                    ),
                },
            ],
            description: `${coat.name}: midline moved`,
        }),
    );
}

/** The leftmost point of the outline at half height: distances inward are measured from here. */
function outline_reference() {
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

function add_outline_fade(coat, out) {
    const inward = parse_mm(coat.fade.inward) ?? 0;
    const reference = outline_reference();
    out.handles.push({
        id: "inward",
        name: `Midline, ${length_text(inward, job.units)} in from the edge`,
        kind: "ring",
        point: add(reference, [inward, 0]),
        label: "midline",
        move: ([x]) => [
            { set: `${coat.fade.key}.inward`, to: length_toml(Math.max(0, x - reference[0]), job.units) },
        ],
        description: `${coat.name}: midline moved`,
    });
}

function add_pass_handles(coat, pass, index, out, map) {
    const selected = index === job.pass;
    const select_pass = () => selected || select({ pass: index });
    if (pass.kind === "outline-pass") {
        add_outline_pass_handle(coat, pass, index, out, select_pass);
        return;
    }
    if (!pass.line?.length) return;
    const is_sweep = pass.kind === "sweep";
    const [a, b] = [pass.line[0], pass.line[pass.line.length - 1]];
    const outline = is_sweep ? [a, [b[0], a[1]], b, [a[0], b[1]], a] : pass.line;
    out.lines.push(line_paths(outline, selected ? "pass selected" : "pass", map));
    const set_points = (points) =>
        is_sweep
            ? [
                  { set: `${pass.key}.from`, to: point_toml(points[0], job.units) },
                  { set: `${pass.key}.to`, to: point_toml(points.at(-1), job.units) },
              ]
            : [{ set: `${pass.key}.path`, to: points_toml(points, job.units) }];
    // Staggered along the passes, so that the handles of neighbouring passes do not cover each other.
    const stagger = 0.12 + (0.76 * index) / Math.max(1, coat.passes.length - 1);
    const fraction = b[0] < a[0] ? 1 - stagger : stagger;
    const point = add(a, add(b, a, -1), fraction);
    const name = is_sweep ? `Sweep ${index + 1}` : `Pass ${index + 1}`;
    out.handles.push({
        id: `${pass.key} all`,
        name: `${name} of ${coat.name}`,
        kind: "bar",
        point,
        label: String(index + 1),
        select: select_pass,
        move: (p) => set_points(pass.line.map((each) => add(each, add(p, point, -1)))),
        description: `${coat.name}: ${name.toLowerCase()} moved`,
    });
    if (!selected) return;
    for (const [end, verb] of [
        [0, "starts"],
        [pass.line.length - 1, "ends"],
    ]) {
        out.handles.push({
            id: `${pass.key} ${verb}`,
            name: `${name} of ${coat.name} ${verb}`,
            kind: "ring",
            point: pass.line[end],
            label: "",
            select: select_pass,
            move: (p) => set_points(pass.line.map((each, i) => (i === end ? p : each))),
            description: `${coat.name}: where ${name.toLowerCase()} ${verb}`,
        });
    }
}

function add_outline_pass_handle(coat, pass, index, out, select_pass) {
    const offset = parse_mm(pass.offset);
    if (offset === null) return;
    const reference = outline_reference();
    out.handles.push({
        id: pass.key,
        name: `Outline pass ${index + 1} of ${coat.name}, offset ${length_text(offset, job.units)}`,
        kind: "bar",
        point: add(reference, [-offset, -30 * index]),
        label: String(index + 1),
        select: select_pass,
        move: ([x]) => [{ set: `${pass.key}.offset`, to: length_toml(reference[0] - x, job.units) }],
        description: `${coat.name}: offset changed`,
    });
}

function add_section_handles(out, map) {
    const { from, to } = job.view.section_line;
    out.lines.push(line_paths([from, to], "section", map));
    for (const [end, point, verb] of [
        ["from", from, "starts"],
        ["to", to, "ends"],
    ]) {
        out.handles.push({
            id: `section ${end}`,
            name: `Section ${verb} here`,
            kind: "diamond",
            point,
            label: "",
            section_end: end,
            move: (p) => p,
            description: "",
        });
    }
}
