import type { Operations } from "./operations.js";

export * from "./operations.js";

/** The global that lixivium.global.js makes. */
export as namespace lixivium;

/** A number in both views: {"value": 68.9, "exact": "689/10"}. */
export interface ExactNumber {
    /** The nearest double, for showing. */
    value: number;
    /** The number itself, as a whole number or a fraction. */
    exact: string;
}

/** One thing that is wrong with a request. */
export interface Fault {
    /** Stable identifier of the kind of fault, such as "unknown_fat". The list is open-ended. */
    code: string;
    /** Where it was found, such as "fats[2].mass"; empty for the request as a whole. */
    at: string;
    /** What is wrong and what is accepted. */
    says: string;
}

/** What `tryCall` gives where `call` would throw. */
export interface ErrorAnswer {
    error: { faults: Fault[] };
}

/** Thrown by each operation for a request that has faults. */
export class LixiviumError extends Error {
    constructor(faults: readonly Fault[]);
    readonly name: "LixiviumError";
    /** All the faults of the request. The message has their places and sentences. */
    readonly faults: readonly Fault[];
}

/** A `WebAssembly.Module`. */
export type CompiledModule = object;

/** The bytes of lixivium.wasm. */
export type Bytes = ArrayBuffer | ArrayBufferView;

/** What the module can be started from: the address of lixivium.wasm, a `Response`, ... */
export type Source =
    | string
    | { readonly href: string }
    | { readonly ok: boolean; arrayBuffer(): Promise<ArrayBuffer> }
    | Bytes
    | CompiledModule;

/**
 * Starts the module. Await it once before the first operation; further calls, also at the same
 * time, start nothing more. In Node the module is started by the import already.
 *
 * @param source where to take the module from; left out: what comes with the package
 */
export function init(source?: Source | PromiseLike<Source>): Promise<void>;

/**
 * Starts the module at once, from its bytes or from a compiled module, such as one that a page
 * sent to its worker.
 */
export function initSync(source: Bytes | CompiledModule): void;

/** The name of an operation. */
export type Operation = keyof Operations;

/** Carries out the operation of that name. Throws a `LixiviumError` if the request has faults. */
export function call<O extends Operation>(
    operation: O,
    request: Operations[O]["request"],
): Operations[O]["answer"];

/** Carries out the operation of that name. Gives `{ error: { faults } }` where `call` throws. */
export function tryCall<O extends Operation>(
    operation: O,
    request: Operations[O]["request"],
): Operations[O]["answer"] | ErrorAnswer;

/** The version of the library, such as "0.1.0". */
export function version(): string;
