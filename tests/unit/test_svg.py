from __future__ import annotations

from drawing import parsed
from noonmark.sheets import svg


def test_text_is_escaped() -> None:
    drawing = svg.document(10, 10, "<b>&\"'", "a < b", [svg.text(0, 0, "</text>&<script>", 9)], "")
    root = parsed(drawing)
    assert [part.text for part in root][:2] == ["<b>&\"'", "a < b"]
    assert root.get("aria-label") == "<b>&\"'"
    assert root[-1].text == "</text>&<script>"
    assert len(root[-1]) == 0


def test_what_xml_can_not_hold_is_left_out() -> None:
    assert parsed(svg.element("text", svg.plain("a\x00\x1b\ud800b"), id="\x07c")).text == "ab"


def test_names_and_numbers() -> None:
    assert (
        svg.element("line", x1=1.25, y1=-0.01, stroke_width=3.0, class_="a", fill=None)
        == '<line x1="1.2" y1="0" stroke-width="3" class="a"/>'
    )


def test_wrapping() -> None:
    rows = svg.wrapped("one two three four five six", 20, 120)
    assert " ".join(rows) == "one two three four five six"
    assert max(svg.text_width(row, 20) for row in rows) <= 120
