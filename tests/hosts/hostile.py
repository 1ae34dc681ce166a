"""Hostile requests for the boundary, and a judge of the answers to them.

    python3 hostile.py make COUNT REQUESTS
    python3 hostile.py judge REQUESTS ANSWERS

The requests are those of tests/requests/malformed.jsonl and COUNT more, made of the shared vectors
by a generator with a fixed seed: values put in the place of others, bytes changed, cut and
repeated, deep nesting, numbers beyond every limit, text that is not UTF-8, operations that do not
exist. tests/c/hostile.c carries them out. A file of requests is a sequence of "OPERATION_BYTES
REQUEST_BYTES\\n" and as many bytes; one of answers of "STATUS BYTES\\n" and as many bytes.
"""

import json
import pathlib
import random
import sys

TESTS = pathlib.Path(__file__).parent.parent
OK, FAULTS, NOT_UTF8 = 0, 1, 3

NUMBERS = ["0", "-0", "-1", "1e999", "-1e999", "1e-999", "1e400", "1e-400", "1e15", "1e16", "1e-15",
           "1e-16", "9" * 64, "9" * 65, "0." + "3" * 63, "0." + "3" * 500, "NaN", "Infinity",
           "1.7976931348623157e308", "5e-324", "18446744073709551616", "-9223372036854775808",
           "340282366920938463463374607431768211456", "01", "1.", ".5", "+1", "0x10", "1_000"]
TEXTS = ["", " ", "1/0", "0/0", "-1/3", "1/" + "7" * 64, "9" * 64 + "/" + "7" * 63, "1e400 g",
         "100 %", "-5 %", "1e999", "2 lb 3.5 oz", "3 lb -2 oz", "12,5", "½", "☃", "\u0000",
         "\ud800", "g", "%", "a" * 5000, "olive-oil" * 50, "OLIVE OIL", "1" + " oz" * 200]
VALUES = [*NUMBERS, "null", "true", "false", "[]", "{}", "[[]]", "[null]", "[1,2]", "[2,1]",
          '[{"fat":"olive-oil"}]', '{"name":"x"}', '{"name":"x","saponification_value":190}',
          "[" * 60 + "]" * 60, "[" + ",".join(["1"] * 300) + "]", *map(json.dumps, TEXTS)]
TOKENS = ["{", "}", "[", "]", ",", ":", '"', "\\", "\\u0000", "\\ud800", "e", "-", "null", "\x00",
          "\ufeff", "/*", "//", "'"]
BYTES = [b"\xff", b"\xc0\x80", b"\xed\xa0\x80", b"\xe2\x82", b"\xf5\x80\x80\x80", b"\x80", b"\x00"]


