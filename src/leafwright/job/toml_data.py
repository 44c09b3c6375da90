"""The data of a TOML text, parsed once for all who read the same text."""

from __future__ import annotations

import functools
import tomllib
from typing import Any


# A save reads the same text many times: to check it, to write it, to merge it and to plan it.
@functools.lru_cache(maxsize=16)
def toml_data(text: str) -> dict[str, Any]:
    """Return a TOML text's data; it is shared, so nobody may change it.

    Raises:
        ValueError: the text is not TOML (`tomllib.TOMLDecodeError`), or holds too long a number.
        RecursionError: brackets lie hundreds deep in it.
    """
    return tomllib.loads(text)
