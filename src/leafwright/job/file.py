"""The job file: TOML read with every error placed, and edited with its comments kept."""

from __future__ import annotations

import difflib
import itertools
import tomllib
import types
import typing
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

import tomlkit
from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from leafwright.job.errors import JobError, Problem
from leafwright.job.model import FORM, Job
from leafwright.job.positions import Path, line_of, positions
from leafwright.job.rules import broken_rules

#: A job file longer than this is not one that a maker wrote [bytes].
LONGEST = 2_000_000


@dataclass(frozen=True, slots=True)
class JobFile:
    """A job with the text it was read from."""

    job: Job
    text: str
    name: str


def _merged(common: Any, own: Any) -> Any:
    """Return a leaf's own table over what every leaf shares; own keys win, tables merge."""
    if isinstance(common, dict) and isinstance(own, dict):
        if "kind" in own and own["kind"] != common.get("kind", own["kind"]):
            return own
        keys = [*common, *(k for k in own if k not in common)]
        return {k: _merged(common.get(k), own[k]) if k in own else common[k] for k in keys}
    return own


def _with_shared_leaf(data: dict[str, Any]) -> dict[str, Any]:
    shared = data.get("each_leaf")
    rest = {k: v for k, v in data.items() if k != "each_leaf"}
    leaves = data.get("leaf")
    if isinstance(shared, dict) and isinstance(leaves, list):
        rest["leaf"] = [_merged(shared, own) for own in leaves]
    return rest


def _real_path(loc: tuple[str | int, ...], data: Any) -> Path:
    """Return the place of an error in the file: pydantic's, without the names of union tags."""
    path: list[str | int] = []
    here = data
    for i, part in enumerate(loc):
        last = i == len(loc) - 1
        if isinstance(here, dict) and part in here:
            here = here[part]
        elif isinstance(here, list) and isinstance(part, int) and part < len(here):
            here = here[part]
        elif not last:
            continue
        elif isinstance(here, dict) and here.get("kind") == part:
            continue
        path.append(part)
    return tuple(path)


