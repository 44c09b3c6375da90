"""Two texts that grew from one: merged per key, remarks kept, the same key twice a conflict."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.positions import Path
from leafwright.job.store.edit import Edit, EditError, edited
from leafwright.job.store.merge import MOST_EDITS, merged
from leafwright.job.store.plain import change, data_of, same

SHED = """\
# A shed. Invented data.
leafwright = 1                       # the form of this file

[job]
name = "Shed"                        # as the client calls it
crew = 2

[[mark]]
name = "A"
near_x = "10 in"                     # from the left
near_y = "20 in"

# the tape's readings
[[reading]]
kind = "distance"
from = "BL"                          # bottom left
to = "BR"
is = "10'-6"
by = "tape"

[[reading]]
kind = "distance"
from = "TL"
to = "TR"
is = "10'-7"

# one laser plane
[[reading]]
kind = "level"
at = "BL"
is = "-36 in"

# ---------------------------------- what is wanted

[doorway]
leaves = "pair"
meeting_gap = "1/4 in"               # wide, for the boards
jamb = { section = "tube", shim = "1/2 in" }

[each_leaf]
frame = "tube"
brace = [{ pattern = "X", panel = 1 }, { pattern = "none", panel = 2 }]

[each_leaf.mount]
kind = "floor pivot"
spacer = "1/2 in"
plate = { width = "6 in", length = "9 in" }

[[leaf]]
hand = "left"                        # seen from the yard

[[leaf]]
hand = "right"

[[leaf.infill]]
kind = "boards"

