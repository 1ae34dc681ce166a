# The WASM package. Sourced after tests/lib/setup.sh.

# Builds the package into bindings-wasm/pkg.
wasm_package() {
    need 'command -v node && command -v npm' nodejs npm
    need 'bindings-wasm/build --toolchain' rustc-web cargo-web rust-web-src lld-22
    bindings-wasm/build
}
