"""Finds every sentence the sources speak and the values they hand over, by reading the sources."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import noonmark

SOURCES = Path(noonmark.__file__).parent
SPEAKERS = {"Problem", "Sentence", "word", "Progress"}

Function = ast.FunctionDef | ast.Module


@dataclass(frozen=True)
class Spoken:
    """One sentence as spoken in one place: its key and the names of the values handed over.

    `values` is None where reading the sources does not tell them.
    """

    key: str
    where: str
    values: frozenset[str] | None


class UnreadError(Exception):
    """The sources do not tell which key or which values are meant."""


@dataclass
class Reader:
    """Reads one module. `open_keys`: what the open part of a key can be, by its source text."""

    path: Path
    open_keys: Mapping[str, list[str]]

    def __post_init__(self) -> None:
        self.tree = ast.parse(self.path.read_text("utf-8"))
        self.name = self.path.relative_to(SOURCES).as_posix()
        self.functions = [n for n in ast.walk(self.tree) if isinstance(n, ast.FunctionDef)]

    def spoken(self) -> Iterator[Spoken]:
        """Yield all that the module speaks; raises `UnreadError` for a key that can not be told."""
        for call, home in self._calls():
            if _called(call) not in SPEAKERS:
                continue
            code, values = _parts(call)
            if code is None or ast.unparse(code) in _PASSED_ON:
                continue
            if isinstance(code, ast.Name) and code.id in _parameters(home):
                yield from self._through(home, code.id, values)
                continue
            for key in self._strings(code, home):
                yield Spoken(key, self._where(call), self._keys(values, home))

    def _calls(self) -> Iterator[tuple[ast.Call, Function]]:
        seen: set[int] = set()
        homes: list[Function] = [*reversed(self.functions), self.tree]
        for home in homes:
            for node in ast.walk(home):
                if isinstance(node, ast.Call) and id(node) not in seen:
                    seen.add(id(node))
                    yield node, home

    def _through(self, helper: Function, code: str, values: ast.expr | None) -> Iterator[Spoken]:
        """Yield what a helper speaks that is handed its key, for each call of it."""
        assert isinstance(helper, ast.FunctionDef)
        names = [a.arg for a in helper.args.args]
        own = self._keys(values, helper) if values is not None else frozenset()
        for call, home in self._calls():
            if _called(call) != helper.name:
                continue
            given = dict(zip(names, call.args, strict=False))
            given |= {k.arg: k.value for k in call.keywords if k.arg}
            extra = {k.arg for k in call.keywords if k.arg and k.arg not in names}
            for spread in (k.value for k in call.keywords if k.arg is None):
                extra |= self._keys(spread, home) or set()
            found = None if own is None else frozenset(own | extra)
            for key in self._strings(given[code], home):
                yield Spoken(key, self._where(call), found)

    def _where(self, node: ast.expr) -> str:
        return f"{self.name}:{node.lineno}"

    def _strings(self, node: ast.expr, home: Function) -> list[str]:
        """Return every text an expression can be."""
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            return [node.value]
        if isinstance(node, ast.IfExp):
            return self._strings(node.body, home) + self._strings(node.orelse, home)
        if isinstance(node, ast.Name) and (found := _assigned(node.id, home)):
            return [text for value in found for text in self._strings(value, home)]
        if isinstance(node, ast.JoinedStr):
            pieces = [self._piece(part, home) for part in node.values]
            return ["".join(row) for row in product(*pieces)]
        raise UnreadError(f"{self._where(node)}: key {ast.unparse(node)}")

    def _piece(self, part: ast.expr, home: Function) -> list[str]:
        if not isinstance(part, ast.FormattedValue):
            return self._strings(part, home)
        text = f"{self.name} {ast.unparse(part.value)}"
        if text in self.open_keys:
            return self.open_keys[text]
        return self._strings(part.value, home)

    def _keys(self, node: ast.expr | None, home: Function) -> frozenset[str] | None:
        """Return the names of the values an expression hands over; None when it can not be told."""
        if node is None:
            return frozenset()
        if isinstance(node, ast.Dict):
            parts = [
                self._keys(value, home) if key is None else _constant(key)
                for key, value in zip(node.keys, node.values, strict=True)
            ]
            return None if None in parts else frozenset().union(*(p for p in parts if p))
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.BitOr):
            left, right = self._keys(node.left, home), self._keys(node.right, home)
            return None if left is None or right is None else left | right
        if isinstance(node, ast.Name):
            if isinstance(home, ast.FunctionDef) and node.id == _rest(home):
                return frozenset()
            if found := _assigned(node.id, home):
                parts = [self._keys(value, home) for value in found]
                return None if None in parts else frozenset().union(*(p for p in parts if p))
        if isinstance(node, ast.DictComp):
            return self._keys(_source_of(node), home)
        return None


_PASSED_ON = {"p.code", "step.key"}
"""Codes of problems made elsewhere, and read there."""


def _called(call: ast.Call) -> str:
    function = call.func
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _parts(call: ast.Call) -> tuple[ast.expr | None, ast.expr | None]:
    named = {keyword.arg: keyword.value for keyword in call.keywords}
    code = call.args[0] if call.args else named.get("code")
    second = call.args[1] if _called(call) == "Sentence" and len(call.args) > 1 else None
    return code, named.get("values", second)


def _parameters(home: Function) -> set[str]:
    if isinstance(home, ast.Module):
        return set()
    return {a.arg for a in (*home.args.args, *home.args.kwonlyargs)}


def _rest(home: ast.FunctionDef) -> str:
    """Return the name of `**rest`, whose keys each call tells."""
    return home.args.kwarg.arg if home.args.kwarg else ""


def _assigned(name: str, home: Function) -> list[ast.expr]:
    """Return every value given to a name in a function: whole, joined on, or by key."""
    found: list[ast.expr] = []
    for node in ast.walk(home):
        if isinstance(node, ast.Assign):
            for target in node.targets:
                if isinstance(target, ast.Name) and target.id == name:
                    found.append(node.value)
                if isinstance(target, ast.Subscript) and ast.unparse(target.value) == name:
                    found.append(ast.Dict([target.slice], [node.value]))
        elif isinstance(node, ast.AnnAssign | ast.AugAssign):
            if isinstance(node.target, ast.Name) and node.target.id == name and node.value:
                found.append(node.value)
        elif isinstance(node, ast.comprehension) and ast.unparse(node.target) == name:
            found += _items(node.iter)
    return found


def _items(node: ast.expr) -> list[ast.expr]:
    return list(node.elts) if isinstance(node, ast.Tuple | ast.List) else []


def _constant(node: ast.expr) -> frozenset[str] | None:
    return frozenset([str(node.value)]) if isinstance(node, ast.Constant) else None


def _source_of(node: ast.DictComp) -> ast.expr | None:
    """Return what a comprehension goes through when it keeps the keys: `for k, v in x.items()`."""
    source = node.generators[0].iter
    if isinstance(source, ast.Call) and isinstance(source.func, ast.Attribute):
        return source.func.value
    return None


def all_spoken(open_keys: Mapping[str, list[str]]) -> list[Spoken]:
    """Return all that the package speaks."""
    return [
        item for path in sorted(SOURCES.rglob("*.py")) for item in Reader(path, open_keys).spoken()
    ]
