"""Pages on paper: a running head that no title breaks out of, numbers, a session a page."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchapp.reports.blocks import Said, Sentence, Title
from benchapp.reports.html import page_policy, render_page, running_head
from benchapp.safe_text import sanitize


def unescaped(css: str) -> str:
    """A CSS string's text, as CSS Syntax Level 3, 4.3.7 reads its escapes."""
    return re.sub(r"\\([0-9a-f]{1,6}) ", lambda found: chr(int(found[1], 16)), css)


@given(st.text(max_size=30))
def test_the_running_head_is_the_title_and_nothing_else(title: str) -> None:
    """Read back by the rules of CSS it is the title; no sign of it ends what it stands in."""
    head = running_head(title)
    inside = head.partition('content:"')[2].partition('"')[0]
    assert unescaped(inside) == sanitize(title)
    assert re.fullmatch(r"(?:[A-Za-z0-9]|\\[0-9a-f]{1,6} )*", inside)
    assert head.count("{") == head.count("}") == 4


@pytest.mark.parametrize("title", ["Weigh House", '</style><script>"}', "Möwe\\\n\""])
def test_a_page_allows_its_whole_style_and_no_other(title: str) -> None:
    """The head is in the style that the policy names by digest."""
    page = render_page(title, (Title(Said(title), ""), Sentence("x")))
    style = page.partition("<style>")[2].partition("</style>")[0]
    assert running_head(title) in style
    assert page_policy(style).replace("'", "&#x27;") in page
    assert "counter(page)" in style
    assert "<script" not in page
