"""Which signs a chart is drawn with: dots where the terminal is likely to have them, else ASCII."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from typing import Final

#: Consoles whose fonts have no braille.
_PLAIN_TERMS: Final = ("linux", "vt", "cons", "dumb")


def plain_signs(environ: Mapping[str, str], encoding: str | None = None) -> bool:
    """Whether charts are drawn in ASCII at first.

    Args:
        environ: The environment variables; `TERM` tells the terminal.
        encoding: What the terminal is written in; that of the standard output if None.
    """
    # The screens put something else in the place of the output; the terminal is behind it.
    written = encoding or getattr(sys.__stdout__, "encoding", None) or "ascii"
    if written.lower().replace("-", "").replace("_", "") != "utf8":
        return True
    return environ.get("TERM", "").startswith(_PLAIN_TERMS)
