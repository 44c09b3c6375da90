"""What is wrong with a job file, all of it at once, in the maker's words."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.job.positions import Path

#: A report writes out no more problems than this: past it, they are likely of one kind.
MOST_SHOWN = 100


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a job file.

    Attributes:
        where: tables and keys down to the value, as in ``("reading", 2, "is")``.
        line: line in the file, counted from 1; None where there is no file or no line.
        found: what was found there, in words.
        would_do: what would be read, in words; it may be empty.
    """

    where: Path
    line: int | None
    found: str
    would_do: str = ""


def place_in_words(where: Path) -> str:
    """Return ``[[reading]] number 3, key "is"`` for ``("reading", 2, "is")``.

    Keys within keys are joined by dots, as TOML lets a maker write them:
    ``[each_leaf], key "mount.plate.width"``. An empty place is the whole file.
    """
    words: list[str] = []
    keys: list[str] = []
    rest = where
    if len(where) > 1 and isinstance(where[1], int):
        words.append(f"[[{_plain(where[0])}]] number {where[1] + 1}")
        rest = where[2:]
    elif len(where) > 1:
        words.append(f"[{_plain(where[0])}]")
        rest = where[1:]
    for part in rest:
        if isinstance(part, str):
            keys.append(_plain(part))
            continue
        if keys:
            words.append(f'key "{".".join(keys)}"')
            keys = []
        words.append(f"entry {part + 1}")
    if keys:
        words.append(f'key "{".".join(keys)}"')
    return ", ".join(words) or "the file"


def _plain(part: str | int) -> str:
    """Return a key with what would move the cursor, or not be seen, written as an escape."""
    return str(part) if str(part).isprintable() else ascii(part)[1:-1]


class JobError(Exception):
    """A job file that cannot be read; ``problems`` holds everything wrong with it."""

    def __init__(self, name: str, problems: tuple[Problem, ...]) -> None:
        """Keep the file's name and its problems, sorted by line."""
        self.name = name
        self.problems = tuple(sorted(problems, key=lambda p: p.line or 0))
        super().__init__(self.report())

    def report(self) -> str:
        """Return the problems as text, one paragraph each, with file and line.

        Of more than `MOST_SHOWN` the first are written out and the others counted.
        """
        count = len(self.problems)
        lines = [f"{self.name}: {count} thing{'s' if count > 1 else ''} to put right"]
        for p in self.problems[:MOST_SHOWN]:
            spot = f"{self.name}, line {p.line}" if p.line else self.name
            place = f"{place_in_words(p.where)}: " if p.where else ""
            lines.append(f"  {spot}: {place}{p.found}")
            if p.would_do:
                lines.append(f"      {p.would_do}")
        if count > MOST_SHOWN:
            lines.append(f"  and {count - MOST_SHOWN} more, not shown; put these right first")
        return "\n".join(lines)
