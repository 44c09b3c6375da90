"""The commented job file to start from, which `leafwright new` writes."""

from __future__ import annotations

import re
import string
from typing import Literal

import tomlkit

from leafwright.job import template_leaf as of_leaf
from leafwright.job import template_shop as shop
from leafwright.job import template_site as site
from leafwright.job import template_text as words
from leafwright.job.model import FORM
from leafwright.job.readings import NOT_READ

LONGEST_NAME = 80
"""Most characters that the name of a job may have [-]."""


def starting_file(
    name: str,
    *,
    system: Literal["feet-inch", "metric"],
    leaves: Literal["single", "pair"],
    to_read: bool = False,
) -> str:
    """Return the text of a job file that reads as it stands, with invented round readings.

    Args:
        name: what the job is called; at most `LONGEST_NAME` characters.
        system: units of the examples.
        leaves: one leaf, or a pair of equal ones.
        to_read: whether every invented reading is set aside as one that is still to be read, so
            that nothing is made of it.

    Raises:
        ValueError: the name is empty or too long.
    """
    if not 1 <= len(name) <= LONGEST_NAME:
        raise ValueError(
            f"a job's name has 1 to {LONGEST_NAME} characters, not {len(name)}: {name!r}"
        )
    values = {
        "form": str(FORM),
        "leaves": leaves,
        **(_INCH if system == "feet-inch" else _METRIC),
        **_SIZES[system, leaves],
    }
    if leaves == "pair":
        shared = f"[each_leaf]  {of_leaf.LEAF}{of_leaf.MOUNT.replace('[leaf.', '[each_leaf.')}"
        parts = [words.RIGHT_FLOOR, site.OBSTACLES, words.DOORWAY, shared, of_leaf.PAIR]
    else:
        parts = [
            site.OBSTACLES,
            words.DOORWAY,
            f"[[leaf]]  {of_leaf.LEAF}",
            of_leaf.OWN,
            of_leaf.MOUNT,
        ]
    text = "".join(
        [
            words.HEAD,
            words.READINGS,
            *parts,
            words.REST,
            shop.STICKS,
            shop.SAWS,
            words.LAST,
            site.ON_SITE,
        ]
    )
    # The name comes last: it may hold signs that mean something to a template or a remark.
    filled = string.Template(text).substitute(values, name="$name")
    if to_read:
        filled = filled.replace(words.INVENTED, words.TO_READ)
        filled = _EXAMPLE.sub(rf'\1\nset_aside = "{NOT_READ}"  # EXAMPLE', filled)
    aligned = "".join(_aligned(line) for line in filled.splitlines(keepends=True))
    return aligned.replace("$name", tomlkit.item(name).as_string())


def _aligned(line: str) -> str:
    """Return a line with the remark behind its key, if there is one, at the common column."""
    found = _REMARK.match(line)
    return f"{found[1]:<36} # {found[2]}\n" if found else line


_EXAMPLE = re.compile(r"(is = .*\S) +# EXAMPLE")
_REMARK = re.compile(r"(#{0,2}[a-zA-Z\[][^#]*\S) +# (.*)\n")

