"""What is read of leaves on site: one small form for each place, and what was read there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel

from leafwright import units
from leafwright.job.model import Job, LeafTable
from leafwright.job.positions import Path
from leafwright.pipeline import Plan
from leafwright.web.fields import Field, Sheet, dotted, new_name, written
from leafwright.web.forms import Form, table_fields
from leafwright.web.schema import model_of_kind, slots
from leafwright.web.trade import choice_words

#: Lists of the job file whose entries are readings taken of leaves on site.
TAKEN: tuple[Path, ...] = (("fit_up",), ("hung",))

#: Of a reading, what says how and by whom it was taken, and not what was read.
_HOW = ("is", "sd", "by", "on", "who", "set_aside", "note", "toward", "rests")


@dataclass(frozen=True, slots=True)
class Read:
    """One reading that was taken at a place: its number in the file, what was typed, and by whom.

    ``fitted`` and ``off`` are what all of them together say of it, where that is known.
    """

    number: int
    words: str
    by: str
    aside: str
    fitted: str = ""
    off: str = ""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place to be read: its number on the picture, what it should be, its form, what was read."""

    number: str
    words: str
    should: str
    form: Form
    reads: tuple[Read, ...]


def leads_to(spots: Sequence[Spot]) -> dict[str, tuple[str, str]]:
    """Return by the number on the picture the address of its row, and what it is called."""
    return {s.number: (f"#spot-{s.form.id}", f"{s.number}: {s.words}") for s in spots if s.number}


def entry_form(
    sheet: Sheet,
    where: Path,
    id: str,
    title: str,
    table: Mapping[str, str],
    *,
    keys: Sequence[str],
    values: Mapping[str, Any] | None = None,
    labels: Mapping[str, str] | None = None,
    told: str = "",
    button: str = "Keep it",
) -> Form:
    """Return a form that puts in one reading whose place is settled.

    Args:
        sheet: the job's fields.
        where: the list that it goes to.
        id: of the form; no other on the page has it.
        title: what is read.
        table: what is settled of it; its ``kind`` among that.
        keys: what is asked.
        values: what a field begins with.
        labels: what a field is called, where not as everywhere.
        told: what helps.
        button: what the button says.
    """
    model = model_of_kind(slots(Job)[str(where[0])], table.get("kind", ""))
    if model is None:
        raise ValueError(f"{where!r} holds nothing of the kind {table.get('kind')!r}")
    mine = sheet.form == id
    own = sheet if mine else Sheet(sheet.data, sheet.made)
    shown = [
        _named(field, id, labels or {}) for field in _asked(own, model, where, keys, values or {})
    ]
    names = {field.name for field in shown}
    elsewhere = [words for name, words in own.errors.items() if name not in names]
    hidden = [(new_name(where, key), text) for key, text in table.items() if key not in keys]
    return Form(
        id,
        title,
        tuple(shown),
        told=told,
        place=dotted(where),
        hidden=(*hidden, ("form", id)),
        button=button,
        error=elsewhere[0] if mine and elsewhere else "",
    )


def _asked(
    sheet: Sheet,
    model: type[BaseModel],
    where: Path,
    keys: Sequence[str],
    values: Mapping[str, Any],
) -> list[Field]:
    fields = table_fields(sheet, model, where, keys=keys, new=True, values=values)
    by_key = {field.name.rpartition(".")[2]: field for field in fields}
    return [by_key[key] for key in keys if key in by_key]


def _named(field: Field, id: str, labels: Mapping[str, str]) -> Field:
    label = labels.get(field.name.rpartition(".")[2], field.label)
    # Where one thing is asked, it goes without saying that it is needed.
    told = field.help.removeprefix("needed").removeprefix("; ")
    return replace(field, label=label, help=told, apart=id)


def is_of(data: Mapping[str, Any], table: Mapping[str, Any], hand: str) -> bool:
    """Return whether a reading is of the leaf that hangs on a side."""
    leaves = data.get("leaf", [])
    first = leaves[0].get("hand") if leaves else None
    return bool(table.get("leaf", first) == hand)


