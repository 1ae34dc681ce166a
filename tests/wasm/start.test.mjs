// Starting the module: once, from all that it may come from, with errors that say what to do, and
// anew after a failure inside.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const pkg = new URL("../../bindings-wasm/pkg/", import.meta.url);
const bytes = readFileSync(new URL("lixivium.wasm", pkg));
const script = readFileSync(new URL("lixivium.global.js", pkg), "utf8");

/** The package as a page has it that was just loaded. */
const loaded = new Function(`${script}; return lixivium;`);

const request = {
    fats: [{ fat: { name: "tallow of the farm", saponification_value: 198 }, mass: 1000 }],
    superfat: 0,
    alkali: { koh_share: 100 },
    water: { lye_concentration: 30 },
};
// The saponification value is mg KOH for 1 g of fat (ISO 3657).
const works = ({ plan }) => assert.deepEqual(plan(request).koh_mass, { value: 198, exact: "198" });

test("before init every function says what to do", () => {
    const lixivium = loaded();
    const calls = [
        () => lixivium.plan(request),
        () => lixivium.call("plan", request),
        () => lixivium.tryCall("plan", request),
        () => lixivium.version(),
    ];
    for (const call of calls) {
        assert.throws(call, /await init\(\) once, before \w+\(\) is called/);
    }
});

/** The instances of this module that were made since; Node makes some of its own. */
function instances(t) {
    const { mock } = t.mock.method(WebAssembly, "instantiate");
    return () => mock.calls.filter(({ arguments: [, imports] }) => imports.js);
}

test("init may be called any number of times and starts one module", async (t) => {
    const made = instances(t);
    const lixivium = loaded();
    const first = lixivium.init();
    assert.equal(lixivium.init(), first);
    await Promise.all([first, lixivium.init()]);
    works(lixivium);
    await lixivium.init("https://unreachable.invalid/");
    lixivium.initSync(bytes);
    works(lixivium);
    assert.equal(made().length, 1);
});

test("initSync while init is under way leaves one module", async (t) => {
    const made = instances(t);
    const lixivium = loaded();
    const underWay = lixivium.init();
    lixivium.initSync(bytes);
    works(lixivium);
    await underWay;
    works(lixivium);
    assert.equal(made().length, 1);
});

const inside = new Uint8Array([...new Uint8Array(100), ...bytes]).subarray(100);
const sources = {
    "bytes in a buffer": () => bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length),
    "bytes in the middle of a buffer": () => inside,
    "a compiled module": () => new WebAssembly.Module(bytes),
    "a response": () => new Response(bytes),
    "a promise of a response": () => Promise.resolve(new Response(bytes)),
    "an address": () => `data:application/wasm;base64,${bytes.toString("base64")}`,
    "an address of another type of content": () => new URL(`data:text/plain;base64,${bytes.toString("base64")}`),
};
for (const [name, source] of Object.entries(sources)) {
    test(`init takes ${name}`, async () => {
        const lixivium = loaded();
        await lixivium.init(source());
        works(lixivium);
    });
}

for (const name of ["bytes in the middle of a buffer", "a compiled module"]) {
    test(`initSync takes ${name}`, () => {
        const lixivium = loaded();
        lixivium.initSync(sources[name]());
        works(lixivium);
    });
}

const page = "<!doctype html><title>Not found</title>";
const wrong = {
    "an answer 404": [() => new Response(page, { status: 404 }), /answered 404; give init\(\) the address/],
    "a page": [() => `data:text/html,${page}`, /is no WebAssembly module; give init\(\) the address/],
    "an unknown address": [() => "unknown:lixivium.wasm", /could not be fetched; give init\(\) the address/],
    "half of the module": [() => bytes.subarray(0, 1000), /could not be compiled/],
    "a number": [() => 5, /cannot be started from Number; accepted: the address of lixivium\.wasm/],
};
for (const [name, [source, says]] of Object.entries(wrong)) {
    test(`init refuses ${name}, and can be tried again`, async () => {
        const lixivium = loaded();
        await assert.rejects(lixivium.init(source()), says);
        await lixivium.init();
        works(lixivium);
    });
}

/** The module with a memory of at most 8 MiB: what does not fit makes it fail inside. */
function cramped() {
    const number = (at) => {
        let [value, length] = [0, 0];
        do {
            value += (bytes[at + length] & 0x7f) * 2 ** (7 * length);
        } while (bytes[at + length++] & 0x80);
        return [value, length];
    };
    // Sections: an id, a length, that many bytes (WebAssembly core specification, 5.5.2).
    for (let at = 8; at < bytes.length; ) {
        const [length, width] = number(at + 1);
        const begin = at + 1 + width;
        if (bytes[at] === 5) {
            // One memory: how many, flags, minimum. With a flag of 1 a maximum follows.
            const [, digits] = number(begin + 2);
            const least = bytes.subarray(begin + 2, begin + 2 + digits);
            const most = [0x80, 0x01]; // 128 pages of 64 KiB
            const memory = [1, 1, ...least, ...most];
            return Buffer.concat([
                bytes.subarray(0, at),
                Buffer.from([5, memory.length, ...memory]),
                bytes.subarray(begin + length),
            ]);
        }
        at = begin + length;
    }
    throw new Error("the module has no memory");
}

test("after a failure inside, the next call works", async () => {
    const lixivium = loaded();
    await lixivium.init(cramped());
    works(lixivium);
    const large = { ...request, unknown: "x".repeat(2 ** 25) };
    for (let i = 0; i < 3; i++) {
        assert.throws(
            () => lixivium.plan(large),
            (error) => {
                assert.match(error.message, /failed inside.*the next call works again/);
                assert.ok(error.cause instanceof WebAssembly.RuntimeError);
                return true;
            },
        );
        works(lixivium);
    }
});

test("where a page may not start it anew at once, init does", async (t) => {
    const lixivium = loaded();
    await lixivium.init(cramped());
    const { Instance } = WebAssembly;
    t.after(() => Object.assign(WebAssembly, { Instance }));
    WebAssembly.Instance = function refused() {
        throw new RangeError("refused on the main thread");
    };
    assert.throws(() => lixivium.plan({ ...request, unknown: "x".repeat(2 ** 25) }), /failed inside/);
    assert.throws(() => lixivium.plan(request), /await init\(\) once/);
    await lixivium.init();
    works(lixivium);
});

test("an error of the caller's own comes out as it is, and the next call works", async () => {
    const lixivium = loaded();
    await lixivium.init();
    const own = new Error("the price list is not there");
    const request = {
        get fats() {
            throw own;
        },
    };
    assert.throws(() => lixivium.plan(request), own);
    works(lixivium);
});

test("twenty thousand calls leave the memory as it is", async (t) => {
    const made = instances(t);
    const lixivium = loaded();
    await lixivium.init();
    const { memory } = (await made()[0].result).exports;
    const rounds = (count) => {
        for (let i = 0; i < count; i++) {
            lixivium.plan(request);
            lixivium.tryCall("plan", {});
        }
        return memory.buffer.byteLength;
    };
    const before = rounds(100);
    assert.equal(rounds(10_000), before);
});
