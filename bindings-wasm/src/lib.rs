//! Browser and Node package of Lixivium: one call, JavaScript values in and out.
//!
//! What a program imports is in `js/`, which calls this.

mod read;

use lixivium::fault::Faults;
use lixivium::wire::{self, Answer};
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::*;
use wasm_bindgen::throw_str;

#[cfg(target_family = "wasm")]
#[global_allocator]
static ALLOCATOR: talc::wasm::WasmDynamicTalc = talc::wasm::new_wasm_dynamic_allocator();

/// Carries out one operation, such as `"plan"`, and returns its answer, or
/// `{ error: { faults } }`.
#[wasm_bindgen(js_name = tryCall)]
pub fn try_call(operation: &str, request: JsValue) -> JsValue {
    let answer = answer(operation, request).unwrap_or_else(|faults| Answer::from(&faults));
    #[cfg(lixivium_packed)]
    lixivium::exact::forget();
    // Objects, arrays, strings and numbers, as `JSON.parse` would make them.
    let plain = answer.serialize(&Serializer::json_compatible());
    plain.unwrap_or_else(|_| throw_str("answers are plain data"))
}

/// The version of the library, such as `"0.1.0"`.
#[wasm_bindgen]
pub fn version() -> JsValue {
    lixivium::VERSION.into()
}

fn answer(operation: &str, request: JsValue) -> Result<Answer, Faults> {
    wire::answer(operation, &read::plain(&request, 0)?)
}
