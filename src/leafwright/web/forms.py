"""Forms made from the job's model: what is there to be changed, what may be put in or taken out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from leafwright.job.positions import Path
from leafwright.say import sentence
from leafwright.web.fields import Field, Sheet, dotted, new_name, written
from leafwright.web.schema import Slot, kind_of, slots, value_at
from leafwright.web.trade import ENTRIES, ask_of, choice_words

#: Keys of a table of prices that have a field; others are edited in the file.
PRICE_KEY = re.compile(r"[A-Za-z_][A-Za-z0-9_-]{0,39}")


@dataclass(frozen=True, slots=True)
class Button:
    """Something that is done at once to a place: ``spoken`` says of what, for a screen reader."""

    action: str
    place: str
    words: str
    spoken: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """Some fields under one title.

    Where ``place`` is given they are saved together, as something new that is put in there; else
    each is saved as it is left.
    """

    id: str
    title: str
    fields: tuple[Field, ...]
    told: str = ""
    buttons: tuple[Button, ...] = ()
    place: str = ""
    hidden: tuple[tuple[str, str], ...] = ()
    button: str = "Save"
    error: str = ""

    @property
    def wrong(self) -> bool:
        """Whether something in it was refused."""
        return bool(self.error) or any(f.error for f in self.fields)


@dataclass(frozen=True, slots=True)
class Group:
    """Forms that belong together; ``adds`` are folded away, ``choose`` is a kind to change to."""

    id: str
    title: str
    told: str = ""
    forms: tuple[Form, ...] = ()
    adds: tuple[Form, ...] = ()
    buttons: tuple[Button, ...] = ()
    choose: Field | None = None
    opened: bool = False

    @property
    def open(self) -> bool:
        """Whether it is shown unfolded."""
        return self.opened or any(form.wrong for form in (*self.forms, *self.adds))


def field_of(
    sheet: Sheet,
    where: Path,
    slot: Slot,
    *,
    shared: Any = None,
    new: bool = False,
    value: Any = None,
    panels: int = 1,
) -> Field:
    """Return the field of one key.

    Args:
        sheet: the job's fields.
        where: the table that the key stands in, or that is to be put in.
        slot: the key.
        shared: what holds for all leaves where nothing is written here.
        new: whether the table is not there yet.
        value: what a new field begins with.
        panels: how many panels the leaf has.
    """
    ask = ask_of(slot.table, slot.key)
    place = (*where, slot.key)
    empty, blank = ask.empty, ask.empty or "not said"
    if shared is not None:
        said = choice_words(slot.key, written(shared))
        empty, blank = f"{sheet.shared_words}: {said}", f"{said}, {sheet.shared_words}"
    elif slot.default == "unknown":
        empty, blank = "left empty, it is unknown", "not said: unknown"
    elif not empty and slot.default not in (None, ""):
        said = choice_words(slot.key, written(slot.default))
        empty, blank = f"by default {said}", f"{said}, by default"
    default = ask.default if shared is None else ""
    choices = choices_of(slot, panels)
    if choices:
        blank = "choose" if slot.needed and new else blank
        if not slot.needed or new or shared is not None:
            choices = (("", blank), *choices)
        empty = ""
    like = f"like {slot.example}" if slot.example and slot.kind not in ("length", "date") else ""
    helps = [
        "needed" if slot.needed and new and not choices else "",
        ask.help or like,
        "" if default else empty,
    ]
    kinds = {"choice": "choice", "panel": "choice", "yes-no": "choice", "length": "length"}
    kinds |= {"date": "date", "whole": "number", "number": "number"}
    return sheet.field(
        place,
        ask.label,
        ask.kind or kinds.get(slot.kind, "text"),
        default=default,
        choices=choices,
        help="; ".join(filter(None, helps)),
        name=new_name(where, slot.key) if new else "",
        value=written(value) if new else None,
    )


def choices_of(slot: Slot, panels: int = 1) -> tuple[tuple[str, str], ...]:
    """Return what may be chosen for a key, each with its words."""
    if slot.kind == "yes-no":
        return tuple((word, choice_words(slot.key, word)) for word in ("yes", "no"))
    if slot.kind not in ("choice", "panel"):
        return ()
    found = [(word, choice_words(slot.key, word)) for word in slot.choices]
    if slot.kind == "panel":
        found += [
            (str(n), f"panel {n}" + (", the lowest" if n == 1 else ""))
            for n in range(1, panels + 1)
        ]
    return tuple(found)


def table_fields(
    sheet: Sheet,
    model: type[BaseModel],
    where: Path,
    *,
    keys: Sequence[str] = (),
    shared: Mapping[str, Any] | None = None,
    new: bool = False,
    values: Mapping[str, Any] | None = None,
    panels: int = 1,
) -> tuple[Field, ...]:
    """Return the fields of a table's own keys, or of those that are named; tables in it are not."""
    found = []
    for key, slot in _in_order(slots(model)):
        if keys and key not in keys:
            continue
        if slot.kind in ("table", "tables", "rates") or (key == "kind" and kind_of(model)):
            continue
        if slot.kind == "corner":
            found += corner_fields(sheet, where, slot, new=new)
            continue
        found.append(
            field_of(
                sheet,
                where,
                slot,
                shared=(shared or {}).get(key),
                new=new,
                value=(values or {}).get(key),
                panels=panels,
            )
        )
    return tuple(found)