_INCH = {
    "system": "feet-inch",
    "paper": "Tabloid",
    "method": "ASD",
    "country": "US",
    "currency": "USD",
    "tape": "1/16 in",
    "half_inch": "1/2 in",
    "quarter": "1/4 in",
    "eighth": "1/8 in",
    "small": "3/16 in",
    "sd": "1/8 in",
    "zero": "0 in",
    "reveal": "8 in",
    "leaf_grade": "A500 Gr C",
    "density": "23 lb/ft3",
    "mass_per_area": "1.1 lb/ft2",
    "sheet": "14 ga",
    "boards": "3/4 in",
    "mesh": "1-1/2 in",
    "wire": "0.135 in",
    "tab": "3 in",
    "tab_far": "20 in",
    "rod": "round bar 1/2 in",
    "plate": '{ thickness = "1/2 in", width = "6 in", length = "9 in", grade = "A36" }',
    "plate_grade": "A36",
    "spacer": "1/2 in",
    "pin": "1.500 in",
    "bore": "1.505 in",
    "sleeve": "2 in",
    "bottom_pin": "5 in",
    "top_pin": "3 in",
    "slug": "1 in",
    "fitting": "1/4-28",
    "access": "1.25 in",
    "bolt": '{ size = "1/2-13", grade = "A307", hole = "9/16 in" }',
    "standoff": "3 in",
    "hinge_pin": "0.75 in",
    "clearance": "0.010 in",
    "handle": "40 in",
    "own_section": '"tube from the yard"',
    "own_size": "2-1/2 in",
    "own_wall": "3/16 in",
    "yield": "50 ksi",
    "ultimate": "62 ksi",
    "person": "200 lb",
    "push": "50 lbf",
    "sticks": '["20 ft", "24 ft"]',
    "stick": "24 ft",
    "stick_price": "140 each",
    "kerf": "1/8 in",
    "kerf_fine": "0.094 in",
    "takes_high": "4 in",
    "takes_wide": "6 in",
    "takes_high_swung": "4 in",
    "takes_wide_swung": "4 in",
    "trim": "1/2 in",
    "offcut": "6'-4",
    "span": "22 ft",
    "beam": "W12x26",
    "beam_load": "600 lb/ft",
    "slab": "6 in",
    "edge": "9 in",
    "anchor": "1/2 in",
    "embedment": "3 in",
    "cold": "-10 F",
    "warm": "110 F",
    "post": "HSS 6 x 6 x 1/4",
    "footing": "24 in",
    "buried": "4'-9",
    "sleeve_section": "HSS 2 x 2 x 1/8",
    "board_covers": "5 in",
    "board_sold": "16 ft",
    "footing_deep": "5 ft",
    "wind": "ASCE 7-22",
    "speed": "105 mph",
    "volts": "120",
    "amps": "20",
    "cord": "12 AWG",
    "cord_length": "100 ft",
    "weld_wire": "0.035 in",
    "feed": "250 in/min",
    "arc_amps": "150.0",
    "arc_volts": "20.5",
    "gas_flow": "35 ft3/h",
    "input_amps": "24.0",
    "by_weight": "1.20 /lb",
    "by_area": "9.50 /ft2",
    "axis": "1-1/4 in",
    "mild": "60 F",
    "pipe_from": '["-8 in", "0 in", "0 in"]',
    "pipe_to": '["-4 in", "8 ft", "4 in"]',
    "plumb_over": "6 ft",
    "board_modulus": "1100 ksi",
    "board_strength": "750 psi",
    "fixing": "12 in",
    "screw": "1/4 in",
    "plug": "5/8 in",
    "gauge": "4 in",
    "barrel": "4 in",
    "rod_diameter": "3/4 in",
    "stop_out": "40 in",
    "nose_speed": "3 ft/s",
    "indoor": "5 psf",
    "ice": "1 lb/ft2",
    "bow": "3/4 in",
    "concrete": "3000 psi",
    "anchors_along": "6 in",
    "anchors_across": "3 in",
    "effective": "2-1/2 in",
    "anchor_steel": "9 kip",
    "anchor_shear": "5 kip",
    "pullout": "3 kip",
    "soil": "150 psf",
    "wind_pressure": "20 psf",
}

