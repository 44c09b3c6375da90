"""Who may come in from another machine: a code used once, then a signed cookie.

The code is typed, or comes behind the ``#`` of an address, which a browser never sends; so it
stands in no log. Whoever is on the machine itself needs none.
"""

from __future__ import annotations

import hmac
import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable

from itsdangerous import BadSignature, URLSafeTimedSerializer

COOKIE = "leafwright"
#: How long a phone stays known [s].
KNOWN_FOR = 30 * 24 * 3600
#: Letters and figures that nobody mistakes for one another.
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
CODE_LENGTH = 10


def new_code() -> str:
    """Return a code to come in with: 50 bits, in two groups."""
    letters = "".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH))
    return f"{letters[:5]}-{letters[5:]}"


class Door:
    """The code that lets one device in, and the cookies of those that are in."""

    def __init__(self, secret: bytes, *, announce: Callable[[str], None] = lambda code: None):
        """Keep the key that cookies are signed with; ``announce`` is told every new code."""
        self._signer = URLSafeTimedSerializer(secret, salt="leafwright session")
        self._announce = announce
        self._lock = threading.Lock()
        self.code = new_code()

    def opens(self, typed: str) -> bool:
        """Return whether this is the code; one that was used is replaced at once."""
        plain = "".join(c for c in typed.upper() if c in LETTERS)
        # Two that send it at once are not both let in.
        with self._lock:
            fits = hmac.compare_digest(plain, self.code.replace("-", ""))
            if fits:
                self.code = new_code()
        if fits:
            self._announce(self.code)
        return fits

    def session(self) -> str:
        """Return a signed session for a device that is let in."""
        return self._signer.dumps(secrets.token_hex(8))

    def knows(self, cookie: str) -> bool:
        """Return whether a cookie was signed here and has not run out."""
        try:
            self._signer.loads(cookie, max_age=KNOWN_FOR)
        except BadSignature:
            return False
        return True


class Allowance:
    """How often something may be done: ``burst`` at once, then ``each_second``, per caller."""

    MOST_CALLERS = 1000

    def __init__(
        self, *, burst: float, each_second: float, clock: Callable[[], float] = time.monotonic
    ):
        """Keep the limits; nobody has used any of it yet."""
        self._burst, self._each_second, self._clock = burst, each_second, clock
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def takes(self, caller: str) -> bool:
        """Return whether the caller may once more."""
        now = self._clock()
        left, at = self._left.pop(caller, (self._burst, now))
        left = min(self._burst, left + (now - at) * self._each_second)
        may = left >= 1.0
        self._left[caller] = (left - 1.0 if may else left, now)
        while len(self._left) > self.MOST_CALLERS:
            self._left.popitem(last=False)
        return may
