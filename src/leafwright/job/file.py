"""The job file: TOML read with every error placed, and edited with its comments kept."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

import tomlkit
from pydantic import BaseModel, ValidationError

from leafwright.job.errors import JobError, Problem, place_in_words
from leafwright.job.looked_at import Broken
from leafwright.job.model import FORM, Job, LeafTable
from leafwright.job.positions import Path, line_of, positions, statements
from leafwright.job.rules import broken_rules
from leafwright.job.shared import merged_leaves, placed
from leafwright.job.syntax import syntax_words
from leafwright.job.toml_data import toml_data
from leafwright.job.words import MISSING, as_written, problem_words, spot_of

#: A job file longer than this is not one that a maker wrote [characters].
LONGEST = 300_000
#: So is one with a longer line [characters].
LONGEST_LINE = 2_500
#: What is no letter of any script: a terminal obeys some of it, and XML has no form for it.
_UNSEEN = re.compile("[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\ufdd0-\\ufdef\\ufffe\\uffff]")
#: Tables and lists lie less deep in one another than this; the model's are six deep at most.
DEEPEST = 20


@dataclass(frozen=True, slots=True)
class JobFile:
    """A job with the text it was read from."""

    job: Job
    text: str
    name: str


def _unseen(where: Path, text: str, lines: dict[Path, int]) -> Problem | None:
    """Return what is wrong with a text or a key that no page, sheet or terminal can show."""
    found = _UNSEEN.search(text)
    if found is None:
        return None
    told = f"a sign that cannot be seen (U+{ord(found[0]):04X})"
    return Problem(where, line_of(lines, where), told, "take it out, and type the text again")


def _unfit(data: dict[str, Any], lines: dict[Path, int]) -> Problem | None:
    """Return what no job file holds, and what later stages could not even name."""
    level: list[tuple[Path, Any]] = [((), data)]
    for _ in range(DEEPEST):
        below: list[tuple[Path, Any]] = []
        for where, value in level:
            if isinstance(value, dict):
                below += [((*where, key), inner) for key, inner in value.items()]
                keys = (_unseen((*where, key), key, lines) for key in value)
                wrong = next(filter(None, keys), None)
                if wrong is not None:
                    return wrong
            elif isinstance(value, str):
                if (wrong := _unseen(where, value, lines)) is not None:
                    return wrong
            elif isinstance(value, list):
                below += [((*where, i), inner) for i, inner in enumerate(value)]
            elif isinstance(value, int) and abs(value) >= 2**63:
                found, would_do = (
                    "a whole number of 19 digits or more",
                    "write one that can be meant",
                )
                return Problem(where, line_of(lines, where), found, would_do)
        level = below
    for where, _ in level[:1]:
        found = f"tables or lists in one another, {DEEPEST} deep or more"
        would_do = "no job file has more than six"
        return Problem(where[:1], line_of(lines, where[:1]), found, would_do)
    return None


def _too_long() -> Problem:
    found = f"it has more than {LONGEST:,} characters"
    return Problem((), None, found, "a job file has some ten thousand: is this the right one?")


def _form_problem(data: dict[str, Any], lines: dict[Path, int]) -> Problem | None:
    form = data.get("leafwright")
    line = lines.get(("leafwright",))
    if form is None:
        would_do = f"write leafwright = {FORM} at the top, above every table"
        return Problem(
            ("leafwright",), line, "the number of the file's form is not there", would_do
        )
    if not isinstance(form, int) or isinstance(form, bool) or form < 1:
        would_do = f"write leafwright = {FORM}"
        return Problem(("leafwright",), line, f"found {as_written(form)}", would_do)
    if form > FORM:
        shown = str(form) if form < 1000 else "1000 or more"
        found = f"a job file of form {shown}; this program reads forms up to {FORM}"
        return Problem(("leafwright",), line, found, "use a newer Leafwright; nothing was changed")
    return None


def _parsed(text: str, name: str) -> tuple[dict[str, Any], dict[Path, int]]:
    """Return a job file's data as typed, and the line of each table and key."""
    if len(text) > LONGEST:
        raise JobError(name, (_too_long(),))
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LONGEST_LINE:
            found = f"a line of {len(line):,} characters"
            would_do = f"break it up; a line has at most {LONGEST_LINE:,}"
            raise JobError(name, (Problem((), number, found, would_do),))
    if not text.strip():
        would_do = "begin with one that works: leafwright new NAME.toml"
        raise JobError(name, (Problem((), None, "the file is empty", would_do),))
    try:
        data = toml_data(text)
    # A number of thousands of digits is refused by int() itself.
    except ValueError as error:
        raise JobError(name, (Problem((), *syntax_words(str(error), text)),)) from None
    except RecursionError:
        found = "brackets in brackets, hundreds deep"
        raise JobError(name, (Problem((), None, found, "close them sooner"),)) from None
    lines = positions(text)
    problem = _form_problem(data, lines) or _unfit(data, lines)
    if problem is not None:
        raise JobError(name, (problem,))
    return data, lines


def _field_problems(error: ValidationError, data: Any, top: type[BaseModel]) -> list[Broken]:
    """Return what single fields hold that they may not, from pydantic's list of it."""
    broken: list[Broken] = []
    for detail in error.errors(include_url=False, include_input=False):
        spot = spot_of(detail["loc"], top)
        found = _value_at(data, spot.path)
        # pydantic counts only the entries that it could read; those it could not have their own.
        if detail["type"] == "too_short" and len(found) >= detail["ctx"]["min_length"]:
            continue
        broken.append(problem_words(detail, spot, found))
    return broken


