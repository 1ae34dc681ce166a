//! What the README shows is true.

use lixivium::wire::{self, OPERATIONS};

const README: &str = include_str!("../../README.md");

#[test]
fn the_recipe_of_the_readme_is_planned() {
    let start = README.find("```json\n").expect("a recipe") + "```json\n".len();
    let recipe = README[start..].split("```").next().expect("its end");
    let reply = wire::call("plan", recipe);
    assert!(reply.ok, "{}", reply.json);
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
