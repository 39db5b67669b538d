"""What goes over the wire as text and bytes: plain data, JSON, frames of arrays."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel

FloatArray = NDArray[np.float64]

NONE = -32768
_MOST = 32767


def plain(value: Any) -> Any:
    """Return a value as dictionaries, lists, text and numbers; dates say that they are dates."""
    if isinstance(value, BaseModel):
        return plain(dict(value))
    if is_dataclass(value) and not isinstance(value, type):
        return {item.name: plain(getattr(value, item.name)) for item in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, date):
        return {"date": value.isoformat()}
    if isinstance(value, str | bool | int | float) or value is None:
        return value
    if isinstance(value, Sequence):
        return [plain(item) for item in value]
    return str(value)


def text_of(value: Any) -> str:
    """Return plain data as JSON; raises `ValueError` for a number that is none."""
    return json.dumps(plain(value), allow_nan=False, separators=(",", ":"), ensure_ascii=False)


def spliced(head: Mapping[str, Any], body: str) -> str:
    """Return a message: `head` and the fields of a JSON object `body` after it."""
    rest = body[1:-1]
    return text_of(head)[:-1] + ("," + rest if rest else "") + "}"


@dataclass(frozen=True)
class Series:
    """An array of a frame: values (n,), of which `scale` is one step; nan means none."""

    name: str
    values: FloatArray
    scale: float
    zone: str | None = None

    @property
    def step(self) -> float:
        """Return the scale, coarser where a value would not fit."""
        most = float(np.nanmax(np.abs(self.values), initial=0.0))
        return max(self.scale, most / _MOST)


@dataclass(frozen=True)
class Answer:
    """What a solver gives back: the JSON text of an object, and its arrays as bytes."""

    body: str
    arrays: bytes = b""

    def frame(self, head: Mapping[str, Any]) -> bytes:
        """Return it as a frame whose JSON begins with the fields of `head`."""
        text = spliced(head, self.body).encode()
        text += b" " * (len(text) % 2)
        return struct.pack("<I", len(text)) + text + self.arrays

    def message(self, head: Mapping[str, Any]) -> str:
        """Return it as a JSON text without arrays."""
        return spliced(head, self.body)


def answer(body: Mapping[str, Any], series: Sequence[Series] = ()) -> Answer:
    """Return `body` with `series` packed behind it, one after the other."""
    if not series:
        return Answer(text_of(body))
    described, packed, start = [], [], 0
    for item in series:
        zone = {} if item.zone is None else {"zone": item.zone}
        count = item.values.size
        described.append(
            {"name": item.name, **zone, "scale": item.step, "start": start, "count": count}
        )
        packed.append(_packed(item))
        start += count
    return Answer(text_of({**body, "arrays": described}), b"".join(packed))


def _packed(series: Series) -> bytes:
    steps = np.round(series.values / series.step)
    return np.where(np.isnan(steps), NONE, steps).astype("<i2").tobytes()
