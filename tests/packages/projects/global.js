// After lixivium.global.js, which a plain script element has loaded.

globalThis.ready = lixivium.init().then(() => lixivium);
