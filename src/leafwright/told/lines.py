"""Pieces of what is told on a terminal: headings, stops, checks, tables and numbered steps."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from leafwright.job.tape import tape_of
from leafwright.pipeline import Plan
from leafwright.records import Check, Held, Stop, Verdict
from leafwright.say import VERDICTS, Words, check_line, check_source, sentence
from leafwright.site.made import refit_words

#: Columns of a terminal that sentences are wrapped to [-].
WIDE = 98

#: What is nearer to nothing than this is told as nothing [m].
NOTHING = 1e-9

#: How a line that tells what to do at once begins.
MARK = "!"


def exit_code_of(checks: Sequence[Check], stops: Sequence[Stop], *, held: bool) -> int:
    """Return 0 where all checks are ok or tight, 3 where one is short, 4 where one must be asked.

    A stop, or something that was held, must be decided: 4 too.
    """
    verdicts = {check.verdict for check in checks}
    if Verdict.SHORT in verdicts:
        return 3
    return 4 if held or stops or Verdict.ASK in verdicts else 0


def held_lines(name: str, held: Held) -> list[str]:
    """Return why something was not done, and what it needs."""
    needs = f" It needs {'; '.join(held.needs)}." if held.needs else ""
    inside = name[: len(name) - len(name.lstrip())]
    return wrapped(
        f"{name.lstrip()}: held, because {held.why}.{needs}", f"{inside}  ", first=inside
    )


def wrapped(words: str, indent: str = "", *, first: str | None = None) -> list[str]:
    """Return a sentence on lines of a terminal's width.

    Args:
        words: the sentence.
        indent: what each line begins with.
        first: what the first line begins with, where that is another.
    """
    return textwrap.wrap(
        words,
        WIDE,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def steps(said: Sequence[str], indent: str = "  ") -> list[str]:
    """Return steps to be done one after the other, numbered."""
    lines = []
    for number, words in enumerate(said, start=1):
        lines += wrapped(words, f"{indent}   ", first=f"{indent}{number}. ")
    return lines


def cautions(said: Sequence[str], indent: str = "  ") -> list[str]:
    """Return cautions, each marked."""
    lines = []
    for words in said:
        lines += wrapped(sentence(words), f"{indent}  ", first=f"{indent}{MARK} ")
    return lines


def table(head: Sequence[str], rows: Sequence[Sequence[str]], indent: str = "  ") -> list[str]:
    """Return rows under their headings: the first column to the left, the others to the right."""
    whole = [head, *rows]
    wide = [max(len(row[i]) for row in whole) for i in range(len(head))]
    lines = []
    for row in whole:
        cells = [row[0].ljust(wide[0])]
        cells += [cell.rjust(size) for cell, size in zip(row[1:], wide[1:], strict=True)]
        lines.append(f"{indent}{'  '.join(cells)}".rstrip())
    return lines


def heading_lines(made: Plan, what: str) -> list[str]:
    """Return whose job it is, and what is told of it."""
    job = made.job.job
    head = f"{job.name}, revision {job.revision}: {what}, seen from the {job.seen_from}"
    return [head, "", *changed_lines(made)]


def changed_lines(made: Plan) -> list[str]:
    """Return what a leaf that is made changed of the other: told before all else."""
    if isinstance(made.doorway, Held):
        return []
    said = refit_words(made.doorway, tape=tape_of(made.job))
    return [*cautions([f"{words}." for words in said], ""), ""] if said else []


def stop_lines(stops: Sequence[Stop]) -> list[str]:
    """Return what stops the work, first things first."""
    lines = []
    for stop in stops:
        lines += wrapped(f"STOP: {stop.why}.", "  ", first="")
        lines += wrapped(f"To do: {stop.decide}.", "  ")
        lines.append("")
    return lines


def check_lines(checks: Sequence[Check], words: Words) -> list[str]:
    """Return every check that is not plainly ok, with what would mend it and its source."""
    lines: list[str] = []
    for check in checks:
        if check.verdict is Verdict.OK:
            continue
        lines += wrapped(
            check_line(check, words), "        ", first=f"  {VERDICTS[check.verdict]:5} "
        )
        mend = f"{check.change} " if check.change else ""
        lines += wrapped(f"{mend}[{check_source(check)}]", "        ")
    return lines


def leaf_name(key: str) -> str:
    """Return what a leaf is called at the head of its lines."""
    return "Leaf" if key == "leaf" else f"{key.capitalize()} leaf"
