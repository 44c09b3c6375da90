"""The fields of the page: each is a place in the job file, shown and kept exactly as typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args

from leafwright.handbook.catalogue import load_catalogue
from leafwright.job.defaults import DEFAULTS
from leafwright.job.errors import Problem
from leafwright.job.model import LeafTable
from leafwright.job.positions import Path
from leafwright.job.words import MISSING
from leafwright.pipeline import Plan
from leafwright.say import sentence, words_of
from leafwright.units import show_angle
from leafwright.web.schema import model_of_kind, rail_of, slot_at, slots, value_at, value_of

#: What a field's name in a form begins with; the rest is its place, joined by dots.
PREFIX = "f."
#: The same for a field of something new, which is not saved before its whole form is sent.
NEW = "n."
Edit = tuple[Path, object]


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that may be changed.

    ``kind`` is how it is typed: length, text, note, choice, date, number, or the name of a list to
    pick from; ``empty`` says what holds where nothing is written; ``error`` is what was wrong with
    what was typed; ``apart`` tells it from a field of the same name in another form.
    """

    name: str
    label: str
    kind: str
    value: str
    empty: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    help: str = ""
    error: str = ""
    apart: str = ""

    @property
    def id(self) -> str:
        """The field's id on the page."""
        return field_id(f"{self.name}-{self.apart}")


def field_id(name: str) -> str:
    """Return the id on the page of the field of a name."""
    return "field-" + re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


def dotted(where: Path) -> str:
    """Return a place as a form names it: its parts joined by dots."""
    return ".".join(str(part) for part in where)


def name_of(where: Path) -> str:
    """Return the name of the form field for a place in the job file."""
    return PREFIX + dotted(where)


def new_name(where: Path, key: str) -> str:
    """Return the name of the form field for a key of something that is to be put in at a place."""
    return f"{NEW}{dotted(where)}.{key}"


def place_of(name: str) -> Path:
    """Return the place in the job file that a form field's name means."""
    parts = name.removeprefix(PREFIX).split(".")
    return tuple(int(p) if p.isdigit() and p.isascii() and len(p) < 7 else p for p in parts)


