// What the batch amounts to, each figure with its working and the sources of what went into it.

import { h } from "./dom.js";
import { ask, fat as entryOf, source } from "./library.js";
import { exactText, fixed, short, sign } from "./numbers.js";
import { mass, massPlaces, percent } from "./units.js";

/** The figures of a plan. `request` is what was asked for it. */
export function figures(plan, request) {
  const masses = massPlaces([...plan.fats.map((fat) => fat.mass), plan.water_mass]);
  const g = (grams, direction) => mass(grams, masses, direction);
  const grams = (number) => `${short(number, 3)} g`;
  const alkali = [
    sign(plan.naoh_mass) && `${grams(plan.naoh_mass)} NaOH`,
    sign(plan.koh_mass) && `${grams(plan.koh_mass)} KOH`,
  ].filter(Boolean).join(" + ");
  const { mould } = plan;
  return [
    figure("alkali", "Pure hydroxide", [sign(plan.naoh_pure_mass) && `${g(plan.naoh_pure_mass, "down")}\u00a0NaOH`, sign(plan.koh_pure_mass) && `${g(plan.koh_pure_mass, "down")}\u00a0KOH`].filter(Boolean).join(" + "), plan.naoh_pure_mass, hydroxideWorking(plan, request)),
    figure("superfat", "Superfat, as weighed", percent(plan.superfat, 2), plan.superfat, superfatWorking(plan, request)),
    figure("lye-concentration", "Lye concentration", percent(plan.lye_concentration, 1), plan.lye_concentration, [
      formula("alkali / (alkali + water)", `(${alkali}) / (${alkali} + ${grams(plan.water_mass)} water) = ${percent(plan.lye_concentration, 3)}`),
      formula("of it hydroxide", percent(plan.hydroxide_concentration, 3)),
    ]),
    figure("water-to-lye", "Water to alkali", `${fixed(plan.water_to_lye, 2)}\u00a0:\u00a01`, plan.water_to_lye, [formula("water / alkali", `${grams(plan.water_mass)} / (${alkali}) = ${fixed(plan.water_to_lye, 4)}`)]),
    sign(plan.koh_mass) && sign(plan.naoh_mass) ? figure("koh-share", "Potassium share, by moles", percent(plan.koh_share_by_moles, 1), plan.koh_share_by_moles, [formula("n(KOH) / (n(NaOH) + n(KOH))", percent(plan.koh_share_by_moles, 4))]) : null,
    figure("total-fats", "All fats", g(plan.total_fats), plan.total_fats, [formula("sum of the fats", `${plan.fats.map((fat) => grams(fat.mass)).join(" + ")} = ${grams(plan.total_fats)}`)]),
    figure("batter", "Batter, as poured", g(plan.batter_mass), plan.batter_mass, [
      formula("fats + alkali + water + acids + additives", [grams(plan.total_fats), alkali, grams(plan.water_mass), ...[...plan.acids, ...plan.additives].map((line) => grams(line.mass))].join(" + ") + ` = ${grams(plan.batter_mass)}`),
    ]),
    mould?.cavities.map(
      ({ count, bar_mass, bar_mass_range }, i) =>
        bar_mass &&
        figure(`bar-${i + 1}`, count === 1 ? "The mould holds" : `One of ${count} cavities holds`, mass(bar_mass), bar_mass, [
          bar_mass_range && formula("of the lightest batter and of the densest", `${mass(bar_mass_range.low)} to ${mass(bar_mass_range.high)}`),
        ]),
    ),
    mould?.batter_density && figure("density", "Density of the batter", `${fixed(mould.batter_density, 3)}\u00a0g/mL`, mould.batter_density, densityWorking(plan, mould)),
    mould?.mould_volume && figure("mould-volume", "Mould, as far as it is filled", `${fixed(mould.mould_volume, 0)}\u00a0mL`, mould.mould_volume, [
      formula("volume", `${measures(request.mould)} = ${short(mould.mould_volume, 3)} mL`),
      formula("filled, in doubt to the safe side", percent(mould.mould_filled, 1)),
      mould.mould_filled_range && formula("over all published densities", `${percent(mould.mould_filled_range.low, 1)} to ${percent(mould.mould_filled_range.high, 1)}`),
    ]),
  ];
}

/** The measures of a mould, as they were typed. */
function measures({ box, cylinder, cavities, several, fill }) {
  if (several) return "all moulds together";
  const length = (value) => (typeof value === "number" ? `${value} cm` : value);
  const volume = (value) => (typeof value === "number" ? `${value} mL` : value);
  const one = box
    ? `${length(box.length)} \u00d7 ${length(box.width)} \u00d7 ${length(box.height)}`
    : cylinder
      ? `\u03c0 / 4 \u00d7 (${length(cylinder.diameter)})\u00b2 \u00d7 ${length(cylinder.height)}`
      : cavities.volume !== undefined
        ? volume(cavities.volume)
        : "one cavity";
  const count = (box ?? cylinder ?? cavities).count ?? 1;
  const level = fill === undefined ? "" : `, filled to ${typeof fill === "number" ? `${fill} %` : fill}`;
  return `${count === 1 ? "" : `${count} \u00d7 `}${one}${level}`;
}

function figure(key, label, text, number, working) {
  return h(
    "details",
    { class: "worked", id: `figure-${key}` },
    h("summary", {}, h("span", { class: "name" }, label), h("span", { class: "dots", "aria-hidden": "true" }), h("data", { value: number.exact, id: `value-${key}` }, text)),
    h("div", { class: "working" }, working),
  );
}

