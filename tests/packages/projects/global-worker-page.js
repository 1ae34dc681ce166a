const worker = new Worker("global-worker.js");
globalThis.ready = Promise.resolve({
    tryCall: (operation, request) =>
        new Promise((resolve) => {
            worker.addEventListener("message", ({ data }) => resolve(data), { once: true });
            worker.postMessage([operation, request]);
        }),
});
