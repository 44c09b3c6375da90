"""What the readings are worth on the page: which are in doubt, what would settle it, what fits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from leafwright.chain import BAND_95
from leafwright.documents.of_plan import survey_document
from leafwright.job.store import LogEntry
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, sentence, words_of
from leafwright.say_site import floor_words, head_words
from leafwright.survey import HeadOver, Survey
from leafwright.survey.doubt import Doubts, Group, Suspect
from leafwright.survey.examine import Examined
from leafwright.survey.fits import Rectangle
from leafwright.survey.further import FurtherReading
from leafwright.survey.observe import Observation, observations
from leafwright.survey.words import amount, called
from leafwright.web.entries import entry_form
from leafwright.web.fields import Sheet, written
from leafwright.web.forms import Form
from leafwright.web.planned import leaf_name

#: A reason for setting a reading aside has room for so many letters in the file.
LONGEST_REASON = 200

#: How many ways in which a reading may have been misread are told.
MISREAD = 3

_HEADINGS = {
    "in doubt": "A reading is in doubt",
    "ambiguous": "The readings cannot tell which is wrong",
    "none stands out": "The readings do not agree, and none stands out",
    "unverified": "Nothing checks these readings",
}


@dataclass(frozen=True, slots=True)
class Doubtful:
    """A reading in doubt, with what the opening is with it and without it.

    ``number`` is its place in the file, None for what was only assumed. ``reason`` is what its
    setting aside begins with; ``kept`` the day on which the maker kept it.
    """

    key: str
    number: int | None
    name: str
    told: str
    read: str
    fits: str
    or_else: tuple[str, ...]
    sizes: tuple[tuple[str, str, str], ...]
    reason: str
    kept: str


@dataclass(frozen=True, slots=True)
class DoubtGroup:
    """Readings of which some are wrong; ``told`` where it is not known which."""

    told: str
    ones: tuple[Doubtful, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A measurement worth making, with the form that adds it."""

    told: str
    form: Form


@dataclass(frozen=True, slots=True)
class DoubtPanel:
    """What is in doubt about the readings, what would settle it, and a second opinion."""

    heading: str
    told: tuple[str, ...]
    groups: tuple[DoubtGroup, ...]
    wanted: tuple[Wanted, ...]
    opinion: str


def doubt_panel(made: Plan, sheet: Sheet, log: Sequence[LogEntry]) -> DoubtPanel | None:
    """Return what is in doubt about the readings, or None where nothing is."""
    looked = made.examined
    if not isinstance(looked, Examined) or looked.doubts.verdict == "agrees":
        return None
    doubts, words = looked.doubts, words_of(made.job)
    seen = observations(made.job)[0]
    numbers = {one.key: n for n, one in enumerate(seen[: len(made.job.reading)])}
    by_key = {one.key: one for one in doubts.suspects}
    kept = _kept(log, sheet.data)

    def doubtful(one: Suspect) -> Doubtful:
        return _doubtful(one, numbers.get(one.key), words, kept)

    groups = tuple(
        DoubtGroup(
            _group_words(group), tuple(doubtful(by_key[k]) for k in group.keys if k in by_key)
        )
        for group in doubts.groups
    )
    told = [f"{sentence(doubts.sentence)}."] if not groups else []
    if groups and doubts.mends is False:
        told.append("Even without what is in doubt the rest do not quite agree.")
    if groups and doubts.mends is None:
        told.append("Without what is in doubt nothing checks the rest.")
    if groups and doubts.together is not None:
        told.append(f"{sentence(doubts.together.sentence)}.")
    wanted = tuple(
        Wanted(_wanted_words(one), form)
        for number, one in enumerate(looked.further)
        if (form := further_form(sheet, seen, one, number)) is not None
    )
    return DoubtPanel(
        _HEADINGS[doubts.verdict],
        tuple(told),
        groups,
        wanted,
        _opinion(doubts, {one.key: called(one) for one in seen}),
    )


def _kept(log: Sequence[LogEntry], data: Mapping[str, Any]) -> dict[str, str]:
    """Return the day on which each reading in doubt was kept as it now is, by key and text."""
    found: dict[str, str] = {}
    for entry in log:
        if entry.kind == "answer" and "kept" in entry.data:
            about = f"{entry.about}\n{entry.data.get('is', '')}"
            found[about] = entry.at[:10] if entry.data["kept"] else ""
    texts = {written(table.get("is")) for table in data.get("reading", [])}
    return {about: day for about, day in found.items() if about.partition("\n")[2] in texts}


def _doubtful(one: Suspect, number: int | None, words: Words, kept: Mapping[str, str]) -> Doubtful:
    told = f"{sentence(one.sentence)}."
    fits = f"{words.length(one.fits)} ± {words.length(BAND_95 * one.sd)}"
    days = [day for about, day in kept.items() if about.partition("\n")[0] == one.key and day]
    return Doubtful(
        one.key,
        number,
        one.called,
        told,
        "" if one.assumed else words.length(one.read),
        "" if one.assumed else fits,
        tuple(sentence(slip.words) for slip in one.misread[1:MISREAD]),
        tuple(
            (span.name, words.length(span.with_all), words.length(span.without))
            for span in one.spans
            if words.length(span.with_all) != words.length(span.without)
        ),
        _reason(one, words),
        days[-1] if days else "",
    )


