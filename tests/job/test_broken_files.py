"""Broken job files, as small edits of an example, and the whole of what is said about each."""

from __future__ import annotations

import pytest

from tests.job.edits import edited, line_with, refused, told_about

LENGTH = 'text with its unit, in quotes, like "10\'-6 11/16" or "2680 mm"'
LENGTH_FORMS = (
    "Forms that would do: 16'-2 3/4\"; 16 ft 2-3/4 in; 194.75 in; 2 ¾ in; 4946 mm; 4.946 m."
)
HEADER_KEYS = "name, seen_from, system, tape, paper, revision, surveyed, crew, currency, note"
LEVEL_KEYS = "kind, sd, by, on, who, set_aside, note, is, at, plane"
KINDS = "'distance', 'level', 'rise', 'plumb', 'offset', 'floor', 'head' or 'depth'"
MOUNT_KEYS = (
    "kind, axis, spacer, plate, pin_diameter, bottom_pin_length, top_pin_length, sleeve_bore, "
    "sleeve_outside, ball_diameter, slug_length, grease_fitting, access_hole, bolt, "
    "pin_grade, pin_weld, slug_weld, sleeve_length, plug_hole, plug_holes, ball_seat, "
    "plate_level, pin_square, top_plate, top_pin_diameter, top_sleeve_bore, top_fixed, "
    "top_bolts, top_weld, bolt_gauge"
)
TOP_KEYS = (
    "leafwright, job, basis, opening, mark, reading, obstacle, doorway, leaf, section, grade, "
    "loads, limits, stock, stick, offcut, saw, cut_with, building, post, wind, power, weld, site, "
    "fit_up, hung, price, answer, each_leaf"
)
MARK_FORMS = (
    "a mark is one of BL, BR, TL, TR, L@84in, R@mid, or the name of a [[mark]] of this file"
)

