"""The calculation on paper: every check with its formula, numbers, source and what to change."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass

from leafwright.documents.calculation import OTHERS_ANSWER, Line, calculation, lines_of
from leafwright.documents.records import Group
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.sheet import Sheet, area
from leafwright.paper.sheets.common import Desk, blank
from leafwright.paper.sheets.flow import Block, Boxed, Listed, Rows, Says, Title, flowed
from leafwright.records import Check
from leafwright.say import VERDICTS, check_source, sentence

#: A cell holds no more letters than this: on the smallest paper that is half of a sheet.
MOST = 1800


@dataclass(slots=True)
class _Told:
    """What the sheets have told so far: formulas by their words, checks of the first leaf."""

    formulas: dict[str, str]
    checks: dict[str, tuple[str, ...]]


def calculation_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return the calculation of a plan, link by link along the load's way to the building."""
    found = calculation(at.plan)
    later = blank(at, "Calculation", seen=False)
    told = _Told({}, {})
    blocks: list[Block] = [
        Says(
            f"By {found.basis}. Each check says what it takes and what there is, the rule, and the "
            "formulas with their numbers. A formula that was told with the same numbers before is "
            "not told again, nor a check of the second leaf that comes out like the first one's."
        )
    ]
    for group in found.groups:
        if group.title != OTHERS_ANSWER:
            blocks += _group_blocks(at, group, told)
    return flowed(later, area(later), lambda: later, blocks)


def _group_blocks(at: Desk, group: Group, told: _Told) -> Iterator[Block]:
    yield Title(group.title)
    rows, alike = _rows(at, group, told)
    if rows or not alike:
        for said in group.words:
            yield Says(sentence(said))
    if group.cautions:
        yield Boxed(Caution(f"{group.title}: mind", " ".join(map(sentence, group.cautions))))
    assumed = "; ".join(group.assumptions)
    if assumed and told.formulas.setdefault(assumed, group.title) == group.title:
        yield Says("Taken for granted:", height_mm=2.4, bold=True)
        yield Listed(group.assumptions, height_mm=2.4)
    if alike:
        yield Says("As on the other leaf, figure for figure:", height_mm=2.4, bold=True)
        yield Listed(tuple(alike), height_mm=2.4)
    if rows:
        yield Rows(
            Table(
                (
                    Column("", 12.0, bold=True),
                    Column("Asked", 58.0),
                    Column("Needs", 22.0, align="right"),
                    Column("Has", 22.0, align="right"),
                    Column("Ratio", 12.0, align="right"),
                    Column("How, by what rule, and what to change", 225.0),
                ),
                tuple(rows),
                height_mm=2.3,
                title_height_mm=2.4,
            )
        )


def _rows(at: Desk, group: Group, told: _Told) -> tuple[list[tuple[str, ...]], list[str]]:
    """Return the rows of a group, and what comes out as on the first leaf, to be named only."""
    rows: list[tuple[str, ...]] = []
    alike: list[str] = []
    for check in group.checks:
        figures = _figures(at, check)
        place = check.key.partition("/")[2] if group.leaf else check.key
        first = told.checks.setdefault(place, (group.leaf, *figures))
        if group.leaf and first[0] != group.leaf and first[1:] == figures:
            named = "" if " leaf" in check.subject else f"{check.subject}, "
            alike.append(f"{named}{check.question}")
            continue
        rows += _check_rows(at, check, figures, told.formulas)
    return rows, list(dict.fromkeys(alike))


def _figures(at: Desk, check: Check) -> tuple[str, ...]:
    words = at.words
    return (
        VERDICTS[check.verdict],
        "–" if check.demand is None else words.amount(check.demand, check.unit),
        "–" if check.available is None else words.amount(check.available, check.unit),
        "–" if check.ratio is None else f"{check.ratio:.2f}",
    )


def _check_rows(
    at: Desk, check: Check, figures: tuple[str, ...], told: dict[str, str]
) -> Iterator[tuple[str, ...]]:
    """Yield a check's rows: more than one where its formulas would not fit on one sheet."""
    asked = f"{sentence(check.subject)}: {check.question}"
    how = (
        _rule(check),
        *_formulas(check, lines_of(check, at.words.system), told),
        f"By {check_source(check)}.",
        f"To change: {check.change}." if check.change else "",
    )
    head = (figures[0], f"{asked} ({check.case})" if check.case else asked, *figures[1:])
    for chunk in _chunks([part for part in how if part]):
        yield (*head, chunk)
        head = ("",) * len(head)


def _chunks(parts: list[str]) -> Iterator[str]:
    """Yield lines put together to pieces that any sheet has room for."""
    held: list[str] = []
    for part in parts:
        for piece in textwrap.wrap(part, MOST, break_long_words=False, break_on_hyphens=False):
            if held and sum(map(len, held)) + len(piece) > MOST:
                yield "\n".join(held)
                held = []
            held.append(piece)
    if held:
        yield "\n".join(held)


def _rule(check: Check) -> str:
    return f"{sentence(check.rule)}." if check.rule else ""


def _formulas(check: Check, lines: tuple[Line, ...], told: dict[str, str]) -> list[str]:
    """Return the formulas with their numbers, or by which check they were told already."""
    here = f"{check.subject}, {check.question}"
    said, places = [], []
    for line in lines:
        words = _formula(line)
        before = told.setdefault(words, here)
        places.append(before)
        said.append(words if before == here else f"{sentence(line.quantity)}: as of {before}.")
    if lines and here not in places:
        return [f"Formulas and numbers as of {' and of '.join(dict.fromkeys(places))}."]
    return said


def _formula(line: Line) -> str:
    steps = "; ".join(line.steps or line.put_in)
    return f"{sentence(line.quantity)}: {steps}; so {line.result}."
