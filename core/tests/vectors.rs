//! `tests/vectors/NAME.json` has requests of the operation NAME and the core's answers, which
//! every face and every host must give too. To add a vector, write its `name` and its `request`
//! (or, where it is no JSON, its `request_text`) into the file; the rest is written by
//!
//! ```sh
//! LXV_REWRITE=1 cargo test -p lixivium --test vectors
//! ```

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use lixivium::wire::shape::Shape;
use lixivium::wire::{OPERATIONS, call};
use serde::Deserialize;
use serde_json::Value;
use serde_json::value::RawValue;

const HOW: &str = "LXV_REWRITE=1 cargo test -p lixivium --test vectors";

#[derive(Deserialize)]
struct File {
    vectors: Vec<Vector>,
}

#[derive(Deserialize)]
struct Vector {
    name: String,
    request: Option<Box<RawValue>>,
    request_text: Option<String>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/vectors")
}

/// The file as it must be, with the answers of the core.
fn written(operation: &str, file: &File) -> String {
    let mut text =
        format!("{{\n\"generator\": \"{HOW}\",\n\"operation\": \"{operation}\",\n\"vectors\": [\n");
    let mut comma = "";
    for vector in &file.vectors {
        let (key, shown, request) = match (&vector.request, &vector.request_text) {
            (Some(request), None) => ("request", request.get().to_owned(), request.get()),
            (None, Some(text)) => (
                "request_text",
                serde_json::to_string(text).unwrap(),
                text.as_str(),
            ),
            _ => panic!("{operation}, {}: a request or a request_text", vector.name),
        };
        let reply = call(operation, request);
        let name = serde_json::to_string(&vector.name).unwrap();
        write!(
            text,
            "{comma}{{\"name\": {name},\n \"{key}\": {shown},\n \"ok\": {},\n \"answer\": {}}}",
            reply.ok, reply.json
        )
        .unwrap();
        comma = ",\n";
    }
    text + "\n]\n}\n"
}

#[test]
fn the_vectors_are_what_the_core_answers() {
    for operation in OPERATIONS {
        let name = operation.name;
        let path = folder().join(format!("{name}.json"));
        let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let file: File = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{name}: {e}"));
        let names: BTreeSet<_> = file.vectors.iter().map(|vector| &vector.name).collect();
        assert_eq!(
            names.len(),
            file.vectors.len(),
            "{name}: a name stands twice"
        );
        let written = written(name, &file);
        for ok in ["\"ok\": true", "\"ok\": false"] {
            assert!(written.contains(ok), "{name}: no vector is {ok}");
        }
        if std::env::var_os("LXV_REWRITE").is_some() {
            fs::write(&path, &written).unwrap();
        } else {
            assert!(
                written == text,
                "tests/vectors/{name}.json is not what the core answers; if that is meant, let\n    \
                 {HOW} write it anew"
            );
        }
    }
}

/// Panics unless `value` has that shape.
fn hold(value: &Value, shape: &Shape, at: &str) {
    match (shape, value) {
        (Shape::Optional(_), Value::Null) | (Shape::Flag, Value::Bool(_)) => {}
        (Shape::Text, Value::String(_)) | (Shape::Count, Value::Number(_)) => {}
        (Shape::Optional(shape), value) => hold(value, shape, at),
        (Shape::Quantity(_), Value::Object(both)) => {
            let names: Vec<_> = both.keys().collect();
            assert_eq!(names, ["exact", "value"], "{at}");
            assert!(both["value"].is_f64() && both["exact"].is_string(), "{at}");
        }
        (Shape::List(shape), Value::Array(items)) => {
            for (i, item) in items.iter().enumerate() {
                hold(item, shape, &format!("{at}[{i}]"));
            }
        }
        (Shape::Record(record), Value::Object(members)) => {
            let known = |name: &String| record.fields.iter().any(|field| field.name == name);
            assert!(members.keys().all(known), "{at}: {:?}", members.keys());
            for field in record.fields {
                let at = format!("{at}.{}", field.name);
                match (members.get(field.name), field.shape) {
                    (Some(value), shape) => hold(value, shape, &at),
                    // Only an open end of a range is left out.
                    (None, Shape::Optional(_)) if record.name == "Range" => {}
                    (None, _) => panic!("{at} is missing"),
                }
            }
        }
        _ => panic!("{at} is {value}, and not {shape:?}"),
    }
}

#[test]
fn answers_have_the_shape_that_is_told_of_them() {
    for operation in OPERATIONS {
        let path = folder().join(format!("{}.json", operation.name));
        let file: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
        for vector in file["vectors"].as_array().unwrap() {
            if vector["ok"] == true {
                let at = format!("{}, {}: ", operation.name, vector["name"]);
                hold(&vector["answer"], operation.answer, &at);
            }
        }
    }
}

#[test]
fn there_is_a_file_for_every_operation_and_no_other() {
    let mut files: Vec<String> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort();
    files.retain(|name| cfg!(feature = "picture") || name != "picture.json");
    let mut known: Vec<_> = OPERATIONS
        .iter()
        .map(|operation| format!("{}.json", operation.name))
        .collect();
    known.sort();
    assert_eq!(files, known);
}