def written(value: Any) -> str:
    """Return a value of the job file as its field shows it: as typed."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(_entry(v) for v in value)
    return _entry(value)


def _entry(value: Any) -> str:
    if isinstance(value, dict):
        return str(value.get("height") or value.get("at") or "")
    return str(value)


# ---------------------------------------------------------------- what may be changed


class Sheet:
    """Makes the fields of one job: values from its data, typed ones and errors laid over."""

    def __init__(
        self,
        data: dict[str, Any],
        made: Plan | None,
        *,
        typed: Mapping[str, str] | None = None,
        errors: Mapping[str, str] | None = None,
        form: str = "",
    ):
        """Keep the job's data; ``typed`` and ``errors`` are by field name.

        ``form`` is the form that was refused, where many on a page put in the same things.
        """
        self.data = data
        self.made = made
        self.typed = typed or {}
        self.errors = errors or {}
        self.form = form

    def field(
        self,
        where: Path,
        label: str,
        kind: str = "length",
        *,
        default: str = "",
        empty: str = "",
        choices: Iterable[tuple[str, str]] = (),
        help: str = "",
        name: str = "",
        value: str | None = None,
    ) -> Field:
        """Return the field of one place; ``name`` and ``value`` are those of one that is new."""
        name = name or name_of(where)
        if value is None:
            value = written(value_at(self.data, where))
        value = self.typed.get(name, value)
        if default and self.made is not None:
            rule = DEFAULTS[default]
            metric = self.made.job.job.system == "metric"
            size = rule.metric if metric else rule.inch
            words = words_of(self.made.job)
            told = {
                "m": words.length(size),
                "kg": words.mass(size),
                "N": words.force(size),
                "rad": show_angle(size),
            }
            empty = f"by default {told.get(rule.unit, f'{size:g}')}"
            help = f"{help}; {empty}" if help else ""
        error = self.errors.get(name, "")
        return Field(name, label, kind, value, empty, tuple(choices), help, error)

    @property
    def shared_words(self) -> str:
        """How it is said that something holds for a leaf because all leaves share it."""
        return "as both leaves" if len(self.data.get("leaf", [])) > 1 else "as for every leaf"

    def leaf_number(self, hand: str) -> int:
        """Return which leaf of the file hangs on a side, the first where none does."""
        hands = [leaf.get("hand") for leaf in self.data.get("leaf", [])]
        return hands.index(hand) if hand in hands else 0

    def leaf_place(self, hand: str, key: str) -> Path:
        """Return where a choice of a leaf is written: its own, or else with what leaves share."""
        own: Path = ("leaf", self.leaf_number(hand))
        shared = self.data.get("each_leaf")
        if not isinstance(shared, dict) or (hand and value_at(self.data, (*own, key)) is not None):
            return (*own, key)
        return ("each_leaf", key)

    def gap(self, key: str) -> Field:
        """Return the field of a gap, by the key of the gap in the plan or in the file."""
        label, where, default, told = GAPS[key]
        return self.field(("doorway", where), label, default=default, empty=told)

    def doorway(self) -> list[Field]:
        """Return the fields of the doorway."""
        pair = [("single", "one leaf"), ("pair", "a pair"), ("unequal pair", "an unequal pair")]
        single = value_at(self.data, ("doorway", "leaves")) == "single"
        return [
            self.field(("doorway", "leaves"), "Leaves", "choice", choices=pair),
            self.field(("doorway", "leaf_height"), "Leaf height", empty="as high as fits"),
            self.gap("running"),
            self.gap("heel"),
            self.gap("closing" if single else "meeting"),
            self.gap("top"),
            self.gap("bottom"),
        ]

    def filler(self, which: str) -> list[Field]:
        """Return the fields of the jamb posts or of the transom."""
        name = "Jamb posts" if which == "jamb" else "Transom"
        return [
            self.field(("doorway", which, "section"), f"{name}: section", "section", empty="none"),
            self.field(("doorway", which, "shim"), f"{name}: shim behind", default=f"{which} shim"),
        ]

    def frame(self, hand: str = "") -> list[Field]:
        """Return the fields of a leaf's frame."""
        place = self.leaf_place
        corners = [(c, c) for c in get_args(LeafTable.model_fields["corners"].annotation)]
        swings = [("toward", "toward you"), ("away", "away from you"), ("both", "both ways")]
        return [
            self.field(place(hand, "frame"), "Section of the frame", "section"),
            self.field(place(hand, "corners"), "Corners", "choice", choices=corners),
            self.field(place(hand, "swing"), "Swings", "choice", choices=swings),
            self.mid_rails(hand),
        ]

    def mid_rails(self, hand: str = "") -> Field:
        """Return the field of the mid rails' heights."""
        return self.field(
            self.leaf_place(hand, "mid_rail"),
            "Mid rails at",
            "heights",
            empty="none",
            help="half, or heights of their centre lines from the leaf's bottom: 4 ft; 9 ft",
        )

    def bracing(self, hand: str = "") -> list[Field]:
        """Return the fields of a leaf's bracing, one set for each entry in the file."""
        root = self.leaf_place(hand, "brace")
        patterns = [(p, p) for p in ("none", "one diagonal", "X", "rod")]
        feet = [("", "not said"), ("hanging stile", "hanging stile")]
        feet.append(("closing stile", "meeting or closing stile"))
        fields = []
        entries = value_at(self.data, root) or [{}]
        for number, entry in enumerate(entries):
            panel = entry.get("panel", "each")
            where = "each panel" if panel == "each" else f"panel {panel}" if panel else ""
            where = "the whole leaf" if panel == "whole leaf" else where
            at: Path = (*root, number)
            fields += [
                self.field((*at, "pattern"), f"Braces in {where}", "choice", choices=patterns),
                self.field((*at, "foot"), "Foot of the brace at", "choice", choices=feet),
                self.field((*at, "section"), "Brace section", "section", empty="as the frame"),
            ]
        return fields


