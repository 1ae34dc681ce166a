"""Comparing an answer with what was expected, number by number."""

from fractions import Fraction


class Near:
    """A number that is only known to lie near another."""

    def __init__(self, number, relative=Fraction(1, 10**7)):
        self.number = number
        self.slack = relative * (1 + abs(number))


def near(expected):
    """The same expectation, with no number in it exact."""
    if isinstance(expected, Fraction):
        return Near(expected)
    if isinstance(expected, dict):
        return {key: near(value) for key, value in expected.items()}
    return [near(item) for item in expected] if isinstance(expected, list) else expected


def differences(found, expected, at=""):
    """Where an answer is not what was expected; expected numbers are fractions."""
    if isinstance(expected, (Fraction, Near)):
        return number_differences(found, expected, at)
    if isinstance(expected, dict):
        if not isinstance(found, dict) or set(found) != set(expected):
            return [f"{at}: {found}, expected the keys {sorted(expected)}"]
        return [
            difference
            for key in expected
            for difference in differences(found[key], expected[key], f"{at}.{key}")
        ]
    if isinstance(expected, list):
        if not isinstance(found, list) or len(found) != len(expected):
            return [f"{at}: {found}, expected {len(expected)} items"]
        return [
            difference
            for i, item in enumerate(expected)
            for difference in differences(found[i], item, f"{at}[{i}]")
        ]
    return [] if found == expected else [f"{at}: {found!r}, expected {expected!r}"]


def number_differences(found, expected, at):
    if not isinstance(found, dict) or set(found) != {"value", "exact"}:
        return [f"{at}: no number but {found}"]
    exact = Fraction(found["exact"])
    if str(exact) != found["exact"]:
        return [f"{at}: {found['exact']} is not in lowest terms"]
    # The division of integers in Python is rounded correctly, so this is bit for bit.
    if float(found["value"]) != float(exact):
        return [f"{at}: value {found['value']!r}, expected {float(exact)!r}"]
    if isinstance(expected, Near):
        if abs(exact - expected.number) > expected.slack:
            return [f"{at}: {found['value']}, expected near {float(expected.number)}"]
    elif exact != expected:
        return [f"{at}: exact {found['exact']}, expected {expected}"]
    return []


def numbers(expected):
    """How many numbers an expected answer has."""
    if isinstance(expected, (Fraction, Near)):
        return 1
    inner = expected.values() if isinstance(expected, dict) else expected
    return sum(map(numbers, inner)) if isinstance(expected, (dict, list)) else 0
