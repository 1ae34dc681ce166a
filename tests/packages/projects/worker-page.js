// A page that leaves the calls to a worker.

const worker = new Worker(new URL("./worker.js", import.meta.url), { type: "module" });
globalThis.ready = Promise.resolve({
    tryCall: (operation, request) =>
        new Promise((resolve) => {
            worker.addEventListener("message", ({ data }) => resolve(data), { once: true });
            worker.postMessage([operation, request]);
        }),
});
