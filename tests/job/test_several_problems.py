"""What is told of a file with several things wrong, and of what lies further apart in it."""

from __future__ import annotations

import pytest

from leafwright.job.errors import MOST_SHOWN, JobError, place_in_words
from leafwright.job.file import read_job
from leafwright.job.positions import Path
from tests.job.edits import EXAMPLES, edited, line_with, refused, told_about


def test_everything_wrong_is_told_at_once_in_the_order_of_the_file() -> None:
    text = edited(
        "boathouse",
        ('revision = "B"', 'revison = "B"'),
        ('from = "BL" ', 'from = "BLL" '),
        ('is = "10\'-7"', 'is = "10-7"'),
        ('kind = "plumb"', 'kind = "plum"'),
        ('frame = "HSS 2-1/2 x 2-1/2 x 3/16"', 'frame = "2 inch box"'),
        ('kind = "floor pivot"', 'kind = "pivot"'),
        ('hand = "right"', 'hand = "left"'),
        ("volts = 240", "volts = -240"),
        ('shop = "95 /h"', 'shop = "95 $"'),
    )
    with pytest.raises(JobError) as caught:
        read_job(text, "job.toml")
    assert [problem.where for problem in caught.value.problems] == [
        ("job", "revison"),
        ("reading", 0, "from"),
        ("reading", 1, "is"),
        ("reading", 8, "kind"),
        ("each_leaf", "frame"),
        ("each_leaf", "mount", "kind"),
        ("leaf", 1, "hand"),
        ("power", "volts"),
        ("price", "shop"),
    ]
    assert str(caught.value).startswith("job.toml: 9 things to put right\n  job.toml, line ")


def test_what_every_leaf_lacks_is_told_of_each() -> None:
    text = edited("boathouse", ('frame = "HSS 2-1/2 x 2-1/2 x 3/16"\ncorners', "corners"))
    first = line_with(text, "[[leaf]]\nhand")
    assert refused(text) == (
        "job.toml: 2 things to put right\n"
        f'  job.toml, line {first}: [[leaf]] number 1, key "frame": this must be given and is not '
        "there\n      write frame = text in quotes\n"
        f'  job.toml, line {first + 3}: [[leaf]] number 2, key "frame": this must be given and is '
        "not there\n      write frame = text in quotes"
    )


def test_a_leaf_s_own_slip_is_not_laid_on_what_leaves_share() -> None:
    text = edited("boathouse", ('hand = "right"', 'hand = "right"\nmount = { spacer = "1" }'))
    problem = told_about(text)
    assert problem.where == ("leaf", 1, "mount", "spacer")
    assert problem.line == line_with(text, 'spacer = "1" }')


def test_a_shared_slip_is_told_though_a_leaf_has_a_table_of_the_same_name() -> None:
    text = edited(
        "boathouse",
        ('pin_diameter = "1.4990 in"', 'pin_diameter = "1.4990"'),
        ('hand = "right"', 'hand = "right"\nmount = { spacer = "1 in" }'),
    )
    problem = told_about(text)
    assert problem.where == ("each_leaf", "mount", "pin_diameter")
    assert problem.line == line_with(text, '"1.4990"')


def test_a_shared_slip_is_told_though_every_leaf_says_otherwise() -> None:
    text = edited(
        "boathouse",
        ('swing = "both"', 'swing = "bth"'),
        ('hand = "left"', 'hand = "left"\nswing = "both"'),
        ('hand = "right"', 'hand = "right"\nswing = "both"'),
    )
    assert told_about(text).where == ("each_leaf", "swing")


@pytest.mark.parametrize("value", ['"HSS 2 x 2"', "3", "[]", "[{ }]"])
def test_what_leaves_share_must_be_a_table(value: str) -> None:
    text = f"each_leaf = {value}\n" + EXAMPLES["kiln-shed"]
    shown = {'"HSS 2 x 2"': "'HSS 2 x 2'", "3": "3", "[]": "an empty list"}
    assert refused(text) == (
        'job.toml: 1 thing to put right\n  job.toml, line 1: key "each_leaf": found '
        f"{shown.get(value, 'a list of 1')}\n"
        "      write the table [each_leaf], its keys on lines below it"
    )


def test_a_leaf_in_single_brackets_is_told_so() -> None:
    text = edited("kiln-shed", ("[[leaf]]", "[leaf]"))
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, '[leaf]')}: "
        'key "leaf": found a table\n      write its name in double brackets: [[leaf]]'
    )


@pytest.mark.parametrize(
    ("table", "would_do"),
    [
        ("job", "write the table [job] with name and seen_from, its keys on lines below it"),
        ("doorway", "write the table [doorway] with leaves, its keys on lines below it"),
    ],
)
def test_a_table_that_is_missing_is_asked_for(table: str, would_do: str) -> None:
    start = EXAMPLES["yard-gate"].index(f"[{table}]\n")
    rest = EXAMPLES["yard-gate"][start + 1 :]
    text = EXAMPLES["yard-gate"][:start] + rest[rest.index("\n[") + 1 :]
    assert refused(text) == (
        f'job.toml: 1 thing to put right\n  job.toml: key "{table}": this must be given and is '
        f"not there\n      {would_do}"
    )


