"""Typed fields of the job file: read by `units`, kept exactly as typed.

Each carries a description of what may be written there; errors and the JSON schema show it.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import AllowInfNan, BeforeValidator, Field, PlainSerializer, Strict

from leafwright import units
from leafwright.units import Rate, Typed

_Least = Literal["0 or more", "more than 0"]


def _reader(
    read: Callable[[str], Any], kind: type, wanted: str, least: _Least | None = None
) -> BeforeValidator:
    """Return a validator that reads a string with ``read`` and says what would do otherwise."""

    def check(value: object) -> Any:
        if isinstance(value, kind):
            quantity: Any = value
        elif isinstance(value, str):
            quantity = read(value)
        else:
            raise ValueError(f"write {wanted}")
        if least == "0 or more" and quantity.exact < 0:
            raise ValueError("it must be 0 or more")
        if least == "more than 0" and quantity.exact <= 0:
            raise ValueError("it must be more than 0")
        return quantity

    return BeforeValidator(check)


def _as_typed(value: Any) -> str:
    text: str = value.text
    return text


#: What is made or read of steel is not smaller than this [m]: it is a slip of the pen.
_SMALLEST = Fraction(1, 1_000_000)


def _size(text: str) -> Typed:
    return _large_enough(units.read_length(text))


def _sheet_thickness(text: str) -> Typed:
    return _large_enough(units.read_length(text, gauge="sheet"))


def _large_enough(size: Typed) -> Typed:
    if 0 < size.exact < _SMALLEST:
        raise ValueError("it is less than a thousandth of a millimetre: look at the number again")
    return size


def _steel_rate(text: str) -> Rate:
    rate = units.read_rate(text)
    if rate.per not in ("each", "m", "kg"):
        raise ValueError(f"steel is paid for each, by length or by weight: write {_STEEL_RATE}")
    return rate


_TEXT = PlainSerializer(_as_typed, return_type=str)

_UNIT = "text with its unit, in quotes, like"
_LENGTH = f'{_UNIT} "10\'-6 11/16" or "2680 mm"'
_ANGLE = f'{_UNIT} "13.2 deg"'
_FORCE = f'{_UNIT} "25 lbf" or "110 N"'
_MASS = f'{_UNIT} "200 lb" or "90 kg"'
_PRESSURE = f'{_UNIT} "50 ksi" or "235 MPa"'
_DENSITY = f'{_UNIT} "23 lb/ft3"'
_AREAL_MASS = f'{_UNIT} "1.7 kg/m2"'
_LINE_LOAD = f'{_UNIT} "600 lb/ft"'
_SPEED = f'{_UNIT} "105 mph"'
_FLOW = f'{_UNIT} "35 ft3/h" or "15 l/min"'
_TEMPERATURE = f'{_UNIT} "60 C" or "20 F"'
_RATE = f'{_UNIT} "1.15 /lb" or "95 /h"'
_STEEL_RATE = f'{_UNIT} "140 each", "6.20 /ft" or "1.15 /lb"'
_THICKNESS = f'{_UNIT} "3/4 in", "14 ga" or "1.5 mm"'

#: A length of either sign.
Length = Annotated[
    Typed, _reader(units.read_length, Typed, _LENGTH), _TEXT, Field(description=_LENGTH)
]
#: A length that may be nothing, as a gap or a shim.
Gap = Annotated[
    Typed,
    _reader(units.read_length, Typed, _LENGTH, "0 or more"),
    _TEXT,
    Field(description=_LENGTH),
]
#: A length of something that is there.
Size = Annotated[
    Typed,
    _reader(_size, Typed, _LENGTH, "more than 0"),
    _TEXT,
    Field(description=_LENGTH),
]
#: A size that may be given as a sheet's gauge number.
Thickness = Annotated[
    Typed,
    _reader(_sheet_thickness, Typed, _THICKNESS, "more than 0"),
    _TEXT,
    Field(description=_THICKNESS),
]
Angle = Annotated[
    Typed, _reader(units.read_angle, Typed, _ANGLE, "0 or more"), _TEXT, Field(description=_ANGLE)
]
Force = Annotated[
    Typed, _reader(units.read_force, Typed, _FORCE, "0 or more"), _TEXT, Field(description=_FORCE)
]
Mass = Annotated[
    Typed, _reader(units.read_mass, Typed, _MASS, "0 or more"), _TEXT, Field(description=_MASS)
]
Pressure = Annotated[
    Typed,
    _reader(units.read_pressure, Typed, _PRESSURE, "more than 0"),
    _TEXT,
    Field(description=_PRESSURE),
]
Density = Annotated[
    Typed,
    _reader(units.read_density, Typed, _DENSITY, "more than 0"),
    _TEXT,
    Field(description=_DENSITY),
]
ArealMass = Annotated[
    Typed,
    _reader(units.read_areal_mass, Typed, _AREAL_MASS, "more than 0"),
    _TEXT,
    Field(description=_AREAL_MASS),
]
LineLoad = Annotated[
    Typed,
    _reader(units.read_line_load, Typed, _LINE_LOAD, "0 or more"),
    _TEXT,
    Field(description=_LINE_LOAD),
]
Speed = Annotated[
    Typed, _reader(units.read_speed, Typed, _SPEED, "more than 0"), _TEXT, Field(description=_SPEED)
]
Flow = Annotated[
    Typed, _reader(units.read_flow, Typed, _FLOW, "more than 0"), _TEXT, Field(description=_FLOW)
]
Temperature = Annotated[
    Typed,
    _reader(units.read_temperature, Typed, _TEMPERATURE),
    _TEXT,
    Field(description=_TEMPERATURE),
]
Price = Annotated[
    Rate, _reader(units.read_rate, Rate, _RATE, "0 or more"), _TEXT, Field(description=_RATE)
]
#: What a stick of steel costs: each, by length or by mass.
SteelPrice = Annotated[
    Rate,
    _reader(_steel_rate, Rate, _STEEL_RATE, "0 or more"),
    _TEXT,
    Field(description=_STEEL_RATE),
]

_PLACE = (
    "three lengths between [ and ]: right of the bottom left corner, up, and toward the viewer, "
    'as in ["2 ft", "0 in", "-3 in"]'
)
_REST = 'an angle in quotes, like "15 deg", or "stays"'


def _three(value: object) -> object:
    if isinstance(value, list | tuple) and len(value) == 3:
        return value
    raise ValueError(f"write {_PLACE}")


def _rest(value: object) -> object:
    if isinstance(value, Typed) or value == "stays":
        return value
    if not isinstance(value, str):
        raise ValueError(f"write {_REST}")
    try:
        read = units.read_angle(value)
    except units.UnitError as error:
        raise ValueError(f'{error} Or, where it does not move: "stays".') from None
    if read.exact < 0:
        raise ValueError("it must be 0 or more")
    return read


def _rest_as_typed(value: Typed | str) -> str:
    return value if isinstance(value, str) else value.text


#: A point in space: x, y and z from the bottom left corner.
Place = Annotated[tuple[Length, Length, Length], BeforeValidator(_three), Field(description=_PLACE)]
#: Where something that turns comes to rest.
Rest = Annotated[
    Typed | Literal["stays"],
    BeforeValidator(_rest),
    PlainSerializer(_rest_as_typed, return_type=str),
    Field(description=_REST),
]

# TOML knows text, numbers, yes-or-no and dates apart, so one is never taken for another: `crew`
# is no text that holds a number, and `head` is true or false, not 0.
Whole = Annotated[int, Strict(), Field(description="a whole number, without quotes")]
Number = Annotated[
    float, Strict(), AllowInfNan(False), Field(description="a number, without quotes")
]
YesNo = Annotated[bool, Strict(), Field(description="true or false, without quotes")]
Day = Annotated[date, Strict(), Field(description="a date, without quotes, like 2026-03-14")]


def _panel(*words: str) -> BeforeValidator:
    wanted = " or ".join(f'"{word}"' for word in words)

    def check(value: object) -> object:
        is_number = isinstance(value, int) and not isinstance(value, bool) and value >= 1
        if is_number or value in words:
            return value
        raise ValueError(f"write {wanted}, or a panel's number without quotes: 1 is the lowest")

    return BeforeValidator(check)


BracePanel = Annotated[int | Literal["each", "whole leaf"], _panel("each", "whole leaf")]
InfillPanel = Annotated[int | Literal["each"], _panel("each")]
