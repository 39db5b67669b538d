"""A drawing before it has its sheet: the same picture stands on a screen and on paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

from noonmark.sheets import paper, svg


@dataclass(frozen=True)
class Stage:
    """What room a picture gets, in px: `width` by at most `height`, `margin` left of it.

    `scales` [px/m] are those it may have, largest first; without any it fills the width.
    `bare` pictures stand without heading and notes.
    """

    width: float = 1400.0
    height: float = math.inf
    margin: float = paper.MARGIN
    scales: tuple[float, ...] = ()
    bare: bool = False

    @property
    def right(self) -> float:
        """The right edge of pictures [px]."""
        return self.width - self.margin

    def top(self, title: str, subtitle: str) -> float:
        """Return where the picture begins under its heading [px]."""
        return 0.0 if self.bare else paper.heading(title, subtitle, self.width)[1]

    def holds(self, right: float, foot: float) -> bool:
        """Return whether a picture that ends there [px] has room."""
        return right <= self.right + 1e-6 and foot <= self.height + 1e-6


SCREEN = Stage()
"""The sheet of an SVG document."""


@dataclass(frozen=True)
class Drawing:
    """A picture and the words around it.

    `title` and `subtitle` name it, `name` does where the design's title stands apart;
    `description` is for screen readers, `notes` stand below. Its elements `parts` end at
    `right` and lie between `top` and `foot` [px];
    `scale` [px/m] is that of its main picture.
    """

    title: str
    subtitle: str
    description: str
    notes: tuple[str, ...]
    parts: tuple[str, ...]
    right: float
    top: float
    foot: float
    scale: float
    name: str = ""

    def sheet(self) -> str:
        """Return the whole sheet as an SVG document, 1400 units wide."""
        width = SCREEN.width
        head, _ = paper.heading(self.title, self.subtitle, width)
        notes, height = paper.captions(self.notes, self.foot, width)
        ground = svg.element("rect", width=width, height=height, class_="blank")
        parts = [paper.hatching(), ground, *head, *self.parts, *notes]
        style = paper.style(paper.PAPER)
        return svg.document(width, height, self.title, self.description, parts, style)

    def bare(self) -> str:
        """Return the picture alone as an SVG document, its top at the drawing's, on white."""
        box = f"0 {svg.number(self.top)} {svg.number(self.right)} {svg.number(self.tall)}"
        return svg.element(
            "svg",
            svg.element("style", paper.style("#ffffff")),
            paper.hatching(),
            *self.parts,
            xmlns="http://www.w3.org/2000/svg",
            viewBox=box,
        )

    @property
    def tall(self) -> float:
        """Height of the picture [px]."""
        return self.foot - self.top