def test_a_file_of_nothing_but_its_form_asks_for_the_four_tables() -> None:
    assert refused("leafwright = 1") == (
        "job.toml: 4 things to put right\n"
        '  job.toml: key "job": this must be given and is not there\n'
        "      write the table [job] with name and seen_from, its keys on lines below it\n"
        '  job.toml: key "reading": this must be given and is not there\n'
        "      write the table [[reading]] with kind, its keys on lines below it\n"
        '  job.toml: key "doorway": this must be given and is not there\n'
        "      write the table [doorway] with leaves, its keys on lines below it\n"
        '  job.toml: key "leaf": this must be given and is not there\n'
        "      write the table [[leaf]] with frame and mount, its keys on lines below it"
    )


def test_a_key_that_cannot_be_shown_is_escaped() -> None:
    text = edited("boathouse", ("crew = 2", '"\\u001b[31m" = 2'))
    assert '[job], key "\\x1b[31m": a sign that cannot be seen (U+001B)' in refused(text)


def test_marks_of_one_s_own() -> None:
    mark = '[[mark]]\nname = "{}"\nnear_x = "0 in"\nnear_y = "8 in"\n\n[doorway]'
    own = mark.format("sill")
    sound = edited("boathouse", ("[doorway]", own), ('to = "BR"', 'to = "sill"'))
    assert read_job(sound).mark[0].name == "sill"
    for name, found in {
        "sill": "the mark 'sill' is there already",
        "BL": "'BL' means a mark on the opening's outline",
        "L@mid": "'L@mid' means a mark on the opening's outline",
    }.items():
        text = edited("boathouse", ("[doorway]", own), ("[doorway]", mark.format(name)))
        assert f'[[mark]] number 2, key "name": {found}' in refused(text)


def test_a_mark_on_neither_side_is_not_inward_of_anything() -> None:
    mark = '[[mark]]\nname = "sill"\nnear_x = "0 in"\nnear_y = "8 in"\n\n[doorway]'
    text = edited(
        "boathouse",
        ("[doorway]", mark),
        ('to = "TL"\nis = "5/16 in"', 'to = "sill"\nis = "5/16 in"'),
    )
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, 'toward')}: "
        "[[reading]] number 9, key \"toward\": 'outward' says nothing for 'sill', which is on "
        'neither side\n      write toward = "left" or "right", as seen from the face side'
    )


def test_an_answer_runs_out_after_it_was_given() -> None:
    text = EXAMPLES["boathouse"] + (
        '\n[[answer]]\nabout = "building/slab"\nsays = "none"\nby = "an engineer"\n'
        'document = "scan 1"\non = 2026-02-01\nuntil = 2026-01-31\n'
    )
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, 'until = ')}: "
        '[[answer]] number 1, key "until": 2026-01-31 is before 2026-02-01, the day of the '
        "answer\n      put the day it runs out, or leave it out"
    )


def test_sections_and_grades_of_one_s_own() -> None:
    own = (
        '\n[[section]]\nname = "yard tube"\nshape = "rectangular tube"\nwidth = "2 in"\n'
        'wall = "{}"\ngrade = "heat 1"\n\n[[grade]]\nname = "heat 1"\nyield_strength = "40 ksi"\n'
        'ultimate_strength = "60 ksi"\nsource = "certificate 1"\n'
    )
    text = EXAMPLES["kiln-shed"].replace("SHS 40 x 40 x 3", "yard tube")
    text = text.replace('grade = "S235JRH"\n', "")
    assert read_job(text + own.format("1/8 in")).leaf[0].frame == "yard tube"
    thick = told_about(text + own.format("1.5 in"))
    assert thick.where == ("section", 0, "name")
    assert "the section 'yard tube' cannot be made" in thick.found
    # The tube is told of once, by its own field; the frame that names it is not at fault.
    assert told_about(text + own.format("1/8")).where == ("section", 0, "wall")
    ungraded = own.replace('grade = "heat 1"\n', "", 1).format("1/8 in")
    assert told_about(text + ungraded).where == ("leaf", 0, "frame")
    assert told_about(text + ungraded).found == (
        "the section 'yard tube' has no grade; give grade = … in its [[section]]"
    )
    with_grade = text.replace('"yard tube"\n', '"yard tube"\ngrade = "heat 1"\n')
    assert read_job(with_grade + ungraded).section[0].grade is None
    other = told_about(with_grade.replace("heat 1", "heat 2") + own.format("1/8 in"))
    assert other.where == ("leaf", 0, "grade")
    twice = told_about(text + own.format("1/8 in") + own.partition("[[grade]]")[0].format("1/8 in"))
    assert twice.found == "the section 'yard tube' is there already"


def test_of_many_problems_the_first_are_written_out_and_the_rest_counted() -> None:
    text = EXAMPLES["kiln-shed"] + "".join(f"k{i} = 1\n" for i in range(150))
    said = refused(text)
    assert said.startswith("job.toml: 150 things to put right\n")
    assert said.count('key "k') == MOST_SHOWN
    assert said.endswith("\n  and 50 more, not shown; put these right first")


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ((), "the file"),
        (("leafwright",), 'key "leafwright"'),
        (("job", "name"), '[job], key "name"'),
        (("reading", 2), "[[reading]] number 3"),
        (("reading", 2, "is"), '[[reading]] number 3, key "is"'),
        (("stock", "lengths", 1), '[stock], key "lengths", entry 2'),
        (("leaf", 0, "mount", "plate", "width"), '[[leaf]] number 1, key "mount.plate.width"'),
        (("each_leaf", "brace", 0, "panel"), '[each_leaf], key "brace", entry 1, key "panel"'),
    ],
)
def test_places_in_words(where: Path, words: str) -> None:
    assert place_in_words(where) == words
