"""The C library, as one Python function: call(operation, request) -> answer."""

import ctypes
import functools
import json
import os
import platform

ABI_VERSION = 1
NAMES = {"linux": "liblixivium.so", "windows": "lixivium.dll", "darwin": "liblixivium.dylib"}
MACHINES = {"amd64": "x86_64", "arm64": "aarch64"}


class Unavailable(Exception):
    """The library is not there or does not fit; the text says which and where."""


class Refused(Exception):
    """A request that has faults: `faults` lists them, each with code, at and says."""

    def __init__(self, faults):
        super().__init__(faults)
        self.faults = faults


def path():
    """Where the add-in keeps the library for this machine."""
    system = platform.system().lower()
    machine = platform.machine().lower()
    folder = "{}_{}".format(system, MACHINES.get(machine, machine))
    name = NAMES.get(system, NAMES["linux"])
    package = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    return os.path.join(package, "lib", folder, name)


def load(file):
    """The library in `file`, its functions described to ctypes."""
    try:
        library = ctypes.CDLL(file)
    except OSError as reason:
        raise Unavailable(
            "Lixivium's library for this machine is missing or cannot be loaded: {}".format(reason)
        )
    library.lxv_abi_version.restype = ctypes.c_uint32
    found = library.lxv_abi_version()
    if found != ABI_VERSION:
        raise Unavailable(
            "Lixivium's library {} has ABI version {}; this add-in needs {}".format(
                file, found, ABI_VERSION
            )
        )
    # A pointer, not text: ctypes would copy text and lose what has to be released.
    library.lxv_call_n.argtypes = [
        ctypes.c_char_p,
        ctypes.c_size_t,
        ctypes.c_char_p,
        ctypes.c_size_t,
        ctypes.POINTER(ctypes.c_void_p),
        ctypes.POINTER(ctypes.c_size_t),
    ]
    library.lxv_call_n.restype = ctypes.c_int32
    library.lxv_version.restype = ctypes.c_char_p
    library.lxv_reason.argtypes = [ctypes.c_int32]
    library.lxv_reason.restype = ctypes.c_char_p
    library.lxv_free.argtypes = [ctypes.c_void_p]
    library.lxv_free.restype = None
    return library


@functools.lru_cache(None)
def loaded():
    return load(path())


def version():
    return loaded().lxv_version().decode()


def figure(name, *numbers):
    """One of the functions of doubles, such as lxv_superfat; raises Refused with the reason."""
    checked = getattr(loaded(), name + "_checked")
    result = ctypes.c_double()
    status = checked(*[ctypes.c_double(number) for number in numbers], ctypes.byref(result))
    if status != 0:
        reason = loaded().lxv_reason(status).decode()
        raise Refused([{"code": "", "at": "", "says": reason}])
    return result.value


def call_text(operation, request):
    """The status and the JSON answer to a request in JSON."""
    library = loaded()
    operation, request = operation.encode(), request.encode()
    answer, length = ctypes.c_void_p(), ctypes.c_size_t()
    status = library.lxv_call_n(
        operation, len(operation), request, len(request),
        ctypes.byref(answer), ctypes.byref(length),
    )
    try:
        return status, ctypes.string_at(answer, length.value).decode()
    finally:
        library.lxv_free(answer)


def call(operation, request):
    """The answer to a request, both as plain data; raises Refused with the faults."""
    if not isinstance(request, str):
        request = json.dumps(request, ensure_ascii=False, allow_nan=False)
    status, answer = call_text(operation, request)
    answer = json.loads(answer)
    if status != 0:
        raise Refused(answer["error"]["faults"])
    return answer
