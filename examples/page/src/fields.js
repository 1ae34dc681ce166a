// Fields of the form. Each is bound to a place in the entry; a fault of that place is shown
// beside it.

import { aside, h } from "./dom.js";
import { id } from "./paths.js";
import { change, valueAt } from "./state.js";
import { isBare, read, show, unitOf } from "./units.js";

/**
 * A field for a text or a quantity.
 *
 * `at` is its place; `label` its name, with `of` for screen readers only ("of fat 1"); `kind` what
 * it holds, which decides its unit; `hint` a line below it; `also` other places whose faults belong
 * here; `list` the id of a list of proposals; `get` and `set` how it is read and written, if not
 * at its place; `shown` and `typed` turn a value into text and back.
 */
export function field({
    at,
    label,
    of,
    kind = "text",
    hint,
    also = [],
    list,
    get,
    set,
    shown,
    typed,
    wide,
    placeholder,
}) {
    const name = id(at);
    const text = shown ?? ((value) => show(value, kind));
    const value = typed ?? ((input) => read(input, kind));
    const unit = unitOf(kind);
    const unitMark = unit && h("span", { class: "unit", id: `${name}-unit` }, unit);
    const described =
        [hint && `${name}-hint`, unit && `${name}-unit`].filter(Boolean).join(" ") || undefined;
    const input = h("input", {
        id: name,
        type: "text",
        // A keypad for decimals has no letters for units, and in many places no point.
        inputmode: kind === "count" ? "numeric" : undefined,
        autocomplete: "off",
        autocapitalize: kind === "text" ? undefined : "off",
        spellcheck: kind === "text" ? undefined : "false",
        list,
        placeholder,
        "data-at": [at, ...also].join(" "),
        "data-described": described,
        "aria-describedby": described,
        oninput: () => {
            const input_ = value(input.value);
            set ? set(input_) : change(at, input_);
            markUnit();
        },
    });
    input.value = text(get ? get() : valueAt(at));
    const markUnit = () => unitMark && (unitMark.hidden = !isBare(input.value));
    markUnit();
    return h(
        "div",
        { class: `field ${kind === "text" ? "words" : "figure"}${wide ? " wide" : ""}` },
        h("label", { for: name }, label, of && aside(` ${of}`)),
        h("span", { class: "entry" }, input, unitMark),
        hint && h("span", { class: "hint", id: `${name}-hint` }, hint),
        h("span", { class: "fault", id: `${name}-fault`, hidden: true }),
    );
}

/**
 * The two ends of a range, of which each is a field. One of them alone asks for the other.
 * `ends` are the labels.
 */
export function pair({ at, ends, ...rest }) {
    const end = (label, i) =>
        field({
            ...rest,
            ...label,
            at: `${at}[${i}]`,
            also: i === 0 ? [at] : [],
            set: (value) => {
                const both = [...(valueAt(at) ?? ["", ""])];
                both[i] = value ?? "";
                change(at, both.some((value) => value !== "") ? both : undefined);
            },
        });
    return ends.map(end);
}

/** A choice of one among few, all of them seen. `options` is a list of [value, label]. */
export function choice({ at, legend, options, value, onchoose }) {
    const name = id(at);
    return h(
        "fieldset",
        { class: "choice", id: name },
        h("legend", {}, legend),
        h(
            "div",
            { class: "options" },
            options.map(([option, label]) =>
                h(
                    "label",
                    {},
                    h("input", {
                        type: "radio",
                        name,
                        id: `${name}-${option}`,
                        value: option,
                        checked: option === value,
                        onchange: () => onchoose(option),
                    }),
                    h("span", {}, label),
                ),
            ),
        ),
    );
}

/**
 * A choice of one among many. `options` is a list of [value, label]; "" leaves it out. `value` and
 * `onchoose` say what is chosen and what follows, if it is not the value at its place.
 */
export function select({ at, label, of, options, wide, hint, value: now = valueAt(at), onchoose }) {
    const name = id(at);
    const element = h(
        "select",
        {
            id: name,
            "data-at": at,
            "data-described": hint ? `${name}-hint` : undefined,
            "aria-describedby": hint ? `${name}-hint` : undefined,
            onchange: () =>
                onchoose
                    ? onchoose(element.value)
                    : change(at, element.value === "" ? undefined : element.value),
        },
        options.map(([value, text]) =>
            h("option", { value, selected: value === (now ?? "") }, text),
        ),
    );
    return h(
        "div",
        { class: `field words${wide ? " wide" : ""}` },
        h("label", { for: name }, label, of && aside(` ${of}`)),
        h("span", { class: "entry" }, element),
        hint && h("span", { class: "hint", id: `${name}-hint` }, hint),
        h("span", { class: "fault", id: `${name}-fault`, hidden: true }),
    );
}

/** Something that is so or not; not so leaves it out. */
export function check({ at, label }) {
    const name = id(at);
    return h(
        "label",
        { class: "check", for: name },
        h("input", {
            type: "checkbox",
            id: name,
            "data-at": at,
            checked: valueAt(at) === true,
            onchange: (event) => change(at, event.target.checked ? true : undefined),
        }),
        h("span", {}, label),
    );
}

/** A row of fields; their hints and faults stand below it, where there is room for them. */
export function row(attributes, ...children) {
    const element = h("li", { class: "row", ...attributes }, children);
    element.append(
        h("div", { class: "row-notes" }, [
            ...element.querySelectorAll(":scope > .field > :is(.hint, .fault)"),
        ]),
    );
    return element;
}

/** Where faults of a place are shown that have no field of their own. */
export function slot(at) {
    return h("p", {
        class: "fault slot",
        "data-slot": at,
        tabindex: "-1",
        id: `${id(at)}-slot`,
        hidden: true,
    });
}

/** Fields that are rarely needed. */
export function more(name, summary, ...children) {
    return h(
        "details",
        { class: "more", id: name },
        h("summary", {}, summary),
        h("div", { class: "fields" }, children),
    );
}
