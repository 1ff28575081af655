// Creates elements and updates a zone in place: a node of the same kind and key is kept, so that focus, a pointer
// that is down and scroll positions survive while new pictures and figures arrive.

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
 * Makes an element. In `properties`, event handlers (on…) are set as properties, `vars` holds CSS custom properties,
 * true and false add and omit an attribute; everything else is an attribute.
 * @param {string} tag  name, or "svg:name"
 * @param {object} properties
 * @param {...(Node|string|number|null|Array)} children
 */
export function make(tag, properties = {}, ...children) {
    const is_svg = tag.startsWith("svg:");
    const element = is_svg ? document.createElementNS(SVG, tag.slice(4)) : document.createElement(tag);
    for (const [name, value] of Object.entries(properties)) {
        if (value === null || value === undefined || value === false) continue;
        if (name.startsWith("on")) element[name] = value;
        else if (name === "vars")
            for (const [variable, setting] of Object.entries(value)) element.style.setProperty(variable, setting);
        else if (name === "value" && tag !== "option") element.value = value;
        else element.setAttribute(name, value === true ? "" : value);
    }
    if (tag !== "input")
        element.append(
            ...children.flat(Infinity).filter((child) => child !== null && child !== false && child !== undefined),
        );
    if (properties.type === "text") element.oninput = mark_typing;
    if (properties.value !== undefined && tag === "select") element.value = properties.value;
    return element;
}

/** Text being typed is not overwritten by updates; whoever reads it sets `typing` to false. */
function mark_typing(event) {
    event.target.typing = true;
}

/** Makes `parent` hold `children`, changing only what differs. */
export function render(parent, ...children) {
    const wanted = children
        .flat(Infinity)
        .filter((child) => child !== null && child !== false && child !== undefined)
        .map((child) => (child instanceof Node ? child : document.createTextNode(String(child))));
    const keyed = new Map([...parent.childNodes].filter(key_of).map((node) => [key_of(node), node]));
    let next = parent.firstChild;
    for (const fresh of wanted) {
        const existing = key_of(fresh) ? keyed.get(key_of(fresh)) : next && !key_of(next) ? next : null;
        if (!existing || !same_kind(existing, fresh)) {
            parent.insertBefore(fresh, next);
            continue;
        }
        if (existing !== next) parent.insertBefore(existing, next);
        else next = next.nextSibling;
        update_node(existing, fresh);
    }
    while (next) {
        const following = next.nextSibling;
        next.remove();
        next = following;
    }
}

function key_of(node) {
    return node.nodeType === Node.ELEMENT_NODE ? node.getAttribute("data-key") : null;
}

function same_kind(a, b) {
    return a.nodeName === b.nodeName && a.namespaceURI === b.namespaceURI && a.type === b.type;
}

function update_node(existing, fresh) {
    if (existing.nodeType === Node.TEXT_NODE) {
        if (existing.data !== fresh.data) existing.data = fresh.data;
        return;
    }
    for (const { name } of [...existing.attributes]) {
        if (name !== "style" && name !== "open" && !fresh.hasAttribute(name)) existing.removeAttribute(name);
    }
    for (const { name, value } of [...fresh.attributes]) {
        if (name !== "style" && existing.getAttribute(name) !== value) existing.setAttribute(name, value);
    }
    for (const name of fresh.style ?? []) existing.style.setProperty(name, fresh.style.getPropertyValue(name));
    for (const name of HANDLERS) existing[name] = fresh[name];
    if (existing.tagName === "CANVAS" || existing.dataset?.unmanaged) return;
    if (existing.tagName === "INPUT") update_input(existing, fresh);
    else render(existing, ...fresh.childNodes);
    if (existing.tagName === "SELECT" && existing.value !== fresh.value) existing.value = fresh.value;
}

function update_input(existing, fresh) {
    if (!existing.typing && existing.value !== fresh.value) existing.value = fresh.value;
    if (existing.type === "checkbox" || existing.type === "radio") existing.checked = fresh.hasAttribute("checked");
}

/** Announces a text to screen readers, once. */
export function announce(text) {
    const status = document.getElementById("announcement");
    if (status.textContent === text) status.textContent = "";
    status.textContent = text;
}

/** A message as a sentence: with a capital, unless it begins with the name of a key, and a full stop. */
export function sentence(text) {
    const capital = text.replace(/^[a-z]+(?![\w.])/, (word) => word[0].toUpperCase() + word.slice(1));
    return /[^.?!:]$/.test(capital) ? `${capital}.` : capital;
}

/** The head of a dialog: its title and a close button; `close` null: no button. */
export function dialog_head(id, title, close) {
    return make(
        "div",
        { class: "dialog-head" },
        make("h2", { id }, title),
        close && make("button", { class: "close", onclick: close }, "Close"),
    );
}
