"""Readings on plan, of the head, of leaves built and hung; obstacles; how leaves are stood up."""

from __future__ import annotations

import pytest
from pydantic import BaseModel

from leafwright.job.file import read_job
from leafwright.job.marks import LEAF_FORMS
from leafwright.job.model import (
    DepthReading,
    FitUpHeight,
    FloorReading,
    HeadReading,
    HungDrift,
    HungGap,
    OffsetReading,
)
from leafwright.units import Typed
from tests.job.edits import EXAMPLES, edited, line_with, refused, told_about

FLOOR_WAYS = (
    "leaf = … and out = … along its swing; or x = … right of the bottom left corner, "
    "z = … toward you"
)
HEIGHT_WAYS = (
    'at = "top hinge" or another place on the outline; or x = … out from the hinge edge and '
    "y = … up from the leaf's bottom"
)

ALL = """
[[reading]]
kind = "offset"
at = "L@84in"
from = "BL"
to = "TL"
is = "1/16 in"
toward = "inward"

[[reading]]
kind = "floor"
x = "20 in"
z = "-30 in"
is = "1/4 in"

[[reading]]
kind = "head"
x = "60 in"
is = "-1/8 in"

[[reading]]
kind = "depth"
at = "BR"
is = "8 in"

[[obstacle]]
name = "pipe"
from = ["-8 in", "0 in", "0 in"]
to = ["-4 in", "8 ft", "-4 in"]

[[fit_up]]
kind = "distance"
leaf = "left"
from = "bottom hinge"
to = "top closing"
is = "14'-2"
stage = "welded"
on = 2026-04-01
who = "Ann"

[[fit_up]]
kind = "string"
leaf = "right"
at = "closing@84in"
is = "0 in"
toward = "outward"

[[fit_up]]
kind = "height"
leaf = "left"
x = "2 in"
y = "-3 in"
is = "-1/16 in"

[[hung]]
kind = "gap"
leaf = "left"
where = "heel"
at = "0 in"
is = "1/2 in"

[[hung]]
kind = "plumb"
leaf = "left"
direction = "through the wall"
over = "6 ft"
is = "1/16 in"
toward = "viewer"

[[hung]]
kind = "drift"
leaf = "left"
angle = "45 deg"
rests = "stays"

[[hung]]
kind = "drift"
leaf = "left"
angle = "45 deg"
rests = "12 deg"
sd = "2 deg"

[site]
lift = "hoist"
people = 3
floor_friction = 0.4
approach = "away side"
kick_out = "3 ft"
"""


def test_all_of_it_is_read() -> None:
    job = read_job(EXAMPLES["boathouse"] + ALL)
    offset, floor, head, depth = job.reading[-4:]
    assert isinstance(offset, OffsetReading) and offset.toward == "inward"
    assert isinstance(floor, FloorReading) and floor.leaf is None
    assert floor.z is not None and floor.z.si == pytest.approx(-0.762)
    assert isinstance(head, HeadReading) and head.above == "TL"
    assert isinstance(depth, DepthReading) and depth.at == "BR"
    assert [one.text for one in job.obstacle[0].from_] == ["-8 in", "0 in", "0 in"]
    assert [one.stage for one in job.fit_up] == ["welded", "tacked", "tacked"]
    height = job.fit_up[2]
    assert isinstance(height, FitUpHeight) and height.at is None
    gap, _, stays, rests = job.hung
    assert isinstance(gap, HungGap) and gap.angle is None
    assert isinstance(stays, HungDrift) and stays.rests == "stays"
    assert isinstance(rests, HungDrift) and isinstance(rests.rests, Typed)
    assert (job.site.lift, job.site.people, job.site.approach) == ("hoist", 3, "away side")
    # What was typed comes back as typed.
    written = job.model_dump(by_alias=True, exclude_unset=True)
    assert written["hung"][3]["rests"] == "12 deg"
    assert written["obstacle"][0]["to"] == ("-4 in", "8 ft", "-4 in")
    assert isinstance(job.site, BaseModel)


def test_nothing_of_it_needs_to_be_there() -> None:
    job = read_job(EXAMPLES["boathouse"])
    assert (job.obstacle, job.fit_up, job.hung) == ((), (), ())
    assert job.site.lift == "unknown" and job.site.people is None


def test_a_single_leaf_need_not_be_named() -> None:
    text = EXAMPLES["kiln-shed"] + ALL.replace('leaf = "left"\n', "").replace(
        'leaf = "right"\n', ""
    ).replace('"L@84in"', '"L@mid"')
    assert all(one.leaf is None for one in read_job(text).fit_up)


