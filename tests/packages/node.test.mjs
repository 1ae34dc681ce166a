// The packed package in Node, by import and by require, without and with a worker.

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { before, test } from "node:test";

import { beside, calls, compare, copy, project, run, text, write } from "./lib.mjs";

let folder;

before(() => {
    folder = project("node");
    write(folder, "calls.json", JSON.stringify(calls));
});

for (const entry of ["lixivium", "lixivium/node"]) {
    test(`import "${entry}", nothing awaited`, () => {
        compare(run("node", ["ask.mjs", entry], folder));
    });

    test(`require("${entry}"), nothing awaited`, () => {
        compare(run("node", ["ask.cjs", entry], folder));
    });
}

test('require("lixivium/inline"), after init', () => {
    compare(run("node", ["ask.cjs", "lixivium/inline", "init"], folder));
});

test("import and require give the same functions, and errors that can be told apart", () => {
    run("node", ["both.mjs"], folder);
});

test("a worker thread", () => {
    compare(run("node", ["thread.mjs"], folder));
});

test("the example of the package's README runs", () => {
    const [, example] = /```js\n(.*?)```/s.exec(text("../../bindings-wasm/README.md"));
    write(folder, "readme.mjs", example);
    assert.match(run("node", ["readme.mjs"], folder), /^\d+(\.\d)? \d+(\.\d)?\n$/);
});

test("examples/node prints the sheet that the other hosts print, and the same faults", () => {
    copy("../../examples/node/sheet.mjs", folder);
    const sheet = (recipe) => {
        const { status, stdout, stderr } = spawnSync("node", ["sheet.mjs", beside(recipe)], { cwd: folder, encoding: "utf8" });
        return { status, stdout, stderr };
    };
    assert.deepEqual(sheet("../../examples/recipes/winter-fair.json"), {
        status: 0,
        stdout: text("../hosts/sheet.txt"),
        stderr: "",
    });
    assert.deepEqual(sheet("../hosts/refused.json"), { status: 1, stdout: "", stderr: text("../hosts/faults.txt") });
});