# What is changed in which example, where that is, what is found there, and what would do.
ONE_THING = {
    "a key with a slip in it": (
        ("boathouse", 'revision = "B"', 'revison = "B"'),
        '[job], key "revison": no such key',
        f"did you mean 'revision'? known here: {HEADER_KEYS}",
    ),
    "a key that nothing is near": (
        ("boathouse", "crew = 2", "colour = 2"),
        '[job], key "colour": no such key',
        f"known here: {HEADER_KEYS}",
    ),
    "a floor under a leaf that is not there": (
        ("kiln-shed", 'leaf = "left"', 'leaf = "right"'),
        '[[reading]] number 12, key "leaf": the floor under a right leaf, and no leaf hangs right',
        "write leaf = 'left', or give the leaf that hand",
    ),
    "a pin as large as its sleeve's bore": (
        ("boathouse", 'pin_diameter = "1.4990 in"', 'pin_diameter = "1.6 in"'),
        "[each_leaf], key \"mount.pin_diameter\": pin_diameter '1.6 in' is not smaller than "
        "sleeve_bore '1.5015 in'",
        "a pin turns inside its sleeve: measure both again",
    ),
    "a leaf that opens more than half a turn": (
        ("boathouse", 'leaves = "pair"', 'leaves = "pair"\nopens_to = "200 deg"'),
        "[doorway], key \"opens_to\": the leaves cannot open to '200 deg'",
        'give an angle from shut, from 10° to 180°, as in opens_to = "110 deg"',
    ),
    "a key in capitals": (
        ("boathouse", "crew = 2", "CREW = 2"),
        '[job], key "CREW": no such key',
        f"did you mean 'crew'? known here: {HEADER_KEYS}",
    ),
    "a table with a slip in it": (
        ("yard-gate", "[stock]", "[stocks]"),
        'key "stocks": no such key',
        f"did you mean 'stock'? known here: {TOP_KEYS}",
    ),
    "a key below the table it belongs in": (
        ("boathouse", 'access_hole = "1.25 in"', 'access_hole = "1.25 in"\nhandle_height = "1 m"'),
        '[each_leaf], key "mount.handle_height": no such key',
        f"it is known in the table around this one: move it up to there; known here: {MOUNT_KEYS}",
    ),
    "a key that only another kind of reading has": (
        ("boathouse", 'at = "BL"', 'at = "BL"\ntoward = "left"'),
        '[[reading]] number 11, key "toward": no such key',
        f"known here: {LEVEL_KEYS}",
    ),
    "a kind of reading with a slip in it": (
        ("boathouse", 'kind = "plumb"', 'kind = "plum"'),
        "[[reading]] number 9, key \"kind\": found 'plum'",
        f"did you mean 'plumb'? write {KINDS}",
    ),
    "a kind that is a number": (
        ("boathouse", 'kind = "plumb"', "kind = 3"),
        '[[reading]] number 9, key "kind": found 3',
        f"write {KINDS}",
    ),
    "a length that may mean two things": (
        ("boathouse", 'is = "14\'-2 3/4"', 'is = "12-6 1/2"'),
        "[[reading]] number 4, key \"is\": found '12-6 1/2'",
        "length '12-6 1/2': the dash may join feet and inches (12'-6 1/2\") or part the two "
        "lengths of a range. Forms that would do: 12'-6 1/2\"; 12 ft 6 1/2 in.",
    ),
    "units that do not mix": (
        ("boathouse", 'is = "14\'-2 3/4"', 'is = "14 ft 20 mm"'),
        "[[reading]] number 4, key \"is\": found '14 ft 20 mm'",
        "length '14 ft 20 mm': it mixes inches or feet with metric units in one length. "
        + LENGTH_FORMS,
    ),
    "a length without its unit": (
        ("kiln-shed", 'is = "1004 mm"', 'is = "1004"'),
        "[[reading]] number 1, key \"is\": found '1004'",
        "length '1004': a number without a unit. "
        "Forms that would do: 1004 in; 1004 ft; 1004 mm; 1004 m.",
    ),
    "a length without quotes": (
        ("kiln-shed", 'is = "1004 mm"', "is = 1004"),
        '[[reading]] number 1, key "is": found 1004',
        f"write {LENGTH}",
    ),
    "a distance of nothing": (
        ("kiln-shed", 'is = "1004 mm"', 'is = "0 mm"'),
        "[[reading]] number 1, key \"is\": found '0 mm'",
        "it must be more than 0",
    ),
    "a kerf below nothing": (
        ("boathouse", 'kerf = "0.094 in"', 'kerf = "-0.094 in"'),
        "[stock], key \"kerf\": found '-0.094 in'",
        "it must be 0 or more",
    ),
    "a stick of nothing, in a list": (
        ("boathouse", '["20 ft", "24 ft"]', '["20 ft", "0 ft"]'),
        "[stock], key \"lengths\", entry 2: found '0 ft'",
        "it must be more than 0",
    ),
    "a price without what it is for": (
        ("boathouse", 'shop = "95 /h"', 'shop = "95"'),
        "[price], key \"shop\": found '95'",
        "rate '95': it does not say what the amount is for. Forms that would do: "
        "1.15 /lb; $1.15/lb; 7.80 EUR/m; 9.50 /ft2; 95 /h; 240 /day; 4 each.",
    ),
    "a price whose key is what pydantic marks keys with": (
        ("boathouse", 'shop = "95 /h"', '"[key]" = 95'),
        '[price], key "[key]": found 95',
        'write text with its unit, in quotes, like "1.15 /lb" or "95 /h"',
    ),
    "a price whose key is too long": (
        ("boathouse", 'shop = "95 /h"', f'{"x" * 201} = "95 /h"'),
        f'[price], key "{"x" * 201}": found a key of 201 characters',
        "at most 200",
    ),
    "a mark that is not there": (
        ("boathouse", 'from = "BL" ', 'from = "BLL" '),
        "[[reading]] number 1, key \"from\": no mark is called 'BLL'",
        f"did you mean 'BL'? {MARK_FORMS}",
    ),
    "a mark along a side whose height is not read": (
        ("boathouse", 'from = "L@84in"', 'from = "L@84"'),
        "[[reading]] number 2, key \"from\": the mark 'L@84': length '84': a number without a "
        "unit. Forms that would do: 84 in; 84 ft; 84 mm; 84 m.",
        MARK_FORMS,
    ),
    "a reading from a mark to itself": (
        ("kiln-shed", 'to = "BR"', 'to = "BL"'),
        "[[reading]] number 1, key \"to\": from 'BL' to itself",
        "name two different marks",
    ),
    "two leaves of one hand": (
        ("boathouse", 'hand = "right"', 'hand = "left"'),
        '[[leaf]] number 2, key "hand": both leaves of a pair hang left',
        'one leaf hangs "left", the other "right"',
    ),
    "a leaf without a hand": (
        ("boathouse", 'hand = "right"', ""),
        '[[leaf]] number 2, key "hand": this must be given and is not there',
        "write hand = 'left' or 'right'",
    ),
    "one leaf too few": (
        ("boathouse", '[[leaf]]\nhand = "right"\n', ""),
        "[doorway], key \"leaves\": found 'pair', and 1 [[leaf]] in the file",
        "write 2 [[leaf]] tables, or other leaves here",
    ),
    "one leaf too many": (
        ("boathouse", 'leaves = "pair"', 'leaves = "single"'),
        "[doorway], key \"leaves\": found 'single', and 2 [[leaf]] in the file",
        "write 1 [[leaf]] table, or other leaves here",
    ),
    "three leaves": (
        ("boathouse", 'hand = "right"', 'hand = "right"\n[[leaf]]\nhand = "right"'),
        'key "leaf": found 3 of them',
        "at most 2",
    ),
    "an unequal pair of equal leaves": (
        ("boathouse", 'leaves = "pair"', 'leaves = "unequal pair"'),
        '[doorway], key "leaves": an unequal pair, and no leaf has a width',
        'give one leaf its width, as in width = "3\'-6"',
    ),
    "a word that is not a choice": (
        ("boathouse", 'leaves = "pair"', 'leaves = "pairs"'),
        "[doorway], key \"leaves\": found 'pairs'",
        "did you mean 'pair'? write 'single', 'pair' or 'unequal pair'",
    ),
    "a reading without its value": (
        ("boathouse", 'is = "10\'-7"\n', ""),
        '[[reading]] number 2, key "is": this must be given and is not there',
        f"write is = {LENGTH}",
    ),
    "a choice that must be made": (
        ("boathouse", 'leaves = "pair"\n', ""),
        '[doorway], key "leaves": this must be given and is not there',
        "write leaves = 'single', 'pair' or 'unequal pair'",
    ),
    "a section that is not made": (
        ("kiln-shed", "SHS 40 x 40 x 3", "SHS 40 x 40 x 7"),
        "[[leaf]] number 1, key \"frame\": section 'SHS 40 x 40 x 7' is not in EN 10219-2; "
        "the nearest are `SHS 40 x 40 x 4`, `SHS 40 x 40 x 3`, `SHS 40 x 40 x 2.5`; or give the "
        "tube in hand as the maker's own size, `mechanical tube 40 x 40 x 7 mm`, with its grade",
        "choose another, or give the size as a [[section]] of your own",
    ),
    "a grade that is not known": (
        ("kiln-shed", 'grade = "S235JRH"', 'grade = "S235JRX"'),
        "[[leaf]] number 1, key \"grade\": section 'SHS 40 x 40 x 3' does not come as "
        "'S235JRX' here; give one of S235JRH, S275J0H, S355J2H, or its standard, EN 10219",
        "choose another, or give it as a [[grade]] of your own",
    ),
    "a section whose grade is no grade": (
        (
            "kiln-shed",
            "[stock]",
            '[[section]]\nname = "own"\nshape = "round bar"\nwidth = "9 mm"\n'
            'grade = "soft"\n\n[stock]',
        ),
        "[[section]] number 1, key \"name\": no grade is called 'soft'; known: A500 Gr B, "
        "A500 Gr C, A1085, A53 Gr B, A513, A36, S235JRH, S275J0H, S355J2H, S235JR, S275JR, S355J2",
        "choose another, or give the size as a [[section]] of your own",
    ),
    "a number that is not one": (
        ("boathouse", "volts = 240", "volts = nan"),
        '[power], key "volts": found nan',
        "write a number, without quotes, more than 0 and at most 1000",
    ),
    "a number without end": (
        ("boathouse", "volts = 240", "volts = inf"),
        '[power], key "volts": found inf',
        "write a number, without quotes, more than 0 and at most 1000",
    ),
    "a number too small": (
        ("yard-gate", "K_z = 0.85", "K_z = 0.0"),
        '[wind], key "K_z": found 0.0',
        "write a number, without quotes, more than 0 and less than 3",
    ),
    "a number in quotes": (
        ("boathouse", "crew = 2", 'crew = "2"'),
        "[job], key \"crew\": found '2'",
        "write a whole number, without quotes, at least 1 and at most 20",
    ),
    "half a person": (
        ("boathouse", "crew = 2", "crew = 2.5"),
        '[job], key "crew": found 2.5',
        "write a whole number, without quotes, at least 1 and at most 20",
    ),
    "a crew of yes": (
        ("boathouse", "crew = 2", "crew = true"),
        '[job], key "crew": found true',
        "write a whole number, without quotes, at least 1 and at most 20",
    ),
    "a yes in quotes": (
        ("yard-gate", "head = false", 'head = "no"'),
        "[opening], key \"head\": found 'no'",
        "write true or false, without quotes",
    ),
    "a yes that is a number": (
        ("yard-gate", "head = false", "head = 0"),
        '[opening], key "head": found 0',
        "write true or false, without quotes",
    ),
    "a date in words": (
        ("boathouse", "surveyed = 2026-03-14", 'surveyed = "14 March"'),
        "[job], key \"surveyed\": found '14 March'",
        "write a date, without quotes, like 2026-03-14",
    ),
    "a date with a time": (
        ("boathouse", "surveyed = 2026-03-14", "surveyed = 2026-03-14T10:00:00"),
        '[job], key "surveyed": found 2026-03-14T10:00:00',
        "write a date, without quotes, like 2026-03-14",
    ),
    "a date that is a number": (
        ("boathouse", "surveyed = 2026-03-14", "surveyed = 0"),
        '[job], key "surveyed": found 0',
        "write a date, without quotes, like 2026-03-14",
    ),
    "a name of nothing": (
        ("boathouse", 'name = "Boathouse doors"', 'name = ""'),
        "[job], key \"name\": found ''",
        "write at least one character",
    ),
    "a name too long": (
        ("boathouse", "Boathouse doors", "x" * 81),
        '[job], key "name": found 81 characters',
        "at most 80",
    ),
    "a name that is a number": (
        ("boathouse", 'name = "Boathouse doors"', "name = 12"),
        '[job], key "name": found 12',
        "write text in quotes",
    ),
    "a name that is a table": (
        ("boathouse", 'name = "Boathouse doors"', "name = { of = 1 }"),
        '[job], key "name": found a table',
        "write text in quotes",
    ),
    "text where a table in braces belongs": (
        ("boathouse", 'anchor = { kind = "screw",', 'anchor = "1/2 in" # '),
        "[building], key \"anchor\": found '1/2 in'",
        "write anchor = { … }",
    ),
    "a list where a table in braces belongs": (
        ("boathouse", 'plate = { thickness = "1/2 in",', 'plate = ["1/2 in"] # '),
        '[each_leaf], key "mount.plate": found a list of 1',
        "write plate = { thickness = …, width = …, length = … }",
    ),
    "text where a list belongs": (
        ("boathouse", 'lengths = ["20 ft", "24 ft"]', 'lengths = "20 ft"'),
        "[stock], key \"lengths\": found '20 ft'",
        'write a list between [ and ], as in lengths = ["…", "…"]',
    ),
    "a list of tables in single brackets": (
        ("boathouse", "[[each_leaf.infill]]", "[each_leaf.infill]"),
        '[each_leaf], key "infill": found a table',
        "write its name in double brackets",
    ),
    "text where a list of tables belongs": (
        ("kiln-shed", 'mid_rail = [{ at = "half" }]', 'mid_rail = "half"'),
        "[[leaf]] number 1, key \"mid_rail\": found 'half'",
        "write mid_rail = [{ … }]",
    ),
    "a table once that may be there often": (
        ("boathouse", "[stock]", '[mark]\nname = "A"\nnear_x = "0 in"\nnear_y = "0 in"\n\n[stock]'),
        'key "mark": found a table',
        "write its name in double brackets: [[mark]]",
    ),
    "a table often that is there once": (
        ("boathouse", "[stock]", "[[stock]]"),
        'key "stock": found a list of 1',
        "write it once, in single brackets: [stock]",
    ),
    "a hinge too few": (
        ("yard-gate", '["8 in", "70 in"]', '["8 in"]'),
        '[each_leaf], key "mount.heights": found a list of 1',
        "write at least 2",
    ),
    "a mid rail that says where twice": (
        ("kiln-shed", '{ at = "half" }', '{ at = "half", height = "1 m" }'),
        '[[leaf]] number 1, key "mid_rail", entry 1: found both at and height',
        'write one: at = "half", or height = … above the leaf\'s bottom',
    ),
    "a mid rail that does not say where": (
        ("kiln-shed", '{ at = "half" }', "{ }"),
        '[[leaf]] number 1, key "mid_rail", entry 1: found neither at nor height',
        'write one: at = "half", or height = … above the leaf\'s bottom',
    ),
    "a stiff brace over the whole leaf": (
        ("yard-gate", 'pattern = "rod"', 'pattern = "X"'),
        '[each_leaf], key "brace", entry 1, key "panel": a brace of pattern \'X\' over the whole '
        "leaf would run through the mid rails",
        'only pattern = "rod" passes them; else panel = "each" or a number',
    ),
    "a rod's end on the stile": (
        ("yard-gate", 'pattern = "rod"', 'pattern = "rod", lower_end = "stile"'),
        '[each_leaf], key "brace", entry 1, key "lower_end": a rod ends at its tabs',
        "end_allowance is the length of a tab; take this key out",
    ),
    "a panel that is no panel": (
        ("yard-gate", 'panel = "whole leaf"', 'panel = "hole leaf"'),
        '[each_leaf], key "brace", entry 1, key "panel": found \'hole leaf\'',
        'write "each" or "whole leaf", or a panel\'s number without quotes: 1 is the lowest',
    ),
    "a panel below the lowest": (
        ("yard-gate", "panel = 1", "panel = 0"),
        '[each_leaf], key "infill", entry 1, key "panel": found 0',
        'write "each", or a panel\'s number without quotes: 1 is the lowest',
    ),
    "temperatures the wrong way round": (
        ("kiln-shed", 'greatest_temperature = "60 C"', 'greatest_temperature = "-60 C"'),
        "[building], key \"greatest_temperature\": '-60 C' is below the least, '-10 C'",
        "put the lower one in least_temperature",
    ),
    "a slip inside what leaves share": (
        ("boathouse", 'spacer = "1/2 in"', 'spacer = "1/2"'),
        "[each_leaf], key \"mount.spacer\": found '1/2'",
        "length '1/2': a number without a unit. Forms that would do: "
        "1/2 in; 1/2 ft; 1/2 mm; 1/2 m.",
    ),
    "a key that no leaf has, in what leaves share": (
        ("boathouse", 'corners = "stiles run through"', 'corner = "stiles run through"'),
        '[each_leaf], key "corner": no such key',
        "did you mean 'corners'? known here: hand, name, swing, width, frame, grade, corners, "
        "root_gap, weld_shrinkage, scribe_braces, mid_rail, brace, splice, infill, mount, hold, "
        "handle_height, finish",
    ),
    "a kind of mount with a slip in it": (
        ("boathouse", 'kind = "floor pivot"', 'kind = "flor pivot"'),
        "[each_leaf], key \"mount.kind\": found 'flor pivot'",
        "did you mean 'floor pivot'? write 'floor pivot' or 'barrel hinge'",
    ),
    "a mount without a kind": (
        ("boathouse", 'kind = "floor pivot"\n', ""),
        '[each_leaf], key "mount.kind": this must be given and is not there',
        "write kind = 'floor pivot' or 'barrel hinge'; it says what the rest means",
    ),
    "a hinge without its standoff": (
        ("yard-gate", 'standoff = "3.375 in"\n', ""),
        '[each_leaf], key "mount.standoff": this must be given and is not there',
        f"write standoff = {LENGTH}",
    ),
    "a number in the braces of a mount": (
        ("boathouse", 'width = "6 in"', "width = 6"),
        '[each_leaf], key "mount.plate.width": found 6',
        f"write {LENGTH}",
    ),
    "a thickness that is a table": (
        ("boathouse", 'thickness = "3/4 in"', 'thickness = { text = "3/4 in", exact = 1 }'),
        '[each_leaf], key "infill", entry 1, key "thickness": found a table',
        'write text with its unit, in quotes, like "3/4 in", "14 ga" or "1.5 mm"',
    ),
}


