"""Every public argument of the physics rooms is a word of the glossary."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import noonmark

PACKAGE = Path(noonmark.__file__).parent
GLOSSARY = PACKAGE.parent.parent / "docs" / "glossary.md"
ROOMS = (
    "shape", "sun", "shading", "inside", "air", "sources", "glazing",
    "envelope", "balance", "outcome", "place", "climate",
)  # fmt: skip
COMPILED = {"hourly.py", "lanes.py", "march.py", "plant.py", "rows.py", "small.py", "surfaces.py",
            "views.py"}  # fmt: skip
"""Compiled code: its words are explained where its blocks of numbers are."""

LETTERS = {"a", "b", "c", "x", "x0", "x1", "y0", "y1"}
"""Coordinates and coefficients of plane geometry, explained where they stand."""


def public_arguments() -> Iterator[tuple[str, str]]:
    for room in ROOMS:
        for file in sorted((PACKAGE / room).rglob("*.py")):
            if file.name in COMPILED:
                continue
            module = ast.parse(file.read_text("utf-8"))
            classes = [node for node in module.body if isinstance(node, ast.ClassDef)]
            classes = [node for node in classes if not node.name.startswith("_")]
            for node in [*module.body, *(child for owner in classes for child in owner.body)]:
                if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                    for argument in (*node.args.args, *node.args.kwonlyargs):
                        if argument.arg not in {"self", "cls", *LETTERS}:
                            yield argument.arg, f"{room}.{node.name}"


def test_public_arguments_are_in_the_glossary() -> None:
    known = set(re.findall(r"^\| `(\w+)` \|", GLOSSARY.read_text("utf-8"), re.MULTILINE))
    missing = {argument: where for argument, where in public_arguments() if argument not in known}
    assert not missing


def test_glossary_is_in_order_and_says_each_word_once() -> None:
    words = re.findall(r"^\| `(\w+)` \|", GLOSSARY.read_text("utf-8"), re.MULTILINE)
    assert words == sorted(set(words))
