//! Requests as JavaScript passes them.

use js_sys::{Array, Map, Object, Symbol};
use lixivium::wire::{Json, MAX_DEPTH};
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    /// Of a number: the shortest digits that read back as it.
    #[wasm_bindgen(js_name = String)]
    fn digits(number: &JsValue) -> String;
}

/// Reads plain data: objects, maps whose keys are texts, arrays, texts, numbers, true or false.
/// What is undefined is null.
///
/// # Errors
/// What else there is, as the end of a sentence.
pub(crate) fn plain(value: &JsValue, depth: usize) -> Result<Json<'static>, String> {
    if value.is_undefined() || value.is_null() {
        return Ok(Json::Null);
    }
    if let Some(flag) = value.as_bool() {
        return Ok(Json::Flag(flag));
    }
    if let Some(text) = value.as_string() {
        return Ok(Json::Text(text.into()));
    }
    if value.as_f64().is_some() || value.is_bigint() {
        return Ok(Json::Number(digits(value).into()));
    }
    if value.is_object() && depth == MAX_DEPTH {
        // So that one that contains itself comes to an end too.
        return Err(format!(
            "lists and objects are nested at most {MAX_DEPTH} deep"
        ));
    }
    if Array::is_array(value) {
        let items = value.unchecked_ref::<Array>().iter();
        let items = items.map(|item| plain(&item, depth + 1));
        return items.collect::<Result<_, _>>().map(Json::List);
    }
    let members = if value.has_type::<Map>() {
        Array::from(value)
    } else if value.is_object() && !Symbol::iterator().js_in(value) {
        Object::entries(value.unchecked_ref())
    } else {
        return Err(odd(value));
    };
    let member = |pair: JsValue| {
        let pair = pair.unchecked_ref::<Array>();
        let name = pair.get(0);
        let name = name.as_string().ok_or_else(|| odd(&name))?;
        Ok((name.into(), plain(&pair.get(1), depth + 1)?))
    };
    members
        .iter()
        .map(member)
        .collect::<Result<_, _>>()
        .map(Json::Object)
}

fn odd(value: &JsValue) -> String {
    format!("{value:?} stands there; accepted: objects, lists, texts, numbers, true or false")
}
