"""What is refused before a formula is worked: sizes and loads that cannot be."""

from __future__ import annotations


def require_positive(what: str, value: float, unit: str) -> None:
    """Raise ValueError where a value is not above 0; ``what`` names it in plain words."""
    if not value > 0.0:
        raise ValueError(f"{what} is {value!r} {unit}; give more than 0 and check the sign")


def require_not_negative(what: str, value: float, unit: str) -> None:
    """Raise ValueError where a value is below 0; ``what`` names it in plain words."""
    if not value >= 0.0:
        raise ValueError(f"{what} is {value!r} {unit}; give 0 or more and check the sign")
