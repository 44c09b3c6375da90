"""The fields of the page: each is a place in the job file, shown and kept exactly as typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any, get_args

from leafwright.handbook.catalogue import load_catalogue
from leafwright.job.defaults import DEFAULTS
from leafwright.job.errors import Problem
from leafwright.job.model import LeafTable
from leafwright.job.positions import Path
from leafwright.pipeline import Plan
from leafwright.say import words_of

#: What a field's name in a form begins with; the rest is its place, joined by dots.
PREFIX = "f."
Edit = tuple[Path, object]

_DATES = ("on", "surveyed", "until")
_WHOLE = ("crew", "count", "per_plate")


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that may be changed.

    ``kind`` is length, text, choice, section, list or heights; ``empty`` says what holds where
    nothing is written; ``error`` is what was wrong with what was typed.
    """

    name: str
    label: str
    kind: str
    value: str
    empty: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    help: str = ""
    error: str = ""

    @property
    def id(self) -> str:
        """The field's id on the page."""
        return "field-" + re.sub(r"[^a-z0-9]+", "-", self.name.lower())


def name_of(where: Path) -> str:
    """Return the name of the form field for a place in the job file."""
    return PREFIX + ".".join(str(part) for part in where)


def place_of(name: str) -> Path:
    """Return the place in the job file that a form field's name means."""
    parts = name.removeprefix(PREFIX).split(".")
    return tuple(int(p) if p.isdigit() else p for p in parts)


def value_at(data: Any, where: Path) -> Any:
    """Return what the job file's data holds at a place, or None."""
    here = data
    for part in where:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def written(value: Any) -> str:
    """Return a value of the job file as its field shows it: as typed."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(_entry(v) for v in value)
    return str(value)


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
    ):
        """Keep the job's data; ``typed`` and ``errors`` are by field name."""
        self.data = data
        self.made = made
        self.typed = typed or {}
        self.errors = errors or {}

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
    ) -> Field:
        """Return the field of one place."""
        name = name_of(where)
        value = self.typed.get(name, written(value_at(self.data, where)))
        if default and self.made is not None:
            rule = DEFAULTS[default]
            metric = self.made.job.job.system == "metric"
            size = rule.metric if metric else rule.inch
            words = words_of(self.made.job)
            told = {"m": words.amount(size, "m"), "kg": words.mass(size), "N": words.force(size)}
            empty = f"by default {told.get(rule.unit, f'{size:g}')}"
        error = self.errors.get(name, "")
        return Field(name, label, kind, value, empty, tuple(choices), help, error)

    def leaf_root(self, hand: str = "") -> Path:
        """Return where a leaf's choices are written: with those that leaves share, if any."""
        if isinstance(self.data.get("each_leaf"), dict):
            return ("each_leaf",)
        hands = [leaf.get("hand") for leaf in self.data.get("leaf", [])]
        return ("leaf", hands.index(hand) if hand in hands else 0)

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
        root = self.leaf_root(hand)
        corners = [(c, c) for c in get_args(LeafTable.model_fields["corners"].annotation)]
        swings = [("toward", "toward you"), ("away", "away from you"), ("both", "both ways")]
        return [
            self.field((*root, "frame"), "Section of the frame", "section"),
            self.field((*root, "corners"), "Corners", "choice", choices=corners),
            self.field((*root, "swing"), "Swings", "choice", choices=swings),
            self.mid_rails(hand),
        ]

    def mid_rails(self, hand: str = "") -> Field:
        """Return the field of the mid rails' heights."""
        return self.field(
            (*self.leaf_root(hand), "mid_rail"),
            "Mid rails at",
            "heights",
            empty="none",
            help="half, or heights of their centre lines from the leaf's bottom: 4 ft; 9 ft",
        )

    def bracing(self, hand: str = "") -> list[Field]:
        """Return the fields of a leaf's bracing, one set for each entry in the file."""
        root = self.leaf_root(hand)
        patterns = [(p, p) for p in ("none", "one diagonal", "X", "rod")]
        feet = [("", "not said"), ("hanging stile", "hanging stile")]
        feet.append(("closing stile", "meeting or closing stile"))
        fields = []
        entries = value_at(self.data, (*root, "brace")) or [{}]
        for number, entry in enumerate(entries):
            panel = entry.get("panel", "each")
            where = "each panel" if panel == "each" else f"panel {panel}" if panel else ""
            where = "the whole leaf" if panel == "whole leaf" else where
            at: Path = (*root, "brace", number)
            fields += [
                self.field((*at, "pattern"), f"Braces in {where}", "choice", choices=patterns),
                self.field((*at, "foot"), "Foot of the brace at", "choice", choices=feet),
                self.field((*at, "section"), "Brace section", "section", empty="as the frame"),
            ]
        return fields

    def loads(self) -> list[Field]:
        """Return the fields of loads and limits."""
        methods = [("ASD", "ASD"), ("LRFD", "LRFD")]
        return [
            self.field(("loads", "person"), "Person on the nose", "mass", default="person"),
            self.field(("loads", "push"), "Push at the handle", "force", default="push"),
            self.field(("limits", "nose_sag"), "Nose may sag", default="nose sag limit"),
            self.field(("limits", "racking"), "Nose may lean", default="racking limit"),
            self.field(("basis", "method"), "Method", "choice", choices=methods),
        ]

    def buying(self) -> list[Field]:
        """Return the fields of what is sold and what the saw takes."""
        return [
            self.field(
                ("stock", "lengths"), "Sold in lengths of", "list", help="as in 20 ft; 24 ft"
            ),
            self.field(("stock", "kerf"), "Saw cut", default="kerf"),
            self.field(("stock", "end_trim"), "Mill end cut off", default="end trim"),
        ]

    def header(self) -> list[Field]:
        """Return the fields of the job itself."""
        systems = [("feet-inch", "feet and inches"), ("metric", "millimetres")]
        return [
            self.field(("job", "name"), "Name", "text"),
            self.field(("job", "seen_from"), "Drawn as seen from the", "text"),
            self.field(("job", "system"), "Tape", "choice", choices=systems),
            self.field(("job", "revision"), "Revision", "text", empty="A"),
            self.field(("job", "note"), "Note", "note"),
        ]


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