class Generator:
    def __init__(self):
        self.random = random.Random(20_240_229)
        self.seeds = [
            (file["operation"], vector["request"])
            for file in (json.loads(path.read_text()) for path in sorted(TESTS.glob("vectors/*.json")))
            for vector in file["vectors"]
            # An exact probability of a triangular spread takes too long to be watched so often.
            if "request" in vector and "distribution" not in vector["request"]
        ]
        self.operations = sorted({operation for operation, _ in self.seeds})

    def one(self):
        operation, request = self.random.choice(self.seeds)
        text = self.changed(request, self.random.choice([0, 1, 1, 1, 2, 4])).encode("utf-8", "replace")
        for _ in range(self.random.choice([0, 0, 0, 0, 1, 3])):
            text = self.scratched(text)
        name = operation.encode()
        if self.random.random() < 0.03:
            other = self.random.choice(["", "PLAN", "plan ", "x" * 3000, "plan\x00", *self.operations])
            name = other.encode() + self.random.choice([b"", b"", b"\xff"])
        return name, text

    def changed(self, request, places):
        """The JSON text with other values in so many places."""
        marks = {}
        tree = json.loads(json.dumps(request))
        for _ in range(places):
            around = self.somewhere(tree)
            if around is None:
                return self.random.choice(VALUES)
            key = self.random.choice(list(around) if isinstance(around, dict) else range(len(around)))
            what = self.random.random()
            mark = f"\x01{len(marks)}\x01"
            if what < 0.1:
                del around[key]
            elif what < 0.2 and isinstance(around, dict):
                around[self.random.choice(["fat", "mass", "plan", "x", "é"])] = mark
            else:
                around[key] = mark
            marks[json.dumps(mark)] = self.random.choice(VALUES)
        text = json.dumps(tree, ensure_ascii=self.random.random() < 0.5)
        for mark, value in marks.items():
            text = text.replace(mark, value)
        return text

    def somewhere(self, tree):
        """A list or an object in it that is not empty."""
        found = []
        rest = [tree]
        while rest:
            node = rest.pop()
            if isinstance(node, (dict, list)) and node:
                found.append(node)
                rest.extend(node.values() if isinstance(node, dict) else node)
        return self.random.choice(found) if found else None

    def scratched(self, text):
        """The bytes with one change that knows nothing of JSON."""
        at = self.random.randrange(len(text) + 1)
        end = min(len(text), at + self.random.randrange(40))
        kind = self.random.randrange(8)
        if kind == 0:
            return text[:at]
        if kind == 1:
            return text[at:]
        if kind == 2:
            return text[:at] + text[end:]
        if kind == 3:
            return text[:end] + text[at:]
        if kind == 4:
            return text[:at] + self.random.choice(TOKENS).encode() + text[at:]
        if kind == 5:
            return text[:at] + self.random.choice(BYTES) + text[end:]
        if kind == 6:
            return text[:at] + bytes([self.random.randrange(256)]) + text[at + 1 :]
        bracket = self.random.choice([b"[", b'{"a":', b"]", b"9"])
        return text[:at] + bracket * self.random.choice([10, 63, 64, 65, 1000, 20_000]) + text[at:]


def requests(count):
    with open(TESTS / "requests/malformed.jsonl", encoding="utf-8") as lines:
        for case in map(json.loads, lines):
            yield case["operation"].encode(), case["request"].encode("utf-8", "surrogatepass")
    generator = Generator()
    for _ in range(count):
        yield generator.one()


def make(count, path):
    with open(path, "wb") as file:
        for operation, request in requests(int(count)):
            file.write(b"%d %d\n%s%s" % (len(operation), len(request), operation, request))


def records(path, parts):
    with open(path, "rb") as file:
        while line := file.readline():
            numbers = list(map(int, line.split()))
            yield numbers, [file.read(size) for size in numbers[-parts:]]


def is_utf8(text):
    try:
        text.decode()
    except UnicodeDecodeError:
        return False
    return True


def judge(requests_path, answers_path):
    """Every answer is JSON; a refused request has faults with a code, a place and a sentence."""
    seen = {}
    asked = records(requests_path, 2)
    answered = records(answers_path, 1)
    for (_, (operation, request)), ((status, _), (answer,)) in zip(asked, answered, strict=True):
        seen[status] = seen.get(status, 0) + 1
        answer = json.loads(answer.decode())
        readable = is_utf8(operation) and is_utf8(request)
        wanted = (OK, FAULTS) if readable else (NOT_UTF8,)
        assert status in wanted, (status, operation, request, answer)
        assert ("error" in answer) == (status != OK), (operation, request, answer)
        if status != OK:
            faults = answer["error"]["faults"]
            assert faults, (operation, request)
            for fault in faults:
                assert set(fault) == {"code", "at", "says"}, fault
                assert fault["code"] and len(fault["says"]) > 10, fault
    print("hostile requests by status:", dict(sorted(seen.items())))
    assert min(seen.get(status, 0) for status in (OK, FAULTS, NOT_UTF8)) > 100, seen


if __name__ == "__main__":
    {"make": make, "judge": judge}[sys.argv[1]](*sys.argv[2:])
