"""Many recipes at once, from columns to columns, through lxv_columns of the C library.

    from columns import Columns
    columns = Columns("/where/liblixivium.so.1", setting)
    outputs, status, answer = columns.plan([olive_oil, coconut_oil])

`setting` is what all recipes have in common, as lixivium.h describes it at lxv_columns. A column
is anything that NumPy takes for an array of doubles; Arrow's are not copied. `outputs` has an
array for each of the setting's "outputs"; `status` has 0 for each recipe that was planned.
"""

import ctypes
import json

import numpy

_DOUBLES = ctypes.POINTER(ctypes.c_double)


class Columns:
    def __init__(self, path, setting):
        self.library = ctypes.CDLL(path)
        self.library.lxv_free.argtypes = [ctypes.c_void_p]
        self.library.lxv_free.restype = None
        self.library.lxv_reason.argtypes = [ctypes.c_int32]
        self.library.lxv_reason.restype = ctypes.c_char_p
        self.library.lxv_columns.restype = ctypes.c_int32
        self.library.lxv_columns.argtypes = [
            ctypes.c_char_p,
            ctypes.c_size_t,
            ctypes.POINTER(_DOUBLES),
            ctypes.c_size_t,
            _DOUBLES,
            ctypes.POINTER(_DOUBLES),
            ctypes.c_size_t,
            ctypes.POINTER(ctypes.c_int32),
            ctypes.POINTER(ctypes.c_void_p),
        ]
        self.setting = json.dumps(setting).encode()
        self.names = setting["outputs"]

    def plan(self, fats, superfat=None):
        """Plans a recipe for each row; raises ValueError if the setting has faults."""
        fats = [numpy.ascontiguousarray(column, numpy.float64) for column in fats]
        read = fats
        if superfat is not None:
            superfat = numpy.ascontiguousarray(superfat, numpy.float64)
            read = fats + [superfat]
        rows = len(read[0])
        if any(len(column) != rows for column in read):
            raise ValueError("the columns have different lengths: give each the same")
        outputs = [numpy.empty(rows) for _ in self.names]
        status = numpy.empty(rows, numpy.int32)
        answer = ctypes.c_void_p()
        returned = self.library.lxv_columns(
            self.setting,
            rows,
            _all(fats),
            len(fats),
            None if superfat is None else superfat.ctypes.data_as(_DOUBLES),
            _all(outputs),
            len(outputs),
            status.ctypes.data_as(ctypes.POINTER(ctypes.c_int32)),
            ctypes.byref(answer),
        )
        try:
            said = json.loads(ctypes.string_at(answer.value))
        finally:
            self.library.lxv_free(answer)
        if returned != 0:
            faults = said["error"]["faults"]
            raise ValueError("\n".join("{at}: {says}".format(**fault) for fault in faults))
        return dict(zip(self.names, outputs)), status, said

    def reason(self, status):
        """What a status means, for the person."""
        return self.library.lxv_reason(int(status)).decode()


def _all(columns):
    """The places of columns, as C takes them."""
    return (_DOUBLES * len(columns))(*(column.ctypes.data_as(_DOUBLES) for column in columns))
