// The differences between two plans as the server read them (models of /api/model), in a painter's words.

/** Up to `max` differences of `model` from `other`, the rest counted; `length_text` formats a length in mm. */
export function differences(model, other, length_text, max = 3) {
    const items = [
        ...compare_mixes(model.mixes ?? [], other.mixes ?? []),
        ...compare_coats(model.coats ?? [], other.coats ?? [], length_text),
    ];
    if (model.panel?.ground?.name !== other.panel?.ground?.name) items.push(`over ${model.panel?.ground?.name}`);
    if (items.length > max) return [...items.slice(0, max - 1), `and ${items.length - max + 1} more`];
    return items;
}

function compare_mixes(mixes, others) {
    const items = [];
    for (const mix of mixes) {
        const other = others.find((each) => each.name === mix.name);
        if (!other) {
            items.push(`with mix ${mix.name}`);
            continue;
        }
        if (ratio_text(mix) !== ratio_text(other)) items.push(`${mix.name} ${ratio_text(mix)}`);
        for (const [key, label, label_without] of [
            ["extend", "extended", "not extended"],
            ["reduce", "reduced", "not reduced"],
            ["white_cut", "white cut", "without white cut"],
        ]) {
            if (mix[key] === other[key]) continue;
            const is_missing = mix[key] === null || mix[key] === undefined;
            items.push(is_missing ? `${mix.name} ${label_without}` : `${mix.name} ${label} ${mix[key]}`);
        }
    }
    for (const other of others)
        if (!mixes.some((each) => each.name === other.name)) items.push(`without mix ${other.name}`);
    return items;
}

function ratio_text(mix) {
    if (mix.parts.length <= 3) return mix.parts.map((part) => part.parts).join("\u00a0:\u00a0");
    return mix.parts.map((part) => `${part.parts} ${part.name}`).join(", ");
}

function compare_coats(coats, others, length_text) {
    const items = [];
    for (const coat of coats) {
        const other = others.find((each) => each.name === coat.name);
        if (!other) {
            items.push(`with ${coat.name}`);
            continue;
        }
        if (coat.mix !== other.mix) items.push(`${coat.name}: mix ${coat.mix}`);
        if (coat.film !== other.film && !coat.fade) items.push(`${coat.name} ${coat.film ?? ""}`.trim());
        if (coat.fade && other.fade) items.push(...compare_fades(coat, other, length_text));
        else if (JSON.stringify(coat.passes) !== JSON.stringify(other.passes))
            items.push(`${coat.name}: different passes`);
    }
    for (const other of others)
        if (!coats.some((each) => each.name === other.name)) items.push(`without ${other.name}`);
    const common_order = (list, compared) =>
        list
            .map((coat) => coat.name)
            .filter((name) => compared.some((coat) => coat.name === name))
            .join(", ");
    if (common_order(coats, others) !== common_order(others, coats))
        items.push(`order: ${coats.map((coat) => coat.name).join(", ")}`);
    return items;
}

function compare_fades(coat, other, length_text) {
    const items = [];
    for (const [key, label] of [
        ["method", "method"],
        ["from", "from"],
        ["to", "to"],
        ["film", "dry film"],
        ["mid_colours", "mid colours"],
        ["extend", "extend"],
        ["inward", "midline in from the edge"],
    ]) {
        if (coat.fade[key] !== other.fade[key]) items.push(`${coat.name} ${label} ${coat.fade[key] ?? "default"}`);
    }
    const width_mm = (fade) =>
        fade.start && fade.end ? Math.hypot(fade.start[0] - fade.end[0], fade.start[1] - fade.end[1]) : fade.width_mm;
    const [width, other_width] = [width_mm(coat.fade), width_mm(other.fade)].map((mm) =>
        mm === undefined || mm === null ? null : Math.round(mm),
    );
    if (width !== other_width) items.push(`${coat.name} ${length_text(width)} wide`);
    else if (
        JSON.stringify([coat.fade.start, coat.fade.end, coat.fade.path]) !==
        JSON.stringify([other.fade.start, other.fade.end, other.fade.path])
    )
        items.push(`${coat.name} moved`);
    return items;
}
