"""Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py.

Requests that are objects go through call() too, which must give the same.
"""

import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).parent.parent.parent / "examples/python"))
from lixivium import Lixivium, LixiviumError  # noqa: E402

soap = Lixivium()
for line in sys.stdin.buffer:
    operation, request = line.rstrip(b"\n").split(b"\t", 1)
    status, answer = soap.ask(operation, request)
    print(status, answer.decode(), sep="\t")
    try:
        given = json.loads(request)
        if isinstance(given, dict):
            given = soap.call(operation.decode(), given)
            assert given == json.loads(answer), request
    except LixiviumError as error:
        assert {"faults": error.faults} == json.loads(answer)["error"], request
    except json.JSONDecodeError:
        assert status == 1, request
