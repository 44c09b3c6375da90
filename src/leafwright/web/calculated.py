"""The calculation on the page: link by link, and the formulas of the check that was asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from leafwright.calculation import Line, calculation, lines_of
from leafwright.documents import Group
from leafwright.pipeline import Plan
from leafwright.records import Check, Verdict
from leafwright.say import Words, sentence, words_of
from leafwright.web.proven import CheckRow, check_row


@dataclass(frozen=True, slots=True)
class WorkedRow:
    """A check with the formulas behind it."""

    row: CheckRow
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class GroupLink:
    """A link of the load path to be opened: its number, and how its checks came out."""

    number: str
    title: str
    told: str
    here: bool


def worked_lines(made: Plan, key: str) -> tuple[Line, ...]:
    """Return the formulas of the check with a key; none without it."""
    system = words_of(made.job).system
    return tuple(
        line for check in made.checks if check.key == key for line in lines_of(check, system)
    )


def calculated_values(made: Plan, asked: Mapping[str, str]) -> dict[str, Any]:
    """Return what the page of the calculation shows: its groups, and the one that is open."""
    words = words_of(made.job)
    found = calculation(made)
    number = asked.get("group", "1")
    chosen = next((g for i, g in enumerate(found.groups, 1) if str(i) == number), found.groups[0])
    return {
        "basis": found.basis,
        "path": [
            GroupLink(str(i), g.title, _told(g.checks), g is chosen)
            for i, g in enumerate(found.groups, 1)
        ],
        "opened": chosen,
        "opened_words": [sentence(said) for said in chosen.words],
        "opened_checks": _rows(chosen, words),
    }


def _rows(group: Group, words: Words) -> list[WorkedRow]:
    return [
        WorkedRow(
            check_row(check, words),
            lines_of(check, words.system),
        )
        for check in group.checks
    ]


def _told(checks: tuple[Check, ...]) -> str:
    counts = [
        f"{count} {verdict.value}"
        for verdict in (Verdict.SHORT, Verdict.TIGHT, Verdict.ASK, Verdict.OK)
        if (count := sum(check.verdict is verdict for check in checks))
    ]
    return ", ".join(counts)
