// Lengths: millimetres inside; millimetres or inches on screen and in the plan.

const MM_PER_INCH = 25.4;

/** A length as text: "120 mm", "4.72 in". */
export function length_text(mm, units) {
    return units === "us" ? `${round_text(mm / MM_PER_INCH, 2)} in` : `${round_text(mm, mm < 10 ? 1 : 0)} mm`;
}

/** A length as a TOML value. */
export function length_toml(mm, units) {
    return JSON.stringify(length_text(mm, units));
}

/** A point as a TOML value. */
export function point_toml([x, y], units) {
    return `[${length_toml(x, units)}, ${length_toml(y, units)}]`;
}

/** A list of points as a TOML value. */
export function points_toml(points, units) {
    return `[${points.map((point) => point_toml(point, units)).join(", ")}]`;
}

/** A point as text, for screen readers. */
export function point_text([x, y], units) {
    return `${length_text(x, units)} from the left, ${length_text(y, units)} up`;
}

/** The millimetres of a length written in a plan; null if its unit is not a length. */
export function parse_mm(text) {
    const match = /^\s*(-?[\d.]+)\s*(mm|cm|m|in)\s*$/.exec(text ?? "");
    return match ? Number(match[1]) * { mm: 1, cm: 10, m: 1000, in: MM_PER_INCH }[match[2]] : null;
}

function round_text(number, digits) {
    return String(Number(number.toFixed(digits)));
}
