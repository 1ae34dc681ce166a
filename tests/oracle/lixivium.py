"""liblixivium through ctypes: just enough to ask it."""

import ctypes


class Library:
    def __init__(self, path):
        self.library = ctypes.CDLL(path)
        self.library.lxv_call.argtypes = [
            ctypes.c_char_p,
            ctypes.c_char_p,
            ctypes.POINTER(ctypes.c_void_p),
        ]
        self.library.lxv_free.argtypes = [ctypes.c_void_p]
        self.library.lxv_free.restype = None

    def call(self, operation, request):
        """The status and the answer, both texts JSON."""
        place = ctypes.c_void_p()
        status = self.library.lxv_call(
            operation.encode(), request.encode(), ctypes.byref(place)
        )
        answer = ctypes.string_at(place).decode()
        self.library.lxv_free(place)
        return status, answer