def _reason(one: Suspect, words: Words) -> str:
    """Return why a reading would be set aside, as short as its field in the file."""
    fits = words.length(one.fits).replace("\u00a0", " ")
    size = amount(one.error, words.tape)
    way = "more" if one.error > 0.0 else "less"
    said = f"{size} {way} than all the others say; {fits} fits"
    if one.misread:
        said += f"; perhaps {one.misread[0].words}"
    return said[:LONGEST_REASON]


def _group_words(group: Group) -> str:
    if not group.ambiguous:
        return ""
    how = "One of these is" if group.wrong == 1 else f"{group.wrong} or more of these are"
    return f"{how} wrong, and the readings cannot tell which."


def _wanted_words(one: FurtherReading) -> str:
    return f"{sentence(one.words)}: {one.why}."


def _opinion(doubts: Doubts, names: Mapping[str, str]) -> str:
    """Return what the estimate says that a wrong reading does not pull along."""
    opinion = doubts.opinion
    if opinion is None:
        return ""
    blamed = "; ".join(names.get(key, key) for key in opinion.against)
    start = "Second opinion, by a reckoning that a wrong reading does not pull along: it "
    if not opinion.against:
        return f"{start}points to no reading, and does not settle it."
    if opinion.agrees:
        return f"{start}points the same way. It does not believe {blamed}."
    return f"{start}points elsewhere. It does not believe {blamed}. Trust neither until it is read."


# ---------------------------------------------------------------- one further measurement


def further_form(
    sheet: Sheet, seen: Sequence[Observation], one: FurtherReading, number: int
) -> Form | None:
    """Return the form that adds a measurement worth making, all settled but what is read."""
    ends = {"from": one.first, "to": one.second}
    tables: dict[str, dict[str, str]] = {
        "distance": {"kind": "distance", **ends},
        "rise": {"kind": "rise", **ends},
        "plumb": {"kind": "plumb", **ends},
        "offset": {"kind": "offset", "at": one.first, "from": one.second, "to": one.third},
    }
    table = tables.get(one.kind)
    if table is None:
        again = _again(sheet.data, seen, one)
        if again is None:
            return None
        table = again
    keys = ["toward"] if table["kind"] in ("plumb", "offset") else []
    return entry_form(
        sheet,
        ("reading",),
        f"further-{number}",
        sentence(one.words),
        {key: text for key, text in table.items() if key not in keys},
        keys=(*keys, "is", "by"),
        values={key: text for key, text in table.items() if key == "toward"},
        button="Add this reading",
    )


def _again(
    data: Mapping[str, Any], seen: Sequence[Observation], one: FurtherReading
) -> dict[str, str] | None:
    """Return the table of a reading that is to be taken again, without what was read."""
    for table, observed in zip(data.get("reading", []), seen, strict=False):
        if observed.set_aside or not one.words.startswith(f"read {called(observed)} again"):
            continue
        left_out = ("is", "sd", "on", "who", "set_aside", "note", "by")
        return {key: written(value) for key, value in table.items() if key not in left_out}
    return None


# ---------------------------------------------------------------- floor, head, largest


def room_lines(made: Plan) -> tuple[tuple[str, str], ...]:
    """Return the largest rectangle that fits, the floor under each leaf and the head, in words."""
    if not isinstance(made.survey, Survey):
        return ()
    words = words_of(made.job)
    rows: list[tuple[str, str]] = []
    if isinstance(made.examined, Examined):
        rows.append(("Largest rectangle that fits", largest_words(made.examined.largest, words)))
    told = survey_document(made)
    if isinstance(told.floors, Held):
        rows.append(("Floor", f"{sentence(told.floors.why)}."))
    else:
        rows += [
            (f"Floor under {_the(floor.key)}", floor_words(floor, words)) for floor in told.floors
        ]
    if isinstance(told.head, HeadOver):
        rows.append(("Head", head_words(told.head, words)))
    elif isinstance(told.head, Held):
        rows.append(("Head", f"{sentence(told.head.why)}."))
    return tuple(rows)


def _the(key: str) -> str:
    name = leaf_name(key)
    return name if name.startswith("the ") else f"the {name}"


def largest_words(largest: Rectangle | Held, words: Words) -> str:
    """Return the largest upright rectangle that fits, and what keeps it from being larger."""
    if isinstance(largest, Held):
        return f"None: {largest.why}."
    wide, high = largest.governed_by
    return (
        f"{words.length(largest.width)} wide, {words.length(largest.height)} high, "
        f"{100 * largest.confidence:g} % sure. Narrowest {wide}; lowest {high}."
    )