# What is changed in the tables above, where that is told, what is found, and what would do.
ONE_THING = {
    "a floor reading with both places": (
        ('x = "20 in"', 'leaf = "left"\nx = "20 in"'),
        "[[reading]] number 22: found both a place along a swing and one on plan",
        f"keep one of the two ways: {FLOOR_WAYS}",
    ),
    "a floor reading with no place": (
        ('x = "20 in"\nz = "-30 in"\n', ""),
        "[[reading]] number 22: nothing says where on the floor it is",
        f"write {FLOOR_WAYS}",
    ),
    "a floor reading with half a place": (
        ('z = "-30 in"\n', ""),
        '[[reading]] number 22, key "z": this must be given and is not there',
        "write both: x = … right of the bottom left corner, z = … toward you",
    ),
    "a floor reading out along nobody's swing": (
        ('x = "20 in"\nz = "-30 in"\n', 'out = "20 in"\n'),
        '[[reading]] number 22, key "leaf": this must be given and is not there',
        "write leaf = 'left' or 'right': whose swing it is",
    ),
    "an offset of an end of the line": (
        ('at = "L@84in"', 'at = "TL"'),
        "[[reading]] number 21, key \"at\": 'TL' is an end of the line",
        "name a third mark",
    ),
    "an offset to the left of a level line": (
        (
            'from = "BL"\nto = "TL"\nis = "1/16 in"\ntoward = "inward"',
            'from = "TR"\nto = "TL"\nis = "1/16 in"\ntoward = "left"',
        ),
        "[[reading]] number 21, key \"toward\": 'left' says nothing of a line that lies level",
        'write toward = "inward" or "outward"',
    ),
    "an offset inward of a diagonal": (
        ('from = "BL"\nto = "TL"\nis = "1/16 in"', 'from = "BL"\nto = "TR"\nis = "1/16 in"'),
        "[[reading]] number 21, key \"toward\": 'inward' says nothing of a line across the opening",
        'write toward = "left" or "right", as seen from the face side',
    ),
    "an obstacle with a corner of two lengths": (
        ('to = ["-4 in", "8 ft", "-4 in"]', 'to = ["-4 in", "8 ft"]'),
        '[[obstacle]] number 1, key "to": found a list of 2',
        "write three lengths between [ and ]: right of the bottom left corner, up, and toward the "
        'viewer, as in ["2 ft", "0 in", "-3 in"]',
    ),
    "an obstacle with a length that is not read": (
        ('to = ["-4 in", "8 ft", "-4 in"]', 'to = ["-4 in", "8", "-4 in"]'),
        "[[obstacle]] number 1, key \"to\", entry 2: found '8'",
        "length '8': a number without a unit. Forms that would do: 8 in; 8 ft; 8 mm; 8 m.",
    ),
    "an obstacle without a corner": (
        ('to = ["-4 in", "8 ft", "-4 in"]\n', ""),
        '[[obstacle]] number 1, key "to": this must be given and is not there',
        "write to = three lengths between [ and ]: right of the bottom left corner, up, and toward "
        'the viewer, as in ["2 ft", "0 in", "-3 in"]',
    ),
    "an obstacle of no size": (
        ('to = ["-4 in", "8 ft", "-4 in"]', 'to = ["-8 in", "0 ft", "0 mm"]'),
        '[[obstacle]] number 1, key "to": both corners of the box are in one place',
        "name two opposite corners of the box",
    ),
    "a leaf's corner with a slip in it": (
        ('to = "top closing"', 'to = "top closng"'),
        "[[fit_up]] number 1, key \"to\": no place on a leaf is called 'top closng'",
        f"did you mean 'top closing'? a place on a leaf is one of {LEAF_FORMS}",
    ),
    "an edge with a slip in it": (
        ('at = "closing@84in"', 'at = "closeing@84in"'),
        "[[fit_up]] number 2, key \"at\": no place on a leaf is called 'closeing@84in'",
        f"did you mean 'closing@84in'? a place on a leaf is one of {LEAF_FORMS}",
    ),
    "a place up an edge whose height is not read": (
        ('at = "closing@84in"', 'at = "closing@84"'),
        "[[fit_up]] number 2, key \"at\": the place 'closing@84': length '84': a number without a "
        "unit. Forms that would do: 84 in; 84 ft; 84 mm; 84 m.",
        f"a place on a leaf is one of {LEAF_FORMS}",
    ),
    "a string at a corner": (
        ('at = "closing@84in"', 'at = "top closing"'),
        "[[fit_up]] number 2, key \"at\": 'top closing' is a corner, where the string is held",
        'name a place along an edge, as "hinge@mid"',
    ),
    "a leaf measured from a corner to itself": (
        ('to = "top closing"', 'to = "bottom hinge"'),
        "[[fit_up]] number 1, key \"to\": from 'bottom hinge' to itself",
        "name two different places",
    ),
    "a height at two places": (
        ('x = "2 in"', 'at = "top hinge"\nx = "2 in"'),
        "[[fit_up]] number 3: found both a named place and an x or y",
        f"keep one of the two ways: {HEIGHT_WAYS}",
    ),
    "a height nowhere": (
        ('x = "2 in"\ny = "-3 in"\n', ""),
        "[[fit_up]] number 3: nothing says where it was read",
        f"write {HEIGHT_WAYS}",
    ),
    "a height half placed": (
        ('y = "-3 in"\n', ""),
        '[[fit_up]] number 3, key "y": this must be given and is not there',
        "write both x = … and y = …",
    ),
    "a reading of neither leaf of a pair": (
        ('leaf = "right"\nat', "at"),
        '[[fit_up]] number 2, key "leaf": this must be given and is not there',
        "write leaf = 'left' or 'right': which of the two",
    ),
    "a gap of no width that is below nothing": (
        ('at = "0 in"\nis = "1/2 in"', 'at = "0 in"\nis = "-1/2 in"'),
        "[[hung]] number 1, key \"is\": found '-1/2 in'",
        "it must be 0 or more",
    ),
    "a lean the other way": (
        ('toward = "viewer"', 'toward = "left"'),
        "[[hung]] number 2, key \"toward\": 'left' is no lean through the wall",
        "write toward = 'viewer' or 'away', or the other direction",
    ),
    "a rest that is no angle": (
        ('rests = "stays"', 'rests = "stay"'),
        "[[hung]] number 3, key \"rests\": found 'stay'",
        "angle 'stay': it does not begin with a number that can be read. Forms that would do: "
        "13.2 deg; 13 1/2°; 0.01 rad; 1/4 in/ft; 2 mm/m; 1:12; 2 %. "
        'Or, where it does not move: "stays".',
    ),
    "a rest below nothing": (
        ('rests = "12 deg"', 'rests = "-12 deg"'),
        "[[hung]] number 4, key \"rests\": found '-12 deg'",
        "it must be 0 or more",
    ),
    "no rest": (
        ('rests = "stays"\n', ""),
        '[[hung]] number 3, key "rests": this must be given and is not there',
        'write rests = an angle in quotes, like "15 deg", or "stays"',
    ),
    "a way to lift with a slip in it": (
        ('lift = "hoist"', 'lift = "hoists"'),
        "[site], key \"lift\": found 'hoists'",
        "did you mean 'hoist'? write 'by hand', 'hoist', 'lift truck' or 'unknown'",
    ),
    "a floor that is all grip": (
        ("floor_friction = 0.4", "floor_friction = 4.0"),
        '[site], key "floor_friction": found 4.0',
        "write a number, without quotes, more than 0 and at most 2",
    ),
}


