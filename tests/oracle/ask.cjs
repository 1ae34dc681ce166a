// Asks the WASM package: an array of [operation, request] comes in, the answers go out.
const { tryCall } = require(require("node:path").resolve(process.argv[2]));
const calls = JSON.parse(require("node:fs").readFileSync(0, "utf8"));
const answers = calls.map(([operation, request]) => tryCall(operation, request));
process.stdout.write(JSON.stringify(answers));
