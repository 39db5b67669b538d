"""The press: fonts, any text as text, same bytes twice, pictures with their words."""

from __future__ import annotations

import io
from importlib.resources import files
from pathlib import Path

import pdfplumber
import pytest
from fontTools.ttLib import TTFont

from noonmark.sheets import press

PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text y="8">x</text></svg>'
NEEDED = "′″°²³½¼¾↓↑·–—−×±’“”…•àéîøßŁžπЖ"

HOSTILE = (
    "# heading", "$x^2$", "*bold* _it_", '"quoted" \\ #panic("no")', "<script>alert(1)</script>",
    "#let x = 1", "@ref <label>", "// gone /* gone */", "[ ] { } ( )", "~ -- --- ...", "'it's'",
    "= not a title", "`raw`", "https://example.org", "tab\tnew\nline",
)  # fmt: skip


def words(made: bytes) -> str:
    with pdfplumber.open(io.BytesIO(made)) as document:
        return "\n".join(page.extract_text() for page in document.pages)


def printed(text: str) -> str:
    return words(press.pdf(f"#{press.quoted(text)}", title=text))


@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_is_printed_as_it_is_written(text: str) -> None:
    assert printed(text).split() == text.split()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a \U0001f600 b", "a ? b"),
        ("家", "?"),
        ("zero\u200dwidth\x00\x07", "zerowidth"),
        ("\ud800", "?"),
        ("e\u0301", "é"),
    ],
)
def test_signs_the_font_lacks_become_question_marks(text: str, shown: str) -> None:
    assert printed(text) == shown


def test_the_font_has_what_builders_write() -> None:
    made = press.pdf(f"#{press.quoted(NEEDED)}\n\n*#{press.quoted(NEEDED)}*", title="signs")
    assert words(made).split() == [NEEDED, NEEDED]
    with pdfplumber.open(io.BytesIO(made)) as document:
        fonts = {char["fontname"].split("+")[1] for char in document.pages[0].chars}
    assert fonts == {"NoonmarkSans-Regular", "NoonmarkSans-Bold"}


def test_both_weights_have_the_same_signs_and_tell_their_licence() -> None:
    folder = Path(str(files("noonmark.sheets").joinpath("fonts")))
    fonts = [TTFont(folder / f"NoonmarkSans-{name}.ttf") for name in ("Regular", "Bold")]
    assert fonts[0].getBestCmap().keys() == fonts[1].getBestCmap().keys()
    for font in fonts:
        assert "Open Font License" in font["name"].getDebugName(13)
        named = [font["name"].getDebugName(number) for number in (1, 4, 6, 16)]
        assert not any("Source" in (name or "") for name in named)  # a reserved name
    assert "SIL OPEN FONT LICENSE" in (folder / "OFL.txt").read_text("utf-8")
    size = sum((folder / f"NoonmarkSans-{name}.ttf").stat().st_size for name in ("Regular", "Bold"))
    assert size < 400_000


def test_same_markup_gives_the_same_bytes_without_a_clock() -> None:
    source = '= Words\n#figure(image("a.svg", width: 5cm), alt: "a picture")'
    first, second = (press.pdf(source, {"a.svg": PICTURE}, title="t") for _ in range(2))
    assert first == second
    with pdfplumber.open(io.BytesIO(first)) as document:
        assert document.metadata["Title"] == "t"
        assert document.doc.catalog["Lang"] in (b"en", "en")
        assert "MarkInfo" in document.doc.catalog
        assert not any(key in document.metadata for key in ("CreationDate", "ModDate"))


def test_a_picture_without_words_is_not_printed() -> None:
    import typst

    with pytest.raises(typst.TypstError, match="alt"):
        press.pdf('#image("a.svg", width: 5cm)', {"a.svg": PICTURE}, title="t")


def test_paper_follows_the_units() -> None:
    assert [press.usual_paper(system) for system in ("us", "metric")] == ["letter", "a4"]