def reads_at(
    data: Mapping[str, Any],
    where: str,
    table: Mapping[str, Any],
    hand: str,
    fitted: Mapping[int, tuple[str, str]],
) -> tuple[Read, ...]:
    """Return what was read at a place, in the file's order.

    Args:
        data: the job's data.
        where: the list.
        table: what is settled of the place.
        hand: the leaf.
        fitted: by number in the file, what all readings say of one, and how far it is off.
    """
    wanted = _place(table, hand)
    found = []
    for number, one in enumerate(data.get(where, [])):
        if is_of(data, one, hand) and _place(one, hand) == wanted:
            found.append(read_of(number, one, fitted))
    return tuple(found)


def read_of(number: int, table: Mapping[str, Any], fitted: Mapping[int, tuple[str, str]]) -> Read:
    """Return one reading of the file as the page shows it."""
    words = written(table.get("rests") if table.get("kind") == "drift" else table.get("is"))
    if table.get("toward"):
        words += f" {choice_words('toward', str(table['toward']))}"
    by = ", ".join(written(table[key]) for key in ("who", "on", "by") if table.get(key))
    fits, off = fitted.get(number, ("", ""))
    return Read(number, words, by, str(table.get("set_aside", "")), fits, off)


def _place(table: Mapping[str, Any], hand: str) -> tuple[tuple[str, object], ...]:
    """Return what of a reading says where it was read, the same whichever end came first."""
    told: dict[str, object] = {k: _exact(k, v) for k, v in table.items() if k not in _HOW}
    told["leaf"] = hand
    told.setdefault("stage", "tacked")
    if not told.get("angle"):
        told.pop("angle", None)
    ends = (told.pop("from", ""), told.pop("to", ""))
    told["ends"] = tuple(sorted(str(end) for end in ends))
    return tuple(sorted(told.items(), key=lambda item: item[0]))


def _exact(key: str, value: object) -> object:
    """Return a length or an angle as the exact size that was typed, and anything else as text."""
    text = written(value)
    try:
        if key == "angle":
            return units.read_angle(text).exact
        if key in ("at", "x", "y", "over"):
            return units.read_length(text).exact
    except units.UnitError:
        # The name of a place on the leaf, or something that is refused elsewhere.
        return text
    return text


def taken_name(table: Mapping[str, Any]) -> str:
    """Return what a reading of a leaf is called: what, where, and of which leaf."""
    kind = str(table.get("kind"))
    ends = [str(table[key]) for key in ("from", "to") if table.get(key)]
    told = " to ".join(ends) if ends else ""
    if kind == "string":
        told = f"string at {table.get('at')}"
    elif kind == "height":
        told = f"height at {table.get('at')}"
        if table.get("x") is not None:
            told = f"floor {table.get('x')} out, {table.get('y')} up"
    elif kind == "plate":
        told = f"{table.get('plate')} plate, {table.get('direction')}"
    elif kind == "gap":
        told = f"{table.get('where')} gap at {table.get('at')}"
        if table.get("angle"):
            told += f", open {table['angle']}"
    elif kind == "plumb":
        told = f"axis off plumb, {table.get('direction')}"
    elif kind == "drift":
        told = f"let go at {table.get('angle')}"
    of = [str(table[key]) for key in ("leaf", "stage") if table.get(key)]
    return ", ".join(
        [
            told,
            *(
                f"{of[0]} leaf" if n == 0 and table.get("leaf") else word
                for n, word in enumerate(of)
            ),
        ]
    )


def others_at(
    data: Mapping[str, Any], where: str, hand: str, shown: Sequence[Spot], stage: str = ""
) -> tuple[tuple[int, str, Read], ...]:
    """Return the readings of a leaf at no place of the list: number in the file, name, reading."""
    numbers = {read.number for spot in shown for read in spot.reads}
    return tuple(
        (number, taken_name(table), read_of(number, table, {}))
        for number, table in enumerate(data.get(where, []))
        if number not in numbers
        and is_of(data, table, hand)
        and (not stage or table.get("stage", "tacked") == stage)
    )


def leaf_of(made: Plan, key: str) -> str:
    """Return the leaf that is looked at: the one asked for, or else the first; by its side."""
    hands = [table.hand or "left" for table in made.job.leaf]
    return key if key in hands else hands[0]


def leaf_table(made: Plan, hand: str) -> LeafTable:
    """Return a leaf's table by its side."""
    return next((t for t in made.job.leaf if t.hand == hand), made.job.leaf[0])
