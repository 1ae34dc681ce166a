// Making elements, and putting new ones in the place of old ones without losing one's place.

const SVG = "http://www.w3.org/2000/svg";

function fill(element, attributes, children) {
    for (const [name, value] of Object.entries(attributes ?? {})) {
        if (value === undefined || value === null || value === false) continue;
        if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
        else element.setAttribute(name, value === true ? "" : value);
    }
    element.append(
        ...children
            .flat(Infinity)
            .filter((child) => child !== null && child !== undefined && child !== false),
    );
    return element;
}

/** An element of HTML: h("p", { class: "hint" }, "text"). */
export function h(tag, attributes, ...children) {
    return fill(document.createElement(tag), attributes, children);
}

/** An element of SVG. */
export function s(tag, attributes, ...children) {
    return fill(document.createElementNS(SVG, tag), attributes, children);
}

/** Text for screen readers only. */
export function aside(...text) {
    return h("span", { class: "unseen" }, ...text);
}

/**
 * Puts new children into an element; what is open stays open, what has the focus keeps it, or
 * leaves it to what it was part of.
 */
export function put(element, ...children) {
    const focused = element.contains(document.activeElement) && document.activeElement.id;
    const open = [...element.querySelectorAll("details[id]")].filter((details) => details.open);
    const ids = open.map((details) => details.id);
    element.replaceChildren();
    fill(element, {}, children);
    for (const id of ids) {
        const details = document.getElementById(id);
        if (details && element.contains(details)) details.open = true;
    }
    if (focused === false) return;
    const around = element.closest("details, article");
    const home = around?.querySelector(":scope > summary") ?? around;
    (document.getElementById(focused) ?? home)?.focus({ preventScroll: true });
}

/** A button. */
export function button(text, onclick, attributes = {}) {
    return h("button", { type: "button", onclick, ...attributes }, text);
}

/** What a screen reader says when it has the time. */
export function announcer(element) {
    let waiting;
    return (text) => {
        clearTimeout(waiting);
        waiting = setTimeout(() => {
            if (element.textContent !== text) element.textContent = text;
        }, 700);
    };
}
