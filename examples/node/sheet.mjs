// A batch sheet from Node: reads a recipe, plans it, prints what to weigh.
//
//     npm install
//     node sheet.mjs ../recipes/winter-fair.json
//
// The recipe is an invented batch for a winter fair.

import { readFileSync } from "node:fs";

import { LixiviumError, plan } from "lixivium";

function line(number, unit, name) {
    console.log(`${number.value.toFixed(2).padStart(10)} ${unit}  ${name}`);
}

function printSheet(batch) {
    for (const caution of batch.cautions) {
        console.log(`! ${caution.says}`);
    }
    line(batch.water_to_add_mass, "g", "Water");
    line(batch.naoh_mass, "g", "Sodium hydroxide, into the water");
    line(batch.koh_mass, "g", "Potassium hydroxide, into the water");
    for (const { mass, name } of [...batch.fats, ...batch.acids, ...batch.additives]) {
        line(mass, "g", name);
    }
    line(batch.batter_mass, "g", "Batter, all together");
    line(batch.superfat, "%", "Superfat, as weighed");
    line(batch.lye_concentration, "%", "Lye concentration, as weighed");
}

const [file] = process.argv.slice(2);
if (!file) {
    console.error("usage: sheet.mjs RECIPE.json");
    process.exit(2);
}
const recipe = JSON.parse(readFileSync(file, "utf8"));
try {
    printSheet(plan(recipe));
} catch (error) {
    if (!(error instanceof LixiviumError)) {
        throw error;
    }
    console.error(error.message);
    process.exitCode = 1;
}
