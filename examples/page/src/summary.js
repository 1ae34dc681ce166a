// The batch in short, or what is still wanted before there is anything to weigh.

import { inShort } from "./answers.js";
import { button, h, put } from "./dom.js";
import { decimalCommas, nameOfPlace, writePoints } from "./faults.js";

const $ = (id) => document.getElementById(id);

/** `placed` are faults and cautions with their elements; `say` tells those who cannot see it. */
export function showSummary(results, placed, say) {
    $("card-status").hidden = Boolean(results.plan);
    if (results.plan) {
        const text = inShort(results);
        showShort(text);
        say(here(placed.faults) ?? `Weigh ${text}`);
        showAsked(placed.cautions);
        return;
    }
    const faults = inOrder(placed.faults.filter((fault) => fault.at.startsWith("plan")));
    const words = faults.length === 1 ? "One entry is" : `${faults.length} entries are`;
    put($("card-status"), wanted(words, faults));
    showShort(`${words} wanted: ${namesOf(faults)}`);
    say(`${words} wanted. ${here(placed.faults) ?? inWords(faults[0])}`);
}

/** What changed where somebody is typing: what is wrong there, or what a task answers. */
function here(faults) {
    const active = document.activeElement;
    const fault = faults.find(({ element, wanted }) => element === active && !wanted);
    if (fault) return inWords(fault);
    const told = active.closest(".task")?.querySelector("[data-told]");
    return told && `${told.dataset.told} ${told.innerText.trim().replace(/\s*\n\s*/g, ", ")}`;
}

function inWords({ element, says }) {
    return `${nameOfPlace(element)}: ${says}`;
}

/** Keeps the batch in short in sight of the form where the weights have scrolled out of it. */
export function watchWeights() {
    const seen = new Map();
    const watcher = new IntersectionObserver((entries) => {
        for (const { target, isIntersecting } of entries) seen.set(target, isIntersecting);
        document.querySelector(".rail").classList.toggle(
            "away",
            [...seen.values()].every((here) => !here),
        );
    });
    watcher.observe($("card-status"));
    watcher.observe($("card-weigh"));
}

/** Beside the form, or above it. */
function showShort(text) {
    $("card-short").textContent = text;
    $("ribbon-text").textContent = text;
}

/** What the first of them are called. */
function namesOf(faults) {
    const names = faults.slice(0, 3).map(({ element }) => nameOfPlace(element));
    return names.join(", ") + (faults.length > 3 ? " \u2026" : ".");
}

/** In the order of the page. */
function inOrder(faults) {
    const after = Node.DOCUMENT_POSITION_FOLLOWING;
    return faults.toSorted((a, b) =>
        a.element.compareDocumentPosition(b.element) & after ? -1 : 1,
    );
}

function wanted(words, faults) {
    const empty = faults.filter((fault) => fault.wanted);
    const wrong = faults.filter((fault) => !fault.wanted);
    const commas = decimalCommas(wrong);
    return [
        h("p", {}, `${words} wanted before there is anything to weigh.`),
        wrong.length > 0 &&
            h(
                "ul",
                {},
                wrong.map(({ element, says }) => h("li", {}, link(element), `: ${says}`)),
            ),
        commas.length > 1 &&
            button("Write points for all decimal commas", () => writePoints(commas), {
                id: "write-points",
            }),
        empty.length > 0 &&
            h(
                "p",
                {},
                "Still to fill in: ",
                empty.map(({ element }, i) => [i ? ", " : "", link(element)]),
                ".",
            ),
    ];
}

/** Fields whose entry is asked about, above the weights that came of it. */
function showAsked(cautions) {
    const fields = [...new Set(cautions.map(({ element }) => element))];
    $("card-asked").hidden = fields.length === 0;
    put(
        $("card-asked"),
        "Look again at: ",
        fields.map((element, i) => [i ? ", " : "", link(element), written(element)]),
        ".",
    );
}

function written(element) {
    if (!element.value) return "";
    const unit = document.getElementById(`${element.id}-unit`);
    return ` (${element.value}${unit && !unit.hidden ? `\u00a0${unit.textContent}` : ""})`;
}

function link(element) {
    const go = (event) => {
        event.preventDefault();
        element.focus();
        element.scrollIntoView({ block: "center" });
    };
    return h("a", { href: `#${element.id}`, onclick: go }, nameOfPlace(element));
}
