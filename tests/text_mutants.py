"""Spoils the text of a design file on purpose; and changes of values, right and wrong."""

from __future__ import annotations

from collections.abc import Callable

from mutants import SAMPLE, Chance


def cut(chance: Chance, text: bytes) -> bytes:
    return text[: chance.randrange(len(text))]


def drop_piece(chance: Chance, text: bytes) -> bytes:
    start = chance.randrange(len(text))
    return text[:start] + text[start + chance.choice([1, 2, 10, 100, 1000]) :]


def double_piece(chance: Chance, text: bytes) -> bytes:
    start = chance.randrange(len(text))
    end = start + chance.choice([1, 5, 50, 500])
    return text[:end] + text[start:]


def double_line(chance: Chance, text: bytes) -> bytes:
    lines = text.split(b"\n")
    lines.insert(chance.randrange(len(lines)), chance.choice(lines))
    return b"\n".join(lines)


def shuffle_lines(chance: Chance, text: bytes) -> bytes:
    lines = text.split(b"\n")
    start = chance.randrange(len(lines))
    piece = lines[start : start + chance.choice([2, 5, 200])]
    chance.shuffle(piece)
    lines[start : start + len(piece)] = piece
    return b"\n".join(lines)


def odd_bytes(chance: Chance, text: bytes) -> bytes:
    pieces = (
        b"\x00", b"\x07", b"\x1b[31m", b"\xff\xfe", b"\xc3", b"\xef\xbb\xbf", b"\r", b"\x0b",
        b"\x0c",
        "\u2028".encode(), "\x85".encode(), b"'", b'"', b'"""', b"[", b"]", b"{", b"}", b"=", b"#",
        b"\\", b"\\u0000", b".", b",", b"[[house]]\n", b"[house]\n", b"\nx = 1\n", b"[[[[[[[[[[",
    )  # fmt: skip
    start = chance.choice([0, chance.randrange(len(text)), chance.randrange(len(text))])
    return text[:start] + chance.choice(pieces) + text[start:]


def flip_byte(chance: Chance, text: bytes) -> bytes:
    spoiled = bytearray(text)
    for _ in range(chance.choice([1, 1, 3, 30])):
        spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
    return bytes(spoiled)


def whole_file(chance: Chance, text: bytes) -> bytes:
    return chance.choice(
        [
            b"\xef\xbb\xbf" + text, text.replace(b"\n", b"\r\n"), text.replace(b"\n", b"\r"),
            text.decode("utf-8", "replace").encode("utf-16"), b"", b"\n", b"\x00", b"schema = 1",
            b"schema = 1\n[house]",
            b"schema = 1\nhouse = 3", b"schema = 1\n[house]\nkind = 'house'", text + text,
            b"x = " * 9,
            b"schema = 1\nx = " + b"[" * 5000, b"schema = 1\nx = " + b"[" * 300 + b"]" * 300,
            b"schema = 1\nx = " + b"{a=" * 2000, b"schema = 1\n" + b"a." * 3000 + b"b = 1",
            b"schema = 1\n[" + b"a." * 800 + b"b]\nc = 1\n", b"schema = " + b"9" * 5000,
            b"schema = 1\nplace = [1, 2]\n[house]\nkind='house'", b"#" * 1_000_001,
            bytes(range(256)),
            b"schema = 1\nhouse = {kind = 'house', window = 3}", text.replace(b"house", b"place"),
            b"schema = 1\n[house]\nwindow = [1]\nfaces = 'x'", text.replace(b'"', b"'"),
        ]
    )  # fmt: skip


TEXT_MUTATIONS: list[Callable[[Chance, bytes], bytes]] = [
    cut, drop_piece, double_piece, double_line, shuffle_lines, odd_bytes, flip_byte, whole_file,
]  # fmt: skip


def spoiled_text(chance: Chance) -> bytes:
    """Return the sample with its text damaged in one or two ways."""
    text = SAMPLE.encode()
    for deed in chance.choices(TEXT_MUTATIONS, k=chance.choice([1, 1, 2])):
        text = deed(chance, text or b" ")
    return text


CHANGES = (
    'house.eave.projection="3 ft"', "house.window.1.width=5 ft", "house.window.9.width=1",
    "house=3",
    "house.widnow.1.width=1", "=", "", "x", "a=b", "house.eave.projection=", "house.window.1=2",
    "..=1",
    "house.window.0.width=1", "house.window.-1.width=1", "house.window=[]",
    "construction.wall.layers=[]",
    "house.faces=nan", "place.latitude=1e999", "title=" + "x" * 200, "units=us",
    "house.window.1.width=-1",
    "house.heating.capacity=[1,2]", "house.zone.rooms.height=8 ft", "house.roof.pitch=45 deg",
    "house.floor.carpet=1", "schema=2", "place.time_zone=\x00", "house.window.٣.width=1",
    "house.x.y=1",
    "house.window.1.glazing=triple low gain", "construction.wall.layers.2.thickness=9 1/4 in",
    "house.window.1.count=2.5", "house.window.1.head=1 ft", "climate.file=none.csv", 'title="a',
)  # fmt: skip
