"""A job's short name: safe as a folder on any system and in an address, whatever was typed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container

LONGEST_SLUG = 60

# Windows opens a device where a file has one of these names.
_DEVICES = {"con", "prn", "aux", "nul"} | {f"{d}{n}" for d in ("com", "lpt") for n in range(10)}


def slug_of(name: str) -> str:
    """Return a name's slug: ``[a-z0-9-]``, 1 to 60 long; ``job`` where nothing is left of it."""
    letters = unicodedata.normalize("NFKD", name[:1000].casefold()).encode("ascii", "ignore")
    slug = re.sub(r"[^a-z0-9]+", "-", letters.decode("ascii")).strip("-")
    slug = slug[:LONGEST_SLUG].strip("-") or "job"
    return f"{slug}-job" if slug in _DEVICES else slug


def unused(slug: str, used: Container[str]) -> str:
    """Return the slug, or the first of ``slug-2``, ``slug-3`` … that is not used."""
    number, found = 1, slug
    while found in used:
        number += 1
        tail = f"-{number}"
        found = slug[: LONGEST_SLUG - len(tail)].rstrip("-") + tail
    return found
