"""What is wrong with a text that is not TOML, in the maker's words.

tomllib's own sentences are for programmers. Those below are the ones of Python 3.11 to 3.14; one
that is not known here is shown as it is.
"""

from __future__ import annotations

import re

_IN_QUOTES = (
    "text and lengths stand in quotes; in double quotes leave the last inch mark out, "
    'as in is = "10\'-6 11/16"'
)
_ONCE = "keep one and take the other out"
_BACKSLASH = "a backslash means something else in double quotes"
_TWICE = "write it twice, or put the text in single quotes"
_UNSEEN = "a sign that cannot be seen stands here"

#: How tomllib's message begins, what that is in words, and what would do.
_WORDS = (
    ("Expected newline", "something is left over behind the value", _IN_QUOTES),
    ("Invalid value", "this value cannot be read", _IN_QUOTES),
    ("Illegal character '\\n'", "the quotes are not closed on this line", _IN_QUOTES),
    ("Found invalid character '\\n'", "the quotes are not closed on this line", _IN_QUOTES),
    ("Illegal character", _UNSEEN, "type the line again"),
    ("Found invalid character", _UNSEEN, "type the line again"),
    ("Unterminated string", "quotes are opened and never closed", _IN_QUOTES),
    ('Expected "', "quotes are opened and never closed", _IN_QUOTES),
    (
        "Unclosed array",
        "the list is not closed before this, or a comma is missing in it",
        'a list is written ["20 ft", "24 ft"]',
    ),
    (
        "Unclosed inline table",
        "the braces are not closed, or a comma is missing between them",
        'on one line, as in plate = { width = "6 in", length = "9 in" }',
    ),
    ("Expected '='", "there is no = behind the key", 'write key = "value"'),
    (
        "Invalid initial character",
        "a key is missing here, or begins with a sign that no key has",
        'a key is letters, digits, - and _, as in leaf_height = "13\'-9"',
    ),
    (
        "Invalid statement",
        "this is no table, key or remark",
        'write [table] or key = "value"; a remark begins with #',
    ),
    ("Expected ']", "the name of the table is not closed", "write [name] or [[name]]"),
    ("Cannot declare", "this table is there already", "put all its keys under the first one"),
    ("Cannot overwrite", "this is there already", _ONCE),
    ("Cannot redefine", "this is there already", _ONCE),
    ("Cannot mutate", "this is there already", _ONCE),
    ("Duplicate inline table key", "a key stands twice in these braces", _ONCE),
    ("Unescaped '\\'", _BACKSLASH, _TWICE),
    ("Invalid hex value", _BACKSLASH, _TWICE),
    ("Escaped character", _BACKSLASH, _TWICE),
    ("Invalid date", "there is no such date or time", "a date is written 2026-03-14"),
    ("Exceeds the limit", "a number here has thousands of digits", "write one that can be meant"),
)

_PLACE = re.compile(r" \(at (?:line ([0-9]+), column [0-9]+|end of document)\)$")


def syntax_words(message: str, text: str) -> tuple[int | None, str, str]:
    """Return the line of a mistake in TOML, what is wrong there, and what would do.

    Args:
        message: the sentence of ``tomllib.TOMLDecodeError``.
        text: the text that was not read.
    """
    place = _PLACE.search(message)
    line = None
    if place is not None:
        line = int(place[1]) if place[1] else text.count("\n") + (not text.endswith("\n"))
    plain = message[: place.start()] if place is not None else message
    for beginning, found, would_do in _WORDS:
        if plain.startswith(beginning):
            return line, found, would_do
    return line, f"this is not TOML: {plain}", ""