def _value_at(data: Any, where: Path) -> Any:
    here = data
    for part in where:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def _shared_problems(data: dict[str, Any]) -> list[Broken]:
    """Return what is wrong in ``each_leaf`` by itself; a leaf may still give what it lacks."""
    shared = data.get("each_leaf")
    if shared is None:
        return []
    if not isinstance(shared, dict):
        would_do = "write the table [each_leaf], its keys on lines below it"
        return [(("each_leaf",), f"found {as_written(shared)}", would_do)]
    try:
        LeafTable.model_validate(shared)
    except ValidationError as error:
        found = _field_problems(error, shared, LeafTable)
        return [
            (("each_leaf", *where), what, would_do)
            for where, what, would_do in found
            if what != MISSING
        ]
    return []


def read_job(text: str, name: str = "job file") -> Job:
    """Return the job that a TOML text holds.

    Args:
        text: the job file's text.
        name: what to call the file in errors.

    Raises:
        JobError: anything is wrong; it lists all of it with lines.
    """
    try:
        return _read(text)
    except JobError as error:
        raise JobError(name, error.problems) from None


# A save reads the same text several times: to check it, to write it and to plan it.
@functools.lru_cache(maxsize=8)
def _read(text: str) -> Job:
    name = "job file"
    data, lines = _parsed(text, name)
    merged = merged_leaves(data)
    broken = _shared_problems(data)
    job: Job | None = None
    too_many = False
    try:
        job = Job.model_validate(merged)
    except ValidationError as error:
        broken += _field_problems(error, merged, Job)
        too_many = any(detail["type"] == "too_long" for detail in error.errors())
    if not too_many:
        broken += broken_rules(merged)
    if job is not None and not broken:
        return job
    problems: dict[tuple[Path, str], Problem] = {}
    for where, found, would_do in broken:
        place, line = placed(where, data, lines)
        problems.setdefault((place, found), Problem(place, line, found, would_do))
    raise JobError(name, tuple(problems.values()))


def load_job(path: str | FilePath) -> JobFile:
    """Return the job of a ``.toml`` file, or of a folder that holds ``job.toml``.

    Raises:
        JobError: the file cannot be read, or anything in it is wrong.
    """
    place = FilePath(path)
    is_folder = False
    try:
        is_folder = place.is_dir()
        place = place / "job.toml" if is_folder else place
        with place.open("rb") as file:
            # A character has four bytes at most; what lies beyond is not read.
            data = file.read(4 * LONGEST + 1)
    except FileNotFoundError:
        if is_folder:
            found = "this folder holds no job.toml"
            raise _unread(path, found, "name a folder that does, or a job file itself") from None
        would_do = "name a job file, or make one: leafwright new NAME.toml"
        kept = place.with_suffix("")
        if place.suffix == ".toml" and (kept / "job.toml").is_file():
            would_do = f"the page keeps it in a folder now: name {kept}"
        raise _unread(path, "there is no such file", would_do) from None
    except OSError as error:
        why = (error.strerror or "no reason is given").lower()
        raise _unread(place, f"it cannot be read: {why}") from None
    except ValueError:
        raise _unread(path, "this is not the name of a file") from None
    if len(data) > 4 * LONGEST:
        raise JobError(str(place), (_too_long(),))
    try:
        text = data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        found, would_do = "this is not text in UTF-8", "save the file as UTF-8"
        raise JobError(str(place), (Problem((), line, found, would_do),)) from None
    return JobFile(read_job(text, str(place)), text, str(place))


def _unread(path: str | FilePath, found: str, would_do: str = "") -> JobError:
    return JobError(str(path), (Problem((), None, found, would_do),))


def with_value(text: str, where: Path, value: Any) -> str:
    """Return a job file's text with one value changed; comments and order stay as they were.

    Args:
        text: the text of a job file that can be read.
        where: tables, numbers and key down to the value; tables on the way must exist.
        value: the new value, or None to take the key out. A new key comes after the last one
            of its table.

    Raises:
        KeyError: a table on the way, or the key to take out, is not there.
    """
    if not where:
        raise KeyError("a value has a key")
    document = tomlkit.parse(text)
    here: Any = document
    try:
        for part in where[:-1]:
            here = here[part]
        if value is None:
            del here[where[-1]]
        elif isinstance(value, dict) or where[-1] in here:
            here[where[-1]] = value
        else:
            added = _with_line(text, where, value)
            if added is not None:
                return added
            here[where[-1]] = value
    except (KeyError, IndexError, TypeError):
        raise KeyError(f"{place_in_words(where)}: there is no such place") from None
    return _same_line_ends(tomlkit.dumps(document), text)


def _with_line(text: str, where: Path, value: Any) -> str | None:
    """Return the text with a line for a new key, or None where its table has no header.

    tomlkit would put it under the remarks that stand above the next table.
    """
    last = None
    for statement in statements(text):
        if statement.is_header and last is not None:
            break
        is_here = statement.path == where[:-1] if statement.is_header else last is not None
        if is_here or (len(where) == 1 and not statement.is_header):
            last = statement
    if last is None:
        return None
    line = f"{tomlkit.key(str(where[-1])).as_string()} = {tomlkit.item(value).as_string()}"
    before, after = text[: last.end].removesuffix("\r"), text[last.end :]
    return _same_line_ends(f"{before}\n{line}{after}", text)


def _same_line_ends(new: str, old: str) -> str:
    """Return a text with the line ends of another: all CR LF where that has no others."""
    if "\r\n" in old and old.count("\r\n") == old.count("\n"):
        return new.replace("\r\n", "\n").replace("\n", "\r\n")
    return new
