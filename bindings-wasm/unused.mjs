// Takes out of a module what JavaScript never calls, so that wasm-opt need not keep it.
//
//   node bindings-wasm/unused.mjs MODULE.wat JAVASCRIPT...
//
// MODULE.wat is a module as wasm-dis prints it, with its names; it is changed in place.
// JAVASCRIPT is all that calls it.

import { readFileSync, writeFileSync } from "node:fs";

const [file, ...callers] = process.argv.slice(2);
const text = readFileSync(file, "utf8");
const calls = callers.map((caller) => readFileSync(caller, "utf8")).join("\n");

if (/\(export "\S*closures/.test(text)) {
    throw new Error("JavaScript calls closures now: their functions may no longer be taken out");
}
// Exports that come with wasm-bindgen for packages that have a use for them.
const exports = /^ \(export "(\w+)" .*\n/gm;
const used = text.replaceAll(exports, (line, name) => (calls.includes(`.${name}`) ? line : ""));

// The functions through which JavaScript calls closures of Rust come with js-sys, for each function
// of JavaScript that takes one; this package passes none. They stand in the table of functions.
const emptied = used.replace(/^ \(elem .*$/m, (table) =>
    table.replaceAll(/ \$("[^"]*"|[^\s()]+)/g, (entry) =>
        /closures::_::invoke|js_sys\S*::futures/.test(entry) ? " $no_closure" : entry,
    ),
);
const noClosure = " (func $no_closure (unreachable))\n";
writeFileSync(file, emptied.replace(/^ \(func /m, (first) => noClosure + first));
