"""What a check asks to be written in the job file, told to one who types in fields, and where."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from leafwright.web.leaf_forms import leaf_keys
from leafwright.web.trade import ASKS, choice_words

#: Tables of the file whose keys a check may ask for, with what the page calls where they are; a
#: key of several is told by the first.
TABLES: tuple[tuple[str, str], ...] = (
    ("FloorPivot", "leaf"),
    ("BarrelHinge", "leaf"),
    ("Hold", "leaf"),
    ("Plate", "leaf"),
    ("Bolt", "leaf"),
    ("Infill", "leaf"),
    ("LeafTable", "leaf"),
    ("Anchor", "building"),
    ("Building", "building"),
    ("Site", "site"),
    ("Wind", "loads"),
    ("Loads", "loads"),
    ("Limits", "loads"),
    ("DoorwayTable", "doorway"),
    ("Power", "stock"),
    ("Welding", "stock"),
    ("StockTable", "stock"),
)
#: A table of the file by its name there: what it is called on the page, and where it is.
NAMES = {
    "building": ("The building", "building"),
    "building.anchor": ("The building, under Anchors", "building"),
    "site": ("How it is lifted, people, reach", "site"),
    "wind": ("Loads, limits, code and wind", "loads"),
    "loads": ("Loads, limits, code and wind", "loads"),
    "limits": ("Loads, limits, code and wind", "loads"),
    "basis": ("Loads, limits, code and wind", "loads"),
    "power": ("Stock, offcuts, saw and power", "stock"),
    "stock": ("Stock, offcuts, saw and power", "stock"),
    "welding": ("Stock, offcuts, saw and power", "stock"),
    "doorway": ("The doorway", "doorway"),
    "post": ("The building", "building"),
}
_PLACES = {
    "building": ("prove/building#under", "The building"),
    "loads": ("prove/loads#under", "Loads, limits, code and wind"),
    "site": ("hang#group-site", "How it is lifted, people, reach"),
    "stock": ("buy/stock#under", "Stock, offcuts, saw and power"),
    "doorway": ("shape#group-1", "The doorway"),
}
_GIVEN = re.compile(r"(?:\w+\.)?([a-z_]+) = (\[[^\]]*\]|\"[^\"]*\"|[0-9.]+)")
_TABLE = re.compile(r"\[+([a-z_.]+)\]+")
_KEY = re.compile(r"\b(?:[a-z]+\.)?([a-z]+(?:_[a-z]+)+)\b")


def _asked(key: str) -> tuple[str, str] | None:
    """Return how a key is asked for on the page and where, or None for no key."""
    for table, place in TABLES:
        if (table, key) in ASKS:
            return ASKS[table, key].label.rstrip("?"), place
    return None


def in_fields(text: str) -> str:
    """Return a check's words with every key and table of the file by its name on the page."""

    def given(match: re.Match[str]) -> str:
        asked = _asked(match[1])
        if asked is None:
            return match[0]
        values = [choice_words(match[1], v.strip(' "')) for v in match[2].strip("[]").split(",")]
        return f"“{asked[0]}”: {' and '.join(values)}"

    def table(match: re.Match[str]) -> str:
        if match[1] == "answer":
            return "answer"
        return f"“{NAMES[match[1]][0]}”" if match[1] in NAMES else match[0]

    def key(match: re.Match[str]) -> str:
        asked = _asked(match[1])
        return match[0] if asked is None else f"“{asked[0]}”"

    return _KEY.sub(key, _TABLE.sub(table, _GIVEN.sub(given, text)))


def written_at(text: str, about: str, data: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Return the pages where what a check asks for is typed: address below the job, and words.

    Args:
        text: what the check says to do, as for the file.
        about: the check's key; it begins with the leaf that it is about.
        data: the job's data.
    """
    found: dict[str, None] = {}
    for name in _TABLE.findall(text):
        if name in NAMES:
            found[NAMES[name][1]] = None
    for key in (*_KEY.findall(text), *(given[0] for given in _GIVEN.findall(text))):
        asked = _asked(key)
        if asked is not None:
            found[asked[1]] = None
    leaves = leaf_keys(data)
    own = next((leaf for leaf in leaves if leaf[0] == about.partition("/")[0]), None)
    leaf = next((leaf for leaf in leaves if leaf[0] == "both"), own or (leaves or (None,))[0])
    places = dict(_PLACES)
    if leaf is not None:
        places["leaf"] = (f"shape/leaf/{leaf[0]}#under", leaf[1])
    return tuple(places[place] for place in found if place in places)
