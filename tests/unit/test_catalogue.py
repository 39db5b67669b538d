"""Every table says where it comes from."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable

import pytest

from noonmark import catalog
from noonmark.errors import InputError

HEADER_KEYS = ("source", "edition", "licence", "units")
TABLES = sorted(
    (item for item in (files("noonmark.catalog") / "data").iterdir()), key=lambda item: item.name
)


def missing_keys(text: str) -> set[str]:
    """Return which of the four header keys a table lacks or leaves empty."""
    header = [line[1:].partition(":") for line in text.splitlines() if line.startswith("#")]
    found = {key.strip() for key, _, value in header if value.strip()}
    return set(HEADER_KEYS) - found


@pytest.mark.parametrize("item", TABLES, ids=lambda item: item.name)
def test_every_table_has_its_four_header_lines(item: Traversable) -> None:
    text = item.read_text("utf-8")
    assert missing_keys(text) == set()
    assert text.startswith("# source:")
    assert len(text) < 100_000


@pytest.mark.parametrize("key", HEADER_KEYS)
def test_a_table_without_one_is_refused(key: str) -> None:
    lines = TABLES[0].read_text("utf-8").splitlines()
    without = "\n".join(line for line in lines if not line.startswith(f"# {key}:"))
    assert missing_keys(without) == {key}
    emptied = "\n".join(f"# {key}:" if line.startswith(f"# {key}:") else line for line in lines)
    assert missing_keys(emptied) == {key}


@pytest.mark.parametrize(
    "kind",
    [catalog.Material, catalog.ReadyGlazing, catalog.Frame, catalog.Soil, catalog.Fuel],
)
def test_rows_are_physical(kind: type) -> None:
    rows = catalog.table(kind)
    assert len(rows) >= 3
    for name, row in rows.items():
        assert row.name == name
        numbers = [value for value in vars(row).values() if isinstance(value, float)]
        assert all(number >= 0.0 for number in numbers)


def test_gross_is_never_below_net() -> None:
    for fuel in catalog.table(catalog.Fuel).values():
        assert fuel.kwh_net <= fuel.kwh_gross < 1.2 * fuel.kwh_net


def test_light_and_sun_through_glass_add_up() -> None:
    for row in catalog.table(catalog.ReadyGlazing).values():
        assert row.transmittance < row.shgc < 1.0
        assert row.visible < 1.0


def test_unknown_material_names_the_nearest() -> None:
    with pytest.raises(InputError) as caught:
        catalog.find(catalog.Material, "celulose")
    (problem,) = caught.value.problems
    assert problem.code == "catalog.unknown"
    assert "cellulose" in str(problem.values["near"])


@pytest.mark.parametrize(
    ("kind", "read", "near"),
    [
        (catalog.Material, "fiberglass", ["mineral wool"]),
        (catalog.Material, "Drywall", ["plasterboard"]),
        (catalog.ReadyGlazing, "low-e", ["double high gain", "double low gain"]),
        (catalog.Fuel, "firewood", ["spruce", "oak"]),
        (catalog.Fuel, "gas", ["natural gas", "propane"]),
        (catalog.Fuel, "zzz", sorted(catalog.table(catalog.Fuel))),
    ],
)
def test_words_of_the_trade_lead_to_a_row(kind: type, read: str, near: list[str]) -> None:
    with pytest.raises(InputError) as caught:
        catalog.find(kind, read)
    assert caught.value.problems[0].values["near"] == near
