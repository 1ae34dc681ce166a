// The types of the packed package, for each way in which TypeScript finds them: they compile in
// its strictest settings, refuse what is wrong, and fit the requests and answers of the vectors.

import assert from "node:assert/strict";
import { before, test } from "node:test";

import { packed, project, run, tool, vectors, write } from "./lib.mjs";

const tsc = tool("typescript/bin/tsc");

let folder;

before(() => {
    folder = project("types");
    // Each vector as an object literal, in which TypeScript accepts no member that is not known.
    const good = vectors.filter(({ answer }) => !("error" in answer));
    const lines = good.map(({ operation, request, answer }, i) => {
        const type = (side) => `Operations["${operation}"]["${side}"]`;
        const value = (json) => JSON.stringify(json);
        return (
            `export const request${i}: ${type("request")} = ${value(request)};\n` +
            `export const answer${i}: ${type("answer")} = ${value(answer)};\n`
        );
    });
    write(folder, "vectors.ts", `import type { Operations } from "lixivium";\n${lines.join("")}`);
});

const strict = {
    strict: true,
    exactOptionalPropertyTypes: true,
    noUncheckedIndexedAccess: true,
    skipLibCheck: false,
    noEmit: true,
    types: [],
    lib: ["es2022"],
    target: "es2022",
};

/** Compiles files in a way; gives what the compiler says, or nothing. */
function compile(files, options) {
    const config = { compilerOptions: { ...strict, ...options }, files };
    write(folder, "tsconfig.json", JSON.stringify(config));
    try {
        return run("node", [tsc, "-p", "tsconfig.json"], folder);
    } catch (error) {
        return error.message;
    }
}

const ways = {
    "a bundler": { module: "esnext", moduleResolution: "bundler" },
    "Node, as modules": { module: "nodenext", moduleResolution: "nodenext" },
};
for (const [name, way] of Object.entries(ways)) {
    test(`for ${name}`, () => {
        assert.equal(compile(["typed.ts", "vectors.ts"], way), "");
    });

    test(`for ${name}, with the types of a browser`, () => {
        assert.equal(compile(["page-typed.ts"], { ...way, lib: ["es2022", "dom"], allowUmdGlobalAccess: true }), "");
    });
}

test("for Node, as CommonJS", () => {
    write(folder, "package.json", JSON.stringify({ private: true, type: "commonjs" }));
    const said = compile(["typed.ts", "vectors.ts"], ways["Node, as modules"]);
    write(folder, "package.json", JSON.stringify({ private: true, type: "module" }));
    assert.equal(said, "");
});

test("what is wrong does not compile", () => {
    write(folder, "wrong.ts", 'import { plan } from "lixivium";\nplan({ fats: [], superfat: 5, water: { brine: 3 } });\n');
    assert.match(compile(["wrong.ts"], ways["a bundler"]), /wrong\.ts\(2,\d+\): error TS2353: .*'brine'/);
});

test("publint and attw find nothing wrong", () => {
    run("node", [tool("publint/src/cli.js"), packed, "--strict"], folder);
    // Those of neither JavaScript nor types are left out, and so is the resolution of Node 10.
    const files = ["lixivium.wasm", "lixivium.global.js", "package.json"];
    const options = ["--profile", "node16", "--ignore-rules", "cjs-resolves-to-esm"];
    run("node", [tool("@arethetypeswrong/cli/dist/index.js"), packed, ...options, "--exclude-entrypoints", ...files], folder);
});
