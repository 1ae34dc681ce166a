"""Lixivium from Python: exact soap arithmetic, through ctypes. This file is all there is.

    from lixivium import Lixivium, exact
    soap = Lixivium()                       # or Lixivium("/where/liblixivium.so.1")
    plan = soap.call("plan", {"fats": [{"fat": "olive-oil", "mass": 500}], "superfat": 5,
                              "water": {"lye_concentration": 33}, "scale_step": 0.1})
    plan["naoh_mass"]["value"]              # 64.3, the nearest float
    exact(plan["superfat"])                 # a Fraction, the number itself

Requests and answers are plain dicts, as README.md describes them. Numbers of a request may be
int, float (taken as its shortest decimal), Decimal, Fraction or text with a unit ("10 oz").
Any thread may call, several at once too; the interpreter's lock is released meanwhile.

The library is taken from the path that is given, else from the environment variable
LIXIVIUM_LIBRARY, else from where the system looks for libraries.
"""

from __future__ import annotations

import ctypes
import json
import os
import sys
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any, TypedDict

ABI_VERSION = 1
_NAMES = {"win32": "lixivium.dll", "darwin": "liblixivium.1.dylib"}


class Number(TypedDict):
    """A number of an answer, in both views."""

    value: float
    exact: str


class Fault(TypedDict):
    """One thing that is wrong with a request."""

    code: str
    at: str
    says: str


class LixiviumError(ValueError):
    """A request that is not accepted: `faults` has all that is wrong with it."""

    def __init__(self, faults: list[Fault]) -> None:
        lines = (f"{fault['at']}: {fault['says']}".removeprefix(": ") for fault in faults)
        super().__init__("\n".join(lines))
        self.faults = faults


def exact(number: Number) -> Fraction:
    """The number itself."""
    return Fraction(number["exact"])


class Lixivium:
    """The library, loaded."""

    def __init__(self, path: str | None = None) -> None:
        name = path or os.environ.get("LIXIVIUM_LIBRARY")
        library = ctypes.CDLL(name or _NAMES.get(sys.platform, "liblixivium.so.1"))
        size, place = ctypes.c_size_t, ctypes.POINTER(ctypes.c_void_p)
        self._call = library.lxv_call_n
        self._call.restype = ctypes.c_int32
        self._call.argtypes = [ctypes.c_char_p, size, ctypes.c_char_p, size, place,
                               ctypes.POINTER(size)]
        self._free = library.lxv_free
        self._free.restype, self._free.argtypes = None, [ctypes.c_void_p]
        library.lxv_version.restype = ctypes.c_char_p
        library.lxv_abi_version.restype = ctypes.c_uint32
        if library.lxv_abi_version() != ABI_VERSION:
            raise OSError(f"liblixivium has the ABI {library.lxv_abi_version()}, not {ABI_VERSION}")
        self.version: str = library.lxv_version().decode()

    def call(self, operation: str, request: Mapping[str, Any]) -> dict[str, Any]:
        """Carries out one operation; raises LixiviumError with all faults of the request."""
        text = json.dumps(request, ensure_ascii=False, default=_number)
        status, answer = self.ask(operation.encode(), text.encode("utf-8", "surrogatepass"))
        answer = json.loads(answer)
        if status != 0:
            raise LixiviumError(answer["error"]["faults"])
        return answer

    def ask(self, operation: bytes, request: bytes) -> tuple[int, bytes]:
        """Carries out one operation, JSON text in and out; the number is the status."""
        answer, length = ctypes.c_void_p(), ctypes.c_size_t()
        status = self._call(operation, len(operation), request, len(request),
                            ctypes.byref(answer), ctypes.byref(length))
        try:
            return status, ctypes.string_at(answer.value, length.value)
        finally:
            self._free(answer)


def _number(value: object) -> str:
    """Numbers that JSON does not know go as text."""
    if isinstance(value, (Decimal, Fraction)):
        return str(value)
    raise TypeError(f"{value!r} cannot stand in a request; accepted: text, numbers, lists, dicts")
