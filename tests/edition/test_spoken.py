"""What people say of a sheet, read."""

from __future__ import annotations

import pytest

from benchapp.edition.parse import read_claim


@pytest.mark.parametrize(("said", "claim"), [
    ("12", ("edition", 12)), ("12/40", ("edition", 12)), ("VII/XL", ("edition", 7)),
    ("E.V. 7/12", ("edition", 7)), ("AP 2", ("AP", 2)), ("ap ii/iv", ("AP", 2)),
    ("BAT", ("BAT", None)),
    ("ap", ("AP", None)), ("cancellation proof", ("cancellation proof", None)),
    ("K7", None), ("AP two", None), ("12 40", None), ("", None)])
def test_a_number_is_read_as_it_is_pencilled(
        said: str, claim: tuple[str, int | None] | None) -> None:
    """In figures or Roman, with its kind, with or without its total; a kind may stand alone."""
    assert read_claim(said) == claim