function formula(name, text) {
  return h("p", { class: "formula" }, h("span", { class: "term" }, name), " ", h("span", { class: "digits" }, text));
}

/** What fats and acids take up, as the library reckons it from weights alone. */
function need(fats, acids = []) {
  const { answer } = ask("audit", { fats, acids });
  return answer;
}

function records(plan, request) {
  const fats = plan.fats.map((line, i) => ({ fat: request.fats[i].fat, mass: `${exactText(line.mass)} g` }));
  const acids = plan.acids.map((line, i) => ({ acid: request.acids[i].acid, mass: `${exactText(line.mass)} g`, ...(request.acids[i].strength === undefined ? {} : { strength: request.acids[i].strength }) }));
  return { fats, acids };
}

function hydroxideWorking(plan, request) {
  const { fats, acids } = records(plan, request);
  const whole = need(fats);
  const all = acids.length ? need(fats, acids) : null;
  const alkali = request.alkali ?? {};
  return [
    h("p", { class: "formula" }, h("span", { class: "term" }, "KOH = \u03a3 weight \u00d7 saponification value / 1000; NaOH = KOH \u00d7 M(NaOH) / M(KOH)")),
    h(
      "div",
      { class: "scroll", tabindex: "0", role: "region", "aria-label": "Potassium hydroxide that each fat takes" },
      h(
        "table",
        {},
        h("thead", {}, h("tr", {}, ["Fat", "Weight", "Saponification value", "Published", "KOH"].map((head) => h("th", { scope: "col" }, head)))),
        h("tbody", {}, plan.fats.map((line, i) => fatLine(line, fats[i]))),
      ),
    ),
    whole && formula("all fats take", `${short(whole.full_koh_mass, 3)} g KOH, or ${short(whole.full_naoh_mass, 3)} g NaOH`),
    all && formula("with the acids", `${short(all.full_koh_mass, 3)} g KOH, or ${short(all.full_naoh_mass, 3)} g NaOH`),
    formula("superfat asked", `${request.superfat}${typeof request.superfat === "number" ? " %" : ""} of the fats' need is left out`),
    sign(plan.naoh_mass) ? formula("as weighed", `${short(plan.naoh_mass, 3)} g at ${alkali.naoh_purity ?? 100} % purity = ${short(plan.naoh_pure_mass, 3)} g NaOH`) : null,
    sign(plan.koh_mass) ? formula("as weighed", `${short(plan.koh_mass, 3)} g at ${alkali.koh_purity ?? 100} % purity = ${short(plan.koh_pure_mass, 3)} g KOH`) : null,
    request.scale_step !== undefined && formula("scale", `step ${request.scale_step}${typeof request.scale_step === "number" ? " g" : ""}, alkali to the step below`),
  ];
}

function fatLine(line, record) {
  const taken = need([record])?.full_koh_mass;
  const known = typeof record.fat === "string" ? entryOf(line.fat) : undefined;
  const value = known?.published.find((entry) => entry.property === "saponification_value");
  return h(
    "tr",
    {},
    h("th", { scope: "row" }, line.name),
    h("td", {}, `${short(line.mass, 3)} g`),
    h("td", {}, `${short(line.saponification_value, 3)} mg KOH/g`),
    h("td", { class: "source" }, value ? published(value) : ownRange(record.fat)),
    h("td", {}, taken ? `${short(taken, 3)} g` : ""),
  );
}

function ownRange(fat) {
  const range = fat.saponification_range;
  return range ? `your own figure, ${range[0]} to ${range[1]}` : "your own figure";
}

/** A published range with its source. */
export function published(value) {
  const { low, high } = value.range;
  const ends = [low && short(low, 3), high && short(high, 3)];
  const range = low && high ? (low.exact === high.exact ? ends[0] : `${ends[0]} to ${ends[1]}`) : low ? `from ${ends[0]}` : `to ${ends[1]}`;
  const from = source(value.source);
  const where = [from?.citation, from?.part].filter(Boolean).join(", ");
  const seen = value.provenance === "memory" ? " [from memory]" : "";
  return [h("span", {}, `${range}${value.unit ? ` ${value.unit}` : ""}`), " ", h("cite", {}, `${where}${seen}`)];
}

function superfatWorking(plan, request) {
  const { fats } = records(plan, request);
  const whole = need(fats);
  return [
    formula("1 \u2212 (hydroxide \u2212 what acids take) / what the fats take", percent(plan.superfat, 4)),
    formula("hydroxide", [sign(plan.naoh_pure_mass) && `${short(plan.naoh_pure_mass, 3)} g NaOH`, sign(plan.koh_pure_mass) && `${short(plan.koh_pure_mass, 3)} g KOH`].filter(Boolean).join(" + ")),
    whole && formula("the fats take", `${short(whole.full_koh_mass, 3)} g KOH, or ${short(whole.full_naoh_mass, 3)} g NaOH`),
    formula("all fats at the ends of their published ranges", `${percent(plan.superfat_range.low, 2)} to ${percent(plan.superfat_range.high, 2)}`),
  ];
}

function densityWorking(plan, mould) {
  const { low, high } = mould.batter_density_range ?? {};
  const lines = plan.fats.map((line) => {
    const value = entryOf(line.fat)?.published.find((entry) => entry.property === "relative_density");
    return value && h("p", { class: "formula" }, h("span", { class: "term" }, line.name), " ", published(value), value.temperature ? ` at ${short(value.temperature)}\u00a0°C, water at ${short(value.reference_temperature)}\u00a0°C` : "");
  });
  return [low && formula("range", `${fixed(low, 3)} to ${fixed(high, 3)}\u00a0g/mL`), lines];
}
