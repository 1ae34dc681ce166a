import { init, tryCall } from "lixivium";

addEventListener("message", async ({ data: [operation, request] }) => {
    await init();
    postMessage(tryCall(operation, request));
});
