"""The calculation on the page: link by link, and the formulas of the check that was asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from leafwright.documents.calculation import Line, calculation, lines_of
from leafwright.documents.records import Group
from leafwright.paper.sheets.common import desk
from leafwright.paper.sheets.mount_bottom import bottom_drawing
from leafwright.paper.sheets.mount_hinges import line_drawing
from leafwright.paper.sheets.mount_parts import Labels, mountings
from leafwright.paper.sheets.mount_top import top_drawing
from leafwright.pipeline import Plan
from leafwright.records import Check, Verdict
from leafwright.say import Words, sentence, words_of
from leafwright.web.pictures import picture
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


#: Which of a mount's links each drawing shows.
_BELOW = ("bottom pivot", "ball", "floor anchors", "vertical stack", "pin fits")
_ABOVE = ("top pivot", "head")
_HINGES = ("hinges", "post", "pin fits")


def link_picture(made: Plan, asked: Mapping[str, str]) -> tuple[Markup, str] | None:
    """Return the drawing of the open link of a mount, with its caption; None without one."""
    group = _opened(calculation(made).groups, asked)
    link = group.link
    at = desk(made)
    face = made.job.job.seen_from
    for mounting, _ in mountings(at):
        if mounting.key != group.leaf:
            continue
        hinged = mounting.table.mount.kind == "barrel hinge"
        if hinged and link in _HINGES:
            drawing, name = line_drawing(at, mounting, Labels()), "The hinge line"
        elif hinged:
            return None
        elif link in _BELOW:
            drawing, name = bottom_drawing(at, mounting, Labels()), "Bottom pivot, cut on its axis"
        elif link in _ABOVE:
            drawing, name = top_drawing(at, mounting, Labels()), "Top pivot, cut on its axis"
        else:
            return None
        caption = f"{name}, {mounting.who}, seen from the {face}."
        told = "To scale; each size stands with the checks and on its sheet of the packet."
        return picture(drawing, title=caption, description=told), caption
    return None


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
    chosen = _opened(found.groups, asked)
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


def _opened(groups: tuple[Group, ...], asked: Mapping[str, str]) -> Group:
    number = asked.get("group", "1")
    return next((g for i, g in enumerate(groups, 1) if str(i) == number), groups[0])


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
