# What the stages share: finding or installing what they need.
# Sourced by each file in tests/stages, which tests/run starts in the
# repository's root.
set -euo pipefail

# Things built once and kept between runs, each in a folder named by its version.
cache=${XDG_CACHE_HOME:-$HOME/.cache}/lixivium

# The folder cargo builds into.
target=${CARGO_TARGET_DIR:-target}
[[ $target = /* ]] || target=$PWD/$target

say() { printf '%s\n' "$*"; }

fail() {
    printf 'tests: %s\n' "$*" >&2
    exit 1
}

# Whether packages can be installed without asking: Debian's apt, as root.
can_install() { [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; }

# need 'CHECK' PACKAGE...
# Makes the shell check CHECK true, by installing Debian's PACKAGEs if it is not.
need() {
    local check=$1
    shift
    if eval "$check" >/dev/null 2>&1; then
        return
    fi
    if ! can_install; then
        fail "this machine lacks something: '$check' does not hold." \
            "On Debian or Ubuntu: apt-get install $*." \
            "Elsewhere: install what has the same purpose."
    fi
    say "installing $*"
    apt_get update
    apt_get install --no-install-recommends "$@"
    eval "$check" >/dev/null 2>&1 || fail "installed $*, yet '$check' still does not hold"
}

# apt-get without questions; what it prints is shown only if it fails.
apt_get() {
    local log
    log=$(mktemp)
    if ! DEBIAN_FRONTEND=noninteractive apt-get -qq -y "$@" </dev/null >"$log" 2>&1; then
        cat "$log" >&2
        rm -f "$log"
        fail "apt-get $* failed"
    fi
    rm -f "$log"
}

# python_with REQUIREMENTS
# Prints the python of a virtual environment that has the packages of the
# requirements file; made anew when that file changes.
python_with() {
    local requirements=$1 hash venv
    need 'python3 -c "import ensurepip, venv"' python3 python3-venv
    hash=$(sha256sum "$requirements" | cut -c1-12)
    venv=$target/venv-$(basename "$requirements" .txt)-$hash
    if [ ! -e "$venv/complete" ]; then
        rm -rf "$venv"
        python3 -m venv "$venv"
        "$venv/bin/pip" install --quiet --requirement "$requirements" >&2
        touch "$venv/complete"
    fi
    say "$venv/bin/python"
}

# npm_packages FOLDER
# Installs what FOLDER/package-lock.json names, unless that very list is there.
npm_packages() {
    local folder=$1
    need 'command -v npm' nodejs npm
    if ! cmp -s "$folder/package-lock.json" "$folder/node_modules/.installed-lock"; then
        (cd "$folder" && npm ci --silent --no-audit --no-fund)
        cp "$folder/package-lock.json" "$folder/node_modules/.installed-lock"
    fi
}
