"""Recipes are read again and again in a row, always the same few: their trees are kept."""

from __future__ import annotations

from functools import lru_cache

from benchapp.recipe import build, document, reader
from benchapp.recipe.nodes import Document

#: Those that read recipes.
MODULES = (reader, build)
_read = document.scan_document


@lru_cache(maxsize=64)
def _remembered(text: str) -> Document:
    return _read(text)


def scan_document(text: str | bytes) -> Document:
    """The tree of a text, read once: it cannot be changed, and nothing but the text makes it."""
    return _remembered(text) if isinstance(text, str) else _read(text)


def remember_texts() -> None:
    """From now on no text is read twice into a tree in this process."""
    for module in MODULES:
        module.scan_document = scan_document  # type: ignore[attr-defined]
