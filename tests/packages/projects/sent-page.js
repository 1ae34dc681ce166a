// A page that compiles the module and sends it to its worker.

const address = new URL("./node_modules/lixivium/lixivium.wasm", import.meta.url);
const worker = new Worker(new URL("./sent-worker.js", import.meta.url), { type: "module" });
const answer = () =>
    new Promise((resolve) => {
        worker.addEventListener("message", ({ data }) => resolve(data), { once: true });
    });
globalThis.ready = WebAssembly.compileStreaming(fetch(address)).then((compiled) => {
    worker.postMessage(compiled);
    return {
        tryCall(operation, request) {
            worker.postMessage([operation, request]);
            return answer();
        },
    };
});
