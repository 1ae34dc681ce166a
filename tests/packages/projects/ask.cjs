// The same by require(); a second argument "init" has it started first.

const lixivium = require(process.argv[2]);
const calls = require("./calls.json");

function answer() {
    process.stdout.write(JSON.stringify(calls.map((call) => lixivium.tryCall(...call))));
}
if (process.argv[3] === "init") {
    lixivium.init().then(answer);
} else {
    answer();
}
