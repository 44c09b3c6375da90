"""The handbook's functions, found where they stand and described by what they say of themselves."""

from __future__ import annotations

import dataclasses
import difflib
import functools
import importlib
import inspect
import pkgutil
import re
import typing
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import FunctionType, ModuleType

from leafwright import handbook
from leafwright.figures.arguments import NotTypedError, Slot, arguments_of, slots_of
from leafwright.figures.docstrings import Entry, Said, said_by
from leafwright.figures.records import Argument, Figure, FigureError
from leafwright.figures.results import is_told
from leafwright.figures.subjects import CAUTIONS, ORDER, subject_of

_PREFIX = "leafwright.handbook."
_NEAR = 5


@dataclass(frozen=True, slots=True)
class Found:
    """A figure with the function that works it, and what its arguments are filled from."""

    figure: Figure
    function: FunctionType
    slots: tuple[Slot, ...]


def figures() -> tuple[Figure, ...]:
    """Return every public function of the handbook, by subject and then by module."""
    return tuple(found.figure for found in all_found().values())


def figure_named(name: str) -> Figure:
    """Return the figure of a name: ``column_stress``, or with its module before it.

    A hyphen or a space does for the underscore.

    Raises: FigureError with the nearest names where there is none.
    """
    return found_named(name).figure


def found_named(name: str) -> Found:
    """Return the figure of a name with its function; see `figure_named`."""
    plain = name.strip().replace("-", "_").replace(" ", "_")
    if plain in _functions():
        return _found_at(plain)
    known = all_found()
    if plain in known:
        return known[plain]
    several = [key for key, f in known.items() if f.function.__name__ == plain]
    if several:
        raise FigureError((f"{name!r} is in several places: {', '.join(several)}.",))
    close = difflib.get_close_matches(plain, known, n=_NEAR, cutoff=0.6)
    close += [key for key in known if plain.lower() in key.lower() and key not in close]
    near = f" The nearest are: {', '.join(close[:_NEAR])}." if close else ""
    raise FigureError(
        (f"no figure {name!r}.{near} `leafwright figure` lists them all by subject.",)
    )


@functools.cache
def all_found() -> dict[str, Found]:
    """Return every public function by the shortest name that is its own, subject by subject."""
    made = [_found_at(place) for place in _functions()]
    made.sort(key=lambda found: ORDER.index(found.figure.subject))
    return {found.figure.name: found for found in made}


def figure_of(function: Callable[..., object]) -> str:
    """Return the name of a handbook function by its place there: ``aisc360.welds.weld_shear``.

    No two have the same; `figure_named` and `shown` know it.

    Raises: ValueError for a function that is not a public one of the handbook.
    """
    inner = inspect.unwrap(function)
    module, name = getattr(inner, "__module__", ""), getattr(inner, "__qualname__", "")
    place = f"{module.removeprefix(_PREFIX)}.{name}"
    if not module.startswith(_PREFIX) or any(p[:1] in "_<" for p in place.split(".")):
        raise ValueError(f"{module}.{name} is no formula of the handbook; name one that is")
    return place


@functools.cache
def _functions() -> Mapping[str, tuple[str, ModuleType, FunctionType]]:
    """Return every public function by its place: its shortest own name, its module, itself."""
    functions = [
        (module, function)
        for module in _modules()
        for name, function in vars(module).items()
        if not name.startswith("_")
        and isinstance(function, FunctionType)
        and function.__module__ == module.__name__
    ]
    often = Counter(function.__name__ for _, function in functions)
    places = {}
    for module, function in functions:
        place = module.__name__.removeprefix(_PREFIX)
        short = function.__name__
        name = short if often[short] == 1 else f"{place.rpartition('.')[2]}.{short}"
        places[f"{place}.{short}"] = (name, module, function)
    return places


@functools.cache
def _found_at(place: str) -> Found:
    """Return the figure of a place, described; see `_functions`."""
    name, module, function = _functions()[place]
    return _found(name, place.rpartition(".")[0], module, function)


def _modules() -> list[ModuleType]:
    names = [
        info.name
        for info in pkgutil.walk_packages(handbook.__path__, _PREFIX)
        if not any(part.startswith("_") for part in info.name.split("."))
    ]
    return [importlib.import_module(name) for name in names]


def _found(name: str, place: str, module: ModuleType, function: FunctionType) -> Found:
    inner = inspect.unwrap(function)
    assert isinstance(inner, FunctionType)
    said = said_by(inner, list(inspect.signature(inner).parameters), module=module.__doc__ or "")
    said = dataclasses.replace(said, entries=tuple(_looked_up(e, module) for e in said.entries))
    why = ""
    slots: tuple[Slot, ...] = ()
    arguments: tuple[Argument, ...] = ()
    try:
        slots = slots_of(inner, said.entries)
        arguments = arguments_of(slots)
    except NotTypedError as reason:
        why, arguments = str(reason), ()
    given = typing.get_type_hints(inner, include_extras=True).get("return")
    if not why and not is_told(given):
        why = "it gives a record that only other functions use"
    subject = subject_of(place)
    figure = Figure(
        name=name,
        module=place,
        subject=subject,
        quantity=said.quantity,
        unit=said.unit,
        source=said.source,
        rule=said.rule,
        arguments=arguments,
        limits=said.limits,
        refuses=said.refuses,
        cautions=_cautions(said, subject),
        not_from_shell=why,
    )
    return Found(figure, inner, slots)


def _looked_up(entry: Entry, module: ModuleType) -> Entry:
    """Return an entry that says ``as for `other` `` with what that function says of the same."""
    other = re.match(r"as (?:for|in) `(\w+)`", entry.meaning)
    function = getattr(module, other[1], None) if other is not None else None
    if not isinstance(function, FunctionType):
        return entry
    there = said_by(function, list(inspect.signature(function).parameters)).entries
    return next((e for e in there if e.name == entry.name), entry)


def _cautions(said: Said, subject: str) -> tuple[str, ...]:
    general = CAUTIONS.get(subject)
    return said.cautions if general is None else (*said.cautions, general)
