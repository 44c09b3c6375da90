"""Two texts that grew from one, merged key by key; only edits of the same key conflict."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Any

from leafwright.job.positions import Path
from leafwright.job.store.edit import Edit, EditError, edited
from leafwright.job.store.plain import data_of, is_tables, same
from leafwright.job.store.records import ConflictKey

#: What tells the entries of a list of tables apart; those with the same are counted on.
IDENTITY: dict[Path, tuple[str, ...]] = {
    ("reading",): ("kind", "from", "to", "at", "leaf", "out", "x", "z"),
    ("fit_up",): ("kind", "leaf", "stage", "from", "to", "at", "x", "y"),
    ("hung",): ("kind", "leaf", "where", "at", "angle", "direction"),
    ("mark",): ("name",),
    ("obstacle",): ("name",),
    ("section",): ("name",),
    ("grade",): ("name",),
    ("answer",): ("about",),
}


#: More edits than this are not merged but shown as one conflict: each takes its time.
MOST_EDITS = 300


@dataclass(frozen=True, slots=True)
class Merged:
    """Both texts in one.

    Attributes:
        text: theirs with my edits in it; as theirs where there are conflicts.
        conflicts: the keys that both changed, each to something else.
        left_out: whether my text has remarks of its own that the merged text may not have.
    """

    text: str
    conflicts: tuple[ConflictKey, ...]
    left_out: bool


def merged(before: str, theirs: str, mine: str) -> Merged:
    """Return what two texts are together that were both edited from one.

    A table is merged key by key, but for one whose ``kind`` either side changed, which is a value
    of its own. A list of tables is merged entry by entry: readings, marks, sections, grades and
    answers by what tells them apart (`IDENTITY`), others by position where neither changed their
    number; entries that one side put in between unchanged ones are kept, theirs before mine, and
    the same entry put in by both once. Any other list is one value.

    Args:
        before: the text that both were edited from.
        theirs: the text that is there now; its remarks and its order are kept.
        mine: the text to bring in.
    """
    if same(theirs, before) or same(theirs, mine):
        return Merged(mine, (), False)
    if same(mine, before):
        return Merged(theirs, (), False)
    whole = Merged(theirs, (ConflictKey((), theirs, mine, before),), False)
    read = [data_of(text) for text in (before, theirs, mine)]
    if None in read:
        return whole
    comparison = _Comparison([], [], mine)
    _compare(comparison, (*read,), ((), (), ()))
    if comparison.conflicts:
        return Merged(theirs, tuple(comparison.conflicts), False)
    if len(comparison.edits) > MOST_EDITS:
        return whole
    try:
        text = edited(theirs, _in_order(comparison.edits))
    except EditError:
        return whole
    return Merged(text, (), _has_more_remarks(mine, (before, text)))


def differences(theirs: str, mine: str) -> tuple[ConflictKey, ...]:
    """Return every key in which two texts differ of which no common start is known."""
    one, other = data_of(theirs), data_of(mine)
    if one is None or other is None or same(one, other):
        return (ConflictKey((), theirs, mine, None),)
    found: list[ConflictKey] = []
    _differ(found, one, other, ())
    return tuple(found)


def _differ(found: list[ConflictKey], theirs: Any, mine: Any, where: Path) -> None:
    if same(theirs, mine):
        return
    if isinstance(theirs, dict) and isinstance(mine, dict):
        for key in [*theirs, *(key for key in mine if key not in theirs)]:
            _differ(found, theirs.get(key), mine.get(key), (*where, key))
    elif is_tables(theirs) and is_tables(mine) and len(theirs) == len(mine):
        for number, (one, other) in enumerate(zip(theirs, mine, strict=True)):
            _differ(found, one, other, (*where, number))
    else:
        found.append(ConflictKey(where, theirs, mine, None))


def _has_more_remarks(text: str, others: tuple[str, str]) -> bool:
    """Return whether a text has lines with a remark that stand in none of the others."""
    known = {line.strip() for other in others for line in other.split("\n")}
    return any("#" in line and line.strip() not in known for line in text.split("\n"))


@dataclass(frozen=True, slots=True)
class _Comparison:
    """What was found so far: my edits in the places of their text, and the conflicts."""

    edits: list[Edit]
    conflicts: list[ConflictKey]
    mine: str

    def edit(self, where: Path, value: Any, at: Path) -> None:
        self.edits.append(Edit(where, value, False, self.mine, (at,)))

    def insert(self, where: Path, entry: Any, at: Path) -> None:
        last = self.edits[-1] if self.edits else None
        if last is not None and last.insert and last.where == where:
            both = Edit(where, [*last.value, entry], True, self.mine, (*last.at, at))
            self.edits[-1] = both
        else:
            self.edits.append(Edit(where, [entry], True, self.mine, (at,)))


_Values = tuple[Any, ...]
_Places = tuple[Path, Path, Path]


def _compare(found: _Comparison, values: _Values, places: _Places) -> None:
    """Find my edits between three values: before, theirs and mine; None is an absent one."""
    before, theirs, mine = values
    if same(mine, before) or same(mine, theirs):
        return
    if isinstance(theirs, dict) and isinstance(mine, dict) and _is_one_table(*values):
        start = before or {}
        for key in [*start, *(key for key in mine if key not in start)]:
            inner = tuple(side.get(key) for side in (start, theirs, mine))
            _compare(found, inner, _down(places, key, key, key))
    elif _are_tables(values) and _compare_entries(found, values, places):
        return
    elif same(theirs, before):
        found.edit(places[1], mine, places[2])
    else:
        where = places[0] if theirs is None else places[1]
        found.conflicts.append(ConflictKey(where, theirs, mine, before))


def _is_one_table(before: Any, theirs: Any, mine: Any) -> bool:
    if before is None:
        return bool(same(theirs.get("kind"), mine.get("kind")))
    if not isinstance(before, dict):
        return False
    kind = before.get("kind")
    return same(theirs.get("kind"), kind) and same(mine.get("kind"), kind)


def _are_tables(values: _Values) -> bool:
    """Return whether all are lists of tables; an absent one counts as one without entries."""
    return all(value is None or is_tables(value) for value in values)


def _down(places: _Places, *keys: str | int) -> _Places:
    before, theirs, mine = ((*place, key) for place, key in zip(places, keys, strict=True))
    return before, theirs, mine


def _compare_entries(found: _Comparison, values: _Values, places: _Places) -> bool:
    """Find my edits between lists of tables; False where they can only be taken as one value."""
    before, theirs, mine = (value or [] for value in values)
    if not before and not theirs:
        found.edit(places[1], mine, places[2])
        return True
    keys = IDENTITY.get(places[0], ())
    of_theirs, of_mine = _aligned(before, theirs, keys), _aligned(before, mine, keys)
    if of_theirs is None or of_mine is None:
        return False
    for number, entry in enumerate(before):
        one = of_theirs.index(number) if number in of_theirs else None
        other = of_mine.index(number) if number in of_mine else None
        inner = (
            entry,
            None if one is None else theirs[one],
            None if other is None else mine[other],
        )
        at = (number if one is None else one, number if other is None else other)
        _compare(found, inner, _down(places, number, *at))
    theirs_new = [theirs[i] for i, old in enumerate(of_theirs) if old is None]
    gap = 0
    for j, old in enumerate(of_mine):
        if old is not None:
            gap = of_theirs.index(old) + 1 if old in of_theirs else gap
            continue
        twin = next((i for i, entry in enumerate(theirs_new) if same(entry, mine[j])), None)
        if twin is not None:
            theirs_new.pop(twin)
            continue
        while gap < len(of_theirs) and of_theirs[gap] is None:
            gap += 1
        found.insert((*places[1], gap), mine[j], (*places[2], j))
    return True


def _aligned(before: list[Any], side: list[Any], keys: tuple[str, ...]) -> list[int | None] | None:
    """Return for each entry of a side which one it was before, None where it was put in.

    None altogether where that cannot be told: then the list is one value.
    """
    result: list[int | None] = [None] * len(side)
    if not keys:
        pairs = _by_position(before, side)
        if pairs is None:
            return None
        for i, j in pairs:
            result[j] = i
        return result
    old, new = _by_identity(before, keys), _by_identity(side, keys)
    for identity, numbers in new.items():
        was = old.get(identity, [])
        for i, j in _likeliest([before[i] for i in was], [side[j] for j in numbers]):
            result[numbers[j]] = was[i]
    return result


def _by_position(before: list[Any], side: list[Any]) -> list[tuple[int, int]] | None:
    """Return which entries belong together where nothing but their place tells them apart.

    As many as before are the same ones, edited. If there are more, those that were there must
    have stayed as they were.
    """
    if len(before) == len(side):
        return [(i, i) for i in range(len(before))]
    pairs: list[tuple[int, int]] = []
    for j, entry in enumerate(side):
        if len(pairs) < len(before) and same(entry, before[len(pairs)]):
            pairs.append((len(pairs), j))
    return pairs if len(pairs) == len(before) else None


def _by_identity(entries: list[Any], keys: tuple[str, ...]) -> dict[str, list[int]]:
    groups: dict[str, list[int]] = {}
    for number, entry in enumerate(entries):
        groups.setdefault(repr([entry.get(key) for key in keys]), []).append(number)
    return groups


def _likeliest(before: list[Any], side: list[Any]) -> list[tuple[int, int]]:
    """Return which entries of one identity belong together: first those that stayed as they were.

    Of those between, in order, the ones that have most keys alike.
    """
    one, other = ([_canonical(entry) for entry in entries] for entries in (before, side))
    pairs: list[tuple[int, int]] = []
    matcher = difflib.SequenceMatcher(None, one, other, autojunk=False)
    for how, i1, i2, j1, j2 in matcher.get_opcodes():
        if how == "equal":
            pairs += zip(range(i1, i2), range(j1, j2), strict=True)
        elif how == "replace":
            pairs += [(i1 + i, j1 + j) for i, j in _closest(before[i1:i2], side[j1:j2])]
    return pairs


def _closest(one: list[Any], other: list[Any]) -> list[tuple[int, int]]:
    """Return pairs in order, of all of the shorter list, that have most keys alike together."""
    if len(one) > len(other):
        return [(i, j) for j, i in _closest(other, one)]
    spare = len(other) - len(one)
    # best[i][k]: most that can be alike from one[i] and other[i + k] on.
    best = [[0] * (spare + 1) for _ in range(len(one) + 1)]
    for i in reversed(range(len(one))):
        for k in reversed(range(spare + 1)):
            paired = best[i + 1][k] + _alike(one[i], other[i + k])
            best[i][k] = max(paired, best[i][k + 1]) if k < spare else paired
    pairs: list[tuple[int, int]] = []
    k = 0
    for i in range(len(one)):
        while k < spare and best[i][k] != best[i + 1][k] + _alike(one[i], other[i + k]):
            k += 1
        pairs.append((i, i + k))
    return pairs


def _alike(one: dict[str, Any], other: dict[str, Any]) -> int:
    return sum(key in other and same(value, other[key]) for key, value in one.items())


def _canonical(value: Any) -> str:
    """Return a text that is the same for two values just where `same` holds."""
    if isinstance(value, dict):
        return repr([(key, _canonical(value[key])) for key in sorted(value)])
    if isinstance(value, list):
        return repr([_canonical(each) for each in value])
    return f"{type(value).__name__} {value!r}"


def _in_order(edits: list[Edit]) -> list[Edit]:
    """Return edits in an order in which none moves another's place.

    Values first; then entries from the last to the first, at one place out before in.
    """
    moves = [e for e in edits if e.insert or (e.value is None and isinstance(e.where[-1], int))]
    values = [e for e in edits if e not in moves]
    moves.sort(key=lambda e: e.insert)
    return values + sorted(moves, key=lambda e: e.where, reverse=True)
