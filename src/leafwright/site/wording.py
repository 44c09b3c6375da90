"""Small lengths as words: a tape shows nothing of what is less than half a mark."""

from __future__ import annotations

from leafwright.units import Tape, show_length


def shown(length: float, tape: Tape) -> str:
    """Return the size of a length as the tape shows it, never as nothing: `under 1/16"`.

    Args:
        length: the length, its sign left off [m].
        tape: the maker's tape.
    """
    if abs(length) < float(tape.step) / 2.0:
        return f"under {show_length(tape.step, tape)}"
    return show_length(abs(length), tape)


def is_a_mark(length: float, tape: Tape) -> bool:
    """Return whether a length is at least half a mark of the tape, so that it can be set out."""
    return abs(length) >= float(tape.step) / 2.0


def listed(parts: list[str]) -> str:
    """Return parts as one list: `a`, `a and b`, `a, b and c`."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"
