"""What the plan takes where the maker has not said: values in both unit families, with why.

A stage asks for a value with `chosen`; a default that was used comes out as a quantity of kind
``default``, and the plan lists all of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.changed_by import changed_by
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
    "cut tolerance": Default(
        _INCH / 32, 0.0008, f"of a length sawn and faced, either way; {_PRACTICE}"
    ),
    "packing tolerance": Default(
        _INCH / 32, 0.0008, f"of shims made up under a plate, either way; {_PRACTICE}"
    ),
    "setting tolerance": Default(
        _INCH / 32, 0.0008, f"of a leaf or transom set to its height, either way; {_PRACTICE}"
    ),
    "hole tolerance": Default(
        _INCH / 32, 0.0008, f"of a hole marked out and drilled, either way; {_PRACTICE}"
    ),
    "ball tolerance": Default(
        0.001 * _INCH, 0.00003, f"of a bought bearing ball, either way; {_PRACTICE}"
    ),
    "plate under": Default(
        0.010 * _INCH, 0.0003, "a plate may be thinner: ASTM A6, under its thickness (second-hand)"
    ),
    "plate over": Default(
        0.030 * _INCH,
        0.0008,
        "a plate may be thicker: ASTM A6, to 1 in thick and 48 in wide (second-hand)",
    ),
    "axis plumb": Default(_INCH / 16, 0.0015, f"top pin over bottom pin, either way; {_PRACTICE}"),
    "cold under survey": Default(
        20.0, 20.0, f"say least_temperature where frost makes it more; {_PRACTICE}", "K"
    ),
    "beam movement": Default(
        1.0 / 360.0,
        1.0 / 360.0,
        "of its span: IBC Table 1604.3, floors under live load; what a beam may be let move, "
        "not what this one does",
        "1",
    ),
    "grease coupler": Default(
        0.625 * _INCH, 0.016, f"what goes over the fitting, across; {_PRACTICE}"
    ),
    "grease gun": Default(
        6000.0 * _POUND_FORCE / _INCH**2,
        40.0e6,
        f"pressure of a hand gun, which gives 2,000 to 15,000 psi; {_PRACTICE}",
        "Pa",
    ),
    "nose speed": Default(
        60.0 * _INCH, 1.5, f"a leaf pushed open at a brisk walk, at its nose; {_PRACTICE}", "m/s"
    ),
    "lift over pin": Default(_INCH / 2, 0.012, f"over the pin it is dropped on; {_PRACTICE}"),
    "pivot pin length": Default(4 * _INCH, 0.100, f"over its plate; {_PRACTICE}"),
    "weld metal": Default(
        70000.0 * _POUND_FORCE / _INCH**2,
        70000.0 * _POUND_FORCE / _INCH**2,
        f"E70 stick or ER70S wire, 70 ksi; {_PRACTICE}",
        "Pa",
    ),
    "seam leg": Default(
        1.0,
        1.0,
        "times the thinner wall, and no larger than its edge takes (ANSI/AISC 360-22, J2.2b(b)): "
        f"more throat than the wall beside it can use is only heat; {_PRACTICE}",
        "1",
    ),
    "round corner seam": Default(
        0.3125,
        0.3125,
        "throat over the corner's outer radius, stick: ANSI/AISC 360-22, Table J2.2, which grants "
        "it from a radius of 3/8 in only; under that a trial joint must show it",
        "1",
    ),
    "root gap": Default(0.0, 0.0, f"pieces are cut to touch what they are welded to; {_PRACTICE}"),
    "weld shrinkage": Default(
        0.0,
        0.0,
        "nothing is added to a length for what its welds pull in; the shop that knows its own "
        f"says it; {_PRACTICE}",
    ),
    "sleeve reach": Default(
        4 * _INCH, 0.100, f"of a splice's sleeve or plates, each way; {_PRACTICE}"
    ),
    "post over footing": Default(
        3 * _INCH, 0.075, f"concrete under a post in its footing; {_PRACTICE}"
    ),
    "bead clearance": Default(
        0.0,
        0.0,
        "a brace's point goes right into the corner, so that no bead may lie there before it; "
        f"{_PRACTICE}",
    ),
    "clear of corner": Default(
        _INCH, 0.025, f"a brace's end on one face, to the other, for the weld between; {_PRACTICE}"
    ),
    "seat dent": Default(
        0.010 * _INCH, 0.00025, f"how far a leaf may settle as its ball beds in; {_PRACTICE}"
    ),
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
    "indoor pressure": Default(
        239.4, 239.4, "5 psf, as on interior walls over 6 ft: IBC section 1607", "Pa"
    ),
    "post lean limit": Default(_INCH / 8, 0.003, f"of a gate's post, at its top; {_PRACTICE}"),
    "bow limit": Default(
        180.0,
        180.0,
        f"its longer side over its greatest bow in wind; {_PRACTICE}; IBC Table 1604.3 has 120 to "
        "240 for walls",
        "1",
    ),
    "infill bow limit": Default(
        60.0, 60.0, "its span over its bow: IBC Table 1604.3, note a, sheet metal siding", "1"
    ),
    "plastic bow limit": Default(
        25.0, 25.0, "its span over its bow: a plastic glazing maker's advice, second-hand", "1"
    ),
    "roof height": Default(
        360 * _INCH, 9.0, f"mean height of the roof, for wind on the wall; {_PRACTICE}"
    ),
    "leaning": Default(
        50 * _POUND_FORCE,
        222.0,
        "somebody leaning on the infill: as on a guard's infill, ASCE 7-22 4.5.1 (from memory)",
        "N",
    ),
    "leaned on": Default(
        12 * _INCH, 0.300, "square that is leaned on: ASCE 7-22 4.5.1 (from memory)"
    ),
    "sheet stress": Default(
        18000.0 * _POUND_FORCE / _INCH**2,
        124.0e6,
        "commercial steel sheet, 30 ksi yield at the low end (ASTM A1011 CS, from memory), over "
        "1.67 (ANSI/AISC 360-22, F1)",
        "Pa",
    ),
    "sheet stiffness": Default(
        29.0e6 * _POUND_FORCE / _INCH**2, 200.0e9, "steel: ANSI/AISC 360-22, symbols", "Pa"
    ),
    "sheet tensile strength": Default(
        45000.0 * _POUND_FORCE / _INCH**2,
        310.0e6,
        "commercial steel sheet, as screw makers' tables take it (second-hand)",
        "Pa",
    ),
    "board stress": Default(
        1100.0 * _POUND_FORCE / _INCH**2,
        7.6e6,
        "weak softwood: western cedar No. 2, 700 psi, times 1.6 for ten minutes (NDS Table 4A and "
        "2.3.2, from memory); C14 of EN 338 has 14 MPa before any safety",
        "Pa",
    ),
    "board stiffness": Default(
        1.0e6 * _POUND_FORCE / _INCH**2,
        7.0e9,
        "weak softwood: C14 of EN 338 on average (second-hand); western cedar No. 2 (NDS, from "
        "memory)",
        "Pa",
    ),
    "polycarbonate stress": Default(
        3000.0 * _POUND_FORCE / _INCH**2,
        20.0e6,
        f"a third of 8,400 to 9,000 psi at yield in data sheets (ASTM D638); {_PRACTICE}",
        "Pa",
    ),
    "polycarbonate stiffness": Default(
        340000.0 * _POUND_FORCE / _INCH**2,
        2.34e9,
        "solid sheet at room temperature, data sheets (ASTM D790)",
        "Pa",
    ),
    "infill screw": Default(_INCH / 4, 0.006, f"diameter, where none is given; {_PRACTICE}"),
    "slot placing": Default(_INCH / 16, 0.0015, f"of hole and screw, to each side; {_PRACTICE}"),
    "sun difference": Default(
        20.0, 20.0, f"between a face in the sun and the other; {_PRACTICE}", "K"
    ),
    "drop rod yield": Default(
        36000.0 * _POUND_FORCE / _INCH**2, 235.0e6, f"plain bar, A36 or S235; {_PRACTICE}", "Pa"
    ),
    "carry-over": Default(
        0.55,
        0.55,
        "of the other pins' moment, for one that binds before them: half in a bar of even section "
        f"(statics), and a leaf's frame may pass that a little; {_PRACTICE}",
        "1",
    ),
    "plug holes": Default(4.0, 4.0, f"round each sleeve, where none are given; {_PRACTICE}", "1"),
    "ball seat pressure": Default(
        4.2e9,
        4.2e9,
        "that a hardened seat bears: ISO 76, as bearing makers repeat it (second-hand)",
        "Pa",
    ),
    "access reach": Default(
        12 * _INCH, 0.300, f"of the stile that is proved with its access hole; {_PRACTICE}"
    ),
    "slam pressure": Default(
        _POUND_FORCE / (12 * _INCH) ** 2,
        50.0,
        f"a breeze that takes an open leaf, for the caution; {_PRACTICE}",
        "Pa",
    ),
    "concrete weight": Default(
        150.0 * _POUND / (12 * _INCH) ** 3,
        150.0 * _POUND / (12 * _INCH) ** 3,
        f"plain concrete of a footing, 150 lb/ft3, 2400 kg/m3; {_PRACTICE}",
        "kg/m3",
    ),
    "anchor category": Default(
        3.0, 3.0, "the worst of ACI 318-19, Table 17.5.3, and of EN 1992-4, Table 4.1", "1"
    ),
    "anchor size": Default(_INCH / 2, 0.012, f"to lay out the plate; {_PRACTICE}"),
    "anchor yield": Default(
        240.0e6,
        240.0e6,
        "class 4.6, whose partial factors are the greatest (EN 1992-4, Table 4.1)",
        "Pa",
    ),
    "anchor tensile strength": Default(
        400.0e6,
        400.0e6,
        "class 4.6, whose partial factors are the greatest (EN 1992-4, Table 4.1)",
        "Pa",
    ),
    "lifting points": Default(
        0.25, 0.25, f"of the leaf's width, from either side of its top rail; {_PRACTICE}", "1"
    ),
    "trestles": Default(
        0.2, 0.2, f"of the leaf's height, from either end as it lies; {_PRACTICE}", "1"
    ),
    "tight from": Default(
        0.9, 0.9, f"of what is there, from which a check that holds is tight; {_PRACTICE}", "1"
    ),
    "coefficients alike": Default(
        0.95,
        0.95,
        "of ASCE 7's own wind, under which C_f and solidity of [wind] are asked about; "
        f"{_PRACTICE}",
        "1",
    ),
    "nose sag limit": Default(_INCH / 8, 0.003, _PRACTICE),
    "racking limit": Default(_INCH / 8, 0.003, _PRACTICE),
    "rod end allowance": Default(3 * _INCH, 0.075, f"tab at each end of a rod; {_PRACTICE}"),
    "kerf": Default(_INCH / 8, 0.003, f"abrasive or band saw; {_PRACTICE}"),
    "wire": Default(0.035 * _INCH, 0.0009, f"solid wire for the walls of usual tube; {_PRACTICE}"),
    "rods": Default(_INCH / 8, 0.0032, f"stick for all but thin walls; {_PRACTICE}"),
    "gas flow": Default(
        35 * (12 * _INCH) ** 3 / 3600,
        15e-3 / 60,
        f"while the arc burns, out of the draught; {_PRACTICE}",
        "m3/s",
    ),
    "welder efficiency": Default(
        0.80, 0.80, f"of a small wire machine, out over in; its plate rules; {_PRACTICE}", "1"
    ),
    "welder power factor": Default(
        0.90, 0.90, f"of a small wire machine; its plate rules; {_PRACTICE}", "1"
    ),
    "grinder": Default(
        1200.0, 1200.0, f"taken by a 4-1/2 in or 125 mm grinder hard at work; {_PRACTICE}", "W"
    ),
    "opens to": Default(
        1.5707963267948966, 1.5707963267948966, "a quarter turn; stop the leaf there", "rad"
    ),
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
    change = changed_by(default)
    note = f"{rule.why}; {change}" if change else rule.why
    return chain.base("default", key, name, value, unit=rule.unit, sd=sd, note=note)
