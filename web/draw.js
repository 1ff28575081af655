// Makes elements and brings a zone up to date in place: a node that stays the same kind of thing stays itself, so that
// the focus, a finger that is down, and what scrolls are never lost while pictures and figures come in.

const SVG = "http://www.w3.org/2000/svg";
const HANDLERS = [
    "onclick",
    "oninput",
    "onchange",
    "onkeydown",
    "onsubmit",
    "onpointerdown",
    "onpointermove",
    "onpointerup",
    "onpointercancel",
    "onlostpointercapture",
    "oncontextmenu",
    "ontoggle",
    "onfocus",
    "onclose",
    "oncancel",
];

/**
 * An element. In `properties`, names of handlers are set as they are, `vars` holds CSS custom properties, true and
 * false add and leave out an attribute; everything else is an attribute.
 * @param {string} tag  name, or "svg:name"
 * @param {object} properties
 * @param {...(Node|string|number|null|Array)} children
 */
export function make(tag, properties = {}, ...children) {
    const drawn = tag.startsWith("svg:");
    const element = drawn ? document.createElementNS(SVG, tag.slice(4)) : document.createElement(tag);
    for (const [name, value] of Object.entries(properties)) {
        if (value === null || value === undefined || value === false) continue;
        if (name.startsWith("on")) element[name] = value;
        else if (name === "vars") for (const [key, to] of Object.entries(value)) element.style.setProperty(key, to);
        else if (name === "value" && tag !== "option") element.value = value;
        else element.setAttribute(name, value === true ? "" : value);
    }
    if (tag !== "input")
        element.append(
            ...children.flat(Infinity).filter((child) => child !== null && child !== false && child !== undefined),
        );
    if (properties.type === "text") element.oninput = note_typing;
    if (properties.value !== undefined && tag === "select") element.value = properties.value;
    return element;
}

/** What is being typed stays until it is done with: who takes it sets `typing` to false. */
function note_typing(event) {
    event.target.typing = true;
}

/** Makes `parent` hold `children`, changing only what differs. */
export function draw(parent, ...children) {
    const wanted = children
        .flat(Infinity)
        .filter((child) => child !== null && child !== false && child !== undefined)
        .map((child) => (child instanceof Node ? child : document.createTextNode(String(child))));
    const keyed = new Map([...parent.childNodes].filter((node) => key(node)).map((node) => [key(node), node]));
    let place = parent.firstChild;
    for (const fresh of wanted) {
        const kept = key(fresh) ? keyed.get(key(fresh)) : place && !key(place) && alike(place, fresh) ? place : null;
        if (!kept || !alike(kept, fresh)) {
            parent.insertBefore(fresh, place);
            continue;
        }
        if (kept !== place) parent.insertBefore(kept, place);
        else place = place.nextSibling;
        update(kept, fresh);
    }
    while (place) {
        const next = place.nextSibling;
        place.remove();
        place = next;
    }
}

function key(node) {
    return node.nodeType === Node.ELEMENT_NODE ? node.getAttribute("data-key") : null;
}

function alike(a, b) {
    return a.nodeName === b.nodeName && a.namespaceURI === b.namespaceURI && a.type === b.type;
}

function update(kept, fresh) {
    if (kept.nodeType === Node.TEXT_NODE) {
        if (kept.data !== fresh.data) kept.data = fresh.data;
        return;
    }
    for (const { name } of [...kept.attributes]) {
        if (name !== "style" && name !== "open" && !fresh.hasAttribute(name)) kept.removeAttribute(name);
    }
    for (const { name, value } of [...fresh.attributes]) {
        if (name !== "style" && kept.getAttribute(name) !== value) kept.setAttribute(name, value);
    }
    for (const name of fresh.style ?? []) kept.style.setProperty(name, fresh.style.getPropertyValue(name));
    for (const name of HANDLERS) kept[name] = fresh[name];
    if (kept.tagName === "CANVAS" || kept.dataset?.own) return;
    if (kept.tagName === "INPUT") update_input(kept, fresh);
    else draw(kept, ...fresh.childNodes);
    if (kept.tagName === "SELECT" && kept.value !== fresh.value) kept.value = fresh.value;
}

function update_input(kept, fresh) {
    if (!kept.typing && kept.value !== fresh.value) kept.value = fresh.value;
    if (kept.type === "checkbox" || kept.type === "radio") kept.checked = fresh.hasAttribute("checked");
}

/** Says something to those who listen rather than look, once. */
export function say(words) {
    const place = document.getElementById("said");
    if (place.textContent === words) place.textContent = "";
    place.textContent = words;
}

/** The head of a sheet that lies over the bench: its name, and the way back; `close` null: there is none. */
export function sheet_head(id, title, close) {
    return make(
        "div",
        { class: "sheet-head" },
        make("h2", { id }, title),
        close && make("button", { class: "close", onclick: close }, "Back to the bench"),
    );
}
