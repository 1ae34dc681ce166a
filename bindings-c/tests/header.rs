//! `include/lixivium.h` is what cbindgen makes of `src/lib.rs` and its modules. To write it anew:
//!
//! ```sh
//! WRITE_HEADER=1 cargo test -p lixivium-c --test header
//! ```

use std::path::Path;

#[test]
fn the_header_is_up_to_date() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = here.join("include/lixivium.h");
    let config = cbindgen::Config::from_file(here.join("cbindgen.toml")).expect("cbindgen.toml");
    let mut header = Vec::new();
    cbindgen::Builder::new()
        .with_config(config)
        .with_src(here.join("src/lib.rs"))
        .generate()
        .expect("a header from src")
        .write(&mut header);
    let header = String::from_utf8(header).expect("UTF-8");
    if std::env::var_os("WRITE_HEADER").is_some() {
        std::fs::write(&path, &header).expect("include/lixivium.h written");
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == header,
        "include/lixivium.h differs from src; write it anew with\n    \
         WRITE_HEADER=1 cargo test -p lixivium-c --test header"
    );
}

#[test]
fn the_header_is_ascii() {
    // Some compilers read a header in the code page of the machine.
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let header = std::fs::read_to_string(here.join("include/lixivium.h")).expect("the header");
    assert!(header.is_ascii());
}

#[test]
fn the_soname_has_the_number_of_the_abi() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let header = std::fs::read_to_string(here.join("include/lixivium.h")).expect("the header");
    let abi = header
        .lines()
        .find_map(|line| line.strip_prefix("#define LXV_ABI_VERSION "))
        .expect("LXV_ABI_VERSION in the header");
    let build = std::fs::read_to_string(here.join("build.rs")).expect("build.rs");
    assert!(build.contains(&format!("\"liblixivium.so.{abi}\"")));
}
