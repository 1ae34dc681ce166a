// Asking the library about the entry on the page.

import { fieldCautions } from "./cautions.js";
import { ask } from "./library.js";
import { onPage, request } from "./state.js";

/**
 * The answers about an entry, or all faults of it at their places on the page, and the cautions that
 * belong to one. `tasks` are those
 * that are open. Where the reckoning of tolerances takes long it is put off until `inTime` is
 * true, so that typing stays quick; `waits` says so.
 */
export function resultsOf(entry, tasks, inTime) {
    const { asked, rows } = request(entry.plan);
    const { answer: plan, faults } = ask("plan", asked);
    const result = {
        request: asked,
        plan,
        faults: faults.map((fault) => ({ ...fault, at: join("plan", placeOf(fault, rows)) })),
        cautions: plan
            ? fieldCautions(plan).map((found) => ({
                  ...found,
                  at: join("plan", onPage(found.at, rows)),
              }))
            : [],
        tasks: new Map(),
    };
    if (plan) {
        const sure = assured({ plan: asked, ...sureOf(entry.sure) }, inTime);
        result.waits = !sure;
        result.assured = sure?.answer;
        result.sure = sure && (sure.answer ?? ask("assure", { plan: asked }).answer);
        result.faults.push(
            ...(sure?.faults ?? []).map((fault) => ({ ...fault, at: join("sure", fault.at) })),
        );
        result.picture = plan.mould
            ? ask("picture", { batter: { plan: asked } }).answer
            : undefined;
    }
    for (const task of tasks) result.tasks.set(task.id, taskResult(task, entry, result));
    return result;
}

/** Where the page shows a fault of the plan. */
function placeOf({ code, at }, rows) {
    return code === "no_fats" ? "fats[0].fat" : onPage(at, rows);
}

/** More milliseconds than this are felt while typing. */
const LONG = 30;

let last = {};
let takesLong = false;

/** The answer of assure, that of before if nothing has changed; undefined if it is put off. */
function assured(request, inTime) {
    const key = JSON.stringify(request);
    if (key === last.key) return last.found;
    if (takesLong && !inTime) return undefined;
    const started = performance.now();
    const found = ask("assure", request);
    takesLong = performance.now() - started > LONG;
    last = { key, found };
    return found;
}

/** Tolerances as a request has them: rows in which nothing stands are empty objects. */
function sureOf(sure) {
    const tolerances = { ...sure.tolerances };
    for (const list of ["fats", "acids"])
        if (Array.isArray(tolerances[list]))
            tolerances[list] = Array.from(tolerances[list], (row) => row || {});
    return sure.tolerances ? { ...sure, tolerances } : sure;
}

function taskResult(task, entry, result) {
    if (task.id === "sure") return { answer: result.assured };
    if (!result.plan && task.id !== "audit") return {};
    const made = task.request(entry, result.request, result.plan);
    if (!made) return {};
    if (made.faults) {
        result.faults.push(...made.faults);
        return {};
    }
    const { answer, faults } = ask(made.operation, made.request);
    const place = made.onPage ?? ((at) => at);
    // Faults of the plan itself stand in the recipe already.
    const own = faults.filter((fault) => !/^plan\b/.test(fault.at));
    result.faults.push(...own.map((fault) => ({ ...fault, at: join(task.id, place(fault.at)) })));
    return { answer, made };
}

function join(root, at) {
    return at === "" ? root : `${root}.${at}`;
}
