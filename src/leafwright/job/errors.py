"""What is wrong with a job file, all of it at once, in the maker's words."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.job.positions import Path


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a job file.

    Attributes:
        where: tables and keys down to the value, as in ``("reading", 2, "is")``.
        line: line in the file, counted from 1; None where there is no file or no line.
        found: what was found there, in words.
        would_do: what would be read, in words.
    """

    where: Path
    line: int | None
    found: str
    would_do: str = ""


def place_in_words(where: Path) -> str:
    """Return ``[[reading]] number 3, key "is"`` for ``("reading", 2, "is")``."""
    words: list[str] = []
    i = 0
    if where and isinstance(where[0], str):
        if len(where) > 1 and isinstance(where[1], int):
            words.append(f"[[{where[0]}]] number {where[1] + 1}")
            i = 2
        elif len(where) > 1:
            words.append(f"[{where[0]}]")
            i = 1
    for part in where[i:]:
        words.append(f"entry {part + 1}" if isinstance(part, int) else f'key "{part}"')
    return ", ".join(words) or "the file"


class JobError(Exception):
    """A job file that cannot be read; ``problems`` holds everything wrong with it."""

    def __init__(self, name: str, problems: tuple[Problem, ...]) -> None:
        """Keep the file's name and its problems, sorted by line."""
        self.name = name
        self.problems = tuple(sorted(problems, key=lambda p: p.line or 0))
        super().__init__(self.report())

    def report(self) -> str:
        """Return all problems as text, one paragraph each, with file and line."""
        count = len(self.problems)
        head = f"{self.name}: {count} thing{'s' if count > 1 else ''} to put right"
        lines = [head]
        for p in self.problems:
            spot = f"{self.name}, line {p.line}" if p.line else self.name
            lines.append(f"  {spot}: {place_in_words(p.where)}: {p.found}")
            if p.would_do:
                lines.append(f"      {p.would_do}")
        return "\n".join(lines)
