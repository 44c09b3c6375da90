"""The opening as found, told on a terminal: the verdict first, then each reading."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.chain import BAND_95
from leafwright.documents.of_plan import survey_defaults
from leafwright.documents.records import FloorOfLeaf, SurveyDocument
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, default_line, sentence, words_of
from leafwright.say_site import floor_words, head_words
from leafwright.survey import Adjusted, HeadOver, Rectangle, Survey
from leafwright.survey.doubt import Doubts, Group, Suspect
from leafwright.survey.examine import Examined
from leafwright.survey.further import FurtherReading
from leafwright.survey.words import called
from leafwright.told.lines import (
    exit_code_of,
    heading_lines,
    held_lines,
    stop_lines,
    table,
    wrapped,
)

VERDICT = {
    "agrees": "THE READINGS AGREE",
    "unverified": "UNVERIFIED",
    "none stands out": "THE READINGS DO NOT AGREE",
    "in doubt": "IN DOUBT",
    "ambiguous": "AMBIGUOUS",
}

#: What is said once the readings in doubt are set aside, by whether the rest then agree.
MENDED = {
    True: "Without what is in doubt the rest agree.",
    False: "Even without what is in doubt the rest do not quite agree.",
    None: "Without what is in doubt nothing checks the rest.",
}

#: How many ways in which a reading may have been misread are told.
MISREAD = 3

#: A rectangle's confidence is told in hundreds.
_HUNDRED = 100


def survey_exit_code(document: SurveyDocument) -> int:
    """Return how the opening stands, as an exit code."""
    held = isinstance(document.survey, Held)
    return exit_code_of(document.checks, document.stops, held=held)


def survey_text(made: Plan, document: SurveyDocument) -> str:
    """Return the opening as found, for a maker at a terminal."""
    words = words_of(made.job)
    lines = heading_lines(made, "the opening as found")
    if isinstance(document.survey, Held):
        return "\n".join([*lines, *held_lines("Opening", document.survey)])
    if isinstance(document.examined, Examined):
        lines += _verdict_lines(document.survey, document.examined, words)
    lines += stop_lines(document.stops)
    lines += _reading_lines(document.survey, document.examined, words)
    lines += ["", *_floor_lines(document.floors, words), *_head_lines(document.head, words)]
    if isinstance(document.examined, Examined):
        lines += largest_lines(document.examined.largest, words)
    lines += ["", "Taken by default (nothing in the job file changes what has no key here):"]
    lines += [f"  {default_line(q, words)}" for q in survey_defaults(document)]
    return "\n".join(lines)


# ---------------------------------------------------------------- what is in doubt


def doubt_lines(looked: Examined | Held) -> list[str]:
    """Return what is in doubt about the readings, in short; nothing where nothing is."""
    if isinstance(looked, Held) or looked.doubts.verdict in ("agrees", "unverified"):
        return []
    lines = wrapped(f"{sentence(looked.doubts.sentence)}.", "    ", first="  ")
    if looked.further:
        lines += wrapped(f"What would decide it best: {looked.further[0].words}.", "    ")
    return lines


def _verdict_lines(found: Survey, looked: Examined, words: Words) -> list[str]:
    doubts = looked.doubts
    said = f"{doubts.sentence}."
    if doubts.groups:
        count = sum(group.wrong for group in doubts.groups)
        said = "one of the readings is wrong." if count == 1 else f"{count} readings are wrong."
        if doubts.together is not None:
            said = "either these readings are wrong, or all that one tape read."
        said += f" {MENDED[doubts.mends]}"
    lines = [*wrapped(f"{VERDICT[doubts.verdict]}: {said}", "  ", first=""), ""]
    by_key = {one.key: one for one in doubts.suspects}
    if doubts.groups:
        lines += _group_lines(doubts.groups, by_key, words)
        if doubts.together is not None:
            lines += [*wrapped(f"{sentence(doubts.together.sentence)}.", "    ", first="  – "), ""]
        again = [by_key[key].called for key in doubts.first if key in by_key]
        if again:
            lines += wrapped(f"Read again: {'; '.join(again)}.")
        lines.append("")
    elif doubts.first:
        names = {a.observation.key: called(a.observation) for a in found.adjusted}
        lines += [*wrapped(f"Read again: {'; '.join(names[k] for k in doubts.first)}."), ""]
    if looked.further:
        lines += [*_further_lines(looked.further), ""]
    if doubts.opinion is not None:
        lines += [*_opinion_lines(found, doubts), ""]
    return lines


def _group_lines(groups: Sequence[Group], by_key: dict[str, Suspect], words: Words) -> list[str]:
    lines: list[str] = []
    for group in groups:
        ones = [by_key[key] for key in group.keys if key in by_key]
        if group.ambiguous:
            how = "One" if group.wrong == 1 else f"{group.wrong} or more"
            is_wrong = "is" if group.wrong == 1 else "are"
            lines.append(f"{how} of these {is_wrong} wrong, and the readings cannot tell which:")
        for one in ones:
            lines += _suspect_lines(one, words)
        lines.append("")
    return lines


def _suspect_lines(one: Suspect, words: Words) -> list[str]:
    lines = wrapped(f"{sentence(one.sentence)}.", "    ", first="  – ")
    band = BAND_95 * one.sd
    if not one.assumed:
        lines.append(
            f"    read {words.length(one.read)}; all the others say {words.length(one.fits)} "
            f"± {words.length(band)}"
        )
    for slip in one.misread[1:MISREAD]:
        lines += wrapped(f"or {slip.words}", "      ", first="    ")
    rows = [
        (span.name, words.length(span.with_all), words.length(span.without))
        for span in one.spans
        if words.length(span.with_all) != words.length(span.without)
    ]
    if rows:
        lines += table(("the opening", "with it", "without it"), rows, "    ")
    else:
        lines.append("    with or without it, the opening's sizes stay the same on the tape")
    return lines


def _further_lines(further: Sequence[FurtherReading]) -> list[str]:
    best, others = further[0], further[1:]
    if best.checks:
        lines = wrapped(f"To check the readings: {best.words}; {best.why}.", "  ", first="")
    else:
        share = f"{_HUNDRED * best.right:.0f} times in a hundred"
        lines = wrapped(
            f"To decide it best: {best.words}; {best.why}. The wrong one is then known {share}.",
            "  ",
            first="",
        )
    if others:
        lines += wrapped(f"Or: {'; or '.join(one.words for one in others)}.", "  ")
    return lines


def _opinion_lines(found: Survey, doubts: Doubts) -> list[str]:
    """Return what the estimate says that a wrong reading does not pull, in plain words."""
    opinion = doubts.opinion
    if opinion is None:
        return []
    names = {a.observation.key: called(a.observation) for a in found.adjusted}
    blamed = "; ".join(names.get(key, key) for key in opinion.against)
    start = "A second reckoning, in which a wrong reading cannot pull the right ones along, "
    if not opinion.against:
        end = "points to no reading: it does not settle the question."
    elif opinion.agrees:
        end = f"points the same way: it does not believe {blamed}."
    else:
        end = f"points elsewhere: it does not believe {blamed}. Trust neither until it is read."
    return wrapped(start + end, "  ", first="")


# ---------------------------------------------------------------- the readings


def _reading_lines(found: Survey, looked: Examined | Held, words: Words) -> list[str]:
    smallest: dict[str, float | None] = {}
    doubted: set[str] = set()
    if isinstance(looked, Examined):
        smallest = {one.key: one.smallest for one in looked.doubts.reliability}
        doubted = {one.key for one in looked.doubts.suspects}
    rows = [
        _row(a, smallest.get(a.observation.key), a.observation.key in doubted, words)
        for a in found.adjusted
        if not a.observation.assumed
    ]
    head = ("Readings", "read", "as adjusted", "by", "smallest mistake that shows", "")
    lines = table(head, rows, "")
    taken = [a.observation.words for a in found.adjusted if a.observation.assumed]
    if taken:
        lines += wrapped(f"Taken besides, with its own doubt: {'; '.join(taken)}.", "  ", first="")
    for a in found.set_aside:
        seen = a.observation
        fits = ""
        # A mark that is lost with its reading has no place, and nothing says what would fit.
        if math.isfinite(a.adjusted):
            fits = f"; the rest say {words.length(a.adjusted)}"
        lines += wrapped(
            f"Set aside: {seen.words}, read {words.length(a.read)}{fits} ({seen.set_aside}).",
            "  ",
            first="",
        )
    return lines


def _row(a: Adjusted, smallest: float | None, doubted: bool, words: Words) -> tuple[str, ...]:
    note = "IN DOUBT" if doubted else "unchecked" if smallest is None else ""
    return (
        f"  {a.observation.words}",
        words.length(a.read),
        words.length(a.adjusted),
        words.small(a.residual),
        "none would" if smallest is None else words.length(smallest),
        note,
    )


# ---------------------------------------------------------------- floor, head, largest


def _floor_lines(floors: tuple[FloorOfLeaf, ...] | Held, words: Words) -> list[str]:
    if isinstance(floors, Held):
        return held_lines("Floor under the leaves", floors)
    lines = []
    for floor in floors:
        name = "the leaf" if floor.key == "leaf" else f"the {floor.key} leaf"
        lines += wrapped(_of(f"Floor under {name}", floor_words(floor, words)), "  ", first="")
    return lines


def _head_lines(head: HeadOver | Held | None, words: Words) -> list[str]:
    if head is None:
        return ["Head: open above."]
    if isinstance(head, Held):
        return held_lines("Head", head)
    return wrapped(_of("Head", head_words(head, words)), "  ", first="")


def _of(name: str, said: str) -> str:
    return f"{name}: {said[0].lower()}{said[1:]}"


def largest_lines(largest: Rectangle | Held, words: Words, *, brief: bool = False) -> list[str]:
    """Return the largest rectangle that fits the opening, and what keeps it from being larger."""
    if isinstance(largest, Held):
        return held_lines("Largest rectangle that fits", largest)
    sure = f"{_HUNDRED * largest.confidence:g} %"
    said = (
        f"Largest rectangle that fits, {sure} sure: {words.length(largest.width)} wide, "
        f"{words.length(largest.height)} high"
    )
    if brief:
        return [f"  {said[0].lower()}{said[1:]}"]
    wide, high = largest.governed_by
    return wrapped(
        f"{said}; its lower left corner {words.length(largest.left)} right of BL and "
        f"{words.length(largest.bottom)} up. It is narrowest {wide}; lowest {high}.",
        "  ",
        first="",
    )
