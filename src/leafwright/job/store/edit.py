"""A TOML text with some of its values changed and everything else, remarks too, as it was.

A line that is added or taken out is added or taken out of the text itself, since a library that
builds the text anew puts what is added behind the remarks of the next table. A value that only
changes is left to tomlkit. Either way the result is read back, and has to hold what was asked for.
"""

from __future__ import annotations

import copy
import functools
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from leafwright.job.positions import Path, Statement, statements
from leafwright.job.store.plain import change, data_of, is_tables, same


class EditError(ValueError):
    """A change that cannot be written into the text, or has no place in it."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One change of a text.

    Attributes:
        where: tables, numbers and key down to it, in the text to be changed.
        value: plain data; None takes out what stands there.
        insert: put the entries that ``value`` lists before the one that stands there in a list.
        author: the text from which it comes, or empty.
        at: where it stands in the author's text; of an insert, where each entry does.
    """

    where: Path
    value: Any
    insert: bool = False
    author: str = ""
    at: tuple[Path, ...] = ()


def edited(text: str, edits: Sequence[Edit]) -> str:
    """Return a TOML text with the edits made, one after the other; remarks stay.

    Raises:
        EditError: the text is not TOML, an edit has no place in it, or cannot be written.
    """
    data = data_of(text)
    if data is None:
        raise EditError("the text is not TOML")
    wanted = copy.deepcopy(data)
    for edit in edits:
        _change(wanted, edit)
    # Reading back costs most, so it is done after all; only what went wrong is done step by step.
    likely = text
    for edit in edits:
        lines = _lines(likely)
        candidates = (way(likely, lines, edit) for way in _WAYS)
        likely = next((found for found in candidates if found is not None), "")
    if _holds(likely, wanted):
        return likely
    made = copy.deepcopy(data)
    for edit in edits:
        _change(made, edit)
        text = _written(text, edit, made)
    return text


def _change(data: dict[str, Any], edit: Edit) -> None:
    try:
        change(data, edit.where, edit.value, insert=edit.insert)
    except (KeyError, IndexError, TypeError, AttributeError):
        raise EditError(f"nothing stands at {edit.where!r}") from None


def _written(text: str, edit: Edit, wanted: dict[str, Any]) -> str:
    lines = _lines(text)
    alone = Edit(edit.where, edit.value, edit.insert)
    for way in _WAYS:
        for asked in (edit, alone) if edit.author else (alone,):
            candidate = way(text, lines, asked)
            if candidate is not None and _holds(candidate, wanted):
                return candidate
    raise EditError(f"what was asked for at {edit.where!r} cannot be written there")


def _holds(text: str, wanted: dict[str, Any]) -> bool:
    found = data_of(text)
    return found is not None and same(found, wanted)


@dataclass(frozen=True, slots=True)
class _Line:
    """A statement of a text with its place in it, and the table that it stands in."""

    path: Path
    is_header: bool
    begin: int
    end: int
    table: Path


@functools.lru_cache(maxsize=2)
def _lines(text: str) -> tuple[_Line, ...]:
    starts = [0, *(found.end() for found in re.finditer("\n", text))]
    made: list[_Line] = []
    table: Path = ()
    found: Statement
    for found in statements(text):
        table = found.path if found.is_header else table
        made.append(_Line(found.path, found.is_header, starts[found.line - 1], found.end, table))
    return tuple(made)


def _under(lines: Sequence[_Line], path: Path) -> list[int]:
    return [i for i, line in enumerate(lines) if line.path[: len(path)] == path]


def _by_lines(text: str, lines: Sequence[_Line], edit: Edit) -> str | None:
    """Return the text with whole lines added or taken out, or None where that is not the way."""
    if edit.value is None:
        return _without(text, lines, edit.where)
    if edit.insert and isinstance(edit.where[-1], int):
        if not is_tables(edit.value):
            return None
        array, number = edit.where[:-1], edit.where[-1]
        if entries := _under(lines, (*array, 0)):
            if not lines[entries[0]].is_header:
                return None
            chunk = _entries_of(edit, text)
            if number == 0:
                begin = lines[entries[0]].begin
                return f"{text[:begin]}{chunk}\n\n{text[begin:]}"
            return _after(text, lines, (*array, number - 1), chunk)
        return _after(text, lines, array[:-1], _entries_of(edit, text))
    if _under(lines, edit.where) or isinstance(edit.where[-1], int):
        return None
    return _with_new(text, lines, edit)


def _without(text: str, lines: Sequence[_Line], where: Path) -> str | None:
    under = _under(lines, where)
    for last in reversed(range(len(under))):
        # What stands between two lines of one table goes with them; a stranger's line stays.
        begin = lines[under[last]].begin
        if last and under[last - 1] == under[last] - 1:
            begin = lines[under[last - 1]].end + 1
        before, after = text[:begin], text[lines[under[last]].end + 1 :]
        if before.endswith("\n\n") and after.startswith("\n"):
            after = after[1:]
        text = before + after
    return text if under else None


def _after(text: str, lines: Sequence[_Line], path: Path, chunk: str) -> str | None:
    """Return the text with a table's lines put in behind everything under ``path``."""
    under = _under(lines, path)
    if not under:
        return None if path else f"{text.rstrip()}\n\n{chunk}\n".lstrip()
    end = lines[under[-1]].end
    return f"{text[:end]}\n\n{chunk}{text[end:] or chr(10)}"


