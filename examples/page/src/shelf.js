// The shelf of recipes: several by name, kept in the browser, exported, imported, shared.

import { h, put } from "./dom.js";
import { askPaste, askRemove, fold, showLink } from "./panels.js";
import { tooLarge } from "./plans.js";
import { download, fromLink, fromPasted, fromText, linkOf } from "./share.js";
import { blank, current, example, ofPlan, onChange, open, request } from "./state.js";
import { freeName, load, save } from "./store.js";
import { systemInUse, useSystem } from "./units.js";

const $ = (id) => document.getElementById(id);

const UNNAMED = "Batch";

let shelf = { entries: [] };

/** Takes up what was kept, what a link brought, or an example. */
export function startShelf() {
    shelf = load();
    useSystem(shelf.system);
    bind();
    onChange(keep);
    const shared = takeLink();
    const kept = shelf.entries.find((entry) => entry.id === shelf.open) ?? shelf.entries[0];
    if (!shared) open(kept ?? add(example()));
    addEventListener("hashchange", takeLink);
    addEventListener("storage", takeOther);
}

function add(entry) {
    entry.name = freeName(entry.name, shelf.entries);
    shelf.entries.push(entry);
    return entry;
}

/** Another tab has kept something: its recipes are taken up, with them the one that is open here. */
function takeOther() {
    const { entries } = load();
    const here = entries.findIndex(({ id }) => id === current().id);
    const changed = here >= 0 && JSON.stringify(entries[here]) !== JSON.stringify(current());
    // One that was removed there stays as long as it is open here.
    if (here < 0) entries.push(current());
    else if (!changed) entries[here] = current();
    shelf.entries = entries;
    if (changed) open(entries[here]);
    else showShelf(new Set(["entry"]));
}

function keep() {
    fold();
    shelf.open = current().id;
    shelf.system = systemInUse();
    const kept = save(shelf);
    $("shelf-kept").hidden = kept;
}

/** Opens the recipe of the address; whether there was one. */
function takeLink() {
    const found = fromLink(location.hash);
    if (!found) return false;
    history.replaceState(null, "", location.href.split("#")[0]);
    if (found.says) {
        tell(found.says);
        return false;
    }
    take(found);
    return true;
}

/** Opens a recipe that came from elsewhere, and does not keep the same one twice. */
function take({ name, plan, remark = "" }) {
    const same = shelf.entries.find((entry) => JSON.stringify(entry.plan) === JSON.stringify(plan));
    open(same ?? add(ofPlan(name, plan)));
    tell(`“${current().name}” is open. ${remark}`);
}

function tell(text) {
    $("shelf-told").textContent = text;
}

function bind() {
    $("shelf-open").addEventListener("change", (event) =>
        open(shelf.entries.find((entry) => entry.id === event.target.value)),
    );
    $("shelf-name").addEventListener("input", (event) => {
        current().name = event.target.value.trim() || UNNAMED;
        open(current());
    });
    $("shelf-name").addEventListener("change", (event) => {
        current().name = freeName(current().name, otherRecipes());
        event.target.value = current().name;
        open(current());
    });
    $("shelf-new").addEventListener("click", () => {
        open(add(blank("New batch")));
        tell("A new batch is open.");
        queueMicrotask(() => $("mould-kind-box")?.focus());
    });
    $("shelf-copy").addEventListener("click", () => {
        const { name, plan, sure } = structuredClone(current());
        open(add({ ...ofPlan(name, plan), sure }));
        tell(`“${current().name}” is open, a copy of “${name}”.`);
    });
    $("shelf-remove").addEventListener("click", removeCurrent);
    $("shelf-export").addEventListener("click", () => {
        download(current().name, request(current().plan).asked);
        tell("The recipe went to your downloads.");
    });
    $("shelf-import").addEventListener("click", () => $("shelf-file").click());
    $("shelf-file").addEventListener("change", importFile);
    $("shelf-share").addEventListener("click", share);
    $("shelf-paste").addEventListener("click", () => askPaste(takePasted));
    $("shelf-print").addEventListener("click", () => print());
    $("shelf-untick").addEventListener("click", () => {
        current().ticked = {};
        open(current());
    });
    for (const system of ["metric", "ounces"]) {
        $(`units-${system}`).addEventListener("change", () => {
            useSystem(system);
            open(current());
        });
    }
}

async function importFile(event) {
    const [file] = event.target.files;
    if (!file) return;
    const found = tooLarge(file.name, file.size) ?? fromText(file.name, await file.text());
    event.target.value = "";
    if (found.says) tell(found.says);
    else take(found);
}

function removeCurrent() {
    const { name, id } = current();
    askRemove(name, () => {
        shelf.entries = shelf.entries.filter((entry) => entry.id !== id);
        open(shelf.entries[0] ?? add(example()));
        tell(`“${name}” was removed.`);
    });
}

async function share() {
    const link = linkOf(current().name, request(current().plan).asked);
    showLink(link);
    try {
        await navigator.clipboard.writeText(link);
        tell("The link is copied.");
    } catch {
        tell("Copy the link from the field.");
    }
}

function takePasted(text) {
    const found = fromPasted(text);
    if (found.says) tell(found.says);
    else take(found);
    return !found.says;
}

/** The recipes beside the one that is open. */
export function otherRecipes() {
    return shelf.entries.filter((entry) => entry.id !== current().id);
}

/** Shows which recipe is open and which others there are. */
export function showShelf(kinds) {
    if (!kinds.has("entry")) return;
    const entry = current();
    if (document.activeElement !== $("shelf-name")) $("shelf-name").value = entry.name;
    put(
        $("shelf-open"),
        shelf.entries.map((other) =>
            h("option", { value: other.id, selected: other.id === entry.id }, other.name),
        ),
    );
    $(`units-${systemInUse()}`).checked = true;
}