_METRIC = {
    "system": "metric",
    "paper": "A3",
    "method": "LRFD",
    "country": "EU",
    "currency": "EUR",
    "tape": "1 mm",
    "half_inch": "12 mm",
    "quarter": "6 mm",
    "eighth": "3 mm",
    "small": "5 mm",
    "sd": "3 mm",
    "zero": "0 mm",
    "reveal": "200 mm",
    "leaf_grade": "S235JRH",
    "density": "370 kg/m3",
    "mass_per_area": "5.4 kg/m2",
    "sheet": "1.5 mm",
    "boards": "20 mm",
    "mesh": "40 mm",
    "wire": "3 mm",
    "tab": "75 mm",
    "tab_far": "500 mm",
    "rod": "round bar 12 mm",
    "plate": '{ thickness = "12 mm", width = "150 mm", length = "220 mm", grade = "S235JR" }',
    "plate_grade": "S235JR",
    "spacer": "12 mm",
    "pin": "38.00 mm",
    "bore": "38.10 mm",
    "sleeve": "50 mm",
    "bottom_pin": "125 mm",
    "top_pin": "75 mm",
    "slug": "25 mm",
    "fitting": "M6",
    "access": "30 mm",
    "bolt": '{ size = "M12", grade = "8.8", hole = "14 mm" }',
    "standoff": "75 mm",
    "hinge_pin": "20 mm",
    "clearance": "0.25 mm",
    "handle": "1000 mm",
    "own_section": '"tube from the yard"',
    "own_size": "60 mm",
    "own_wall": "4 mm",
    "yield": "235 MPa",
    "ultimate": "360 MPa",
    "person": "100 kg",
    "push": "220 N",
    "sticks": '["6000 mm"]',
    "stick": "6 m",
    "stick_price": "45 each",
    "kerf": "3 mm",
    "kerf_fine": "2.5 mm",
    "takes_high": "100 mm",
    "takes_wide": "150 mm",
    "takes_high_swung": "100 mm",
    "takes_wide_swung": "100 mm",
    "trim": "10 mm",
    "offcut": "1900 mm",
    "span": "6.5 m",
    "beam": "IPE 300",
    "beam_load": "9 kN/m",
    "slab": "150 mm",
    "edge": "220 mm",
    "anchor": "12 mm",
    "embedment": "75 mm",
    "cold": "-20 C",
    "warm": "45 C",
    "post": "SHS 150 x 150 x 6",
    "footing": "600 mm",
    "buried": "1400 mm",
    "sleeve_section": "SHS 50 x 50 x 3",
    "board_covers": "120 mm",
    "board_sold": "4000 mm",
    "footing_deep": "1500 mm",
    "wind": "ASCE 7-22",
    "speed": "47 m/s",
    "volts": "230",
    "amps": "16",
    "cord": "2.5 mm2",
    "cord_length": "30 m",
    "weld_wire": "0.9 mm",
    "feed": "6 m/min",
    "arc_amps": "120.0",
    "arc_volts": "19.5",
    "gas_flow": "15 l/min",
    "input_amps": "14.0",
    "by_weight": "2.60 /kg",
    "by_area": "95 /m2",
    "axis": "30 mm",
    "mild": "15 C",
    "pipe_from": '["-200 mm", "0 mm", "0 mm"]',
    "pipe_to": '["-100 mm", "2400 mm", "100 mm"]',
    "plumb_over": "1800 mm",
    "board_modulus": "7.6 GPa",
    "board_strength": "5 MPa",
    "fixing": "300 mm",
    "screw": "6 mm",
    "plug": "16 mm",
    "gauge": "100 mm",
    "barrel": "100 mm",
    "rod_diameter": "20 mm",
    "stop_out": "1000 mm",
    "nose_speed": "1 m/s",
    "indoor": "240 Pa",
    "ice": "5 kg/m2",
    "bow": "20 mm",
    "concrete": "25 MPa",
    "anchors_along": "150 mm",
    "anchors_across": "80 mm",
    "effective": "60 mm",
    "anchor_steel": "40 kN",
    "anchor_shear": "22 kN",
    "pullout": "13 kN",
    "soil": "7 kPa",
    "wind_pressure": "1 kPa",
}

# Each diagonal is what width and height make it, rounded to the tape.
_SIZES = {
    ("feet-inch", "pair"): {
        "half_way": "72in",
        "wide": "10'-0",
        "high": "12'-0",
        "diagonal": "15'-7 7/16",
        "low": "-36 in",
        "over": "108 in",
        "out": "30 in",
        "leaf_height": "11'-10",
        "leaf_width": "4'-11",
        "rail": "60 in",
        "rail_at": "60in",
        "leaf_diagonal": "12'-9 3/4",
        "hinges": '["8 in", "128 in"]',
        "frame": "HSS 2-1/2 x 2-1/2 x 3/16",
    },
    ("feet-inch", "single"): {
        "half_way": "42in",
        "wide": "3'-6",
        "high": "7'-0",
        "diagonal": "7'-9 15/16",
        "low": "-36 in",
        "over": "48 in",
        "out": "20 in",
        "leaf_height": "6'-10",
        "leaf_width": "3'-5",
        "rail": "36 in",
        "rail_at": "36in",
        "leaf_diagonal": "7'-7 11/16",
        "hinges": '["8 in", "72 in"]',
        "frame": "HSS 2 x 2 x 3/16",
    },
    ("metric", "pair"): {
        "half_way": "1800mm",
        "wide": "3000 mm",
        "high": "3600 mm",
        "diagonal": "4686 mm",
        "low": "-900 mm",
        "over": "2700 mm",
        "out": "750 mm",
        "leaf_height": "3550 mm",
        "leaf_width": "1480 mm",
        "rail": "1500 mm",
        "rail_at": "1500mm",
        "leaf_diagonal": "3846 mm",
        "hinges": '["200 mm", "3300 mm"]',
        "frame": "SHS 60 x 60 x 4",
    },
    ("metric", "single"): {
        "half_way": "1050mm",
        "wide": "1000 mm",
        "high": "2100 mm",
        "diagonal": "2326 mm",
        "low": "-900 mm",
        "over": "1200 mm",
        "out": "500 mm",
        "leaf_height": "2050 mm",
        "leaf_width": "980 mm",
        "rail": "900 mm",
        "rail_at": "900mm",
        "leaf_diagonal": "2272 mm",
        "hinges": '["200 mm", "1800 mm"]',
        "frame": "SHS 40 x 40 x 3",
    },
}
