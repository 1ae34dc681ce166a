// What only a program with the types of a browser writes.

import { init, initSync, type PlanAnswer } from "lixivium/web";

export const starts: Promise<void>[] = [
    init(new URL("lixivium.wasm", document.baseURI)),
    init(fetch("lixivium.wasm")),
    init(new Response()),
    WebAssembly.compileStreaming(fetch("lixivium.wasm")).then((compiled) => init(compiled)),
    WebAssembly.compileStreaming(fetch("lixivium.wasm")).then((compiled) => initSync(compiled)),
];
export const show = (answer: PlanAnswer): string => `${answer.naoh_mass.value} g`;

// Of the script that makes a global.
export const global: Promise<void> = lixivium.init();
