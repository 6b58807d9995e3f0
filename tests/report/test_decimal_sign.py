"""The comma where a shop writes one: in words and pictures, never in markup, code, or what people wrote."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.report.decimal_sign import has_decimals, page_with_comma, with_comma


@pytest.mark.parametrize(
    ("words", "come_out"),
    [
        ("Cleans up at 1.2363 in.", "Cleans up at 1,2363 in."),
        ("0.5 to 0.8 mm (over 99.9 %)", "0,5 to 0,8 mm (over 99,9 %)"),
        ("\N{MINUS SIGN}0.5 and -0.5", "\N{MINUS SIGN}0,5 and -0,5"),
        ("barwise 0.1.0 at 192.168.1.7", "barwise 0.1.0 at 192.168.1.7"),
        ("ANSI/EASA AR100 2.8, near 2.9", "ANSI/EASA AR100 2.8, near 2.9"),
        ("section 4.2 asks for 4.2 V", "section 4.2 asks for 4,2 V"),
        ("tag M1.5, part 12.5b", "tag M1.5, part 12.5b"),
        ("1,2385 in", "1,2385 in"),
        ('found "1.078,5" and "1,078.5"', 'found "1.078,5" and "1,078.5"'),
    ],
)
def test_a_number_gets_its_comma_and_nothing_else_changes(words: str, come_out: str) -> None:
    assert with_comma(words) == come_out


@given(st.text(alphabet="ab1.,<> /\"'=-", max_size=60))
def test_only_points_between_digits_ever_change(words: str) -> None:
    came = with_comma(words)
    assert len(came) == len(words)
    changed = [n for n, (old, new) in enumerate(zip(words, came, strict=True)) if old != new]
    assert all(words[n] == "." and came[n] == "," for n in changed)
    assert all(words[n - 1].isdigit() and words[n + 1].isdigit() for n in changed)
    assert has_decimals(words) or not changed


@pytest.mark.parametrize(
    ("page", "come_out"),
    [
        ('<p title="1.5">1.5 V</p>', '<p title="1.5">1,5 V</p>'),
        ('<svg viewBox="0 0 1.5 2.5"><text x="1.5">1.5</text></svg>',
         '<svg viewBox="0 0 1.5 2.5"><text x="1.5">1,5</text></svg>'),
        ("<head><title>1.5</title></head><p>1.5", "<head><title>1.5</title></head><p>1,5"),
        ("<script>f(1.5)</script><pre>1.5</pre><code>1.5</code>1.5",
         "<script>f(1.5)</script><pre>1.5</pre><code>1.5</code>1,5"),
        ('<div translate="no"><div>1.5</div><img translate="no"> 1.5</div> 1.5',
         '<div translate="no"><div>1.5</div><img translate="no"> 1.5</div> 1,5'),
        ('<input value="1.5" inputmode="decimal"><input inputmode="decimal" value="-0.5">',
         '<input value="1,5" inputmode="decimal"><input inputmode="decimal" value="-0,5">'),
        ('<input name="tag" value="1.5"><input inputmode="decimal" value="0.2 0.5">',
         '<input name="tag" value="1.5"><input inputmode="decimal" value="0.2 0.5">'),
        ("<textarea>1.5</textarea><!-- 1.5 --><br>1.5", "<textarea>1.5</textarea><!-- 1.5 --><br>1,5"),
    ],
)  # fmt: skip
def test_of_a_page_only_what_is_read_changes(page: str, come_out: str) -> None:
    assert page_with_comma(page) == come_out
