"""The figures' pages: all of them by trade, and the card of one, worked with what was typed.

Everything typed stands in the address, so that a worked figure can be kept, sent and printed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import Response

from leafwright import figures
from leafwright.figures import Figure, FigureError, Worked
from leafwright.say import sentence
from leafwright.units.typed import nearest
from leafwright.web.fields import section_names
from leafwright.web.figure_forms import (
    FIRST_ROWS,
    FOR,
    MORE_ROWS,
    MOST_ROWS,
    ROWS,
    grows,
    parts_of,
    told_apart,
    typed_in,
)
from leafwright.web.figure_sheet import result_table, shown_inputs, shown_results, shown_steps
from leafwright.web.lettered import heading, prose, title
from leafwright.web.site import page

# ---------------------------------------------------------------- the list


@dataclass(frozen=True, slots=True)
class Entry:
    """A figure in the list; ``words`` are all that it is found by, in small letters."""

    address: str
    title: Markup
    quantity: Markup
    source: Markup
    words: str
    is_worked: bool


@dataclass(frozen=True, slots=True)
class Trade:
    """The figures of one subject of the trade."""

    id: str
    name: str
    entries: tuple[Entry, ...]


def found_figures(find: str = "") -> tuple[Trade, ...]:
    """Return the figures in which every word is found, by trade; all of them for no word."""
    wanted = find.lower().replace("_", " ").split()
    shown = []
    for trade in _trades():
        entries = tuple(e for e in trade.entries if all(word in e.words for word in wanted))
        if entries:
            shown.append(replace(trade, entries=entries))
    return tuple(shown)


@cache
def _trades() -> tuple[Trade, ...]:
    known = figures.figures()
    return tuple(
        Trade(
            subject.replace(" ", "-"),
            sentence(subject),
            tuple(
                _entry(figure)
                for figure in sorted(known, key=lambda f: bool(f.not_from_shell))
                if figure.subject == subject
            ),
        )
        for subject in figures.ORDER
    )


def _entry(figure: Figure) -> Entry:
    said = (figure.name, title(figure.name), figure.quantity, figure.source, figure.rule)
    words = " ".join((*said, figure.subject)).lower()
    return Entry(
        _address(figure.name),
        heading(figure.name),
        prose(figure.quantity),
        prose(figure.source),
        f"{words} {words.replace('_', ' ')}",
        not figure.not_from_shell,
    )


def _address(name: str) -> str:
    return f"/figures/{quote(name)}"


def _linked(name: str) -> str:
    """Return the address of the figure that a docstring names, or nothing."""
    known = _names()
    own = name.rpartition(".")[2]
    places = known.get(own, ())
    here = [full for full in places if full == name] or places
    return _address(here[0]) if len(here) == 1 else ""


@cache
def _names() -> Mapping[str, tuple[str, ...]]:
    """Return the names of the figures by the last part of each."""
    places: dict[str, tuple[str, ...]] = {}
    for figure in figures.figures():
        own = figure.name.rpartition(".")[2]
        places[own] = (*places.get(own, ()), figure.name)
    return places


# ---------------------------------------------------------------- the pages


def card_values(figure: Figure, pairs: Sequence[tuple[str, str]], today: date) -> dict[str, Any]:
    """Return what a figure's page shows: its card, its form, and the sheet where it was worked.

    pairs: what stands behind the ? of the address, in order. today: the day of the sheet.
    """
    asked = dict(pairs)
    typed = typed_in(figure, pairs)
    needs = any(a.otherwise == "" for a in figure.arguments)
    made: Worked | None = None
    problems: tuple[str, ...] = ()
    if not figure.not_from_shell and (pairs or not needs):
        try:
            made = figures.worked(figure.name, typed)
        except FigureError as error:
            # Who asks for more lines has not finished typing.
            problems = () if ROWS in asked else error.problems
    errors, rest = told_apart(figure, problems)
    rows = int(asked[ROWS]) if re.fullmatch(r"\d{1,2}", asked.get(ROWS, "")) else FIRST_ROWS
    rule = figure.rule.removeprefix(figure.source).lstrip(" :;.")
    is_metric = any(re.search(r"\d ?(mm|m|kN|MPa)\b", text) for text in typed.values())
    return {
        "figure": figure,
        "address": _address(figure.name),
        "title": title(figure.name),
        "heading": heading(figure.name),
        "quantity": prose(sentence(figure.quantity)),
        "source": prose(sentence(figure.source)) or "none is stated",
        "rule": prose(sentence(rule), _linked),
        "limits": prose(sentence(figure.limits), _linked),
        "refuses": prose(sentence(_refused(figure.refuses)), _linked),
        "cautions": [prose(c, _linked) for c in (made.cautions if made else figure.cautions)],
        "parts": parts_of(figure, typed, errors, rows),
        "problems": [prose(sentence(problem), _linked) for problem in rest],
        "wrong": len(errors),
        "more_rows": min(rows + MORE_ROWS, MOST_ROWS) if grows(figure) else 0,
        "for_what": asked.get(FOR, "").strip(),
        "sections": section_names(is_metric) if _takes_section(figure) else (),
        "made": made,
        "results": shown_results(made) if made else (),
        "table": result_table(made) if made else None,
        "inputs": shown_inputs(made) if made else (),
        "steps": shown_steps(made) if made else (),
        "trade": sentence(figure.subject),
        "trade_id": figure.subject.replace(" ", "-"),
        "today": today.isoformat(),
        "typed": bool(pairs),
    }


def _takes_section(figure: Figure) -> bool:
    return any(a.kind == "a section" for a in figure.arguments)


def _refused(refuses: str) -> str:
    words = re.sub(r"^Raises:?\s*\w*:?\s*(for )?", "", refuses)
    return re.sub(r"\s*Raises \w+ (for )?", " also ", words)


def router(today: Callable[[], date]) -> APIRouter:
    """Return the routes of the figures; ``today`` gives the day that a sheet is dated with."""
    routes = APIRouter(include_in_schema=False)

    def listed(find: str = "", *, error: str = "", status: int = 200) -> Response:
        trades = found_figures(find)
        return page(
            "figures.html",
            status,
            trades=trades,
            find=find,
            count=sum(len(trade.entries) for trade in trades),
            error=error,
        )

    @routes.get("/figures")
    def all_of_them(request: Request) -> Response:
        return listed(request.query_params.get("find", "").strip())

    @routes.get("/figures/{name}")
    def one(name: str, request: Request) -> Response:
        try:
            figure = figures.figure_named(name)
        except FigureError:
            near = nearest(name, [figure.name for figure in figures.figures()])
            words = f"There is no figure {name!r}{near}. These are all."
            return listed(error=words, status=404)
        pairs = request.query_params.multi_items()
        return page("figure.html", **card_values(figure, pairs, today()))

    return routes