[stock]
lengths = [
    "20 ft",
    "24 ft",                         # dearer
]
# the end
"""

BASE: dict[str, Any] = data_of(SHED) or {}

PLACES: tuple[Path, ...] = (
    ("job", "name"),
    ("job", "crew"),
    ("mark", 0, "near_x"),
    ("reading", 0, "is"),
    ("reading", 0, "by"),
    ("reading", 1, "is"),
    ("reading", 1, "note"),
    ("reading", 2, "is"),
    ("doorway", "meeting_gap"),
    ("doorway", "top_gap"),
    ("doorway", "jamb", "shim"),
    ("doorway", "jamb", "note"),
    ("doorway", "transom", "section"),
    ("each_leaf", "brace", 0, "pattern"),
    ("each_leaf", "brace", 1, "panel"),
    ("each_leaf", "mount", "spacer"),
    ("each_leaf", "mount", "plate", "width"),
    ("leaf", 0, "width"),
    ("leaf", 1, "infill", 0, "on"),
    ("stock", "lengths"),
    ("stock", "kerf"),
)

VALUES = st.one_of(
    st.integers(-5, 5),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False, width=16),
    st.text(st.characters(codec="utf-8"), max_size=12),
    st.lists(st.sampled_from(["18 ft", "20 ft", '7\\" #'])),
)


def reading(is_: str, **more: Any) -> dict[str, Any]:
    return {"kind": "distance", "from": "BL", "to": "TR", "is": is_, **more}


def made(text: str, *edits: tuple[Path, Any]) -> str:
    """Return a text with values set, the tables on the way made."""
    for where, value in edits:
        place, new = where, value
        while len(place) > 1 and with_table(text, place[:-1]) is None:
            place, new = place[:-1], {place[-1]: new}
        text = edited(text, [Edit(place, new)])
    return text


def with_table(text: str, where: Path) -> Any:
    here: Any = data_of(text)
    for part in where:
        if isinstance(here, dict) and part not in here:
            return None
        here = here[part]
    return here


def plus(text: str, where: Path, entry: dict[str, Any]) -> str:
    return edited(text, [Edit(where, [entry], insert=True)])


def with_plain(data: dict[str, Any], where: Path, value: Any, *, insert: bool) -> dict[str, Any]:
    changed = copy.deepcopy(data)
    change(changed, where, [value] if insert else value, insert=insert)
    return changed


def data(text: str) -> dict[str, Any]:
    found = data_of(text)
    assert found is not None, text
    return found


def lost_remarks(text: str) -> list[str]:
    remarks = [line[line.index("# ") :] for line in SHED.split("\n") if "# " in line]
    return [remark for remark in remarks if remark not in text]


def disjoint(draw: Any) -> tuple[list[tuple[Path, Any]], list[tuple[Path, Any]]]:
    edits: tuple[list[tuple[Path, Any]], list[tuple[Path, Any]]] = ([], [])
    for place in draw(st.lists(st.sampled_from(PLACES), unique=True, max_size=8)):
        edits[draw(st.booleans())].append((place, draw(VALUES)))
    return edits


@given(st.data())
def test_edits_of_different_keys_merge_the_same_from_either_side(drawn: st.DataObject) -> None:
    one, other = disjoint(drawn.draw)
    both = merged(SHED, made(SHED, *one), made(SHED, *other))
    again = merged(SHED, made(SHED, *other), made(SHED, *one))
    assert not both.conflicts and not again.conflicts
    assert same(data(both.text), data(again.text))
    assert same(data(both.text), data(made(SHED, *one, *other)))
    # A line of several values, changed by both, is taken for a remark if there is a # in it.
    assert not both.left_out or any("#" in repr(value) for _, value in one + other)


@given(st.data())
def test_remarks_survive_a_merge(drawn: st.DataObject) -> None:
    one, other = disjoint(drawn.draw)
    theirs = made(SHED, *(edit for edit in one if edit[0] != ("stock", "lengths")))
    mine = made(SHED, *(edit for edit in other if edit[0] != ("stock", "lengths")))
    assert not lost_remarks(theirs)
    assert not lost_remarks(merged(SHED, theirs, mine).text)


@given(st.text(max_size=40), st.text(max_size=40))
def test_with_no_other_edit_the_merge_is_mine_to_the_letter(before: str, mine: str) -> None:
    assert merged(before, before, mine).text == mine
    assert merged(before, mine, before).text == mine
    assert merged(before, mine, mine).text == mine


@given(st.sampled_from(PLACES), VALUES, VALUES)
def test_the_same_key_changed_to_two_values_is_a_conflict(
    place: Path, one: object, other: object
) -> None:
    theirs, mine = made(SHED, (place, one)), made(SHED, (place, other))
    result = merged(SHED, theirs, mine)
    if (
        same(data(theirs), data(mine))
        or SHED in (theirs, mine)
        or BASE
        in (
            data(theirs),
            data(mine),
        )
    ):
        assert not result.conflicts
        return
    assert result.text == theirs
    (conflict,) = result.conflicts
    assert conflict.where == place
    assert same(conflict.theirs, one) and same(conflict.mine, other)


@given(
    st.lists(st.sampled_from(["1 in", "2 in", "3 in"]), max_size=3),
    st.lists(st.sampled_from(["4 in", "5 in", "6 in"]), max_size=3),
)
def test_readings_added_on_two_phones_are_all_kept_theirs_first(
    one: list[str], other: list[str]
) -> None:
    theirs, mine = SHED, SHED
    for number, is_ in enumerate(one):
        theirs = plus(theirs, ("reading", 3 + number), reading(is_, who="one"))
    for number, is_ in enumerate(other):
        mine = plus(mine, ("reading", 3 + number), reading(is_, who="two"))
    result = merged(SHED, theirs, mine)
    assert not result.conflicts
    added = data(result.text)["reading"][3:]
    assert added == [reading(i, who="one") for i in one] + [reading(i, who="two") for i in other]


def test_an_added_reading_stands_after_the_last_one_and_before_the_next_heading() -> None:
    theirs = plus(SHED, ("reading", 3), reading("17 ft"))
    text = merged(SHED, theirs, plus(SHED, ("reading", 3), reading("17'-1"))).text
    assert text.index('"17 ft"') < text.index('"17\'-1"') < text.index("# -----")


@pytest.mark.parametrize(
    "where, entry",
    [
        (("mark", 1), {"name": "B", "near_x": "0", "near_y": "0"}),
        (("each_leaf", "brace", 2), {"pattern": "rod"}),
        (("leaf", 2), {"hand": "left"}),
        (("leaf", 1, "infill", 1), {"kind": "mesh"}),
        (("leaf", 0, "infill", 0), {"kind": "mesh"}),
        (("offcut", 0), {"section": "tube", "length": "3 ft"}),
    ],
)
def test_different_entries_added_to_any_list_of_tables_are_all_kept(
    where: Path, entry: dict[str, Any]
) -> None:
    one, other = {**entry, "note": "one"}, {**entry, "note": "two"}
    result = merged(SHED, plus(SHED, where, one), plus(SHED, where, other))
    assert not result.conflicts
    wanted = with_plain(BASE, where, other, insert=True)
    assert same(data(result.text), with_plain(wanted, where, one, insert=True))


def test_the_same_entry_added_by_both_is_there_once() -> None:
    both = plus(SHED, ("reading", 3), reading("17 ft", who="one"))
    theirs, mine = made(both, (("job", "crew"), 3)), made(both, (("job", "name"), "Barn"))
    result = data(merged(SHED, theirs, mine).text)
    assert len(result["reading"]) == 4
    assert result["job"] == {"name": "Barn", "crew": 3}
    theirs = plus(both, ("reading", 4), reading("18 ft", who="one"))
    mine = plus(both, ("reading", 3), reading("19 ft", who="two"))
    added = data(merged(SHED, theirs, mine).text)["reading"][3:]
    assert [entry["is"] for entry in added] == ["17 ft", "18 ft", "19 ft"]


def test_one_corrects_a_reading_and_reads_it_again_while_another_adds_one() -> None:
    again = {"kind": "distance", "from": "BL", "to": "BR", "is": "10'-6 1/2"}
    mine = plus(made(SHED, (("reading", 0, "set_aside"), "misread")), ("reading", 1), again)
    theirs = plus(SHED, ("reading", 3), reading("17 ft"))
    result = data(merged(SHED, theirs, mine).text)
    assert [entry["is"] for entry in result["reading"]] == [
        "10'-6",
        "10'-6 1/2",
        "10'-7",
        "-36 in",
        "17 ft",
    ]
    assert result["reading"][0]["set_aside"] == "misread"


def test_an_edit_follows_its_reading_when_another_one_is_taken_out() -> None:
    twice = plus(SHED, ("reading", 1), {**BASE["reading"][0], "is": "10'-6 1/8"})
    theirs = edited(twice, [Edit(("reading", 0), None)])
    mine = made(twice, (("reading", 1, "who"), "second"))
    assert [entry.get("who") for entry in data(merged(twice, theirs, mine).text)["reading"]] == [
        "second",
        None,
        None,
    ]


def test_a_reading_taken_out_by_one_and_changed_by_the_other_is_a_conflict() -> None:
    theirs = edited(SHED, [Edit(("reading", 1), None)])
    (conflict,) = merged(SHED, theirs, made(SHED, (("reading", 1, "is"), "9 ft"))).conflicts
    assert conflict.where == ("reading", 1)
    assert conflict.theirs is None and conflict.before == BASE["reading"][1]


def test_a_list_of_tables_of_which_one_takes_an_entry_is_one_value() -> None:
    theirs = edited(SHED, [Edit(("each_leaf", "brace", 0), None)])
    mine = made(SHED, (("each_leaf", "brace", 1, "panel"), 3))
    (conflict,) = merged(SHED, theirs, mine).conflicts
    assert conflict.where == ("each_leaf", "brace")


def test_a_table_whose_kind_changed_is_one_value() -> None:
    hinge = {"kind": "barrel hinge", "standoff": "1 in"}
    theirs = made(SHED, (("each_leaf", "mount"), hinge))
    mine = made(SHED, (("each_leaf", "mount", "spacer"), "1 in"))
    (conflict,) = merged(SHED, theirs, mine).conflicts
    assert conflict.where == ("each_leaf", "mount") and conflict.theirs == hinge


def test_what_mine_adds_keeps_the_form_in_which_it_was_written() -> None:
    written = '[[reading]]                          # read twice\nkind = "rise"\nfrom = "BL"\n'
    mine = SHED.replace("# ----", f"# from the ladder\n{written}\n# ----")
    mine += "\n# gusty here\n[wind]\nspeed = '90 mph'  # by the map\n"
    text = merged(SHED, made(SHED, (("job", "crew"), 3)), mine).text
    assert f"# from the ladder\n{written}" in text
    assert "# gusty here\n[wind]\nspeed = '90 mph'  # by the map\n" in text
    assert data(text)["job"]["crew"] == 3


def test_a_table_that_both_began_in_forms_of_their_own_is_one_table() -> None:
    before = '[doorway]\nleaves = "pair"\n'
    theirs = before + '\n[doorway.jamb]\nsection = "tube"\n'
    mine = before + 'jamb.shim = "1 in"  # dotted\n'
    result = merged(before, theirs, mine)
    assert data(result.text)["doorway"]["jamb"] == {"section": "tube", "shim": "1 in"}
    assert data(merged(before, mine, theirs).text) == data(result.text)


def test_a_remark_only_mine_has_is_said_to_be_left_out() -> None:
    mine = made(SHED, (("job", "crew"), 3)).replace("# the end", "# the very end")
    result = merged(SHED, made(SHED, (("job", "name"), "Barn")), mine)
    assert result.left_out
    assert "# the end" in result.text


def test_a_text_that_is_no_toml_is_merged_with_nothing() -> None:
    for broken in ("[[", "a = " + "[" * 2000, "a = " + "9" * 5000):
        (conflict,) = merged(SHED, broken, made(SHED, (("job", "crew"), 3))).conflicts
        assert conflict.where == () and conflict.theirs == broken and conflict.before == SHED


def test_more_edits_than_can_be_merged_soon_are_one_conflict() -> None:
    keys = "".join(f"k{number} = 0\n" for number in range(MOST_EDITS + 1))
    theirs, mine = keys + "more = 1\n", keys.replace(" 0", " 2")
    assert not merged(keys, theirs, mine.replace("k0 = 2", "k0 = 0")).conflicts
    (conflict,) = merged(keys, theirs, mine).conflicts
    assert conflict.where == () and conflict.mine == mine


def test_lines_that_end_as_on_windows_are_merged() -> None:
    before = SHED.replace("\n", "\r\n")
    theirs = before.replace("crew = 2", "crew = 3")
    mine = before.replace('"Shed" ', '"Barn" ')
    text = merged(before, theirs, plus(mine, ("reading", 3), reading("17 ft"))).text
    assert data(text)["job"] == {"name": "Barn", "crew": 3}
    assert len(data(text)["reading"]) == 4


def test_true_is_not_one_and_one_is_not_one_point_nought() -> None:
    for one, other in ((True, 1), (1, 1.0)):
        theirs, mine = made(SHED, (("job", "crew"), one)), made(SHED, (("job", "crew"), other))
        assert len(merged(SHED, theirs, mine).conflicts) == 1


@given(st.sampled_from(PLACES))
def test_what_is_taken_out_is_gone_and_no_more(place: Path) -> None:
    try:
        wanted = with_plain(BASE, place, None, insert=False)
    except KeyError:
        with pytest.raises(EditError, match="nothing stands at"):
            edited(SHED, [Edit(place, None)])
        return
    assert same(data(edited(SHED, [Edit(place, None)])), wanted)


def test_the_last_entry_taken_out_takes_its_list_with_it() -> None:
    text = edited(SHED, [Edit(("mark", 0), None), Edit(("each_leaf", "brace", 1), None)])
    text = edited(text, [Edit(("each_leaf", "brace", 0), None)])
    wanted = copy.deepcopy(BASE)
    del wanted["mark"], wanted["each_leaf"]["brace"]
    assert same(data(text), wanted)


ODD = """\
title = "odd"
"a key".'b' = 1   # quoted and dotted
reading = [{ kind = "rise", is = "1 in" }, { kind = "rise", is = "2 in" }]

