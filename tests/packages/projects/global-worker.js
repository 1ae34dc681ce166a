// A worker of the old kind, which loads scripts.

importScripts("node_modules/lixivium/lixivium.global.js");

addEventListener("message", async ({ data: [operation, request] }) => {
    await lixivium.init();
    postMessage(lixivium.tryCall(operation, request));
});
