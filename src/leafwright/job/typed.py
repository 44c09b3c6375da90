"""Typed fields of the job file: read by `units`, kept exactly as typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainSerializer

from leafwright import units
from leafwright.units import Rate, Typed


def _reader(read: Callable[[str], Any], kind: type, example: str) -> BeforeValidator:
    """Return a validator that reads a string with ``read`` and says what would do otherwise."""

    def check(value: object) -> Any:
        if isinstance(value, kind):
            return value
        if isinstance(value, str):
            return read(value)
        raise ValueError(f"write it as text with its unit, in quotes, like {example}")

    return BeforeValidator(check)


def _as_typed(value: Any) -> str:
    text: str = value.text
    return text


_TEXT = PlainSerializer(_as_typed, return_type=str)

Length = Annotated[Typed, _reader(units.read_length, Typed, "\"10'-6 11/16\" or '2680 mm'"), _TEXT]
Angle = Annotated[Typed, _reader(units.read_angle, Typed, '"13.2 deg"'), _TEXT]
Force = Annotated[Typed, _reader(units.read_force, Typed, '"25 lbf" or "110 N"'), _TEXT]
Mass = Annotated[Typed, _reader(units.read_mass, Typed, '"200 lb" or "90 kg"'), _TEXT]
Pressure = Annotated[Typed, _reader(units.read_pressure, Typed, '"50 ksi" or "235 MPa"'), _TEXT]
Density = Annotated[Typed, _reader(units.read_density, Typed, '"23 lb/ft3"'), _TEXT]
ArealMass = Annotated[Typed, _reader(units.read_areal_mass, Typed, '"1.7 kg/m2"'), _TEXT]
LineLoad = Annotated[Typed, _reader(units.read_line_load, Typed, '"600 lb/ft"'), _TEXT]
Speed = Annotated[Typed, _reader(units.read_speed, Typed, '"105 mph"'), _TEXT]
Temperature = Annotated[Typed, _reader(units.read_temperature, Typed, '"60 C" or "20 F"'), _TEXT]
Price = Annotated[Rate, _reader(units.read_rate, Rate, '"1.15 /lb" or "95 /h"'), _TEXT]


def _thickness(value: object) -> Any:
    if isinstance(value, str):
        return units.read_length(value, gauge="sheet")
    return value


Thickness = Annotated[Typed, BeforeValidator(_thickness), _TEXT]