@pytest.mark.parametrize("name", ONE_THING)
def test_one_wrong_thing_is_the_only_one_told(name: str) -> None:
    (old, new), found, would_do = ONE_THING[name]
    assert old in ALL
    text = EXAMPLES["boathouse"] + ALL.replace(old, new, 1)
    told = told_about(text)
    assert told.line is not None and told.line > EXAMPLES["boathouse"].count("\n")
    report = refused(text)
    assert f"{found}\n      {would_do}" in report, report


def test_a_reading_of_a_leaf_that_is_not_there() -> None:
    text = EXAMPLES["kiln-shed"] + (
        '\n[[hung]]\nkind = "gap"\nleaf = "right"\nwhere = "top"\nat = "0 mm"\nis = "3 mm"\n'
    )
    told = told_about(text)
    assert told.where == ("hung", 0, "leaf")
    assert told.line == line_with(text, 'leaf = "right"')
    assert told.found == "a reading of the right leaf, and no leaf hangs right"
    assert told.would_do == "write leaf = 'left', or give the leaf that hand"


def test_marks_that_the_new_kinds_name_must_be_there() -> None:
    text = EXAMPLES["boathouse"] + (
        '\n[[reading]]\nkind = "head"\nx = "60 in"\nis = "0 in"\nabove = "TLL"\n'
        '\n[[reading]]\nkind = "depth"\nat = "sill"\nis = "8 in"\n'
    )
    report = refused(text)
    assert "no mark is called 'TLL'" in report and "did you mean 'TL'?" in report
    assert "no mark is called 'sill'" in report
    assert report.startswith("job.toml: 2 things to put right")


def test_obstacles_have_their_own_names() -> None:
    box = '\n[[obstacle]]\nname = "pipe"\nfrom = ["0 in", "0 in", "0 in"]\n'
    box += 'to = ["1 in", "1 in", "1 in"]\n'
    told = told_about(edited("boathouse", ("[stock]", f"{box}{box}\n[stock]")))
    assert told.where == ("obstacle", 1, "name")
    assert told.found == "the obstacle 'pipe' is there already"
    assert told.would_do == "give each obstacle its own name"
