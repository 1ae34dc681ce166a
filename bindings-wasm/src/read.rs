//! Requests as JavaScript passes them.

use std::fmt;

use js_sys::{Array, JsString, Map, Object, Symbol};
use lixivium::fault::Faults;
use lixivium::wire::{Json, MAX_DEPTH};
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    /// Of a number: the shortest digits that read back as it.
    #[wasm_bindgen(js_name = String)]
    fn digits(number: &JsValue) -> JsString;
}

/// Reads plain data: objects, maps whose keys are texts, arrays, texts, numbers, true or false.
/// What is undefined is null.
///
/// # Errors
/// Fault `bad_json`, for what else there is.
pub(crate) fn plain(value: &JsValue, depth: usize) -> Result<Json<'static>, Faults> {
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
        return Ok(Json::Number(String::from(digits(value)).into()));
    }
    if value.is_object() && depth == MAX_DEPTH {
        // So that one that contains itself comes to an end too.
        return Err(bad(format_args!(
            "lists and objects are nested at most {MAX_DEPTH} deep"
        )));
    }
    if Array::is_array(value) {
        let items = value.unchecked_ref::<Array>();
        let mut list = Vec::new();
        for i in 0..items.length() {
            list.push(plain(&items.get(i), depth + 1)?);
        }
        return Ok(Json::List(list));
    }
    let members = if value.has_type::<Map>() {
        Array::from(value)
    } else if value.is_object() && !Symbol::iterator().js_in(value) {
        Object::entries(value.unchecked_ref())
    } else {
        return Err(odd(value));
    };
    let mut object = Vec::new();
    for i in 0..members.length() {
        let member = members.get(i).unchecked_into::<Array>();
        let name = member.get(0);
        let name = name.as_string().ok_or_else(|| odd(&name))?;
        object.push((name.into(), plain(&member.get(1), depth + 1)?));
    }
    Ok(Json::Object(object))
}

fn odd(value: &JsValue) -> Faults {
    let kind = value.js_typeof().as_string().unwrap_or_default();
    bad(format_args!(
        "a value of the type {kind} stands there; accepted: plain objects, maps, lists, texts, \
         numbers, true or false"
    ))
}

fn bad(found: fmt::Arguments) -> Faults {
    let says = format_args!("the request is not plain data such as JSON has: {found}");
    Faults::one("bad_json", "", says)
}
