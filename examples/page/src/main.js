// The page: puts the form, the card and the tasks together and keeps them in step.

import { showAssurance, showCard, weighed } from "./answers.js";
import { keepAwake } from "./awake.js";
import { announcer, h, put } from "./dom.js";
import { showFaults } from "./faults.js";
import { fatProposals, fatsForm } from "./form-fats.js";
import { alkaliForm, scaleForm, waterForm } from "./form-lye.js";
import { mouldForm } from "./form-mould.js";
import { othersForm } from "./form-others.js";
import { ask, fats, load, version } from "./library.js";
import { showShelf, startShelf } from "./shelf.js";
import { change, current, onChange } from "./state.js";
import { resultsOf } from "./results.js";
import { showSummary, watchWeights } from "./summary.js";
import { amend } from "./tasks/amend.js";
import { audit } from "./tasks/audit.js";
import { composition } from "./tasks/composition.js";
import { fill, takeOver } from "./tasks/fill.js";
import { sure } from "./tasks/sure.js";
import { swap } from "./tasks/swap.js";

const TASKS = [sure, composition, fill, amend, swap, audit];
const $ = (id) => document.getElementById(id);

let results = {};
/** The last answer of plan, from which forms take amounts over. */
let lastPlan;

const FORMS = {
    "form-mould": mouldForm,
    "form-fats": () => fatsForm(() => lastPlan),
    "form-alkali": alkaliForm,
    "form-water": () => waterForm(() => lastPlan),
    "form-others": othersForm,
    "form-scale": scaleForm,
};

const CARD = {
    before: "card-before",
    weigh: "card-weigh",
    mould: "card-mould",
    superfat: "card-superfat",
    figures: "card-figures",
};

async function start() {
    const status = $("card-status");
    try {
        await load();
    } catch (error) {
        status.textContent = `The library could not be started in this browser: ${error.message}`;
        status.hidden = false;
        return;
    }
    document.body.append(fatProposals());
    put(
        $("tasks"),
        TASKS.map((task) =>
            h(
                "details",
                {
                    class: "task",
                    id: `task-${task.id}`,
                    ontoggle: () => refresh(new Set(["task"])),
                },
                h("summary", {}, h("h2", {}, task.title)),
                h(
                    "div",
                    { class: "task-body" },
                    h("p", { class: "lead" }, task.lead),
                    h("div", { id: `task-${task.id}-form`, class: "task-form" }),
                    h("div", { id: `task-${task.id}-answer`, class: "task-answer" }),
                ),
            ),
        ),
    );
    $("version").textContent = `Lixivium ${version()}, ${fats().length} fats`;
    document.querySelector("form").addEventListener("submit", (event) => event.preventDefault());
    onChange(refresh);
    addEventListener("beforeprint", () => refresh(new Set(["later"])));
    startShelf();
    watchWeights();
}

const say = announcer($("announcer"));

/** So many milliseconds after the last change what takes long is reckoned. */
const PAUSE = 200;
let later;

/** Brings the page in step with the entry after a change. */
function refresh(kinds) {
    const entry = current();
    const open = TASKS.filter((task) => $(`task-${task.id}`).open);
    const reshaped = kinds.has("entry") || kinds.has("shape");
    if (reshaped) for (const [id, form] of Object.entries(FORMS)) put($(id), form());
    clearTimeout(later);
    results = resultsOf(entry, open, kinds.has("later") || kinds.has("entry"));
    if (results.waits) later = setTimeout(() => refresh(new Set(["later"])), PAUSE);
    lastPlan = results.plan ?? (kinds.has("entry") ? undefined : lastPlan);
    // What only comes later leaves the rest alone: somebody may be about to tap it.
    const isLate = kinds.size === 1 && kinds.has("later");
    showTasks(isLate ? open.filter((task) => task === sure) : open, reshaped || kinds.has("task"));
    showAnswers(entry, isLate);
    const placed = showFaults(document, results.faults, results.cautions);
    showSummary(results, placed, say);
    showShelf(kinds);
    if (!document.documentElement.dataset.ready) performance.mark("first-answer");
    document.documentElement.dataset.ready = "true";
}

function showAnswers(entry, isLate) {
    const whole = Boolean(results.plan);
    $("card-answer").hidden = !whole;
    $("card-title").textContent = entry.name;
    document.title = `${entry.name}: bench card, by Lixivium`;
    if (!whole) return;
    const card = Object.fromEntries(Object.entries(CARD).map(([name, id]) => [name, $(id)]));
    busy(card.superfat, results.waits);
    showAssurance(card, results);
    if (isLate) return;
    const rows = weighed(results.plan);
    const ticked = rows.filter(([key, , mass]) => entry.ticked[key] === mass.exact);
    keepAwake(ticked.length > 0 && ticked.length < rows.length);
    showCard(card, entry, results, {
        onTick: (key, exact) => change(`ticked.${key}`, exact),
        onFill: () => takeOver(ask("fill", { batter: { plan: results.request } }).answer.scaled),
    });
}

const shapes = new Map();

/** Marks what is about to be reckoned anew; whether it is. */
function busy(element, waits) {
    if (waits) element.setAttribute("aria-busy", "true");
    else element.removeAttribute("aria-busy");
    return waits;
}

function showTasks(open, reshaped) {
    for (const task of open) {
        // The form of a task names what the recipe holds and what was planned of it.
        const shape = results.plan ? JSON.stringify(weighed(results.plan)) : "";
        if (reshaped || shapes.get(task.id) !== shape) {
            shapes.set(task.id, shape);
            put($(`task-${task.id}-form`), task.form(results.plan));
        }
        const { answer, made } = results.tasks.get(task.id) ?? {};
        if (busy($(`task-${task.id}-answer`), task === sure && results.waits)) continue;
        put($(`task-${task.id}-answer`), answer ? task.answer(answer, made) : null);
    }
}

start();
