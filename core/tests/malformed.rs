//! Bad requests: each has exactly the faults that stand beside it in
//! `tests/requests/malformed.jsonl`, and every sentence of a fault stands in `sentences.txt`.

use std::collections::BTreeSet;
use std::fs;

use lixivium::wire::{MAX_REQUEST_BYTES, call};
use serde::Deserialize;

const REQUESTS: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../tests/requests/malformed.jsonl"
);
const SENTENCES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/sentences.txt");

/// A request, and the code and the place of each of its faults.
#[derive(Deserialize)]
struct Case {
    operation: String,
    request: String,
    faults: Vec<(String, String)>,
}

#[derive(Deserialize)]
struct Reply {
    error: Error,
}

#[derive(Deserialize)]
struct Error {
    faults: Vec<Fault>,
}

#[derive(Deserialize)]
struct Fault {
    code: String,
    at: String,
    says: String,
}

fn cases() -> Vec<Case> {
    let text = fs::read_to_string(REQUESTS).unwrap();
    text.lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

fn faults(operation: &str, request: &str) -> Vec<Fault> {
    let reply = call(operation, request);
    assert!(!reply.ok, "{operation} {request}: {}", reply.json);
    let reply: Reply = serde_json::from_str(&reply.json).unwrap();
    reply.error.faults
}

#[test]
fn every_fault_is_found_at_its_place() {
    let cases = cases();
    assert!(cases.len() > 200);
    for mut case in cases {
        let mut found: Vec<_> = faults(&case.operation, &case.request)
            .into_iter()
            .map(|fault| (fault.code, fault.at))
            .collect();
        found.sort();
        case.faults.sort();
        assert_eq!(found, case.faults, "{} {}", case.operation, case.request);
    }
}

#[test]
fn sentences_change_only_on_purpose() {
    let sentences: BTreeSet<String> = cases()
        .iter()
        .flat_map(|case| faults(&case.operation, &case.request))
        .map(|fault| format!("{}: {}", fault.code, fault.says))
        .collect();
    let sentences: Vec<String> = sentences.into_iter().collect();
    if std::env::var_os("LXV_REWRITE").is_some() {
        fs::write(SENTENCES, sentences.join("\n") + "\n").unwrap();
    }
    let kept = fs::read_to_string(SENTENCES).unwrap();
    let kept: Vec<&str> = kept.lines().collect();
    let new = sentences.iter().find(|line| !kept.contains(&line.as_str()));
    assert!(
        sentences == kept,
        "not as in core/tests/sentences.txt: {new:?}; if that is meant, let \
         LXV_REWRITE=1 cargo test -p lixivium --test malformed write it anew"
    );
}

#[test]
fn a_request_has_a_largest_size() {
    let request = " ".repeat(MAX_REQUEST_BYTES - 2) + "{}";
    assert_eq!(faults("plan", &request)[0].code, "missing");
    let request = request + " ";
    assert_eq!(faults("plan", &request)[0].code, "request_too_large");
}

/// Exact sums of many calculated saponification values would take minutes.
#[test]
fn compositions_have_a_largest_size() {
    let fats = |count: u32| {
        let fats = (1..=count).map(|i| {
            let (oleic, palmitic) = (60.0 + f64::from(i) / 997.0, 40.0 - f64::from(i) / 997.0);
            let shares = format!(r#""C18:1": {oleic}, "C16:0": {palmitic}"#);
            format!(r#"{{"fat": {{"name": "f", "fatty_acids": {{{shares}}}}}, "mass": 9}}"#)
        });
        let fats: Vec<String> = fats.collect();
        let fats = fats.join(", ");
        format!(r#"{{"fats": [{fats}], "superfat": 5, "water": {{"of_fats": 30}}}}"#)
    };
    assert!(call("plan", &fats(20)).ok);
    let found = faults("plan", &fats(800));
    assert_eq!(
        (found[0].code.as_str(), found[0].at.as_str()),
        ("compositions_too_long", "fats")
    );
}
