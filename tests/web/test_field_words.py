"""What is said beside a field: the value that was typed, once, and what would do, for one who types
in fields and has no file before them."""

from __future__ import annotations

import pytest

from leafwright.job.errors import JobError
from leafwright.job.file import read_job
from leafwright.job.positions import Path as Place
from leafwright.job.store.values import with_values
from leafwright.web.fields import words_on_page
from tests.web.running import example

SAID: list[tuple[Place, object, str]] = [
    (
        ("doorway", "meeting_gap"),
        "a thumb",
        "'a thumb' cannot be read as a number with a unit. Forms",
    ),
    (
        ("doorway", "meeting_gap"),
        "3",
        "Length '3': a number without a unit. Forms that would do: 3 in;",
    ),
    (("doorway", "meeting_gap"), "-1 in", "Found '-1 in'. It must be 0 or more"),
    (("job", "name"), "", "Nothing is written. Write at least one"),
    (
        ("each_leaf", "frame"),
        "tube",
        "Section 'tube' is not read: give its kind and sizes, such as 'HSS",
    ),
    (("each_leaf", "swing"), "out", "Found 'out'. Write 'toward', 'away' or 'both'"),
    (("each_leaf", "frame"), None, "This is needed. Type it here"),
    (("doorway", "leaves"), "single", "Found 'single', and 2 [[leaf]] in the file. Take the other"),
    (("limits", "racking"), "lots", "'lots' cannot be read as"),
]


@pytest.mark.parametrize(("where", "value", "said"), SAID)
def test_a_mistake_is_said_in_the_makers_words(where: Place, value: object, said: str) -> None:
    with pytest.raises(JobError) as refused:
        read_job(with_values("boathouse", example("boathouse"), [(where, value)]))
    told = words_on_page(refused.value.problems[0])
    assert told.startswith(said), told
    assert told.count(repr(value)) <= 1, told
    assert "`" not in told and "quotes" not in told, told
