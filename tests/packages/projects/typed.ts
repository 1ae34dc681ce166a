// What has to compile; and, after each @ts-expect-error, what must not.

import { type ExactNumber, type Fault, LixiviumError, type PlanAnswer, type PlanRequest, type Range } from "lixivium";
import { call, convert, fats, init, initSync, plan, tryCall, version } from "lixivium";
import * as inline from "lixivium/inline";
import * as node from "lixivium/node";

const request: PlanRequest = {
    fats: [
        { fat: "olive-oil", mass: "1 lb 2 oz" },
        { fat: { name: "house tallow", saponification_value: 197.5, saponification_range: [192, "203"] }, mass: 200 },
    ],
    superfat: 5,
    alkali: { koh_share: "10 %", share_by: "moles", naoh_purity: null },
    water: { lye_concentration: 33 },
    mould: { several: [{ cavities: { count: 6, volume: "100 mL" } }] },
};
const batch: PlanAnswer = plan(request);
const naoh: ExactNumber = batch.naoh_mass;
const [grams, text]: [number, string] = [naoh.value, naoh.exact];
const low: number | undefined = batch.superfat_range.low?.value;
const filling: Range | undefined = batch.mould?.mould_filled_range;

// Lists and pairs that cannot be changed are as good.
const fixed = { fats: [{ fat: "olive-oil", share: 100 }], total_fats: 500, superfat: 5, water: { of_fats: 38 } } as const;
plan(fixed);

const named: PlanAnswer = call("plan", fixed);
const tried = tryCall("plan", fixed);
const faults: Fault[] = "error" in tried ? tried.error.faults : [];

const starts: Promise<void>[] = [
    init(),
    init("lixivium.wasm"),
    init(new Uint8Array()),
    init(Promise.resolve(new ArrayBuffer(8))),
    inline.init(),
    node.init(),
];
initSync(new Uint8Array());

try {
    plan(fixed);
} catch (error) {
    if (error instanceof LixiviumError) {
        const said: string[] = error.faults.map(({ code, at, says }) => `${code} ${at} ${says}`);
        said.push(error.message, error.name);
    }
}

// @ts-expect-error the water is missing
plan({ fats: [], superfat: 5 });
// @ts-expect-error an unknown member
plan({ ...fixed, colour: "white" });
// @ts-expect-error an unknown word
plan({ ...fixed, alkali: { share_by: "volume" } });
// @ts-expect-error a mass is a number or a text
plan({ ...fixed, total_fats: true });
// @ts-expect-error no number of any size
plan({ ...fixed, total_fats: 500n });
// @ts-expect-error a range has two ends
plan({ ...fixed, fats: [{ fat: { name: "x", saponification_range: [190] }, share: 100 }] });
// @ts-expect-error the answer has numbers in both views
const plain: number = plan(fixed).naoh_mass;
// @ts-expect-error an open end may be missing
const open: ExactNumber = batch.superfat_range.low;
// @ts-expect-error there may be no mould
batch.mould.mould_filled_range;
// @ts-expect-error no such operation
call("brew", {});
// @ts-expect-error the request of another operation
call("convert", fixed);
// @ts-expect-error it may be an error
tried.naoh_mass;
// @ts-expect-error a module is not started from a number
init(5);
// @ts-expect-error a request is needed
fats();
// @ts-expect-error the members of a fault are not changed
faults[0]!.code = 5;

export default [grams, text, low, filling, named, starts, plain, open, convert, version];
