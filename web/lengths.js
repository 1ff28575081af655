// Lengths: millimetres inside, millimetres or inches when read or written into a plan.

const MM_PER_INCH = 25.4;

/** A length as plan text: "120 mm", "4.72 in". */
export function length_text(mm, units) {
    return units === "us" ? `${trim(mm / MM_PER_INCH, 2)} in` : `${trim(mm, mm < 10 ? 1 : 0)} mm`;
}

/** A length as a TOML value. */
export function length_toml(mm, units) {
    return JSON.stringify(length_text(mm, units));
}

/** A place as a TOML value. */
export function place_toml([x, y], units) {
    return `[${length_toml(x, units)}, ${length_toml(y, units)}]`;
}

/** Places as a TOML value. */
export function places_toml(places, units) {
    return `[${places.map((place) => place_toml(place, units)).join(", ")}]`;
}

/** A place in words. */
export function place_words([x, y], units) {
    return `${length_text(x, units)} from the left, ${length_text(y, units)} up`;
}

/** Millimetres of a plan text length; null if it has another unit. */
export function mm_of(text) {
    const read = /^\s*(-?[\d.]+)\s*(mm|cm|m|in)\s*$/.exec(text ?? "");
    return read ? Number(read[1]) * { mm: 1, cm: 10, m: 1000, in: MM_PER_INCH }[read[2]] : null;
}

function trim(number, digits) {
    return String(Number(number.toFixed(digits)));
}
