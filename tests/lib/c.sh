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

# declared HEADER
# The functions that a header declares, one a line.
declared() { grep -v '^ \*' "$1" | grep -oE 'lxv_[a-z0-9_]+\(' | tr -d '(' | sort; }

# watched PROGRAM...
# Runs it under valgrind; status 9 if it touches memory that is not its own, or loses any.
watched() {
    valgrind --quiet --leak-check=full --errors-for-leak-kinds=definite --error-exitcode=9 "$@"
}

# hostile_requests FILE
# Bad requests and ten thousand that are made from good ones.
hostile_requests() { python3 tests/hosts/hostile.py make 10000 "$1"; }

# judge_answers REQUESTS ANSWERS
judge_answers() { python3 tests/hosts/hostile.py judge "$1" "$2"; }
