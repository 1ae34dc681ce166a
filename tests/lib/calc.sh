# LibreOffice Calc, without a window. Sourced after tests/lib/setup.sh.

# Prints the python that has LibreOffice's `uno`.
uno_python() {
    local python
    for python in python3 /usr/bin/python3 /usr/lib/libreoffice/program/python \
        /opt/libreoffice*/program/python; do
        if command -v "$python" >/dev/null && "$python" -c 'import uno' 2>/dev/null; then
            say "$python"
            return
        fi
    done
    return 1
}

calc_needs() {
    need 'command -v soffice && command -v unopkg' libreoffice-calc
    need uno_python python3-uno
    need 'fc-list | grep -i liberation' fontconfig fonts-liberation
    need 'command -v unoidl-write || ls /usr/lib/libreoffice/sdk/bin/unoidl-write' libreoffice-dev
}

# unprivileged FOLDER COMMAND...
# Runs the command with FOLDER as its home, and not as root: unopkg would touch the whole machine.
unprivileged() {
    local home=$1 as=()
    shift
    if [ "$(id -u)" = 0 ]; then
        chown -R nobody "$home"
        as=(setpriv --reuid=nobody "--regid=$(id -g nobody)" --clear-groups)
    fi
    (cd "$home" && "${as[@]}" env -u XDG_CACHE_HOME -u XDG_CONFIG_HOME \
        HOME="$home" PYTHONDONTWRITEBYTECODE=1 "$@" \
        2> >(grep -v 'failed to launch javaldx' >&2))
}