def _with_new(text: str, lines: Sequence[_Line], edit: Edit) -> str | None:
    """Return the text with a key or a table that was not there."""
    parent = edit.where[:-1]
    chunk = _own_lines(edit.author, edit.at[0], text) if edit.author else ""
    if not chunk and is_tables(edit.value):
        header = _header(edit.where, many=True)
        chunk = "\n\n".join(f"{header}\n{_keys(entry)}".rstrip() for entry in edit.value)
    elif not chunk and isinstance(edit.value, dict) and not parent:
        chunk = f"{_header(edit.where)}\n{_keys(edit.value)}".rstrip()
    elif not chunk:
        chunk = _key_line(edit.where[-1], edit.value)
    if re.match(r"(?:#[^\n]*\n)*[ \t]*\[", chunk):
        return _after(text, lines, parent, chunk)
    direct = [line for line in lines if line.table == parent]
    if direct:
        end = direct[-1].end
        return f"{text[:end]}\n{chunk}{text[end:] or chr(10)}"
    return None if parent else f"{chunk}\n\n{text}"


def _entries_of(edit: Edit, text: str) -> str:
    """Return entries of a list of tables as their author wrote them, or else as we would."""
    chunks: list[str] = []
    for number, entry in enumerate(edit.value):
        chunk = _own_lines(edit.author, edit.at[number], text) if edit.author else ""
        if not re.match(r"(?:#[^\n]*\n)*[ \t]*\[\[", chunk):
            chunk = f"{_header(edit.where[:-1], many=True)}\n{_keys(entry)}".rstrip()
        chunks.append(chunk)
    return "\n\n".join(chunks)


def _own_lines(author: str, at: Path, text: str) -> str:
    """Return the author's lines for one place, with new remarks right above them, or nothing."""
    lines = _lines(author)
    under = _under(lines, at)
    if not under or under[-1] - under[0] != len(under) - 1:
        return ""
    begin = lines[under[0]].begin
    remarks: list[str] = []
    for line in reversed(author[:begin].split("\n")[:-1]):
        if not line.lstrip().startswith("#") or line in text:
            break
        remarks.insert(0, line)
    return "\n".join([*remarks, author[begin : lines[under[-1]].end].rstrip()])


def _in_statement(text: str, lines: Sequence[_Line], edit: Edit) -> str | None:
    """Return the text with a value changed in the one statement in which it stands, or None."""
    spot = _statement_with(text, lines, edit.where)
    if spot is None:
        return None
    begin, end, inner = spot
    author, at = "", edit.at
    if edit.author and not edit.insert:
        own = _statement_with(edit.author, _lines(edit.author), edit.at[0])
        if own is not None:
            author, at = edit.author[own[0] : own[1]], (own[2],)
    within = Edit(inner, edit.value, edit.insert, author, at)
    changed = _by_library(text[begin:end], lines, within)
    return None if changed is None else text[:begin] + changed + text[end:]


def _statement_with(text: str, lines: Sequence[_Line], where: Path) -> tuple[int, int, Path] | None:
    """Return begin and end of the statement in which a value stands, and its place in that."""
    for line in lines:
        if not line.is_header and line.path == where[: len(line.path)]:
            end = line.end - text.endswith("\r", 0, line.end)
            return line.begin, end, where[len(line.table) :]
    return None


def _by_library(text: str, lines: Sequence[_Line], edit: Edit) -> str | None:
    """Return the text as tomlkit writes it with the edit made, or None where it cannot."""
    try:
        document = tomlkit.parse(text)
        here: Any = document
        for part in edit.where[:-2] if edit.insert else edit.where[:-1]:
            here = here[part]
        key: Any = edit.where[-1]
        if edit.insert:
            list_key: Any = edit.where[-2]
            if list_key not in here:
                here[list_key] = tomlkit.aot()
            for offset, entry in enumerate(edit.value):
                here[list_key].insert(key + offset, entry)
        elif edit.value is None:
            del here[key]
            if not here and isinstance(here, list):
                return _by_library(tomlkit.dumps(document), lines, Edit(edit.where[:-1], None))
        else:
            here[key] = _item(edit, here, key)
        return tomlkit.dumps(document)
    # tomlkit raises its own kinds for what is wrong in a text and Python's for what it cannot do.
    except (TOMLKitError, KeyError, IndexError, TypeError, AttributeError, ValueError):
        return None


def _item(edit: Edit, here: Any, key: Any) -> Any:
    """Return the new value as its author wrote it, but for a remark where one is there."""
    if not edit.author:
        return copy.deepcopy(edit.value)
    item: Any = tomlkit.parse(edit.author)
    for part in edit.at[0]:
        item = item[part]
    item = copy.deepcopy(item)
    if key in here and hasattr(here[key], "trivia") and here[key].trivia.comment:
        item.trivia.comment_ws, item.trivia.comment = "", ""
    return item


_WAYS = (_by_lines, _in_statement, _by_library)


def _header(where: Path, *, many: bool = False) -> str:
    name = ".".join(tomlkit.key(part).as_string() for part in where if isinstance(part, str))
    return f"[[{name}]]" if many else f"[{name}]"


def _keys(table: dict[str, Any]) -> str:
    return "\n".join(_key_line(key, value) for key, value in table.items())


def _key_line(key: Any, value: Any) -> str:
    return f"{tomlkit.key(key).as_string()} = {_inline(value)}"


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        inner = ", ".join(_key_line(key, each) for key, each in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list):
        return f"[{', '.join(_inline(each) for each in value)}]"
    return str(tomlkit.item(value).as_string())
