# The C library as an installed one, and programs that use it.
# Sourced after tests/lib/setup.sh.

c_prefix=$target/c/prefix
c_warnings='-Wall -Wextra -Werror -pedantic'

# Builds the library into $c_prefix.
c_library() { bindings-c/install "$c_prefix"; }

# c_program NAME OUTPUT OPTION...
# Builds tests/c/NAME.c with the shared library.
c_program() {
    local name=$1 output=$2
    shift 2
    export PKG_CONFIG_PATH=$c_prefix/lib/pkgconfig
    cc "$@" $c_warnings "tests/c/$name.c" -x none $(pkg-config --cflags --libs lixivium) \
        "-Wl,-rpath,$(pkg-config --variable=libdir lixivium)" -o "$output"
}
