"""What the plan takes where the maker has not said: values in both unit families, with why.

A stage asks for a value with `chosen`; a default that was used comes out as a quantity of kind
``default``, and the plan lists all of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.units import Typed

System = Literal["feet-inch", "metric"]

_INCH = 0.0254
_POUND_FORCE = 4.4482216152605
_POUND = 0.45359237


@dataclass(frozen=True, slots=True)
class Default:
    """A default: its value in inch and in metric jobs (both SI), and where it comes from."""

    inch: float
    metric: float
    why: str
    unit: str = "m"


_PRACTICE = "common practice, no source"

DEFAULTS: dict[str, Default] = {
    "tape sd": Default(_INCH / 16, 0.0015, f"one person with a tape; {_PRACTICE}"),
    "long tape sd": Default(_INCH / 8, 0.003, f"two people, a long drop; {_PRACTICE}"),
    "laser sd": Default(_INCH / 16, 0.0015, f"hand-held laser; {_PRACTICE}"),
    "level sd": Default(_INCH / 16, 0.0015, f"rule against a laser plane; {_PRACTICE}"),
    "plumb line sd": Default(_INCH / 16, 0.0015, f"rule against a plumb line; {_PRACTICE}"),
    "rule sd": Default(_INCH / 32, 0.001, f"steel rule; {_PRACTICE}"),
    "side straightness": Default(
        _INCH / 8, 0.003, f"how far a side may stray from straight, sd; {_PRACTICE}"
    ),
    "mark placing": Default(_INCH / 4, 0.006, f"how well a height is marked, sd; {_PRACTICE}"),
    "floor unevenness": Default(
        _INCH / 8, 0.003, f"of a floor between the points read, sd about a plane; {_PRACTICE}"
    ),
    "floor unevenness length": Default(
        24 * _INCH, 0.6, f"over which a floor's unevenness changes; {_PRACTICE}"
    ),
    "floor slope": Default(0.01, 0.01, f"fall of a floor any way, sd, 1:100; {_PRACTICE}", "rad"),
    "head unevenness": Default(
        _INCH / 16, 0.0015, f"of a head between the points read, sd about a line; {_PRACTICE}"
    ),
    "head unevenness length": Default(
        24 * _INCH, 0.6, f"over which a head's unevenness changes; {_PRACTICE}"
    ),
    "head slope": Default(0.01, 0.01, f"fall of a head, sd, 1:100; {_PRACTICE}", "rad"),
    "running clearance": Default(3 * _INCH / 16, 0.005, _PRACTICE),
    "meeting gap": Default(_INCH / 4, 0.006, _PRACTICE),
    "closing gap": Default(_INCH / 4, 0.006, _PRACTICE),
    "top gap": Default(_INCH / 2, 0.012, _PRACTICE),
    "bottom gap": Default(_INCH / 2, 0.012, f"least, over the highest floor; {_PRACTICE}"),
    "pivot plate": Default(_INCH / 2, 0.012, _PRACTICE),
    "spacer": Default(_INCH / 2, 0.012, _PRACTICE),
    "jamb shim": Default(_INCH / 2, 0.012, _PRACTICE),
    "transom shim": Default(_INCH / 2, 0.012, _PRACTICE),
    "post fit": Default(_INCH / 8, 0.003, f"a post is cut short of its height; {_PRACTICE}"),
    "survey temperature": Default(293.15, 293.15, f"20 °C, 68 °F; {_PRACTICE}", "K"),
    "heat over survey": Default(
        20.0, 20.0, f"say both temperatures where sun or a kiln makes it more; {_PRACTICE}", "K"
    ),
    "pin play": Default(_INCH / 128, 0.0002, f"either way; bore and pin not given; {_PRACTICE}"),
    "reveal depth": Default(12 * _INCH, 0.300, f"depth of the wall; {_PRACTICE}"),
    "kick-out": Default(36 * _INCH, 0.900, f"how far a leaf's foot may be kicked out; {_PRACTICE}"),
    "pin kept in": Default(_INCH, 0.025, f"least that a pin stays in; {_PRACTICE}"),
    "lift over pin": Default(_INCH / 2, 0.012, f"over the pin it is dropped on; {_PRACTICE}"),
    "hinge pin length": Default(2 * _INCH, 0.050, f"in a weld-on barrel; {_PRACTICE}"),
    "hand height": Default(72 * _INCH, 1.8, f"where hands push a leaf up; {_PRACTICE}"),
    "floor friction": Default(0.4, 0.4, f"steel on swept concrete, low; {_PRACTICE}", "1"),
    "leaning lift": Default(
        1.25 * _INCH, 0.030, f"a foot off the floor while its leaf leans; {_PRACTICE}"
    ),
    "keep-out": Default(1.25, 1.25, f"times the leaf's reach; {_PRACTICE}", "1"),
    "least pin friction": Default(0.05, 0.05, f"greased and true; {_PRACTICE}", "1"),
    "greatest pin friction": Default(0.20, 0.20, f"dry or dirty; {_PRACTICE}", "1"),
    "shape limit": Default(
        _INCH / 16, 0.0015, f"diagonals, sizes and edges on the pad; {_PRACTICE}"
    ),
    "twist limit": Default(_INCH / 8, 0.003, f"the fourth corner on the pad; {_PRACTICE}"),
    "off plane": Default(_INCH / 32, 0.0008, f"of a stand when packed; {_PRACTICE}"),
    "handle height": Default(40 * _INCH, 1.0, _PRACTICE),
    "person": Default(200 * _POUND, 100.0, f"a person hanging on the nose; {_PRACTICE}", "kg"),
    "push": Default(50 * _POUND_FORCE, 220.0, f"a hard shove at the handle; {_PRACTICE}", "N"),
    "nose sag limit": Default(_INCH / 8, 0.003, _PRACTICE),
    "racking limit": Default(_INCH / 8, 0.003, _PRACTICE),
    "rod end allowance": Default(3 * _INCH, 0.075, f"tab at each end of a rod; {_PRACTICE}"),
    "kerf": Default(_INCH / 8, 0.003, f"abrasive or band saw; {_PRACTICE}"),
    "end trim": Default(_INCH / 2, 0.010, f"mill end cut off each stick; {_PRACTICE}"),
    "saw mitre range": Default(
        0.785398163397448, 0.785398163397448, f"45° each way; {_PRACTICE}", "rad"
    ),
}


def chosen(
    typed: Typed | None,
    default: str,
    key: str,
    name: str,
    *,
    system: System,
    sd: float = 0.0,
) -> Quantity:
    """Return what the maker wished, or else the named default, as a base quantity."""
    rule = DEFAULTS[default]
    if typed is not None:
        return chain.base("wish", key, name, typed.si, unit=rule.unit, sd=sd, note=typed.text)
    value = rule.inch if system == "feet-inch" else rule.metric
    return chain.base("default", key, name, value, unit=rule.unit, sd=sd, note=rule.why)
