// The package in Node: its answers are those of the C library, its errors are Errors.

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { test } from "node:test";

import * as lixivium from "../../bindings-wasm/pkg/js/node.js";

/** The answer of the C library, by tests/c/call.c. */
function callC(operation, request) {
    const { stdout, status } = spawnSync(process.env.LXV_CALL, [operation], {
        input: JSON.stringify(request),
        encoding: "utf8",
    });
    assert.ok(status === 0 || status === 1, `the C program ended with status ${status}`);
    return JSON.parse(stdout);
}

const tallow = { name: "house tallow", saponification_value: 197.5 };
const plans = {
    "potassium hydroxide": {
        fats: [{ fat: tallow, mass: 1000 }],
        superfat: 0,
        alkali: { koh_share: 100 },
        water: { lye_concentration: 33 },
    },
    "both alkalis, ounces, purities, a scale": {
        fats: [
            { fat: tallow, mass: "17 2/3 oz" },
            { fat: { name: "lard of the farm", saponification_value: 196.123456789 }, mass: 200.1 },
        ],
        superfat: "5 %",
        alkali: { koh_share: 10, share_by: "moles", naoh_purity: 98.5, koh_purity: 90.1 },
        water: { water_to_lye: 2.1 },
        scale_step: "0.1 g",
    },
    "shares of a total": {
        fats: [
            // 0.30000000000000004: a double is taken as its shortest decimal.
            { fat: tallow, share: 0.1 + 0.2 },
            { fat: { name: "other", saponification_value: 190 }, share: "99.69999999999999996" },
        ],
        total_fats: 1e3,
        superfat: 1e-7,
        water: { of_fats: 38 },
    },
};

for (const [name, request] of Object.entries(plans)) {
    test(`a plan is the same from WASM and from C: ${name}`, () => {
        const answer = lixivium.plan(request);
        assert.ok(answer.batter_mass.value > 0);
        assert.deepEqual(answer, callC("plan", request));
        assert.deepEqual(lixivium.call("plan", request), answer);
        assert.deepEqual(lixivium.tryCall("plan", request), answer);
    });
}

const others = [
    ["fats", {}],
    ["convert", { quantity: "2 lb 3.5 oz", to: "g" }],
];

for (const [operation, request] of others) {
    test(`an answer is the same from WASM and from C: ${operation}`, () => {
        const answer = lixivium[operation](request);
        assert.ok(!("error" in answer));
        assert.deepEqual(answer, callC(operation, request));
    });
}

test("a plan has the figure of the definition", () => {
    // The saponification value is mg KOH for 1 g of fat (ISO 3657).
    const { koh_mass } = lixivium.plan(plans["potassium hydroxide"]);
    assert.deepEqual(koh_mass, { value: 197.5, exact: "395/2" });
});

const faulty = {
    "an empty request": ["plan", {}],
    "an unknown key and a bad mass": ["plan", { fats: [{ fat: tallow, mass: "heavy" }], colour: 1 }],
    "a negative mass": ["plan", { ...plans["potassium hydroxide"], fats: [{ fat: tallow, mass: -1 }] }],
    "no object": ["plan", [1, 2]],
    "an unknown operation": ["no such operation", {}],
};

for (const [name, [operation, request]] of Object.entries(faulty)) {
    test(`faults are the same from WASM and from C: ${name}`, () => {
        const expected = callC(operation, request);
        assert.ok(expected.error.faults.length > 0);
        assert.deepEqual(lixivium.tryCall(operation, request), expected);
        assert.throws(() => lixivium.call(operation, request), (error) => {
            assert.ok(error instanceof lixivium.LixiviumError && error instanceof Error);
            assert.equal(error.name, "LixiviumError");
            assert.deepEqual(error.faults, expected.error.faults);
            for (const { says } of error.faults) {
                assert.ok(error.message.includes(says));
            }
            return true;
        });
    });
}

test("what is no plain data is a fault, and later calls work", () => {
    const circle = {};
    circle.fats = [circle];
    const odd = [undefined, null, () => 1, Symbol("fats"), circle, { fats: NaN }, { fats: 1n << 80n }];
    for (const request of odd) {
        const { faults } = lixivium.tryCall("plan", request).error;
        assert.ok(faults.length > 0);
    }
    for (const [request, kind] of [[new Set(), "object"], [() => 1, "function"], [Symbol("fats"), "symbol"]]) {
        const [{ code, says }] = lixivium.tryCall("plan", request).error.faults;
        assert.equal(code, "bad_json");
        assert.match(says, new RegExp(`a value of the type ${kind} stands there; accepted: `));
    }
    assert.ok(lixivium.plan(plans["shares of a total"]).batter_mass.value > 0);
});

test("what stands for plain data is read as it", () => {
    const plan = (mass, fats = [{ fat: "olive-oil", mass }]) =>
        lixivium.tryCall("plan", { ...plans["potassium hydroxide"], fats });
    for (const [mass, text] of [[0.1 + 0.2, "0.30000000000000004"], [1e-7, "0.0000001"], [500n, "500"]]) {
        assert.deepEqual(plan(mass), plan(text));
    }
    const map = new Map([["fat", "olive-oil"], ["mass", 500]]);
    assert.ok(plan(500).batter_mass.value > 500);
    assert.deepEqual(plan(0, [map]), plan(500));
    for (const mass of [NaN, Infinity, -Infinity]) {
        const { faults } = plan(mass).error;
        assert.match(faults[0].says, /finite/);
    }
});
