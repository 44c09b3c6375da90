"""What the tests of every link share: a load at a place, and what holds of any check made."""

from __future__ import annotations

import importlib
from collections.abc import Iterable

from leafwright.frame.load_cases import Situation
from leafwright.proof import PivotLoad
from leafwright.records import Check, Verdict


def load(
    place: str,
    *,
    situation: Situation = "person",
    x: float = 0.0,
    y: float = 0.0,
    z: float = 0.0,
    mx: float = 0.0,
    mz: float = 0.0,
    turn_x: float = 0.0,
    turn_z: float = 0.0,
) -> PivotLoad:
    """Return what a place gives the leaf in one case: forces [N], moments [N m], tilt [rad]."""
    return PivotLoad(
        case=situation,
        situation=situation,
        place=place,
        clamped=situation.endswith(", clamped"),
        x=x,
        y=y,
        z=z,
        mx=mx,
        my=0.0,
        mz=mz,
        turn_x=turn_x,
        turn_z=turn_z,
    )


def assert_honest(checks: Iterable[Check]) -> None:
    """Assert that none is ok without its numbers, all say how, and every formula gives the same."""
    for made in checks:
        if made.verdict is Verdict.OK:
            assert made.demand is not None, made.key
            assert made.available is not None, made.key
            assert made.ratio is not None, made.key
            assert made.ratio <= 1.0, made.key
        else:
            assert made.change, made.key
        assert made.rule, made.key
        for line in made.working:
            where, _, name = line.figure.rpartition(".")
            module = importlib.import_module(f"leafwright.handbook.{where}")
            assert getattr(module, name)(**dict(line.given)) == line.value, line