def edits_of(typed: Mapping[str, str], data: dict[str, Any]) -> list[Edit]:
    """Return what a form changed in a job's data; a field left as it was is no edit."""
    edits: list[Edit] = []
    for name, text in typed.items():
        where = place_of(name)
        before = value_at(data, where)
        if text == written(before) or (before is None and not text.strip()):
            continue
        if not text.strip():
            edits.append((where, None))
        else:
            edits.append((where, _value(where, text)))
    return edits


def _value(where: Path, text: str) -> object:
    """Return what a field's text is in the file."""
    last = where[-1]
    if last == "mid_rail":
        heights = [part.strip() for part in re.split(r"[;\n]", text) if part.strip()]
        return [{"at": "half"} if h == "half" else {"height": h} for h in heights if h != "none"]
    if last == "lengths":
        return [part.strip() for part in re.split(r"[;\n]", text) if part.strip()]
    if last in _DATES:
        try:
            return date.fromisoformat(text.strip())
        except ValueError:
            return text
    if last in _WHOLE and text.strip().isdigit() and len(text) < 10:
        return int(text)
    if last in ("powered", "head") and text in ("yes", "no"):
        return text == "yes"
    return text


def errors_by_field(
    problems: Iterable[Problem], edits: Sequence[Edit]
) -> tuple[dict[str, str], list[str]]:
    """Return what is wrong, at the field where it is, and what is wrong elsewhere."""
    at: dict[str, str] = {}
    elsewhere: list[str] = []
    places = [where for where, _ in edits]
    for problem in problems:
        words = ". ".join(w for w in (problem.found, problem.would_do) if w)
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
