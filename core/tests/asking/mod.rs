//! Asks an operation by JSON and looks at its answer.

use lixivium::exact::Rational;
use lixivium::wire;
use serde_json::Value;

/// The answer.
pub fn ask(operation: &str, request: &Value) -> Value {
    let reply = wire::call(operation, &request.to_string());
    assert!(reply.ok, "{}", reply.json);
    serde_json::from_str(&reply.json).unwrap()
}

/// Code and place of the first fault.
pub fn fault(operation: &str, request: &Value) -> (String, String) {
    let reply = wire::call(operation, &request.to_string());
    assert!(!reply.ok, "{}", reply.json);
    let answer: Value = serde_json::from_str(&reply.json).unwrap();
    let fault = &answer["error"]["faults"][0];
    let text = |key: &str| fault[key].as_str().unwrap().to_owned();
    (text("code"), text("at"))
}

/// The exact view of a number.
pub fn exact(number: &Value) -> Rational {
    Rational::parse(number["exact"].as_str().unwrap()).unwrap()
}