#: Along which way each of the three lengths of a corner is, from the bottom left corner.
AXES = ("how far right", "how far up", "how far toward you")


def corner_fields(sheet: Sheet, where: Path, slot: Slot, *, new: bool) -> list[Field]:
    """Return the three fields of one corner of a box."""
    label = ask_of(slot.table, slot.key).label
    return [
        sheet.field(
            (*where, slot.key, axis),
            f"{label}: {words}",
            name=f"{new_name(where, slot.key)}.{axis}" if new else "",
            value="" if new else None,
        )
        for axis, words in enumerate(AXES)
    ]


#: What is asked last of a reading, after what it was read between.
_LAST = ("is", "by", "sd", "on", "who", "set_aside", "note")


def _in_order(held: Mapping[str, Slot]) -> list[tuple[str, Slot]]:
    """Return a table's keys in the order in which a maker would say them."""
    keys = list(held.items())
    if "is" in held:
        keys.sort(key=lambda item: _LAST.index(item[0]) if item[0] in _LAST else -1)
    return keys


def add_form(
    sheet: Sheet,
    model: type[BaseModel],
    where: Path,
    title: str,
    *,
    values: Mapping[str, Any] | None = None,
    without: Iterable[str] = (),
    hidden: Iterable[tuple[str, str]] = (),
    told: str = "",
    button: str = "Put it in",
    panels: int = 1,
) -> Form:
    """Return the form by which a table, or an entry of a list, is put in at a place."""
    left_out = frozenset(without)
    fields = table_fields(sheet, model, where, new=True, values=values, panels=panels)
    kept = [f for f in fields if f.name.rpartition(".")[2] not in left_out]
    more = list(hidden)
    kind = kind_of(model)
    if kind:
        more.append((new_name(where, "kind"), kind))
        kept = [_of_kind(field, kind) for field in kept]
    tail = f"-{kind.replace(' ', '-')}" if kind else ""
    mine = not kind or sheet.typed.get(new_name(where, "kind"), kind) == kind
    return Form(
        f"put-{dotted(where).replace('.', '-')}{tail}",
        title,
        tuple(kept) if mine else tuple(_unmarked(field) for field in kept),
        told=told,
        place=dotted(where),
        hidden=tuple(more),
        button=button,
        error=sheet.errors.get(new_name(where, ""), "") if mine else "",
    )


def _of_kind(field: Field, kind: str) -> Field:
    """Return a field whose id no form of another kind on the page has."""
    return Field(
        field.name,
        field.label,
        field.kind,
        field.value,
        field.empty,
        field.choices,
        field.help,
        field.error,
        apart=kind,
    )


def _unmarked(field: Field) -> Field:
    """Return a field as nobody typed in it: what was refused was a form of another kind."""
    return Field(
        field.name,
        field.label,
        field.kind,
        "",
        field.empty,
        field.choices,
        field.help,
        apart=field.apart,
    )


