// The packed package in Node, by import and by require, without and with a worker.

import { before, test } from "node:test";

import { calls, compare, project, run, write } from "./lib.mjs";

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
