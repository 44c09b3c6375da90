"""A shelf of jobs: kept, saved, merged, undone, renamed, removed; what lies in it by hand."""

from __future__ import annotations

import os
import tempfile
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job import file
from leafwright.job.store import Conflict, ConflictKey, Saved, Store, StoreError
from leafwright.job.store.records import LONGEST_TEXT, version_of
from leafwright.job.store.slug import LONGEST_SLUG, slug_of, unused

TEXT = """\
leafwright = 1                       # the form of this file

[job]
name = "Gate"                        # as the client calls it
crew = 2
"""
EXAMPLE = Path(__file__).parents[2] / "examples" / "boathouse.toml"


@pytest.fixture(autouse=True, scope="module")
def no_waiting() -> Iterator[None]:
    """Spare the disk: nothing here depends on when it has written what it was given."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, "fsync", lambda handle: None)
        yield


def saved(result: Saved | Conflict) -> Saved:
    assert isinstance(result, Saved), result
    return result


def conflict(result: Saved | Conflict) -> Conflict:
    assert isinstance(result, Conflict), result
    return result


def a_store(folder: Path) -> tuple[Store, Saved]:
    moments = iter(range(1_774_000_000, 1_775_000_000, 60))
    store = Store(folder, now=lambda: float(next(moments)))
    return store, store.new("Gate", TEXT)


def test_a_saved_job_is_on_disk_as_it_was_given(tmp_path: Path) -> None:
    store, first = a_store(tmp_path / "shelf")
    text = TEXT.replace("\n", "\r\n") + "# ½ \u2028 no line end"
    second = saved(store.save("gate", text, base=first.version, note="more"))
    assert (tmp_path / "shelf" / "gate" / "job.toml").read_bytes() == text.encode()
    assert store.read("gate") == second == store.jobs()[0]
    assert second.version == version_of(text.encode()) != first.version
    assert [v.version for v in store.versions("gate")] == [first.version, second.version]
    assert [v.note for v in store.versions("gate")] == ["", "more"]
    assert [v.at for v in store.versions("gate")] == [1_774_000_000.0, 1_774_000_060.0]
    assert store.version_text("gate", 1) == TEXT


def test_a_save_that_changes_nothing_makes_no_version(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    assert store.save("gate", TEXT, base=first.version) == first
    assert store.save("gate", TEXT, base="unknown") == first
    assert len(store.versions("gate")) == 1


def test_any_text_is_kept_even_one_that_no_job_can_be_read_from(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    for text in ("", "[[", "\x00", "<script>"):
        first = saved(store.save("gate", text, base=first.version))
        assert store.read("gate").text == text
    assert [job.text for job in store.jobs()] == ["<script>"]


def test_a_text_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    with pytest.raises(StoreError, match=r"line 2 holds '\\ud800', which is half a character"):
        store.save("gate", "a\n\ud800", base=first.version)
    with pytest.raises(StoreError, match="has 300,001 characters, and a job file has at most"):
        store.save("gate", "#" * 300_001, base=first.version)
    assert store.read("gate") == first


def test_whatever_can_be_read_as_a_job_can_be_kept() -> None:
    assert LONGEST_TEXT >= file.LONGEST


def test_edits_of_different_keys_from_one_version_are_both_kept(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    store.save("gate", TEXT.replace("crew = 2", "crew = 3  # and a friend"), base=first.version)
    mine = saved(store.save("gate", TEXT.replace('"Gate"', '"Barn"'), base=first.version))
    assert mine.text == TEXT.replace("crew = 2", "crew = 3  # and a friend").replace("Gate", "Barn")
    assert store.read("gate") == mine


def test_edits_of_the_same_key_conflict_and_both_are_kept(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    theirs = saved(store.save("gate", TEXT.replace("2", "3"), base=first.version))
    mine = TEXT.replace("2", "4")
    result = conflict(store.save("gate", mine, base=first.version))
    assert result.current == theirs == store.read("gate")
    assert result.keys == (ConflictKey(("job", "crew"), 3, 4, 2),)
    assert (tmp_path / "gate" / "history" / result.kept).read_text() == mine
    assert conflict(store.save("gate", mine, base=first.version)).kept == result.kept
    # What was laid aside never stood in the job, so an undo passes it over.
    assert saved(store.undo("gate", base=theirs.version)).text == TEXT


def test_a_base_that_is_not_known_shows_every_difference_as_a_conflict(tmp_path: Path) -> None:
    store, _ = a_store(tmp_path)
    mine = TEXT.replace("2", "4").replace("Gate", "Barn")
    result = conflict(store.save("gate", mine, base="0123456789abcdef"))
    assert [key.where for key in result.keys] == [("job", "name"), ("job", "crew")]
    assert store.read("gate").text == TEXT


def test_a_merge_that_cannot_keep_my_remarks_keeps_my_whole_text(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    store.set_values("gate", [(("job", "crew"), 3)], base=first.version)
    mine = TEXT.replace("Gate", "Barn") + "# ask about the paint\n"
    result = saved(store.save("gate", mine, base=first.version))
    assert "ask about" not in result.text and 'name = "Barn"' in result.text
    aside = store.versions("gate")[-2]
    assert store.version_text("gate", aside.number) == mine
    assert aside.note.startswith("whole text of a save that was merged")


def test_values_are_set_with_every_remark_kept(tmp_path: Path) -> None:
    store = Store(tmp_path)
    text = EXAMPLE.read_text(encoding="utf-8")
    first = store.new("boathouse", text)
    edits: list[tuple[tuple[str | int, ...], object]] = [
        (("job", "name"), 'A "new" name'),
        (("doorway", "jamb", "shim"), "3/4 in"),
        (("reading", 5), None),
        (("reading", 19), {"kind": "rise", "from": "BL", "to": "BR", "is": "1 in"}),
        (("wind", "speed"), "90 mph"),
        (("stock", "end_trim"), "1 in"),
        (("mark", 0, "name"), "M1"),
    ]
    result = saved(store.set_values("boathouse", edits, base=first.version))
    old, new = text.split("\n"), result.text.split("\n")
    reading = text.split("\n\n[[reading]]")[6].strip().split("\n")
    gone = [line for line in old if line not in new]
    assert [line for line in gone if line not in reading] == [
        'name = "Boathouse doors"',
        'jamb = { section = "HSS 2-1/2 x 2-1/2 x 3/16", shim = "1/2 in" }',
    ]
    assert [line for line in new if line not in old] == [
        'name = "A \\"new\\" name"',
        'kind = "rise"',
        'is = "1 in"',
        'jamb = { section = "HSS 2-1/2 x 2-1/2 x 3/16", shim = "3/4 in" }',
        'end_trim = "1 in"',
        "[wind]",
        'speed = "90 mph"',
        "[[mark]]",
        'name = "M1"',
    ]


def test_values_set_on_two_phones_are_merged(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    one = {"kind": "rise", "from": "BL", "to": "BR", "is": "1 in"}
    store.set_values("gate", [(("reading", 0), one)], base=first.version)
    store.set_values("gate", [(("reading", 0), {**one, "is": "2 in"})], base=first.version)
    result = conflict(store.set_values("gate", [(("job", "crew"), 5)], base="unknown"))
    assert result.keys == (ConflictKey(("job", "crew"), 2, 5, None),)
    text = store.read("gate").text
    assert text.index('is = "1 in"') < text.index('is = "2 in"')


@pytest.mark.parametrize(
    "where, value, words",
    [
        ((), 1, "that is no place in a job file"),
        (("job", "naem"), None, "nothing stands at"),
        (("job", "name", "x"), 1, "nothing stands at"),
        (("job", 0), 1, "cannot be"),
        (("reading", 3), {}, "nothing stands at"),
        (("reading", -1), {}, "that is no place in a job file"),
        (("job", "crew"), object(), "give a text, a number, true"),
        (("job", "crew"), [None], "give a text, a number, true"),
    ],
)
def test_a_value_that_has_no_place_or_form_is_refused(
    tmp_path: Path, where: tuple[str | int, ...], value: object, words: str
) -> None:
    store, first = a_store(tmp_path)
    with pytest.raises(StoreError, match=f"No value was set: .*{words}"):
        store.set_values("gate", [(("job", "crew"), 3), (where, value)], base=first.version)
    assert store.read("gate") == first


def test_no_value_is_set_in_a_text_that_is_no_toml(tmp_path: Path) -> None:
    store = Store(tmp_path)
    base = store.new("gate", "[[").version
    with pytest.raises(StoreError, match="the job file of 'gate' is not TOML as it is"):
        store.set_values("gate", [(("job", "crew"), 3)], base=base)


# ---------------------------------------------------------------------- undo and redo


@given(st.lists(st.sampled_from(["save", "undo", "redo", "by hand", "log"]), max_size=14))
def test_undo_and_redo_walk_the_saves_as_a_maker_expects(steps: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store, first = a_store(Path(folder))
        done, every = [first.text], [first.text]
        undone: list[str] = []
        for number, step in enumerate(steps):
            base = store.read("gate").version
            if step in ("save", "by hand"):
                done.append(f"# {number}\n")
                undone.clear()
            if step == "save":
                store.save("gate", done[-1], base=base)
            elif step == "by hand":
                (Path(folder) / "gate" / "job.toml").write_text(done[-1])
            elif step == "undo" and len(done) > 1:
                undone.append(done.pop())
                assert saved(store.undo("gate", base=base)).text == done[-1]
            elif step == "redo" and undone:
                done.append(undone.pop())
                assert saved(store.redo("gate", base=base)).text == done[-1]
            elif step in ("undo", "redo"):
                with pytest.raises(StoreError, match=f"There is nothing to {step} in 'gate'"):
                    getattr(store, step)("gate", base=base)
                continue
            if step != "log":
                every.append(done[-1])
            assert store.read("gate").text == done[-1]
        texts = [store.version_text("gate", v.number) for v in store.versions("gate")]
        assert texts == every


def test_an_undo_takes_back_its_own_change_and_leaves_what_others_saved_since(
    tmp_path: Path,
) -> None:
    store, first = a_store(tmp_path)
    mine = saved(store.set_values("gate", [(("job", "crew"), 3)], base=first.version))
    store.set_values("gate", [(("job", "name"), "Barn")], base=mine.version)
    assert saved(store.undo("gate", base=mine.version)).text == TEXT.replace("Gate", "Barn")


def test_an_undo_of_what_others_changed_since_is_a_conflict(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    mine = saved(store.set_values("gate", [(("job", "crew"), 3)], base=first.version))
    theirs = saved(store.set_values("gate", [(("job", "crew"), 4)], base=mine.version))
    result = conflict(store.undo("gate", base=mine.version))
    assert result.current == theirs
    assert result.keys == (ConflictKey(("job", "crew"), 4, 2, 3),)
    with pytest.raises(StoreError, match=r"'beef' is none of its versions.*Read the job again"):
        store.undo("gate", base="beef")


def test_an_earlier_version_is_named_and_restored(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    second = saved(store.save("gate", "# 2\n", base=first.version))
    store.name_version("gate", 1, "  as sent <b>\n")
    third = saved(store.restore("gate", 1, base=second.version))
    assert third.text == TEXT
    told = [(v.number, v.name, v.note) for v in store.versions("gate")]
    assert told == [(1, "as sent <b>", ""), (2, "", ""), (3, "", "version 1 again")]
    store.name_version("gate", 1, "")
    assert store.versions("gate")[0].name == ""
    with pytest.raises(StoreError, match=r"'gate' has no version 9. Choose one of its 3 versions"):
        store.name_version("gate", 9, "x")
    with pytest.raises(StoreError, match="has 81 characters"):
        store.name_version("gate", 1, "x" * 81)


def test_a_list_of_names_that_cannot_be_read_is_kept_and_stops_no_save(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    (tmp_path / "gate" / "history" / "names.json").write_text("{broken")
    saved(store.save("gate", "# 2\n", base=first.version, note="noted"))
    assert store.versions("gate")[1].note == "noted"
    (kept,) = (tmp_path / "gate" / "history").glob("names-unread-*.json")
    assert kept.read_text() == "{broken"


# ---------------------------------------------------------------------- by hand


def test_a_change_by_hand_is_noticed_and_becomes_a_version(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    (tmp_path / "gate" / "job.toml").write_text(TEXT.replace("2", "3"))
    merged = saved(store.set_values("gate", [(("job", "name"), "Barn")], base=first.version))
    assert merged.text == TEXT.replace("2", "3").replace("Gate", "Barn")
    by_hand = store.versions("gate")[1]
    assert by_hand.note == "found on disk: changed by hand, or by a save that was cut short"
    assert store.version_text("gate", by_hand.number) == TEXT.replace("2", "3")


def test_a_change_by_hand_that_was_read_can_be_merged_with_later_ones(tmp_path: Path) -> None:
    store, _ = a_store(tmp_path)
    job = tmp_path / "gate" / "job.toml"
    job.write_text(TEXT.replace("2", "3"))
    read = store.read("gate")
    job.write_text(TEXT.replace("2", "5"))
    merged = saved(store.set_values("gate", [(("job", "name"), "Barn")], base=read.version))
    assert merged.text == TEXT.replace("2", "5").replace("Gate", "Barn")


def test_a_bare_file_becomes_a_folder_with_its_first_save(tmp_path: Path) -> None:
    bare = tmp_path / "Kiln Shed.toml"
    bare.write_text(TEXT)
    store = Store(tmp_path)
    (listed,) = store.jobs()
    assert (listed.slug, listed.text) == ("kiln-shed", TEXT)
    assert store.versions("kiln-shed") == () and store.log("kiln-shed") == ()
    assert store.read("kiln-shed") == listed
    assert bare.exists()
    second = saved(store.save("kiln-shed", "# 2\n", base=listed.version))
    assert not bare.exists()
    assert store.jobs() == (second,)
    assert [store.version_text("kiln-shed", n) for n in (1, 2)] == [TEXT, "# 2\n"]
    assert store.versions("kiln-shed")[0].note == "as found in Kiln Shed.toml"
    assert saved(store.undo("kiln-shed", base=second.version)).text == TEXT


def test_a_bare_file_left_beside_its_folder_by_a_crash_is_one_job(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    bare = tmp_path / "gate.toml"
    bare.write_text(TEXT)
    assert [job.slug for job in store.jobs()] == ["gate"]
    store.save("gate", "# 2\n", base=first.version)
    assert not bare.exists()
    bare.write_text("# another job\n")
    assert [(job.slug, job.text) for job in store.jobs()] == [
        ("gate", "# 2\n"),
        ("gate-2", "# another job\n"),
    ]


def test_what_is_no_text_is_listed_said_and_can_be_restored(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    job = tmp_path / "gate" / "job.toml"
    job.write_bytes(b'name = "Gr\xf6\xdfe"\n')
    (listed,) = store.jobs()
    assert (listed.slug, listed.text) == ("gate", "")
    for call in (store.read, lambda slug: store.set_values(slug, [], base=listed.version)):
        with pytest.raises(StoreError, match=r"is not text in UTF-8.*save it as UTF-8, or restore"):
            call("gate")
    assert saved(store.restore("gate", 1, base=listed.version)).text == TEXT == first.text
    raw = [p.read_bytes() for p in sorted((tmp_path / "gate" / "history").glob("*.toml"))]
    assert raw == [TEXT.encode(), b'name = "Gr\xf6\xdfe"\n', TEXT.encode()]


def test_a_huge_file_and_a_missing_one_are_said_and_stop_no_list(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    (tmp_path / "huge.toml").write_bytes(b"#" * 1_200_001)
    job = tmp_path / "gate" / "job.toml"
    job.unlink()
    assert [(job.slug, job.text) for job in store.jobs()] == [("gate", ""), ("huge", "")]
    with pytest.raises(StoreError, match="is no job file: it has 1,200,001 bytes"):
        store.read("huge")
    with pytest.raises(StoreError, match=r"job.toml is not there. Its versions are kept in"):
        store.save("gate", "# 2\n", base=first.version)


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path: Path) -> None:
    (tmp_path / "gate.toml").write_bytes(b"\xef\xbb\xbf" + TEXT.encode())
    store = Store(tmp_path)
    read = store.read("gate")
    assert read.text == TEXT and read.version == version_of(TEXT.encode())
    assert saved(store.set_values("gate", [(("job", "crew"), 3)], base=read.version)).text


def test_a_shelf_that_is_not_there_has_no_jobs_and_is_made_by_the_first(tmp_path: Path) -> None:
    store = Store(tmp_path / "a" / "shelf")
    assert store.jobs() == ()
    assert not (tmp_path / "a").exists()
    assert store.new("gate", TEXT) == store.jobs()[0]


def test_a_shelf_that_is_a_file_is_said(tmp_path: Path) -> None:
    (tmp_path / "shelf").write_text("x")
    with pytest.raises(StoreError, match="could not be listed: Not a directory"):
        Store(tmp_path / "shelf").jobs()
    with pytest.raises(StoreError, match="'gate' was not saved: File exists"):
        Store(tmp_path / "shelf").new("gate", TEXT)


# ---------------------------------------------------------------------- whole jobs


def test_no_job_is_written_over_by_a_new_one(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    (tmp_path / "Gate-3").mkdir()
    assert [store.new("gate", f"# {n}\n").slug for n in range(2)] == ["gate-2", "gate-4"]
    assert store.read("gate") == first


def test_a_renamed_job_keeps_its_history_and_its_log(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    renamed = store.rename("gate", "Barn <i>doors</i>")
    assert renamed.slug == "barn-i-doors-i"
    assert renamed.text == TEXT.replace("Gate", "Barn <i>doors</i>")
    assert [v.version for v in store.versions(renamed.slug)] == [first.version, renamed.version]
    assert store.jobs() == (renamed,)
    assert store.rename(renamed.slug, "BARN - i - doors (i)").slug == "barn-i-doors-i"


def test_a_name_is_kept_as_plain_text_whatever_is_in_it(tmp_path: Path) -> None:
    store, _ = a_store(tmp_path)
    name = "a\nb\"'\\ [x] = \x07 </script>"
    renamed = store.rename("gate", name)
    assert renamed.slug == "a-b-x-script"
    assert store.duplicate(renamed.slug, name).text == renamed.text
    assert tomllib.loads(renamed.text)["job"]["name"] == name
    for bad in ("", " \n", "x" * 81):
        with pytest.raises(StoreError, match=r"The name .* characters. Nothing was changed"):
            store.rename(renamed.slug, bad)


def test_a_copy_has_the_text_and_another_name_and_begins_anew(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    store.save("gate", TEXT.replace("2", "3"), base=first.version)
    copied = store.duplicate("gate", "Gate")
    assert (copied.slug, copied.text) == ("gate-2", TEXT.replace("2", "3"))
    assert [v.note for v in store.versions("gate-2")] == ["copied from gate"]


def test_a_removed_job_is_moved_and_can_be_moved_back(tmp_path: Path) -> None:
    store, first = a_store(tmp_path)
    (tmp_path / "bare.toml").write_text("# bare\n")
    places = [store.remove("gate"), store.remove("bare")]
    assert store.jobs() == ()
    assert all(place.parent == tmp_path / ".removed" for place in places)
    assert places[1].read_text() == "# bare\n"
    places[0].rename(tmp_path / "gate")
    assert store.read("gate") == first


@pytest.mark.parametrize("slug", ["barn", "../gate", "", ".", "gate/history", "GATE", "gate\0"])
def test_a_slug_that_is_none_of_the_shelf_is_said(tmp_path: Path, slug: str) -> None:
    store, _ = a_store(tmp_path / "shelf")
    calls = (store.read, store.log, store.export, store.remove, store.versions)
    for call in calls:
        with pytest.raises(StoreError, match=r"(?s)There is no job .*There are: gate."):
            call(slug)


@given(st.text(max_size=90))
def test_a_slug_is_safe_as_a_folder_and_in_an_address(name: str) -> None:
    for slug in (slug_of(name), unused(slug_of(name), {slug_of(name)})):
        assert 0 < len(slug) <= LONGEST_SLUG
        assert set(slug) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
        assert slug[0] != "-" and slug[-1] != "-"
        assert slug_of(slug) == slug


@pytest.mark.parametrize(
    "name, slug",
    [
        ("Kiln shed", "kiln-shed"),
        ("Größe Straße Ångström", "grosse-strasse-angstrom"),
        ("../../etc/passwd", "etc-passwd"),
        ("CON", "con-job"),
        ("nul", "nul-job"),
        ("Lpt1", "lpt1-job"),
        ("com1.toml", "com1-toml"),
        ("<b>x</b>\n", "b-x-b"),
        ("門", "job"),
        ("", "job"),
        ("x" * 300, "x" * 60),
        ("a" * 59 + " b", "a" * 59),
    ],
)
def test_slugs_of_names(name: str, slug: str) -> None:
    assert slug_of(name) == slug


@pytest.mark.parametrize(
    "name, slug",
    [
        ("../../evil.toml", "evil"),
        ("C:\\jobs\\Gate.ZIP", "gate"),
        ("aux.zip", "aux-job"),
        ("<img src=x>\n.toml", "img-src-x"),
        ("y" * 500 + ".toml", "y" * 60),
        (".toml", "job"),
    ],
)
def test_a_job_that_was_sent_has_a_safe_slug(tmp_path: Path, name: str, slug: str) -> None:
    assert Store(tmp_path / "shelf").import_(TEXT.encode(), name).slug == slug
    assert [p.name for p in tmp_path.iterdir()] == ["shelf"]
