"""The sticks as a terminal shows them: what to buy, each stick with its running marks, what if."""

from __future__ import annotations

import argparse

from leafwright.documents.records import NestDocument
from leafwright.documents.sticks import (
    StickTold,
    asked_words,
    buy_words,
    case_told,
    least_words,
    money,
    nest_document,
    no_case_words,
    steel_name,
    sticks_told,
    unpriced_words,
    use_words,
)
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, kerf_words, sentence, words_of
from leafwright.shop.nest import Nest
from leafwright.shop.stock import SectionStock, Stock
from leafwright.shop.what_if import Asked
from leafwright.told.lines import (
    exit_code_of,
    heading_lines,
    held_lines,
    stop_lines,
    table,
    wrapped,
)


def told_nest(made: Plan, words: argparse.Namespace) -> tuple[NestDocument, str, int]:
    """Return the sticks as a document, as text and as an exit code, with what was asked of them.

    Raises:
        ValueError: the question cannot be; it says what would do.
    """
    asked = None
    if words.without is not None:
        asked = Asked("without", what=words.without)
    elif words.short is not None:
        asked = Asked("short", count=words.short)
    elif words.rack_only:
        asked = Asked("rack only")
    document = nest_document(made, asked)
    return document, nest_text(made, document), nest_exit_code(document)


def nest_text(made: Plan, document: NestDocument) -> str:
    """Return the sticks of a plan for a person at a terminal."""
    words = words_of(made.job)
    lines = heading_lines(made, "sticks to buy and cut")
    lines += stop_lines(document.stops)
    found = document.stock
    if isinstance(found, Held):
        return "\n".join([*lines, *held_lines("Sticks", found)])
    if document.what_if is not None:
        lines += _what_if_lines(document, words)
        return "\n".join(lines)
    if document.cost is not None and len(found.sections) > 1:
        lines += [f"All of it: {money(document.cost, document.currency)}", ""]
    lines += wrapped(saw_words(found, words), "  ", first="")
    lines.append("")
    for one in found.sections:
        lines += _section_lines(one, words, document.currency)
    if any(use.straight for one in found.sections for use in sticks_told(one, words)):
        lines += wrapped(f"* {document.straight_rule}", "  ", first="")
    return "\n".join(lines)


def saw_words(found: Stock, words: Words) -> str:
    """Return what the saw and the mill ends take, and how the marks run."""
    shares = "" if found.shares_cuts else " No two ends share a cut, as the job says."
    return (
        f"{words.length(found.end_trim)} of mill end comes off both ends; a square cut takes "
        f"{kerf_words(found.kerf, words)}, a slanted one more along the stick. Marks run from the "
        f"stick's uncut end: hook the tape once. Lengths are long point to long point.{shares}"
    )


def _section_lines(one: SectionStock, words: Words, currency: str) -> list[str]:
    if isinstance(one.nest, Held):
        return [*held_lines(steel_name(one), one.nest), ""]
    lines = wrapped(f"{steel_name(one)}: {buy_words(one)}, {words.mass(one.mass)}", "  ", first="")
    lines += wrapped(sentence(least_words(one, words, currency)) + ".", "  ")
    if unpriced_words(one):
        lines += wrapped(unpriced_words(one), "  ")
    rows = [use_words(use, words, currency) for use in one.sticks]
    lines += table(("stick", "how many", "weight", "cost"), [(b, a, c, d) for a, b, c, d in rows])
    lines += _nest_words(one.nest, words)
    for stick in sticks_told(one, words):
        lines += ["", *_stick_lines(stick)]
    return [*lines, ""]


def _nest_words(nest: Nest, words: Words) -> list[str]:
    parts = [f"{nest.set_ups} different layouts"]
    if nest.longest_drop > 0:
        parts.append(f"longest drop {words.length(nest.longest_drop)}")
    if nest.shared_cuts:
        parts.append(f"{nest.shared_cuts} cuts shared by two pieces")
    return wrapped(sentence(", ".join(parts)) + ".", "  ")


def _stick_lines(stick: StickTold) -> list[str]:
    mark = " * pick it straight" if stick.straight else ""
    rows = [(f"  {p.mark}", p.length, p.begins, p.ends, p.note) for p in stick.pieces]
    lines = [f"  Stick {stick.number}, {stick.label}, drop {stick.drop}{mark}"]
    return lines + table(("  piece", "long", "from", "to", ""), rows)


def _what_if_lines(document: NestDocument, words: Words) -> list[str]:
    answer = document.what_if
    assert answer is not None
    lines = [asked_words(answer.asked), ""]
    if not answer.cases:
        lines += wrapped(no_case_words(answer.asked), "  ")
    for case in answer.cases:
        told = case_told(case, words, document.currency)
        lines += wrapped(told.title, "  ", first="")
        for said in (*told.instead, *told.waits, *told.splices):
            lines += wrapped(said, "    ", first="  ")
        lines.append("")
    return lines


def nest_exit_code(document: NestDocument) -> int:
    """Return the exit code of the command: of the sticks' own checks and of what stops the saw."""
    return exit_code_of(document.checks, document.stops, held=isinstance(document.stock, Held))