#: Gaps: label, key in the file, the default it takes, or what holds where nothing is written.
GAPS: dict[str, tuple[str, str, str, str]] = {
    "running": ("Running clearance", "running_clearance", "running clearance", ""),
    "heel": ("Heel gap", "heel_gap", "", "as the swing needs"),
    "meeting": ("Meeting gap", "meeting_gap", "meeting gap", ""),
    "closing": ("Closing gap", "closing_gap", "closing gap", ""),
    "top": ("Top gap", "top_gap", "top gap", ""),
    "bottom": ("Least gap over the floor", "bottom_gap", "bottom gap", ""),
}

#: Which field changes a gap of the plan, by the end of the gap's key.
GAP_OF_KEY = {
    "heel gap": "heel",
    "meeting gap": "meeting",
    "meeting gap as hung": "meeting",
    "meeting gap left": "meeting",
    "meeting gap left as hung": "meeting",
    "closing gap as hung": "closing",
    "closing gap": "closing",
    "top gap": "top",
    "floor clearance": "bottom",
    "deepest gap": "bottom",
}


@cache
def section_names(metric: bool) -> tuple[str, ...]:
    """Return names of tube to choose from; any other that the catalogue has may be typed."""
    wanted = "mm" if metric else "in"
    names = [
        size.designation
        for family in load_catalogue().families
        if family.shape == "rectangular tube" and family.unit == wanted
        for size in family.sizes
        if size.width == size.height and size.width < 0.13
    ]
    return tuple(dict.fromkeys(names))


# ---------------------------------------------------------------- what was changed


def typed_fields(form: Iterable[tuple[str, Any]]) -> dict[str, str]:
    """Return what was typed in a form's fields, by name; anything that is not text is left out."""
    return {
        name: value
        for name, value in form
        if name.startswith(PREFIX) and isinstance(value, str) and len(name) < 200
    }


def new_fields(form: Iterable[tuple[str, Any]]) -> dict[str, str]:
    """Return what was typed in the form of something new, by name."""
    return {
        name: value
        for name, value in form
        if name.startswith(NEW) and isinstance(value, str) and len(name) < 200
    }


def edits_of(typed: Mapping[str, str], data: Mapping[str, Any]) -> list[Edit]:
    """Return what a form changed in a job's data; a field left as it was is no edit."""
    edits: list[Edit] = []
    for name, text in typed.items():
        where = place_of(name)
        before = value_at(data, where)
        if text == written(before) or (before is None and not text.strip()):
            continue
        if not text.strip():
            edits += taken_out(where, data)
        elif len(where) > 1 and where[-2] == "mid_rail":
            edits.append((where, rail_of(text.strip())))
        else:
            edits.append((where, value_of(slot_at(where, data), text)))
    return edits


def taken_out(where: Path, data: Mapping[str, Any]) -> list[Edit]:
    """Return the edits that take out what stands at a place.

    The last entry of a leaf's own list leaves an empty list, for without one the leaf would have
    what all leaves have; the last key of a leaf's own mount goes with its table.
    """
    around = value_at(data, where[:-1])
    if where[0] == "leaf" and len(where) > 3 and around is not None and len(around) == 1:
        shared = value_at(data, ("each_leaf", *where[2:-1]))
        if isinstance(around, list) and shared is not None:
            # The list goes first: what stands behind its tables would go with them.
            return [(where[:-1], None), (where[:-1], [])]
        if isinstance(around, dict) and shared is not None:
            return taken_out(where[:-1], data)
    return [(where, None)]


def new_entry(where: Path, typed: Mapping[str, str], data: Mapping[str, Any]) -> Edit | None:
    """Return the edit that puts in what a form of something new holds, or None for no such place.

    Args:
        where: the list, or the table that is not there yet.
        typed: what was typed, by name.
        data: the job's data.
    """
    own = {
        name.removeprefix(new_name(where, "")): text.strip()
        for name, text in typed.items()
        if name.startswith(new_name(where, "")) and text.strip()
    }
    if where == ("price",):
        return (*where, own.get("name", "").replace(" ", "_")), own.get("rate", "")
    slot = slot_at(where, data)
    if slot is None or slot.kind not in ("table", "tables"):
        return None
    model = slot.models[0] if len(slot.models) == 1 else model_of_kind(slot, own.get("kind", ""))
    held = slots(model) if model else {}
    table: dict[str, object] = {
        key: value_of(held.get(key), text) for key, text in own.items() if "." not in key
    }
    for key, slot_of_key in held.items():
        corner = [own.get(f"{key}.{axis}", "") for axis in range(3)]
        if slot_of_key.kind == "corner" and any(corner):
            table[key] = corner
    if slot.kind == "table":
        return where, table
    entries = value_at(data, where)
    return (*where, len(entries) if isinstance(entries, list) else 0), table


