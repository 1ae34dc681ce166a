# The C library for other machines. Sourced after tests/lib/setup.sh.

cross_folder=$target/cross

# cross_toolchain TARGET: whether the standard library of TARGET is there, or can be built of the
# sources that Debian's rust-web-src brings. The installed cargo goes before Debian's.
cross_toolchain() {
    if [ -d "$(rustc --print target-libdir --target "$1" 2>/dev/null)" ]; then
        echo ready
    elif [ -x /usr/bin/cargo ] && [ -x /usr/bin/rustc ] && [ -d /usr/lib/rustlib/src/rust/library ]; then
        echo debian
    else
        echo "either of these is needed: rustup target add $1; apt-get install rustc-web cargo-web rust-web-src" >&2
        return 1
    fi
}

# cross_library TARGET COMPILER
# Builds the library for TARGET, where COMPILER links, into $cross_built.
cross_library() {
    local linker=CARGO_TARGET_${1//-/_}_LINKER
    local options=(build --quiet -p lixivium-c --target "$1" --target-dir "$cross_folder")
    need "cross_toolchain $1" rustc-web cargo-web rust-web-src
    export "${linker^^}=$2"
    case $(cross_toolchain "$1") in
    ready) cargo "${options[@]}" ;;
    debian)
        # The flag lets a stable compiler take -Z, here only to build std itself.
        PATH=/usr/bin:$PATH RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 \
            /usr/bin/cargo "${options[@]}" -Z build-std=std,panic_unwind
        ;;
    esac
    cross_built=$cross_folder/$1/debug
}
