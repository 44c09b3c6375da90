"""Where each table and key of a TOML text stands, so that an error can name its line."""

from __future__ import annotations

import re

Path = tuple[str | int, ...]

_TABLE = re.compile(r"^\s*(\[\[?)\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""^\s*((?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+)(?:\s*\.\s*[A-Za-z0-9_"'-]+)*)\s*=""")


def _split(dotted: str) -> list[str]:
    return [part.strip().strip("\"'") for part in dotted.split(".")]


def _open_brackets(text: str) -> int:
    """Return how many brackets a line opens more than it closes, outside its strings."""
    plain = re.sub(r'"(?:\\.|[^"\\])*"|\'[^\']*\'', "", text).split("#", 1)[0]
    return sum(plain.count(c) for c in "[{") - sum(plain.count(c) for c in "]}")


def positions(text: str) -> dict[Path, int]:
    """Return the line (counted from 1) of every table and key that has a line of its own.

    Keys inside an inline table or an array are not listed; use `line_of`, which falls back to
    the line of what they stand in.
    """
    found: dict[Path, int] = {}
    arrays: dict[Path, int] = {}
    here: Path = ()
    waiting = 0
    quote = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if quote:
            quote = "" if quote in line else quote
            continue
        if waiting > 0:
            waiting += _open_brackets(line)
            continue
        if table := _TABLE.match(line):
            here = _table_path(_split(table[2]), arrays, many=table[1] == "[[")
            found.setdefault(here, number)
            found.setdefault(here[:1], number)
        elif key := _KEY.match(line):
            found[here + tuple(_split(key[1]))] = number
            value = line[key.end() :]
            for mark in ('"""', "'''"):
                if value.count(mark) == 1:
                    quote = mark
            waiting = 0 if quote else max(0, _open_brackets(value))
    return found


def _table_path(parts: list[str], arrays: dict[Path, int], *, many: bool) -> Path:
    path: Path = ()
    for depth, part in enumerate(parts):
        path = (*path, part)
        last = depth == len(parts) - 1
        if last and many:
            arrays[path] = arrays.get(path, -1) + 1
            path = (*path, arrays[path])
        elif path in arrays:
            path = (*path, arrays[path])
    return path


def line_of(found: dict[Path, int], path: Path) -> int | None:
    """Return the line of a key, or of the nearest thing around it that has a line."""
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]]
    return None
