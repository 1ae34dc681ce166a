//! Gives the shared library its soname on Linux and the BSDs.
//!
//! Its number is the ABI's, `LXV_ABI_VERSION` in `src/lib.rs`, so that a program finds at load
//! time only a library that it can call.

const SONAME: &str = "liblixivium.so.1";

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    let format = std::env::var("CARGO_CFG_TARGET_OS").unwrap_or_default();
    if ["linux", "android", "freebsd", "netbsd", "openbsd"].contains(&format.as_str()) {
        println!("cargo:rustc-cdylib-link-arg=-Wl,-soname,{SONAME}");
    }
}
