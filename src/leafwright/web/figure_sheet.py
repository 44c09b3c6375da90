"""The sheet of a worked figure: what came out, what was put in, and the working between them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from leafwright.figures import Figure, PutIn, Result, Step, Worked
from leafwright.web.figure_forms import like_first
from leafwright.web.lettered import formula, numbers, prose, symbol


@dataclass(frozen=True, slots=True)
class Shown:
    """A value on the sheet: its name, its first spelling, the others, and what it is or whence."""

    name: Markup
    value: str
    others: tuple[str, ...]
    said: Markup
    is_default: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """One step of the working: its name, and each line of it behind its equals sign."""

    name: Markup
    because: Markup
    lines: tuple[Markup, ...]


def shown_results(made: Worked) -> tuple[Shown, ...]:
    """Return what came out, in both families of units; a number alone is named as the figure."""
    return tuple(_shown_result(made.figure, result) for result in made.results)


def _shown_result(figure: Figure, result: Result) -> Shown:
    # Words such as `may be used, ASD` are no name of a quantity.
    is_name = re.fullmatch(r"[\w.]+", result.name) is not None
    return Shown(
        symbol(result.name) if is_name else Markup("{}").format(result.name),
        result.customary,
        () if result.customary == result.metric else (result.metric,),
        prose(result.source) if result.name else prose(figure.quantity),
    )


@dataclass(frozen=True, slots=True)
class Table:
    """Results of many alike, each in a row: the names of the columns, then row by row."""

    columns: tuple[Markup, ...]
    rows: tuple[tuple[str, tuple[Shown, ...]], ...]


def result_table(made: Worked) -> Table | None:
    """Return results as a table where they are those of many alike, or nothing."""
    found = [(re.fullmatch(r"(\d+)\.(.+)", r.name), r) for r in made.results]
    rows: dict[str, dict[str, Shown]] = {}
    for match, result in found:
        if match is None:
            return None
        rows.setdefault(match[1], {})[match[2]] = _shown_result(made.figure, result)
    columns = list(next(iter(rows.values()), {}))
    if len(rows) < 2 or any(list(row) != columns for row in rows.values()):
        return None
    return Table(
        tuple(symbol(column) for column in columns),
        tuple((number, tuple(row.values())) for number, row in rows.items()),
    )


def shown_inputs(made: Worked) -> tuple[Shown, ...]:
    """Return what was put in: as typed, then in the units that it was not typed in."""
    meanings = {a.key: a.meaning for a in made.figure.arguments}
    shown = []
    for put in made.put_in:
        said = prose(meanings.get(like_first(put.key), ""))
        shown.append(Shown(symbol(put.key), *_spellings(put), said, is_default=not put.typed))
    return tuple(shown)


def _spellings(put: PutIn) -> tuple[str, tuple[str, ...]]:
    both = dict.fromkeys((put.customary, put.metric))
    if not put.typed:
        first, *rest = both
        return first, tuple(rest)
    return put.typed, tuple(other for other in both if _bare(other) != _bare(put.typed))


def _bare(text: str) -> str:
    """Return a quantity by which two spellings of it are told to be one."""
    plain = text.translate(str.maketrans("²³⁴·", "234 ")).replace("^", "").replace("lbf", "lb")
    return plain.replace(" ", "")


def shown_steps(made: Worked) -> tuple[Line, ...]:
    """Return the working line by line: the formula, the same with its numbers, what came of it."""
    return tuple(_line(step) for step in made.steps)


def _line(step: Step) -> Line:
    lines = [formula(step.formula)]
    if step.numbers not in (step.formula, step.result):
        lines.append(numbers(step.numbers))
    lines.append(Markup("<strong>{}</strong>").format(step.result))
    return Line(symbol(step.name) if step.name else Markup(), formula(step.because), tuple(lines))