def list_group(
    sheet: Sheet,
    model: type[BaseModel],
    where: Path,
    title: str,
    *,
    told: str = "",
    panels: int = 1,
    opened: bool = False,
    buttons: tuple[Button, ...] = (),
) -> Group:
    """Return a list of tables: each with its fields and a way out, and one more to be put in."""
    entries = value_at(sheet.data, where)
    forms = []
    for number, entry in enumerate(entries if isinstance(entries, list) else []):
        at: Path = (*where, number)
        name = entry_name(entry, number)
        forms.append(
            Form(
                "at-" + dotted(at).replace(".", "-"),
                name,
                table_fields(sheet, model, at, panels=panels),
                buttons=(take_out(at, name),),
            )
        )
    adding = add_form(sheet, model, where, f"Put in {_called(model)}", panels=panels)
    return Group(
        dotted(where).replace(".", "-"),
        title,
        told,
        tuple(forms),
        (adding,),
        buttons,
        opened=opened,
    )


def table_forms(
    sheet: Sheet,
    model: type[BaseModel],
    where: Path,
    *,
    shared: Mapping[str, Any] | None = None,
    title: str = "",
) -> tuple[tuple[Form, ...], tuple[Form, ...]]:
    """Return the form of a table that need not be there, or else the one that puts it in."""
    there = value_at(sheet.data, where)
    name = title or _called(model)
    if isinstance(there, dict) or shared:
        buttons = (take_out(where, name),) if isinstance(there, dict) else ()
        words = sentence(re.sub(r"^(an?|the) ", "", name))
        fields = table_fields(sheet, model, where, shared=shared)
        at = "at-" + dotted(where).replace(".", "-")
        return (Form(at, words, fields, buttons=buttons),), ()
    return (), (add_form(sheet, model, where, f"Put in {name}"),)


def take_out(where: Path, name: str, words: str = "Take it out") -> Button:
    """Return the button that takes out what stands at a place."""
    return Button("take-out", dotted(where), words, f"{words}: {name}")


def _called(model: type[BaseModel]) -> str:
    return ENTRIES.get(model.__name__, f"a {model.__name__.lower()}")


def entry_name(entry: Any, number: int) -> str:
    """Return what an entry of a list is called: by its name, or by what it is and where."""
    if not isinstance(entry, dict):
        return f"Number {number + 1}"
    for key in ("name", "section", "says"):
        if isinstance(entry.get(key), str) and "pattern" not in entry:
            return str(entry[key])
    what = str(entry.get("kind") or entry.get("pattern") or f"number {number + 1}")
    panel = str(entry.get("panel", "each"))
    where = choice_words("panel", panel)
    where = f"panel {panel}" if panel.isdigit() else where
    if "kind" in entry:
        return f"{what} on {choice_words('on', str(entry.get('on', 'back')))}, {where}"
    return f"{what}, {where}"


def price_group(sheet: Sheet) -> Group:
    """Return the prices: any name may have one."""
    prices = value_at(sheet.data, ("price",))
    forms = []
    for key in prices if isinstance(prices, dict) else ():
        if PRICE_KEY.fullmatch(key):
            name = key.replace("_", " ")
            field = sheet.field(("price", key), sentence(name), "text")
            forms.append(
                Form(f"at-price-{key}", "", (field,), buttons=(take_out(("price", key), name),))
            )
    fields = (
        sheet.field(
            ("price",),
            "For what",
            "rate",
            name=new_name(("price",), "name"),
            value="",
            help="a name of one word, as frame_tube or shop",
        ),
        sheet.field(
            ("price",),
            "Price",
            "text",
            name=new_name(("price",), "rate"),
            value="",
            help="for its unit, like 1.15 /lb, 9.50 /ft2, 95 /h or 240 /day",
        ),
    )
    adding = Form(
        "put-price",
        "Put in a price",
        fields,
        place="price",
        button="Put it in",
        error=sheet.errors.get(new_name(("price",), ""), ""),
    )
    return Group("price", "Prices", "", tuple(forms), (adding,), opened=True)
