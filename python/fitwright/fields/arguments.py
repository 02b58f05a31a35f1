"""Arguments of public functions are held against their annotations, in one place.

`@checked` on a function, or on a class for all of its public methods, refuses a value of a wrong
kind with an InputError that names the argument. What an annotation does not settle (a number with
its unit, a path, a state) is looked at where it is read.
"""

from __future__ import annotations

import functools
import os
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from fitwright.fields.errors import InputError
from fitwright.fields.user_text import told

Checked = TypeVar("Checked", bound=Callable[..., Any])


def _is_a(name: str, value: Any) -> bool:
    return any(kind.__name__ == name for kind in type(value).__mro__)


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_numbers(value: Any) -> bool:
    return (
        isinstance(value, Sequence)
        and not isinstance(value, str | bytes | bytearray)
        and all(_is_number(item) for item in value)
    )


def _is_texts(value: Any) -> bool:
    return (
        isinstance(value, Sequence)
        and not isinstance(value, str | bytes | bytearray)
        and all(isinstance(item, str) for item in value)
    )


def _is_pair(value: Any) -> bool:
    return isinstance(value, tuple) and len(value) == 2 and _is_texts(value)


def _is_pairs(value: Any) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str) and all(map(_is_pair, value))


def _is_table(value: Any) -> bool:
    return isinstance(value, Mapping) and all(isinstance(key, str) for key in value)


#: An annotation as it is written, the test of a value, and how the rule is told.
KINDS: dict[str, tuple[Callable[[Any], bool], str]] = {
    "None": (lambda value: value is None, ""),
    "str": (lambda value: isinstance(value, str), "text"),
    "bool": (lambda value: isinstance(value, bool), "True or False"),
    "int": (_is_whole, "a whole number"),
    "float": (_is_number, "a number"),
    "Sequence[float]": (_is_numbers, "a list of numbers"),
    "Sequence[str]": (_is_texts, "a list of texts"),
    "tuple[str, str]": (_is_pair, "two texts (state, path)"),
    "Sequence[tuple[str, str]]": (_is_pairs, "a list of pairs (state, path)"),
    "os.PathLike[str]": (lambda value: isinstance(value, os.PathLike), "the name of a file"),
    "Path": (lambda value: isinstance(value, str | os.PathLike), "the name of a file"),
    "Mapping": (lambda value: isinstance(value, Mapping), "a table (dict)"),
    "Mapping[str]": (_is_table, "a table (dict) with names as keys"),
}
#: Classes of the library by name, so that nothing is loaded to look at a value.
OURS = {
    "Job": "a fw.Job",
    "Study": "a study of the job",
    "Result": "an answer of a model",
    "SlipOnResult": "an answer of fw.heat.slip_on",
    "Limits": "limits of fw.sizes",
}
#: More threads, samples or the like than a machine can count is a slip of the pen.
MOST = 1 << 62


def _alternatives(annotation: str) -> list[str]:
    """What stands between the bars of a union, brackets left whole."""
    parts, depth, start = [], 0, 0
    for place, character in enumerate(annotation):
        depth += (character == "[") - (character == "]")
        if character == "|" and depth == 0:
            parts.append(annotation[start:place].strip())
            start = place + 1
    return [*parts, annotation[start:].strip()]


def _kind(alternative: str) -> tuple[Callable[[Any], bool], str] | None:
    if alternative in KINDS:
        return KINDS[alternative]
    if alternative.startswith("Mapping[str,"):
        return KINDS["Mapping[str]"]
    if alternative.startswith("Mapping["):
        return KINDS["Mapping"]
    if alternative in OURS:
        return functools.partial(_is_a, alternative), OURS[alternative]
    return None


def _rule(annotation: str) -> tuple[list[Callable[[Any], bool]], str] | None:
    """Tests of which one must hold, and the rule in words; None where anything may stand."""
    kinds = [_kind(alternative) for alternative in _alternatives(annotation)]
    if any(kind is None for kind in kinds):
        return None
    known = [kind for kind in kinds if kind is not None]
    return [test for test, _ in known], " or ".join(text for _, text in known if text)


def _checked_function(function: Checked) -> Checked:
    rules = {
        name: rule
        for name, annotation in function.__annotations__.items()
        if name != "return" and isinstance(annotation, str) and (rule := _rule(annotation))
    }
    if not rules:
        return function
    code = function.__code__
    names = code.co_varnames[: code.co_argcount]

    @functools.wraps(function)
    def call(*arguments: Any, **named: Any) -> Any:
        problems = []
        for name, value in (*zip(names, arguments, strict=False), *named.items()):
            rule = rules.get(name)
            if rule is None:
                continue
            tests, text = rule
            if not any(test(value) for test in tests):
                problems.append((name, f"{told(value)} must be {text}"))
            elif isinstance(value, int) and abs(value) >= MOST and name != "seed":
                problems.append((name, f"{told(value)} must be a mistake"))
        if problems:
            raise InputError(problems)
        return function(*arguments, **named)

    return call  # type: ignore[return-value]


def checked(target: Checked) -> Checked:
    """A function, or every public method of a class."""
    if not isinstance(target, type):
        return _checked_function(target)
    for name, member in list(vars(target).items()):
        if name.startswith("_") and name not in ("__init__", "__getitem__"):
            continue
        if isinstance(member, classmethod | staticmethod):
            setattr(target, name, type(member)(_checked_function(member.__func__)))
        elif callable(member) and hasattr(member, "__code__"):
            setattr(target, name, _checked_function(member))
    return target
