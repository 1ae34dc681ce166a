// Asking the library about the entry on the page.

import { ask } from "./library.js";
import { onPage, request } from "./state.js";

/**
 * The answers about an entry, or all faults of it at their places on the page. `tasks` are those
 * that are open.
 */
export function resultsOf(entry, tasks) {
  const { asked, rows } = request(entry.plan);
  const { answer: plan, faults } = ask("plan", asked);
  const result = { request: asked, plan, faults: faults.map((fault) => ({ ...fault, at: join("plan", onPage(fault.at, rows)) })), tasks: new Map() };
  if (plan) {
    const sure = ask("assure", { plan: asked, ...sureOf(entry.sure) });
    result.sure = sure.answer ?? ask("assure", { plan: asked }).answer;
    result.faults.push(...sure.faults.map((fault) => ({ ...fault, at: join("sure", fault.at) })));
    result.picture = plan.mould ? ask("picture", { batter: { plan: asked } }).answer : undefined;
  }
  for (const task of tasks) result.tasks.set(task.id, taskResult(task, entry, result));
  return result;
}

/** Tolerances as a request has them: rows of fats in which nothing stands are empty objects. */
export function sureOf(sure) {
  const fats = sure.tolerances?.fats;
  if (!Array.isArray(fats)) return sure;
  return { ...sure, tolerances: { ...sure.tolerances, fats: Array.from(fats, (fat) => fat || {}) } };
}

function taskResult(task, entry, result) {
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
  if (task.id !== "sure") result.faults.push(...own.map((fault) => ({ ...fault, at: join(task.id, place(fault.at)) })));
  return { answer, made };
}

function join(root, at) {
  return at === "" ? root : `${root}.${at}`;
}
