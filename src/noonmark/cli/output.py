"""Tables, sentences, JSON and progress on a terminal; plain text when piped."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict

from noonmark.cards.speech import Speech
from noonmark.cards.tables import Table
from noonmark.errors import Progress, ProgressListener, Sentence
from noonmark.units import Quantity

_WIDTH = 88
_HEADING = 10
"""Signs of a heading that stand on one line, so that figures need not break for it."""

_MEASURE = 12
"""Signs of a cell that are not broken, so that feet stay with their inches."""

_WIDEST = 1000
"""Signs a line has before anything is left out."""


def print_table(table: Table) -> None:
    """Print a table; without colour or frame it reads the same."""
    from rich import box
    from rich.console import Console
    from rich.measure import Measurement
    from rich.table import Table as Grid
    from rich.text import Text

    grid = Grid(
        box=box.SIMPLE_HEAD, title=Text(table.title), title_justify="left", title_style="bold"
    )
    for index, word in enumerate(table.heading):
        cells = max((len(row[index]) for row in table.rows), default=0)
        lines = textwrap.wrap(word, max(_HEADING, cells), break_long_words=False)
        figures = index > 0 and cells <= _MEASURE
        grid.add_column(
            Text("\n".join(lines)),
            justify="left" if index == 0 else "right",
            width=max([cells, *map(len, lines)]) if figures else None,
        )
    for row in table.rows:
        grid.add_row(*(Text(word) for word in row))
    console = Console(highlight=False)
    least = Measurement.get(console, console.options.update(max_width=_WIDEST), grid).minimum
    Console(highlight=False, width=max(console.width, least)).print(grid)


def print_sentences(title: str, sentences: Sequence[Sentence], speech: Speech) -> None:
    """Print a titled list of sentences, wrapped."""
    if not sentences:
        return
    print(f"{title}:")
    for sentence in sentences:
        print(
            textwrap.fill(speech.say(sentence), _WIDTH, initial_indent="- ", subsequent_indent="  ")
        )


def print_changes(words: Sequence[str], speech: Speech) -> None:
    """Print the `--set` words that build something, ready to be copied."""
    print(f"{speech.word('change.title')}:")
    for word in words:
        print(f"  --set '{word}'")


@contextmanager
def progress_bar(speech: Speech) -> Iterator[ProgressListener]:
    """Show progress on stderr, on a terminal only, and take it away when done."""
    from rich.console import Console
    from rich.progress import Progress as Bar

    console = Console(stderr=True)
    with Bar(console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("", total=None, visible=False)

        def listen(step: Progress) -> None:
            bar.update(
                task,
                description=speech.word(step.key),
                completed=step.done,
                total=step.total,
                visible=True,
            )

        yield listen


def print_json(data: object) -> None:
    """Print data as JSON; measures become tables, dates and paths text."""
    print(json.dumps(data, indent=2, default=_plain))


def _plain(value: object) -> object:
    return asdict(value) if isinstance(value, Quantity) else str(value)
