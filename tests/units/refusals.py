"""How a test looks at the message with which something typed is refused."""

from collections.abc import Callable

import pytest

from leafwright.units import UnitError


def refused(reader: Callable[[str], object], text: str) -> str:
    """Return the message with which the text is refused."""
    with pytest.raises(UnitError) as error:
        reader(text)
    message = str(error.value)
    assert repr(text[:60]) in message, "it says what was found"
    return message


def forms_of(message: str) -> list[str]:
    return message.partition("Forms that would do: ")[2].removesuffix(".").split("; ")
