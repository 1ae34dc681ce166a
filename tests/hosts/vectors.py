"""Holds a host to tests/vectors.

    python3 vectors.py NAME COMMAND...     compares
    python3 vectors.py --lines             prints the requests alone

The command carries out requests: it reads lines "operation TAB request" and prints lines
"status TAB answer", both JSON texts. The answers must be those of the vectors, to the byte where
the request goes as it stands.
"""

import json
import pathlib
import subprocess
import sys

FOLDER = pathlib.Path(__file__).parent.parent / "vectors"


def vectors():
    """Each vector with the text of its request."""
    for path in sorted(FOLDER.glob("*.json")):
        file = json.loads(path.read_text(encoding="utf-8"))
        for vector in file["vectors"]:
            if "request" in vector:
                text = json.dumps(vector["request"], ensure_ascii=False)
            else:
                text = vector["request_text"]
            yield file["operation"], vector, text


def lines(asked):
    return "".join(f"{operation}\t{text}\n" for operation, _, text in asked)


def differences(name, command):
    asked = list(vectors())
    done = subprocess.run(command, input=lines(asked).encode(), stdout=subprocess.PIPE, check=False)
    if done.returncode != 0:
        yield f"the command ended with {done.returncode}"
    answered = done.stdout.decode().splitlines()
    if len(answered) != len(asked):
        yield f"{len(answered)} answers to {len(asked)} requests"
    for (operation, vector, _), line in zip(asked, answered):
        status, answer = line.split("\t", 1)
        if (status == "0") != vector["ok"] or json.loads(answer) != vector["answer"]:
            yield f"{operation}, {vector['name']}: status {status}, answer {answer[:300]}"
    if not asked:
        yield "there are no vectors"
    print(f"{name}: {len(asked)} vectors")


def main():
    if sys.argv[1:] == ["--lines"]:
        sys.stdout.buffer.write(lines(vectors()).encode())
        return 0
    name, *command = sys.argv[1:]
    found = list(differences(name, command))
    for difference in found:
        print(f"{name}: {difference}", file=sys.stderr)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
