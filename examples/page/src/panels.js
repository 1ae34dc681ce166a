// What the shelf asks and shows below its buttons: one panel at a time.

import { button, h, put } from "./dom.js";

const $ = (id) => document.getElementById(id);

/** Shows a panel for a button of the shelf, which gets the focus back. */
function show(opener, ...children) {
    const panel = $("shelf-ask");
    put(panel, ...children);
    // It returns nothing: what returns false takes every key away from the fields.
    panel.onkeydown = (event) => {
        if (event.key === "Escape") close(opener);
    };
}

function close(opener) {
    put($("shelf-ask"));
    $(opener).focus();
}

/** Takes away what no longer holds once a recipe has changed; a text that is being pasted stays. */
export function fold() {
    if (!$("shelf-text")) put($("shelf-ask"));
}

/** Asks before a recipe is removed. */
export function askRemove(name, remove) {
    const yes = () => {
        close("shelf-remove");
        remove();
    };
    show(
        "shelf-remove",
        h("span", {}, `Remove “${name}” for good? `),
        button("Yes, remove it", yes, { id: "shelf-remove-yes" }),
        button("Keep it", () => close("shelf-remove"), { id: "shelf-remove-no" }),
    );
    $("shelf-remove-no").focus();
}

const ON_A_DEVICE =
    "This card is a file on your device. On another one: open the card there, and paste the link.";

/** Shows a link, to be copied. */
export function showLink(link) {
    show(
        "shelf-share",
        h("label", { for: "shelf-link" }, "Link to this recipe"),
        h("input", {
            id: "shelf-link",
            type: "text",
            readonly: true,
            value: link,
            onfocus: (event) => event.target.select(),
        }),
        button("Close", () => close("shelf-share"), { id: "shelf-link-close" }),
        location.protocol === "file:" && h("p", { class: "hint" }, ON_A_DEVICE),
    );
    $("shelf-link").focus();
}

const HOW_TO_PASTE =
    "A fat and its amount on each line, as in “Olive oil 480 g”; or a link to a recipe, or what Export wrote.";

/** Asks for the text of a recipe; `take` opens it, or returns false if it cannot. */
export function askPaste(take) {
    const text = h("textarea", {
        id: "shelf-text",
        rows: "6",
        spellcheck: "false",
        "aria-describedby": "shelf-text-hint",
    });
    show(
        "shelf-paste",
        h(
            "div",
            { class: "paste" },
            h("label", { for: "shelf-text" }, "Recipe as text"),
            text,
            h("p", { class: "hint", id: "shelf-text-hint" }, HOW_TO_PASTE),
            h(
                "div",
                { class: "row-actions" },
                button("Take it over", () => take(text.value) && close("shelf-paste"), {
                    id: "shelf-text-take",
                }),
                button("Close", () => close("shelf-paste"), { id: "shelf-text-close" }),
            ),
        ),
    );
    text.focus();
}
