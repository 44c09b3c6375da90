"""Where each table and key of a TOML text stands, so that an error can name its line."""

from __future__ import annotations

import bisect
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_KEY_PART = re.compile(
    r"""[ \t]*(?:"((?:\\.|[^"\\\n])*)"|'([^'\n]*)'|([A-Za-z0-9_-]+))[ \t]*(\.)?"""
)
# What decides where a value ends: texts and remarks are passed over whole.
_IN_VALUE = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}'
    r"|'''.*?'{3,5}"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'"
    r"|#[^\n]*|[\[{\]}\n]",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Statement:
    """A table's header, or a key with its value.

    Attributes:
        path: the table, or the table and the key in it.
        is_header: whether it opens a table.
        line: the line it begins on, counted from 1.
        end: how many characters of the text lie before the end of its last line.
    """

    path: Path
    is_header: bool
    line: int
    end: int


def statements(text: str) -> Iterator[Statement]:
    """Yield the headers and keys of a TOML text in order; a line that is neither is passed over.

    Keys inside an inline table or a list are not yielded; they stand in a key that is.
    """
    # TOML ends a line with a line feed, and with nothing else that `str.splitlines` takes for one.
    ends = [found.start() for found in re.finditer("\n", text)]
    arrays: dict[Path, int] = {}
    here: Path = ()
    at = _after_blank(text, 0)
    while at < len(text):
        line = bisect.bisect_left(ends, at) + 1
        brackets = "[[" if text.startswith("[[", at) else "[" if text[at] == "[" else ""
        parts, after = _dotted(text, at + len(brackets))
        if not parts:
            end = _line_end(text, at)
        elif brackets:
            here = _table_path(parts, arrays, many=brackets == "[[")
            end = _line_end(text, after)
            yield Statement(here, True, line, end)
        else:
            end = _value_end(text, after)
            yield Statement((*here, *parts), False, line, end)
        at = _after_blank(text, end)


def positions(text: str) -> dict[Path, int]:
    """Return the line (counted from 1) of every table and key that has a line of its own.

    Keys inside an inline table or a list are not listed; use `line_of`, which falls back to
    the line of what they stand in.
    """
    found: dict[Path, int] = {}
    for statement in statements(text):
        found.setdefault(statement.path, statement.line)
        for length in range(1, len(statement.path)):
            found.setdefault(statement.path[:length], statement.line)
    return found


def line_of(found: dict[Path, int], path: Path) -> int | None:
    """Return the line of a key, or of the nearest thing around it that has a line."""
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]]
    return None


def _after_blank(text: str, at: int) -> int:
    blank = _BLANK.match(text, at)
    return blank.end() if blank else at


def _dotted(text: str, at: int) -> tuple[list[str], int]:
    """Return the parts of a dotted name and where it ends; no parts where there is no name."""
    parts: list[str] = []
    while found := _KEY_PART.match(text, at):
        basic, literal, bare, dot = found.groups()
        parts.append(_unescaped(basic) if basic is not None else (literal or bare or ""))
        at = found.end()
        if dot is None:
            break
    return parts, at


def _unescaped(basic: str) -> str:
    if "\\" not in basic:
        return basic
    try:
        return str(tomllib.loads(f'x = "{basic}"')["x"])
    except tomllib.TOMLDecodeError:
        return basic


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


def _value_end(text: str, at: int) -> int:
    """Return where the line ends on which the value does that begins at ``at``."""
    depth = 0
    for found in _IN_VALUE.finditer(text, at):
        sign = found[0]
        if sign in "[{":
            depth += 1
        elif sign in "]}":
            depth -= 1
        elif sign == "\n" and depth <= 0:
            return found.start()
    return len(text)


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
