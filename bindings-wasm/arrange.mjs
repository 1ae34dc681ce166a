// Arranges a module so that it compresses better. It changes numbers of variables, the order of
// functions, names of imports and hints, none of which matters to what the module does.
//
//   node bindings-wasm/arrange.mjs MODULE.wat GLUE.js
//
// MODULE.wat is a module as wasm-opt prints it, GLUE.js the JavaScript from which it imports; both
// are changed in place.

import { readFileSync, writeFileSync } from "node:fs";

// A function numbers its variables after its parameters. With these two numbers in all functions,
// what is written most often is written alike: the place of a value on the stack, whose frame is
// kept in one variable, and the variables of 64 bits. Both are bytes of which a module is full
// already: that of a call, and that with which a variable is read (WebAssembly core
// specification, 5.4).
const FRAME = 0x10;
const WIDE = 0x20;

// A call of a function with a number below this takes a byte less.
const SHORT = 128;

const [moduleFile, glueFile] = process.argv.slice(2);
let glue = readFileSync(glueFile, "utf8");

// What an access says of its alignment is a hint, which browsers' compilers pass over.
const text = readFileSync(moduleFile, "utf8").replaceAll(
    /(\(\w+\.(?:load|store)\w*(?: offset=\d+)?)(?: align=\d+)?$/gm,
    "$1 align=1",
);
const start = text.indexOf("\n (func ") + 1;
const end = text.lastIndexOf("\n )\n") + 4;

// The names of imports have a checksum in them.
let imports = 0;
const head = text.slice(0, start).replaceAll(/(?<=\(import )"\S+" "(\w+)"(?= \(func)/g, (_, name) => {
    const short = `f${imports++}`;
    glue = glue.replaceAll(new RegExp(`\\b${name}\\b`, "g"), short);
    return `"js" "${short}"`;
});

const calls = new Map();
for (const [, name] of text.matchAll(/\(call \$("[^"]*"|\S+)/g)) {
    calls.set(name, (calls.get(name) ?? 0) + 1);
}

// The most called functions first; else those together that are often alike: with a frame or
// without, of about one size, with as many parameters of the same types.
const functions = text
    .slice(start, end)
    .split(/^(?= \(func )/m)
    .map((body) => {
        const [declared, name] = /\$("[^"]*"|\S+).*/.exec(body);
        return {
            body,
            calls: calls.get(name) ?? 0,
            frame: body.includes("(global.set "),
            size: Math.round(Math.log2(body.length)),
            parameters: declared.split("(param ").length,
            declared: declared.slice(name.length + 1),
        };
    })
    .sort((a, b) => b.calls - a.calls);
const order = (a, b) => Number(a > b) - Number(a < b);
const alike = (a, b) =>
    order(a.frame, b.frame) ||
    order(a.size, b.size) ||
    order(a.parameters, b.parameters) ||
    order(a.declared, b.declared) ||
    order(a.body.length, b.body.length);
const often = functions.splice(0, SHORT - imports);
const ordered = [...often.sort(alike), ...functions.sort(alike)].map(({ body }) => renumbered(body));

writeFileSync(moduleFile, head + ordered.join("") + text.slice(end));
writeFileSync(glueFile, glue);

/** The function with its variables declared in another order, and some that nothing uses. */
function renumbered(body) {
    const declared = [...body.matchAll(/^  \(local (\$\S+) (\w+)\)\n/gm)].map(
        ([line, name, type]) => ({ line, name, type }),
    );
    if (declared.length === 0) {
        return body;
    }
    const [, frame] = /\(global\.set \$\S+\n\s+\(local\.tee (\$\S+)\n/.exec(body) ?? [];
    const parameters = body.match(/ \(param \$/g)?.length ?? 0;
    const lines = [];
    const place = (variables, from = 0) => {
        for (let n = parameters + lines.length; n < from && variables.length > 0; n++) {
            lines.push(`  (local $unused${n} i32)\n`);
        }
        lines.push(...variables.map(({ line }) => line));
    };
    const narrow = declared.filter(({ name, type }) => type === "i32" && name !== frame);
    place(narrow.splice(0, FRAME - parameters));
    place(declared.filter(({ name }) => name === frame), FRAME);
    place(narrow);
    place(declared.filter(({ type }) => type === "i64"), WIDE);
    place(declared.filter(({ type }) => type !== "i32" && type !== "i64"));
    const [{ index }] = body.matchAll(/^  \(local /gm);
    return body.slice(0, index) + lines.join("") + body.replaceAll(/^  \(local \$.*\n/gm, "").slice(index);
}
