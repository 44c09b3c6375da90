"""Whatever is typed, a reader reads it or refuses it with a UnitError."""

from collections.abc import Callable

from hypothesis import given, settings
from hypothesis import strategies as st

from leafwright import units
from leafwright.units import (
    UnitError,
    read_angle,
    read_areal_mass,
    read_density,
    read_force,
    read_length,
    read_line_load,
    read_mass,
    read_money,
    read_pressure,
    read_rate,
    read_speed,
    read_temperature,
    read_temperature_difference,
    read_time,
)
from tests.sizes import cases

READERS: list[Callable[[str], object]] = [
    read_length,
    lambda text: read_length(text, bare="mm", gauge="sheet"),
    read_angle,
    read_force,
    read_mass,
    read_pressure,
    read_density,
    read_areal_mass,
    read_line_load,
    read_speed,
    read_temperature,
    read_temperature_difference,
    read_time,
    read_money,
    read_rate,
]
TRADE_SIGNS = "0123456789./-' \"'½¾⅟⁄′″−–,:%°²$€\u00a0\u2009ftinmgaNlbkPsh"


@settings(max_examples=cases(100, 5000))
@given(st.text(max_size=70) | st.text(TRADE_SIGNS, max_size=14))
def test_any_text_is_read_or_refused(text: str) -> None:
    for reader in READERS:
        try:
            read = reader(text)
        except UnitError as error:
            assert "Forms that would do: " in str(error)
        else:
            assert read is not None


def test_what_the_package_names_is_there() -> None:
    assert sorted(units.__all__) == units.__all__
    assert all(hasattr(units, name) for name in units.__all__)
