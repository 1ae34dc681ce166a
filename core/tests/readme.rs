//! What the README shows is true.

use lixivium::wire::{self, OPERATIONS};

const README: &str = include_str!("../../README.md");

/// The pieces of JSON, in their order.
fn json() -> impl Iterator<Item = &'static str> {
    let pieces = README.split("```json\n").skip(1);
    pieces.map(|piece| piece.split("```").next().expect("its end"))
}

#[test]
fn the_recipe_of_the_readme_is_planned() {
    let reply = wire::call("plan", json().next().expect("a recipe"));
    assert!(reply.ok, "{}", reply.json);
}

#[test]
fn the_poured_batch_of_the_readme_teaches() {
    let request = json().nth(1).expect("a batch");
    let reply = wire::call("fill", request);
    assert!(reply.json.contains(r#""exact":"15/13""#), "{}", reply.json);
    let reply = wire::call("calibrate", request);
    assert!(
        reply.ok && reply.json.contains("bar_mass"),
        "{}",
        reply.json
    );
}

#[test]
fn the_table_of_operations_is_that_of_the_library() {
    let listed: Vec<_> = README
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
        .filter(|name| cfg!(feature = "picture") || *name != "picture")
        .collect();
    let known: Vec<_> = OPERATIONS.iter().map(|operation| operation.name).collect();
    assert_eq!(listed, known);
}

#[test]
fn the_minimum_rust_version_is_that_of_the_workspace() {
    let manifest = include_str!("../../Cargo.toml");
    let version = manifest
        .lines()
        .find_map(|line| line.strip_prefix("rust-version = "))
        .expect("a rust-version")
        .trim_matches('"');
    assert!(README.contains(&format!("{version} or later")));
}

#[test]
fn the_demonstration_recipe_is_planned() {
    let recipe = include_str!("../../examples/recipes/winter-fair.json");
    let reply = wire::call("plan", recipe);
    assert!(reply.ok, "{}", reply.json);
}
