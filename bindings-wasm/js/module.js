// Starts the WebAssembly module, calls it, and starts it anew if it ever fails inside.

import * as glue from "./glue.js";

/** The compiled module, kept for a new start; undefined before the first. */
let compiled;

/** What the running instance exports; undefined while none runs. */
let running;

/** The promise of the start that is under way, if one is. */
let starting;

/** Thrown for a request that has faults. */
export class LixiviumError extends Error {
    constructor(faults) {
        super(faults.map(({ at, says }) => (at ? `${at}: ${says}` : says)).join("\n"));
        this.faults = faults;
    }

    get name() {
        return "LixiviumError";
    }
}

/**
 * Starts the module from `source`, or else from what `otherwise` gives. Does so once: calls at
 * the same time share one start, later ones find it done. A start that failed can be tried again.
 */
export function start(source, otherwise) {
    if (running) {
        return Promise.resolve();
    }
    starting ??= begin(source, otherwise).finally(() => {
        starting = undefined;
    });
    return starting;
}

async function begin(source, otherwise) {
    compiled ??= await compile((await source) ?? (await otherwise()));
    const instance = await WebAssembly.instantiate(compiled, glue.imports);
    if (!running) {
        run(instance);
    }
}

/** Starts the module at once, from its bytes or as a compiled module. */
export function initSync(source) {
    if (running) {
        return;
    }
    compiled ??= kind(source) === "WebAssembly.Module" ? source : new WebAssembly.Module(bytes(source));
    run(new WebAssembly.Instance(compiled, glue.imports));
}

function run(instance) {
    glue.__wbg_set_wasm(instance.exports);
    instance.exports.__wbindgen_start();
    running = instance.exports;
}

/** Carries out one operation; gives `{ error: { faults } }` where `call` would throw. */
export function tryCall(operation, request) {
    mustRun(operation);
    try {
        return glue.tryCall(String(operation), request);
    } catch (cause) {
        startAnew();
        if (cause instanceof WebAssembly.RuntimeError) {
            const says = "lixivium failed inside, which is a fault of the library; the next call works again";
            throw new Error(says, { cause });
        }
        throw cause;
    }
}

/** Carries out one operation. Throws a `LixiviumError` if the request has faults. */
export function call(operation, request) {
    const answer = tryCall(operation, request);
    if (answer.error) {
        throw new LixiviumError(answer.error.faults);
    }
    return answer;
}

/** The version of the library, such as "0.1.0". */
export function version() {
    mustRun("version");
    return glue.version();
}

function mustRun(name) {
    if (!running) {
        throw new Error(`lixivium has not been started: await init() once, before ${name}() is called`);
    }
}

/** Leaves an instance in which a call did not come to its end, and makes another. */
function startAnew() {
    // Detaches the memory's buffer, so that the glue lets go of its views of it.
    running.memory.grow(0);
    running = undefined;
    try {
        run(new WebAssembly.Instance(compiled, glue.imports));
    } catch {
        // Where a page may not do this at once, init() does it.
    }
}

/** The name of the kind of object, which is the same for one of another window or worker. */
function kind(object) {
    return Object.prototype.toString.call(object).slice("[object ".length, -1);
}

async function compile(source) {
    switch (kind(source)) {
        case "WebAssembly.Module":
            return source;
        case "String":
        case "URL":
            return compile(await fetched(source));
        case "Response":
            if (!source.ok) {
                throw new Error(`${source.url} answered ${source.status}; ${advice}`);
            }
            return compileBytes(await source.arrayBuffer(), source.url);
        default:
            return compileBytes(source, "the source");
    }
}

const advice =
    'give init() the address of lixivium.wasm, or import "lixivium/inline", which has it inside';

async function fetched(address) {
    try {
        return await fetch(address);
    } catch (cause) {
        throw new Error(`${address} could not be fetched; ${advice}`, { cause });
    }
}

async function compileBytes(source, from) {
    const found = bytes(source);
    // Each module begins with a zero byte and "asm" (WebAssembly core specification, 5.5.16).
    if (String.fromCharCode(...found.subarray(0, 4)) !== "\0asm") {
        throw new Error(`${from || "the response"} is no WebAssembly module; ${advice}`);
    }
    try {
        return await WebAssembly.compile(found);
    } catch (cause) {
        const says = "a Content-Security-Policy needs 'wasm-unsafe-eval' in its script-src";
        throw new Error(`lixivium could not be compiled (${cause.message}); ${says}`, { cause });
    }
}

function bytes(source) {
    if (ArrayBuffer.isView(source)) {
        return new Uint8Array(source.buffer, source.byteOffset, source.byteLength);
    }
    if (kind(source) === "ArrayBuffer") {
        return new Uint8Array(source);
    }
    throw new TypeError(
        `lixivium cannot be started from ${kind(source)}; accepted: the address of lixivium.wasm, ` +
            "a Response, its bytes, a WebAssembly.Module",
    );
}
