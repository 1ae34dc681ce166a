//! Browser and Node package of Lixivium: one call, JavaScript values in and out.

use js_sys::{Error, Reflect};
use lixivium::fault::Faults;
use lixivium::wire::{self, Json};
use serde::{Deserialize, Serialize};
use serde_wasm_bindgen::{Deserializer, Serializer};
use wasm_bindgen::prelude::*;

/// Carries out one operation, such as `"plan"`, and returns its answer.
///
/// Throws an `Error` with the name `LixiviumError`. Its `faults` are an array of
/// `{ code, at, says }`, all of them at once; its message has their sentences.
#[wasm_bindgen]
pub fn call(operation: &str, request: JsValue) -> Result<JsValue, JsValue> {
    answer(operation, request).map_err(|faults| error(&faults))
}

/// Carries out one operation and returns its answer, or `{ error: { faults } }` where
/// `call` would throw.
#[wasm_bindgen(js_name = tryCall)]
pub fn try_call(operation: &str, request: JsValue) -> JsValue {
    answer(operation, request).unwrap_or_else(|faults| plain(&faults))
}

/// The version of the library, such as `"0.1.0"`.
#[wasm_bindgen]
pub fn version() -> String {
    lixivium::VERSION.to_owned()
}

/// A function for each operation of [`wire::OPERATIONS`].
macro_rules! operations {
    ($($name:ident)*) => {
        $(
            /// Carries out the operation of this name. Throws as `call` does.
            #[wasm_bindgen]
            pub fn $name(request: JsValue) -> Result<JsValue, JsValue> {
                call(stringify!($name), request)
            }
        )*

        #[cfg(test)]
        const FUNCTIONS: &[&str] = &[$(stringify!($name)),*];
    };
}

operations! { plan assure audit amend swap composition fats fill calibrate picture convert }

fn answer(operation: &str, request: JsValue) -> Result<JsValue, Faults> {
    let request = Json::deserialize(Deserializer::from(request)).map_err(|e| {
        let says = format!("the request is not plain data such as JSON has: {e}");
        Faults::one("bad_json", "", says)
    })?;
    wire::answer(operation, &request).map(|answer| plain(&answer))
}

/// Objects, arrays, strings and numbers, as `JSON.parse` would make them.
fn plain(value: &impl Serialize) -> JsValue {
    value
        .serialize(&Serializer::json_compatible())
        .expect_throw("answers are plain data")
}

fn error(faults: &Faults) -> JsValue {
    let error = Error::new(&faults.to_string());
    error.set_name("LixiviumError");
    let listed = plain(&faults.iter().collect::<Vec<_>>());
    // Setting a property of a fresh object does not fail.
    Reflect::set(&error, &JsValue::from_str("faults"), &listed).expect_throw("an Error is open");
    error.into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_operation_has_a_function() {
        let named: Vec<_> = wire::OPERATIONS
            .iter()
            .map(|operation| operation.name)
            .collect();
        assert_eq!(FUNCTIONS, named);
    }
}
