"""How a check comes of a demand and what is available."""

from __future__ import annotations

import math

import pytest

from leafwright.proof.compared import compared
from leafwright.records import Source, Verdict, ratio_of


def verdict(demand: float, available: float, *, advice: bool = False) -> Verdict:
    made = compared(
        "a", "b", "c", demand, available, source=Source("d"), rule="e", change="f", advice=advice
    )
    return made.verdict


def test_what_is_just_as_large_as_its_limit_passes_however_it_was_converted() -> None:
    # 0.1 + 0.2 is 0.30000000000000004 in double precision; 3/8 in is 9.525 mm.
    assert ratio_of(0.1 + 0.2, 0.3) == 1.0
    assert verdict(0.1 + 0.2, 0.3) is Verdict.TIGHT
    assert verdict(0.375 * 0.0254, 0.009525) is Verdict.TIGHT
    assert verdict(0.3 * (1.0 + 1e-6), 0.3) is Verdict.SHORT


@pytest.mark.parametrize("available", [0.0, -1.0])
def test_nothing_available_is_short(available: float) -> None:
    assert ratio_of(1.0, available) == math.inf
    assert verdict(1.0, available) is Verdict.SHORT


def test_what_goes_past_advice_is_no_failure() -> None:
    assert verdict(2.0, 1.0, advice=True) is Verdict.TIGHT
