// Takes out of a module the functions through which JavaScript calls closures of Rust. They come
// with js-sys, for each function of JavaScript that takes one; this package passes none, so that
// nothing calls them. But they stand in the table of functions, all of which wasm-opt has to keep.
//
//   node bindings-wasm/closures.mjs MODULE.wat
//
// MODULE.wat is a module as wasm-dis prints it, with its names; it is changed in place.

import { readFileSync, writeFileSync } from "node:fs";

const [file] = process.argv.slice(2);
const text = readFileSync(file, "utf8");
if (/\(export "\S*closures/.test(text)) {
    throw new Error("JavaScript calls closures now: leave bindings-wasm/closures.mjs out");
}
const emptied = text.replace(/^ \(elem .*$/m, (table) =>
    table.replaceAll(/ \$("[^"]*"|[^\s()]+)/g, (entry) =>
        /closures::_::invoke|js_sys\S*::futures/.test(entry) ? " $no_closure" : entry,
    ),
);
const noClosure = " (func $no_closure (unreachable))\n";
writeFileSync(file, emptied.replace(/^ \(func /m, (first) => noClosure + first));
