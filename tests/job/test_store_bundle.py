"""A job out in one zip and in again; and what a stranger's zip may not do."""

from __future__ import annotations

import contextlib
import io
import os
import stat
import struct
import tempfile
import zipfile
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.store import LogEntry, Saved, Store, StoreError, bundle

TEXT = 'leafwright = 1\n[job]\nname = "Gate"  # ½\n'
AT = "2026-03-21T09:30:00Z"
VERSION = "history/000001-20260321T093000Z.toml"


@pytest.fixture(autouse=True, scope="module")
def no_waiting() -> Iterator[None]:
    """Spare the disk: nothing here depends on when it has written what it was given."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, "fsync", lambda handle: None)
        yield


def zipped(files: Sequence[tuple[str | zipfile.ZipInfo, bytes]], *, deflated: bool = True) -> bytes:
    """Return a zip of the files, the same whenever it is made: they are names of tests too."""
    out = io.BytesIO()
    how = zipfile.ZIP_DEFLATED if deflated else zipfile.ZIP_STORED
    with zipfile.ZipFile(out, "w", how) as made:
        for name, raw in files:
            info = name if isinstance(name, zipfile.ZipInfo) else zipfile.ZipInfo(name)
            made.writestr(info, raw, how)
    return out.getvalue()


def with_mode(name: str, mode: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name)
    info.external_attr = mode << 16
    return info


def refused(folder: Path, data: bytes, words: str) -> None:
    """Check that nothing comes of an import but the words, inside the shelf and around it."""
    shelf = folder / "shelf"
    store = Store(shelf)
    with pytest.raises(StoreError, match=f"(?s)Nothing was brought in: .*{words}.*Choose a job"):
        store.import_(data, "gate")
    assert store.jobs() == ()
    assert [p.name for p in folder.rglob("*") if p not in (shelf, shelf / ".lock")] == []


@given(st.lists(st.sampled_from(["save", "undo", "redo", "conflict", "name", "log"]), max_size=8))
def test_what_is_exported_comes_in_as_the_same_job_with_its_log(steps: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder))
        first = store.new("gate", TEXT).version
        for number, step in enumerate(steps):
            base = store.read("gate").version
            # There is not always something to undo.
            with contextlib.suppress(StoreError):
                match step:
                    case "save":
                        store.save("gate", f"{TEXT}n = {number}\n", base=base, note="n")
                    case "conflict":
                        store.save("gate", f"{TEXT}n = '{number}'\n", base=first)
                    case "name":
                        store.name_version("gate", 1, f"sent {number}")
                    case "log":
                        store.append("gate", [LogEntry(f"{number}", AT, "answer", "a", {"n": 1})])
                    case "undo":
                        store.undo("gate", base=base)
                    case "redo":
                        store.redo("gate", base=base)
        sent, saved = store.export("gate"), store.read("gate")
        came = store.import_(sent, "gate.zip")
        assert (came.slug, came.text, came.version) == ("gate-2", saved.text, saved.version)
        assert store.versions("gate-2") == store.versions("gate")
        assert store.log("gate-2") == store.log("gate")
        assert store.export("gate-2") == sent


def test_a_job_file_by_itself_comes_in(tmp_path: Path) -> None:
    store = Store(tmp_path)
    came = store.import_(b"\xef\xbb\xbf" + TEXT.encode(), "Kiln shed.TOML")
    assert (came.slug, came.text) == ("kiln-shed", TEXT)
    (version,) = store.versions("kiln-shed")
    assert version.note == "brought in as 'Kiln shed.TOML'"


def test_a_bare_job_file_is_exported(tmp_path: Path) -> None:
    (tmp_path / "gate.toml").write_text(TEXT, encoding="utf-8")
    store = Store(tmp_path)
    assert store.import_(store.export("gate"), "gate").text == TEXT


def test_a_job_broken_by_hand_comes_back_from_its_export(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.new("gate", "[[ not toml")
    assert store.import_(store.export("gate"), "gate").text == "[[ not toml"


def test_of_a_very_long_history_the_newest_versions_are_exported_and_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundle, "MOST_FILES", 13)
    store = Store(tmp_path)
    saved = store.new("gate", TEXT)
    for number in range(5):
        done = store.save("gate", f"{TEXT}n = {number}\n", base=saved.version)
        assert isinstance(done, Saved)
        saved = done
    came = store.import_(store.export("gate"), "gate")
    versions = store.versions(came.slug)
    assert [version.number for version in versions] == [4, 5, 6]
    assert versions[0].note == "versions older than this were left out of the export"
    assert came.text == saved.text


@pytest.mark.parametrize(
    "name",
    [
        "../evil.toml",
        "history/../../evil.toml",
        "/etc/evil.toml",
        "C:\\evil.toml",
        "..\\evil.toml",
        "\\\\host\\share\\evil.toml",
        "history\\000001-20260321T093000Z.toml",
        "history/000001-20260321T093000Z.toml/x",
        "history/000001-99999999T999999Z.toml",
        "history/999999999-20260321T093000Z.toml",
        "history/000000-20260321T093000Z.toml",
        "history/x.toml",
        "job.toml/",
        "JOB.TOML",
        "notes.txt",
        ".lock",
        " ",
        "x" * 60_000,
        "history/" + "9" * 300 + "-20260321T093000Z.toml",
        "a\nb",
    ],
)
def test_a_name_that_is_no_part_of_a_job_is_refused(tmp_path: Path, name: str) -> None:
    files = [("job.toml", TEXT.encode()), (name, b"x")]
    refused(tmp_path, zipped(files), "in it is no part of a job")


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR, stat.S_IFSOCK])
def test_links_and_devices_are_refused(tmp_path: Path, kind: int) -> None:
    data = zipped([(with_mode("job.toml", kind | 0o777), b"/etc/hostname")])
    refused(tmp_path, data, "'job.toml' in it is a link or a device, not a file")


def test_a_file_that_would_swell_is_refused_before_it_is_inflated(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundle, "_inflated", lambda *_: pytest.fail("it was inflated"))
    bomb = zipped([("job.toml", TEXT.encode()), (VERSION, bytes(2_000_000))])
    refused(tmp_path, bomb, f"{VERSION!r} in it would swell to 2,000,000 bytes")
    data = bytearray(zipped([("job.toml", TEXT.encode())]))
    listed = data.rindex(b"PK\x01\x02")
    struct.pack_into("<I", data, listed + 24, 1_000_000_000)
    refused(tmp_path, bytes(data), "it would swell to 1,000,000,000 bytes, and at most 100,000,000")


def test_a_thousand_files_that_would_swell_a_little_are_refused(tmp_path: Path) -> None:
    files: list[tuple[str | zipfile.ZipInfo, bytes]] = [("job.toml", TEXT.encode())]
    some = bytes(999_999)
    files += [(f"history/{n:06d}-20260321T093000Z.toml", some) for n in range(1, 110)]
    refused(tmp_path, zipped(files), "it would swell to 108,999,9")


def test_a_file_that_is_longer_than_the_list_says_is_refused(tmp_path: Path) -> None:
    data = bytearray(zipped([("job.toml", TEXT.encode()), (VERSION, bytes(900_000))]))
    listed = data.rindex(b"PK\x01\x02")
    struct.pack_into("<I", data, listed + 24, 10)
    refused(tmp_path, bytes(data), "the zip is damaged")


def test_ten_thousand_files_are_refused(tmp_path: Path) -> None:
    files = [(f"history/{n:06d}-20260321T093000Z.toml", b"") for n in range(1, 10_001)]
    refused(tmp_path, zipped(files, deflated=False), "it lists more than 5,000 files")


def test_too_large_a_zip_or_text_is_refused(tmp_path: Path) -> None:
    refused(tmp_path, b"PK\x03\x04" + bytes(30_000_000), "it has 30,000,004 bytes")
    refused(tmp_path, b"#" * 300_001, "it has 300,001 characters")
    refused(tmp_path, zipped([("job.toml", b"#" * 300_001)]), "'job.toml' in it has 300,001")


@pytest.mark.parametrize(
    "data, words",
    [
        (b"", "it is empty"),
        (b" \n", "it is empty"),
        (b"\x00\x01\x02", "it is not text in UTF-8"),
        (b"\xff\xfea\x00", "it is not text in UTF-8"),
        (b"%PDF-1.7 job", "it is not TOML: .*line 1"),
        (b"<html>", "it is not TOML"),
        (b"a = " + b"[" * 5000, "it is not TOML"),
        (b"a = " + b"9" * 5000, "it is not TOML"),
        (b"PK\x03\x04 and no more", "the zip is damaged"),
        (b"PK\x05\x06" + bytes(18), "the zip holds no 'job.toml'"),
        (zipped([("log.jsonl", b"")]), "the zip holds no 'job.toml'"),
        (zipped([("job.toml", b"\xff\x00")]), "'job.toml' in it is not text in UTF-8"),
        (zipped([("job.toml", b"")]), "'job.toml' in it is empty"),
        (zipped([("job.toml", b"a=1")])[:-30], "the zip is damaged"),
        (zipped([("job.toml", b"a=1"), ("history/names.json", b"[]")]), "is not a list of names"),
        (
            zipped([("job.toml", b"a=1"), ("history/names.json", b'{"99999999999": {}}')]),
            "is not a list of names",
        ),
        (
            zipped(
                [
                    ("job.toml", b"a=1"),
                    (VERSION, b"a=1"),
                    ("history/000001-20270321T093000Z.toml", b"a=1"),
                ]
            ),
            "is in it twice",
        ),
    ],
)
def test_what_is_no_job_is_refused_with_the_reason(tmp_path: Path, data: bytes, words: str) -> None:
    refused(tmp_path, data, words)


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_the_same_name_twice_is_refused(tmp_path: Path) -> None:
    data = zipped([("job.toml", b"a=1"), ("job.toml", b"a=2")])
    refused(tmp_path, data, "'job.toml' is in it twice")


def test_a_locked_or_strangely_packed_zip_is_refused(tmp_path: Path) -> None:
    data = bytearray(zipped([("job.toml", b"a=1")]))
    listed = data.rindex(b"PK\x01\x02")
    data[listed + 8] |= 1
    refused(tmp_path, bytes(data), "'job.toml' in it is locked with a password")
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_BZIP2) as made:
        made.writestr("job.toml", b"a=1")
    refused(tmp_path, out.getvalue(), "is packed in a way that is not read")


@given(st.binary(max_size=60), st.integers(0, 400), st.integers(0, 255))
def test_no_damage_does_more_than_refuse_or_come_in(noise: bytes, at: int, byte: int) -> None:
    data = bytearray(zipped([("job.toml", TEXT.encode()), (VERSION, b"a=1"), ("log.jsonl", b"x")]))
    data[at % len(data)] = byte
    with tempfile.TemporaryDirectory() as folder:
        store = Store(Path(folder) / "shelf")
        for sent in (bytes(data), noise, b"PK\x03\x04" + noise):
            try:
                slug = store.import_(sent, "gate").slug
            except StoreError:
                continue
            assert store.read(slug).slug == slug
        assert [p.name for p in Path(folder).iterdir()] in (["shelf"], [])
