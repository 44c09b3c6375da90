"""Conductors: what always holds, and what is refused."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from leafwright.handbook import electrical
from tests.sizes import cases


def test_thinner_longer_hotter_loses_more() -> None:
    rng = np.random.default_rng(31)
    for _ in range(cases(25, 500)):
        gauge, current, length = int(rng.integers(0, 17)), rng.uniform(1, 15), rng.uniform(1, 20)
        warm, hot = sorted(rng.uniform(250.0, 400.0, 2))

        def drop(gauge: int, current: float, length: float, temperature: float) -> float:
            ohms = electrical.resistance_per_metre(
                electrical.awg_area(gauge), temperature=temperature
            )
            return electrical.voltage_drop(current, length, ohms, 120.0).drop

        base = drop(gauge, current, length, warm)
        assert drop(gauge + 1, current, length, warm) > base
        assert drop(gauge, current * 1.1, length, warm) > base
        assert drop(gauge, current, length * 1.1, warm) > base
        assert drop(gauge, current, length, hot) >= base


def test_power_that_goes_in_comes_out_or_is_lost() -> None:
    rng = np.random.default_rng(32)
    for _ in range(cases(25, 500)):
        current, length, ohms = rng.uniform(1, 20), rng.uniform(1, 30), rng.uniform(1e-3, 1e-2)
        for supply, times in (("single phase", 1.0), ("direct", 1.0), ("three phase", 3**0.5)):
            found = electrical.voltage_drop(current, length, ohms, 240.0, supply=supply)  # type: ignore[arg-type]
            put_in, out = (times * volts * current for volts in (240.0, found.left))
            assert put_in == pytest.approx(out + found.heat)


def test_three_gauges_halve_the_area() -> None:
    for gauge in range(-3, 30):
        ratio = electrical.awg_area(gauge) / electrical.awg_area(gauge + 3)
        assert ratio == pytest.approx(2.005, abs=1e-3)


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: electrical.awg_diameter(41), "wire gauge 41 is not held; give 40 to 1"),
    (lambda: electrical.awg_area(-4), "to −3 for 4/0"),
    (lambda: electrical.resistance_per_metre(0.0), "the conductor's area is"),
    (lambda: electrical.resistance_per_metre(1e-6, resistivity=0.0), "the resistivity is"),
    (lambda: electrical.temperature_factor(20.0), "in kelvins 213.15 to 423.15"),
    (lambda: electrical.awg_table_resistance(6, make="solid"), "solid conductor of gauge 6"),
    (lambda: electrical.awg_table_resistance(13), "stranded conductor of gauge 13"),
    (lambda: electrical.metric_table_resistance(3e-6), "give 0.5, 0.75, 1, 1.5"),
    (lambda: electrical.voltage_drop(-1.0, 1.0, 0.1, 120.0), "the current is"),
    (lambda: electrical.voltage_drop(1.0, -1.0, 0.1, 120.0), "the cord's length is"),
    (lambda: electrical.voltage_drop(1.0, 1.0, 0.0, 120.0), "the resistance is"),
    (lambda: electrical.voltage_drop(1.0, 1.0, 0.1, 0.0), "the voltage is"),
    (lambda: electrical.voltage_drop(50.0, 100.0, 0.1, 120.0), "take a thicker or shorter cord"),
    (lambda: electrical.longest_cord(0.0, 0.1, 120.0, 0.05), "the current is"),
    (lambda: electrical.longest_cord(1.0, 0.0, 120.0, 0.05), "the resistance is"),
    (lambda: electrical.longest_cord(1.0, 0.1, 0.0, 0.05), "the voltage is"),
    (lambda: electrical.longest_cord(1.0, 0.1, 120.0, 0.0), "the share of voltage is"),
    (lambda: electrical.machine_current(0.0, 120.0), "the power is"),
    (lambda: electrical.machine_current(1.0, 0.0), "the voltage is"),
    (lambda: electrical.machine_current(1.0, 120.0, efficiency=1.1), "the efficiency is 1.1"),
    (lambda: electrical.machine_current(1.0, 120.0, power_factor=0.0), "the power factor is 0.0"),
    (
        lambda: electrical.machine_current(1.0, 12.0, power_factor=0.8, supply="direct"),
        "direct current has no power factor",
    ),
]


@pytest.mark.parametrize(("asked", "message"), REFUSED)
def test_refused(asked: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        asked()
