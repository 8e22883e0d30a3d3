"""Bytes from a terminal that no key sent.

Terminals answer questions, report the mouse in an old form and have escape
sequences of their own. What the framework does not know comes back as eight or
more printable keys, and among them may be the space that is a tread, or a
letter that is a verdict. So they are taken out before they are read. Pure.
"""

from __future__ import annotations

import re
from typing import Final

# One report of the old mouse protocol: three bytes follow, each any byte above
# the controls, so that it need not even be text.
_OLD_MOUSE: Final = rb"\x1b\[M[\x20-\xff]{3}"

# Answers in strings: OSC, DCS, SOS, PM and APC, up to their end. Without its
# end in the same piece it may be Alt and a key, and is left alone.
_STRING: Final = rb"\x1b[\]PX^_][^\x07\x1b]{1,4096}(?:\x07|\x1b\\)"

# A complete control sequence (ECMA-48 5.4): parameters, intermediates, final.
_CONTROL: Final = rb"\x1b\[(?!\[)[0-?]*[ -/]*[@-~]"

# Those the framework reads: keys, focus, paste, cursor and mode reports, size
# reports, mouse. The `$` of some function keys is a final here, not ECMA's.
_KNOWN: Final = re.compile(
    rb"\x1b\[(?:"
    rb"[0-9;:]*[A-HP-SZa-eju~^@]|[0-9]+\$.?|[IO]|"
    rb"1;[5-8][p-y]|[0-9;]+R|\?[0-9;]+\$y|48;[0-9;:]*t|<?[-0-9;]*[Mm]"
    rb")",
    re.DOTALL,
)

_STRAY: Final = re.compile(rb"|".join((_OLD_MOUSE, _STRING, _CONTROL)))


def without_strays(data: bytes) -> bytes:
    """Leave out the sequences that no key sends and nothing here reads.

    Args:
        data: One piece as it was read; sequences come whole in one piece from
            every terminal, and what is cut in two is left as it is.
    """
    if b"\x1b" not in data:
        return data
    return _STRAY.sub(lambda found: found[0] if _KNOWN.fullmatch(found[0]) else b"", data)
