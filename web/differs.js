// What differs between two plans as the server read them (models of /api/look), in a painter's words.

/** Up to `most` differences of `model` against `other`, the rest counted; `long` says a length. */
export function differences(model, other, long, most = 3) {
    const words = [...pots(model.pots ?? [], other.pots ?? []), ...coats(model.coats ?? [], other.coats ?? [], long)];
    if (model.panel?.ground?.name !== other.panel?.ground?.name) words.push(`on ${model.panel?.ground?.name}`);
    if (words.length > most) return [...words.slice(0, most - 1), `and ${words.length - most + 1} more`];
    return words;
}

function pots(mine, theirs) {
    const words = [];
    for (const pot of mine) {
        const other = theirs.find((each) => each.name === pot.name);
        if (!other) {
            words.push(`pot ${pot.name}`);
            continue;
        }
        if (ratio(pot) !== ratio(other)) words.push(`${pot.name} ${ratio(pot)}`);
        for (const [key, name] of [
            ["extend", "extended"],
            ["reduce", "reduced"],
            ["white_cut", "white"],
        ]) {
            if (pot[key] !== other[key]) words.push(`${pot.name} ${name} ${pot[key] ?? "not"}`);
        }
    }
    for (const pot of theirs) if (!mine.some((each) => each.name === pot.name)) words.push(`no pot ${pot.name}`);
    return words;
}

function ratio(pot) {
    if (pot.parts.length <= 3) return pot.parts.map((part) => part.parts).join("\u00a0:\u00a0");
    return pot.parts.map((part) => `${part.parts} ${part.what}`).join(", ");
}

function coats(mine, theirs, long) {
    const words = [];
    for (const coat of mine) {
        const other = theirs.find((each) => each.name === coat.name);
        if (!other) {
            words.push(`with ${coat.name}`);
            continue;
        }
        if (coat.mix !== other.mix) words.push(`${coat.name} in ${coat.mix}`);
        if (coat.film !== other.film && !coat.fade) words.push(`${coat.name} ${coat.film ?? ""}`.trim());
        if (coat.fade && other.fade) words.push(...fades(coat, other, long));
        else if (JSON.stringify(coat.passes) !== JSON.stringify(other.passes)) words.push(`${coat.name}: other passes`);
    }
    for (const coat of theirs) if (!mine.some((each) => each.name === coat.name)) words.push(`without ${coat.name}`);
    const order = (list, among) =>
        list
            .map((coat) => coat.name)
            .filter((name) => among.some((coat) => coat.name === name))
            .join(", ");
    if (order(mine, theirs) !== order(theirs, mine)) words.push(`laid ${mine.map((coat) => coat.name).join(", ")}`);
    return words;
}

function fades(coat, other, long) {
    const words = [];
    for (const key of ["method", "from", "to", "film", "middles", "extend", "inward"]) {
        if (coat.fade[key] !== other.fade[key]) words.push(`${coat.name} ${key} ${coat.fade[key] ?? "as usual"}`);
    }
    const width = (fade) =>
        fade.start && fade.end ? Math.hypot(fade.start[0] - fade.end[0], fade.start[1] - fade.end[1]) : fade.width_mm;
    const [mine, theirs] = [width(coat.fade), width(other.fade)].map((mm) =>
        mm === undefined || mm === null ? null : Math.round(mm),
    );
    if (mine !== theirs) words.push(`${coat.name} ${long(mine)} wide`);
    else if (
        JSON.stringify([coat.fade.start, coat.fade.end, coat.fade.path]) !==
        JSON.stringify([other.fade.start, other.fade.end, other.fade.path])
    )
        words.push(`${coat.name} lies elsewhere`);
    return words;
}
