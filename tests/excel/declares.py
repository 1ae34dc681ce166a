#!/usr/bin/env python3
"""Compares each Declare of the Excel module with the C header: name, arguments, types.

    declares.py LIXIVIUM.BAS LIXIVIUM.H

Excel itself is not run.
"""

import re
import sys

RESULTS = {
    "double": "Double",
    "int32_t": "Long",
    "uint32_t": "Long",
    "const char *": "LongPtr",
    "void": None,
}
ARGUMENTS = {
    "double": "ByVal Double",
    "int32_t": "ByVal Long",
    "size_t": "ByVal LongPtr",
    "const char *": "ByVal LongPtr",
    "char *": "ByVal LongPtr",
    "double *": "ByRef Double",
    "char **": "ByRef LongPtr",
    "size_t *": "ByRef LongPtr",
}
# Not for cells: lxv_call_n() does what lxv_call() does, and a column is no cell.
LEFT_OUT = {"lxv_call", "lxv_columns"}


def split_c(declaration):
    """"const char *name" as its type and its name."""
    kind, name = re.fullmatch(r"(.*?[ *])(\w+)", declaration.strip()).groups()
    return kind.strip(), name


def header(text):
    """What a VBA declaration of each function would have to be."""
    text = re.sub(r"/\*.*?\*/", "", text, flags=re.S)
    text = "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    wanted = {}
    for result, name, arguments in re.findall(r"([\w ]+[ *]+)(lxv_\w+)\(([^)]*)\);", text):
        kinds = [] if arguments.strip() == "void" else [split_c(a) for a in arguments.split(",")]
        if name not in LEFT_OUT:
            wanted[name] = (
                RESULTS[result.strip()],
                [(argument, ARGUMENTS[kind]) for kind, argument in kinds],
            )
    return wanted


def module(text):
    """What the module declares, and how often."""
    text = re.sub(r" _\n\s*", " ", text)
    pattern = (
        r"^Private Declare PtrSafe (Function|Sub) \w+ Lib \"lixivium\.dll\"\s+"
        r"Alias \"(\w+)\" \((.*?)\)(?: As (\w+))?$"
    )
    declared = {}
    for kind, name, arguments, result in re.findall(pattern, text, flags=re.M):
        assert (kind == "Sub") == (result == ""), name
        assert name not in declared, name + " is declared twice"
        each = [re.fullmatch(r"(By\w+) (\w+) As (\w+)", a.strip()) for a in arguments.split(",") if a]
        declared[name] = (
            result or None,
            [(argument.rstrip("_"), how + " " + kind) for how, argument, kind in (a.groups() for a in each)],
        )
    assert len(declared) == text.count('Lib "lixivium.dll"'), "a Declare could not be read"
    return declared


def differences(bas, h):
    declared, wanted = module(bas), header(h)
    for name in sorted(set(declared) - set(wanted)):
        yield name + " is not in the header"
    for name, found in declared.items():
        if name in wanted and found != wanted[name]:
            yield "{} is declared as {}; the header has {}".format(name, found, wanted[name])
    # A function of doubles that has a status is enough: it tells why there is no number.
    for name in sorted(set(wanted) - set(declared)):
        if name + "_checked" not in declared:
            yield name + " is missing"


def main():
    bas, h = (open(path, encoding="utf-8").read() for path in sys.argv[1:3])
    bas = bas.replace("\r\n", "\n")
    found = list(differences(bas, h))
    if found:
        raise SystemExit("\n".join(["tests/excel: Lixivium.bas and lixivium.h differ", *found]))
    # Each kind of mistake is seen.
    for right, wrong in (
        ("ByVal fat_g As Double", "ByVal fat_g As Single"),
        ("ByVal fat_g As Double", "ByRef fat_g As Double"),
        ("ByVal fat_g As Double, ", ""),
        ("ByVal fat_g As Double", "ByVal fats_g As Double"),
        ('Alias "lxv_free"', 'Alias "lxv_release"'),
        ("(ByVal status As Long) As LongPtr", "(ByVal status As Long) As Long"),
    ):
        joined = re.sub(r" _\n\s*", " ", bas).replace("( ByVal", "(ByVal")
        assert right in joined, right
        assert list(differences(joined.replace(right, wrong, 1), h)), wrong


main()