def errors_of_new(
    problems: Iterable[Problem], where: Path, put_at: Path, typed: Mapping[str, str]
) -> tuple[dict[str, str], list[str]]:
    """Return what is wrong with something new, at its fields, and what is wrong elsewhere.

    Args:
        problems: everything wrong with the job as it would be.
        where: the list or table that the form puts something in at.
        put_at: where in the file it would stand.
        typed: what was typed, by name.
    """
    at: dict[str, str] = {}
    elsewhere: list[str] = []
    for problem in problems:
        words = words_on_page(problem)
        if problem.where[: len(put_at)] != put_at:
            elsewhere.append(words)
            continue
        rest = dotted(problem.where[len(put_at) :])
        names = [new_name(where, rest), new_name(where, rest.partition(".")[0])]
        # A corner that is not there at all is told at the first of its three fields.
        names.append(f"{names[-1]}.0")
        at.setdefault(next((name for name in names if name in typed), names[1]), words)
    if not at and elsewhere:
        at[new_name(where, "")] = elsewhere.pop(0)
    return at, elsewhere


#: What a problem says to one who writes the file, and what it says beside a field.
_ON_PAGE = (
    (r"^found ''$", "nothing is written"),
    (r"^write \w+ = ", "write "),
    (r"^write text in quotes$", "type it here"),
    (r"^write true or false$", "write 'yes' or 'no'"),
    (
        r"^write 1 \[\[leaf\]\] table, or ",
        "take the other [[leaf]] out under The file first, or give ",
    ),
    (
        r"^write (\d+) \[\[leaf\]\] tables, or ",
        r"put \1 [[leaf]] in under The file first, or give ",
    ),
    (r",? (?:in|without) quotes", ""),
    (r"give grade = … in its \[\[section\]\]", "say its steel where its sizes are"),
    (r"text with its unit,? like", "a number with its unit, as"),
    (r"give the size as a \[\[section\]\]", "give it as a size"),
    (r"\[\[grade\]\]", "steel"),
    (r"\[\[mark\]\] of this file", "mark of your own"),
)


def words_on_page(problem: Problem) -> str:
    """Return what is wrong and what would do, for one who types in fields and not in the file."""
    found = "this is needed" if problem.found == MISSING else problem.found
    would_do = problem.would_do
    for pattern, words in _ON_PAGE:
        found, would_do = re.sub(pattern, words, found), re.sub(pattern, words, would_do)
    # The value is named once: by what it was read as, or else as it was found.
    would_do = re.sub(r"^[A-Za-z ]+ ('[^']*'): (?=\1 )", "", would_do)
    value = found.removeprefix("found ")
    parts = (would_do,) if value != found and value in would_do else (found, would_do)
    told = ". ".join(sentence(part) for part in parts if part)
    return sentence(re.sub(r"`([^`]*)`", r"'\1'", told))


def errors_by_field(
    problems: Iterable[Problem], edits: Sequence[Edit]
) -> tuple[dict[str, str], list[str]]:
    """Return what is wrong, at the field where it is, and what is wrong elsewhere."""
    at: dict[str, str] = {}
    elsewhere: list[str] = []
    places = [where for where, _ in edits]
    for problem in problems:
        words = words_on_page(problem)
        fits = [
            where
            for where in places
            if problem.where[: len(where)] == where or where[: len(problem.where)] == problem.where
        ]
        if fits:
            best = max(fits, key=len)
            at.setdefault(name_of(best), words)
        elif len(places) == 1:
            at.setdefault(name_of(places[0]), words)
        else:
            elsewhere.append(words)
    return at, elsewhere
