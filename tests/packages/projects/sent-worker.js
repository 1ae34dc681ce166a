import { initSync, tryCall } from "./node_modules/lixivium/js/web.js";

addEventListener("message", ({ data }) => {
    if (data instanceof WebAssembly.Module) {
        initSync(data);
    } else {
        postMessage(tryCall(...data));
    }
});