[doorway]
jamb.section = "tube"   # dotted
jamb.shim = "1 in"

[each_leaf.mount.plate]   # its parents have no header
width = "6 in"

[[leaf]]
  hand = "left"   # indented
  [leaf.mount]
  kind = "floor pivot"
  [[leaf.brace]]
  pattern = "X"

[each_leaf.brace]   # not where its parent is
pattern = "none"

[[leaf]]
note = '''
[[leaf]]
# no remark'''
[ "spaced" . key ]
x = [ [1, 2],   # inner
  [3] ]
"""


@pytest.mark.parametrize(
    "where, value",
    [
        (("a key", "b"), 2),
        (("a key", "c"), 2),
        (("a key",), None),
        (("new",), "x"),
        (("new",), {"a": 1, "b": {"c": 2}}),
        (("new",), [{"a": 1}, {"b": [{"c": 2}]}]),
        (("new key",), "x"),
        (("reading", 0, "is"), "3 in"),
        (("reading", 1), None),
        (("doorway", "jamb", "shim"), "2 in"),
        (("doorway", "jamb", "shim"), None),
        (("doorway", "jamb", "note"), "x"),
        (("doorway", "jamb"), {"section": "bar"}),
        (("doorway", "jamb"), None),
        (("each_leaf", "mount", "kind"), "floor pivot"),
        (("each_leaf", "mount", "plate", "width"), "7 in"),
        (("each_leaf", "mount", "plate", "length"), "7 in"),
        (("each_leaf", "mount"), None),
        (("each_leaf", "frame"), "tube"),
        (("each_leaf", "brace", "pattern"), "X"),
        (("each_leaf",), None),
        (("leaf", 0, "hand"), "right"),
        (("leaf", 0, "width"), "6 ft"),
        (("leaf", 0, "mount", "spacer"), "1 in"),
        (("leaf", 0, "brace", 0, "panel"), 1),
        (("leaf", 0, "brace"), None),
        (("leaf", 0), None),
        (("leaf", 1, "note"), "one line"),
        (("leaf", 1, "hand"), "right"),
        (("leaf", 1), None),
        (("leaf",), None),
        (("spaced", "key", "x", 0, 1), 5),
        (("spaced", "key", "x", 1), None),
        (("spaced", "key", "y"), 'a\n"b'),
        (("spaced", "other"), 1),
        (("spaced",), {"flat": 1}),
    ],
)
def test_an_edit_of_an_odd_but_lawful_text_is_that_edit_and_no_other(
    where: Path, value: object
) -> None:
    wanted = with_plain(data(ODD), where, value, insert=False)
    assert same(data(edited(ODD, [Edit(where, value)])), wanted)


@pytest.mark.parametrize(
    "where, entry",
    [
        (("reading", 0), {"kind": "rise", "is": "0 in"}),
        (("reading", 2), {"kind": "rise", "is": "3 in", "more": {"a": 1}}),
        (("leaf", 0), {"hand": "right"}),
        (("leaf", 1), {"hand": "right", "brace": [{"pattern": "X"}]}),
        (("leaf", 2), {"hand": "right"}),
        (("leaf", 0, "brace", 0), {"pattern": "none"}),
        (("leaf", 0, "brace", 1), {"pattern": "none"}),
        (("leaf", 1, "brace", 0), {"pattern": "none"}),
        (("each_leaf", "infill", 0), {"kind": "mesh"}),
        (("spaced", "key", "x", 1), [7]),
        (("mark", 0), {"name": "A"}),
    ],
)
def test_an_entry_put_into_an_odd_text_stands_in_its_place(where: Path, entry: Any) -> None:
    wanted = with_plain(data(ODD), where, entry, insert=True)
    assert same(data(plus(ODD, where, entry)), wanted)
