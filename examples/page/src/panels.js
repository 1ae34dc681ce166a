// What the shelf asks and shows below its buttons: one panel at a time.

import { button, h, put } from "./dom.js";

const $ = (id) => document.getElementById(id);

function close(opener) {
    put($("shelf-ask"));
    $(opener).focus();
}

/** Asks before a recipe is removed. */
export function askRemove(name, remove) {
    put(
        $("shelf-ask"),
        h("span", {}, `Remove “${name}” for good? `),
        button(
            "Yes, remove it",
            () => {
                close("shelf-remove");
                remove();
            },
            { id: "shelf-remove-yes" },
        ),
        button("Keep it", () => close("shelf-remove"), { id: "shelf-remove-no" }),
    );
    $("shelf-remove-no").focus();
}

/** Shows a link, to be copied. */
export function showLink(link) {
    put(
        $("shelf-ask"),
        h("label", { for: "shelf-link" }, "Link to this recipe"),
        h("input", {
            id: "shelf-link",
            type: "text",
            readonly: true,
            value: link,
            onfocus: (event) => event.target.select(),
        }),
        button("Close", () => close("shelf-share"), { id: "shelf-link-close" }),
    );
    $("shelf-link").focus();
}

/** Asks for the text of a recipe; `take` opens it, or returns false if it cannot. */
export function askPaste(take) {
    const text = h("textarea", {
        id: "shelf-text",
        rows: "6",
        spellcheck: "false",
        "aria-describedby": "shelf-text-hint",
    });
    put(
        $("shelf-ask"),
        h(
            "div",
            { class: "paste" },
            h("label", { for: "shelf-text" }, "Recipe as text"),
            text,
            h(
                "p",
                { class: "hint", id: "shelf-text-hint" },
                "A fat and its amount on each line, as in “Olive oil 480 g”; or a link to a recipe, or what Export wrote.",
            ),
            h(
                "div",
                { class: "row-actions" },
                button("Take it over", () => take(text.value) && put($("shelf-ask")), {
                    id: "shelf-text-take",
                }),
                button("Close", () => close("shelf-paste"), { id: "shelf-text-close" }),
            ),
        ),
    );
    text.focus();
}