@pytest.mark.parametrize("name", ONE_THING)
def test_one_wrong_thing_is_the_only_one_told(name: str) -> None:
    (example, old, new), found, would_do = ONE_THING[name]
    text = edited(example, (old, new))
    problem = told_about(text)
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {problem.line}: {found}\n"
        f"      {would_do}"
    )


# Where the line is that each of these is about, by some of its text.
LINES = {
    "a key with a slip in it": "revison",
    "a table with a slip in it": "[stocks]",
    "a kind of reading with a slip in it": '"plum"',
    "a length that may mean two things": "12-6 1/2",
    "a key below the table it belongs in": "handle_height",
    "a mark that is not there": "BLL",
    "one leaf too few": 'leaves = "pair"',
    "a choice that must be made": "[doorway]",
    "a stick of nothing, in a list": "lengths = ",
    "a slip inside what leaves share": 'spacer = "1/2"',
    "a mount without a kind": "[each_leaf.mount]",
    "a kind of mount with a slip in it": "flor pivot",
    "a number in the braces of a mount": "plate = {",
    "a panel that is no panel": "hole leaf",
    "a panel below the lowest": "panel = 0",
    "a hinge without its standoff": "[each_leaf.mount]",
    "a thickness that is a table": "exact = 1",
}


@pytest.mark.parametrize("name", LINES)
def test_the_line_is_that_of_the_wrong_thing(name: str) -> None:
    example, old, new = ONE_THING[name][0]
    text = edited(example, (old, new))
    assert told_about(text).line == line_with(text, LINES[name])


def test_a_wrong_entry_of_a_list_over_many_lines_has_the_line_of_its_key() -> None:
    text = edited("boathouse", ('["20 ft", "24 ft"]', '[\n  "20 ft", # ]\n  "24",\n]'))
    problem = told_about(text)
    assert problem.where == ("stock", "lengths", 1)
    assert problem.line == line_with(text, "lengths = [")


def test_what_follows_a_list_over_many_lines_has_its_own_line() -> None:
    changes = ('["20 ft", "24 ft"]', '[\n  "20 ft", # ]\n]'), ('kerf = "0.094 in"', "kerf = 1")
    text = edited("boathouse", *changes)
    assert told_about(text).line == line_with(text, "kerf = 1")