def _models(annotation: Any) -> list[type[BaseModel]]:
    """Return the tables that a field's type may hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    if typing.get_origin(annotation) in (types.UnionType, typing.Union, tuple, typing.Annotated):
        return [m for part in typing.get_args(annotation) for m in _models(part)]
    return []


def _keys_at(where: Path) -> list[str]:
    """Return the keys that the table around a place may hold, as written in the file."""
    tables: list[type[BaseModel]] = [Job]
    for part in where[:-1]:
        if isinstance(part, int):
            continue
        fields = [f for t in tables for n, f in t.model_fields.items() if (f.alias or n) == part]
        tables = [m for f in fields for m in _models(f.annotation)]
    return [f.alias or name for table in tables for name, f in table.model_fields.items()]


def _problem_words(error: ErrorDetails, where: Path, found: Any) -> tuple[str, str]:
    kind = error["type"]
    context = error.get("ctx", {})
    if kind == "extra_forbidden":
        keys = _keys_at(where) + (["each_leaf"] if len(where) == 1 else [])
        near = difflib.get_close_matches(str(where[-1]), keys, n=1, cutoff=0.6)
        hint = f"did you mean {near[0]!r}? " if near else ""
        return "no such key", f"{hint}known here: {', '.join(dict.fromkeys(keys))}"
    if kind == "missing":
        return "this must be given and is not there", ""
    if kind in ("literal_error", "union_tag_invalid"):
        expected = str(context.get("expected", context.get("expected_tags", "")))
        if kind == "union_tag_invalid":
            found = context.get("tag", found)
        choices = [c.strip(" '\"") for c in expected.replace(" or ", ", ").split(", ")]
        near = difflib.get_close_matches(str(found), choices, n=1)
        hint = f"did you mean {near[0]!r}? " if near else ""
        return f"found {found!r}", f"{hint}one of {', '.join(repr(c) for c in choices)}"
    if kind == "union_tag_not_found":
        return "no kind is given", "write kind = … first; it says what the rest means"
    if kind == "value_error":
        return f"found {found!r}", str(context.get("error", error["msg"]))
    return f"found {found!r}", error["msg"]


def _value_at(data: Any, where: Path) -> Any:
    here = data
    for part in where:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def _placed(where: Path, lines: dict[Path, int]) -> tuple[Path, int | None]:
    """Return the place and its line, looking in ``[each_leaf]`` for what a leaf only shares."""
    if where[:1] == ("leaf",) and where not in lines and len(where) > 2:
        for length in range(len(where), 2, -1):
            if where[:length] in lines:
                return where, lines[where[:length]]
            if ("each_leaf", *where[2:length]) in lines:
                return ("each_leaf", *where[2:]), lines["each_leaf", *where[2:length]]
    return where, line_of(lines, where)


def _form_problem(data: dict[str, Any], lines: dict[Path, int]) -> Problem | None:
    form = data.get("leafwright")
    line = lines.get(("leafwright",))
    if form is None:
        return Problem(("leafwright",), line, "the form's number is not there", "leafwright = 1")
    if not isinstance(form, int) or isinstance(form, bool) or form < 1:
        return Problem(("leafwright",), line, f"found {form!r}", f"leafwright = {FORM}")
    if form > FORM:
        found = f"a job file of form {form}; this program reads forms up to {FORM}"
        return Problem(("leafwright",), line, found, "use a newer Leafwright; nothing was changed")
    return None


def read_job(text: str, name: str = "job file") -> Job:
    """Return the job that a TOML text holds.

    Args:
        text: the job file's text.
        name: what to call the file in errors.

    Raises:
        JobError: anything is wrong; it lists all of it with lines.
    """
    if len(text) > LONGEST:
        found = f"{len(text):,} characters"
        raise JobError(name, (Problem((), None, found, f"a job file has at most {LONGEST:,}"),))
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = getattr(error, "lineno", None) or _line_in(str(error))
        would_do = 'text stands in quotes; feet go inside double quotes as "10\'-6 11/16"'
        raise JobError(name, (Problem((), line, f"not TOML: {error}", would_do),)) from None
    except RecursionError:
        raise JobError(name, (Problem((), None, "nested too deeply", "plain tables"),)) from None
    lines = positions(text)
    if (form := _form_problem(data, lines)) is not None:
        raise JobError(name, (form,))
    merged = _with_shared_leaf(data)
    try:
        job = Job.model_validate(merged)
    except ValidationError as error:
        problems: dict[tuple[Path, str], Problem] = {}
        for detail in error.errors(include_url=False):
            where = _real_path(detail["loc"], merged)
            found, would_do = _problem_words(detail, where, _value_at(merged, where))
            place, line = _placed(where, lines)
            problems.setdefault((place, found), Problem(place, line, found, would_do))
        raise JobError(name, tuple(problems.values())) from None
    broken = broken_rules(job)
    if broken:
        placed: dict[tuple[Path, str], Problem] = {}
        for where, found, would_do in broken:
            place, line = _placed(where, lines)
            placed.setdefault((place, found), Problem(place, line, found, would_do))
        raise JobError(name, tuple(placed.values()))
    return job


def _line_in(message: str) -> int | None:
    words = message.replace(",", " ").split()
    for before, after in itertools.pairwise(words):
        if before == "line" and after.rstrip(")").isdigit():
            return int(after.rstrip(")"))
    return None


def load_job(path: str | FilePath) -> JobFile:
    """Return the job of a ``.toml`` file, or of a folder that holds ``job.toml``.

    Raises:
        JobError: the file cannot be read, or anything in it is wrong.
    """
    place = FilePath(path)
    if place.is_dir():
        place = place / "job.toml"
    try:
        text = place.read_bytes().decode("utf-8")
    except FileNotFoundError:
        would_do = "name a job file, or make one: leafwright new NAME.toml"
        raise JobError(str(place), (Problem((), None, "no such file", would_do),)) from None
    except UnicodeDecodeError:
        problem = Problem((), None, "not text in UTF-8", "save the file as UTF-8")
        raise JobError(str(place), (problem,)) from None
    except OSError as error:
        problem = Problem((), None, f"cannot be read: {error.strerror}", "")
        raise JobError(str(place), (problem,)) from None
    text = text.removeprefix("\ufeff")
    return JobFile(read_job(text, str(place)), text, str(place))


def with_value(text: str, where: Path, value: Any) -> str:
    """Return a job file's text with one value changed; comments and order stay as they were.

    Args:
        text: the TOML text.
        where: tables, numbers and key down to the value; tables on the way must exist.
        value: the new value, or None to take the key out.

    Raises:
        KeyError: a table on the way is not there.
    """
    document = tomlkit.parse(text)
    here: Any = document
    for part in where[:-1]:
        here = here[part]
    if value is None:
        del here[where[-1]]
    else:
        here[where[-1]] = value
    return tomlkit.dumps(document)
