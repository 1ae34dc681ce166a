//! The build script refuses data that breaks a rule, with the file and the line.

#[allow(dead_code)] // its `main` is cargo's
#[path = "../build.rs"]
mod build;

use std::fs;
use std::path::{Path, PathBuf};

/// A copy of the data, removed at the end.
struct Copy(PathBuf);

impl Copy {
    fn new(name: &str) -> Self {
        let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        let _ = fs::remove_dir_all(&dir);
        fs::create_dir_all(&dir).unwrap();
        let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("data");
        for file in fs::read_dir(data).unwrap() {
            let file = file.unwrap();
            fs::copy(file.path(), dir.join(file.file_name())).unwrap();
        }
        Self(dir)
    }

    fn edit(&self, file: &str, change: impl Fn(&str) -> String) {
        let path = self.0.join(file);
        let text = fs::read_to_string(&path).unwrap();
        let changed = change(&text);
        assert!(text != changed, "nothing was planted in {file}");
        fs::write(path, changed).unwrap();
    }
}

impl Drop for Copy {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

const VALUE: &str = "olive-oil\tsaponification_value\t184\t196";

/// File, text to replace, replacement, what the fault says.
const PLANTED: [(&str, &str, &str, &str); 24] = [
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsaponification_value\t196\t184",
        "low is above high",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsaponification_value\t184,0\t196",
        "is not a plain decimal",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsaponification_value\t-184\t196",
        "is not a plain decimal",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsaponification_value\t\t",
        "neither low nor high",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsaponification_value\t184\t",
        "both ends",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsaponification_value\t184",
        "cells, not",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "oliv-oil\tsaponification_value\t184\t196",
        "fat \"oliv-oil\" is not known",
    ),
    (
        "fat_values.tsv",
        VALUE,
        "olive-oil\tsap_value\t184\t196",
        "is none of",
    ),
    (
        "fat_values.tsv",
        "codex-cxs-33\tmemory",
        "codex-cxs-34\tmemory",
        "source \"codex-cxs-34\" is not known",
    ),
    (
        "fat_values.tsv",
        "codex-cxs-33\tmemory",
        "codex-cxs-33\tread",
        "is none of seen, memory",
    ),
    (
        "fat_values.tsv",
        "property\tlow",
        "property\tlowest",
        "column \"low\" is missing",
    ),
    (
        "fat_values.tsv",
        "provenance\tnote",
        "provenance\tnote\textra",
        "column \"extra\" is not known",
    ),
    (
        "fat_acids.tsv",
        "olive-oil\tC16:0",
        "olive-oil\tC16:9",
        "acid \"C16:9\" is not known",
    ),
    (
        "fat_acids.tsv",
        "olive-oil\tC16:0",
        "olive-oil\tC16:1",
        "acid \"C16:1\" is used twice",
    ),
    (
        "fat_acids.tsv",
        "olive-oil\tC18:1\t55\t83",
        "olive-oil\tC18:1\t25\t33",
        "do not sum to",
    ),
    (
        "fat_acids.tsv",
        "palm-oil\tC14:0\t0.5\t5.9\tusp-nf",
        "palm-oil\tC14:0\t0.5\t5.9\tcodex-cxs-210",
        "do not stand together",
    ),
    (
        "fat_values.tsv",
        "184\t196\t\t\t",
        "184\t196\t\t20\t",
        "only a relative density",
    ),
    (
        "fats.tsv",
        "\nolive-pomace-oil\t",
        "\nolive-oil\t",
        "id \"olive-oil\" is used twice",
    ),
    (
        "fats.tsv",
        "pomace-olive-oil;",
        "palm-oil;",
        "the name \"palm-oil\" is used twice",
    ),
    (
        "fats.tsv",
        "virgin-olive-oil",
        "Virgin olive oil",
        "is not in kebab-case",
    ),
    (
        "fats.tsv",
        "\tglyceride\t",
        "\tmineral\t",
        "kind \"mineral\" is none of",
    ),
    (
        "fatty_acids.tsv",
        "\t18\t34\t2\t1\t",
        "\t18\t36\t2\t1\t",
        "not those of a fatty acid",
    ),
    (
        "atomic_weights.tsv",
        "39.098",
        "39.09834",
        "more than 4 decimals",
    ),
    (
        "solubility.tsv",
        "naoh\t0\t",
        "lime\t0\t",
        "is none of naoh, koh",
    ),
];

#[test]
fn the_data_as_they_are_pass() {
    let copy = Copy::new("data-as-is");
    let tables = build::generate(&copy.0).unwrap();
    assert!(tables.packed.lines.contains("\nolive-oil\n"));
}

#[test]
fn planted_faults_are_found_with_file_and_line() {
    for (number, (file, from, to, says)) in PLANTED.iter().enumerate() {
        let copy = Copy::new(&format!("data-{number}"));
        copy.edit(file, |text| text.replacen(from, to, 1));
        let fault = build::generate(&copy.0).err().expect(says);
        assert!(fault.contains(says), "{says}: {fault}");
        let line = fault.split_once(&format!("{file}:")).map(|(_, rest)| rest);
        let line = line.and_then(|rest| rest.split(':').next()?.parse::<usize>().ok());
        assert!(line.is_some(), "no line: {fault}");
    }
}

#[test]
fn a_missing_file_is_named() {
    let copy = Copy::new("data-missing");
    fs::remove_file(copy.0.join("solubility.tsv")).unwrap();
    assert!(
        build::generate(&copy.0)
            .err()
            .unwrap()
            .contains("solubility.tsv")
    );
}
