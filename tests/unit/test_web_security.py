"""Who is let in, and what answers say: the application without a network."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from starlette.types import ASGIApp
from starlette.websockets import WebSocketDisconnect

from noonmark.web.desk import Desk
from noonmark.web.journal import Journal
from noonmark.web.server import make_app

TOKEN, PORT = "t" * 43, 8123
HOME = f"http://127.0.0.1:{PORT}"
Headers = dict[str, str]
OWN = {"host": f"127.0.0.1:{PORT}", "origin": HOME}


@pytest.fixture
def static(tmp_path: Path) -> Path:
    """Return a stand-in for the built page, with something secret beside it."""
    folder = tmp_path / "static"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text("<!doctype html><title>the page</title>", "utf-8")
    (folder / "assets" / "index-1a2b.js").write_text("let x = 1;", "utf-8")
    (folder / "notes.exe").write_text("no part of a page", "utf-8")
    (tmp_path / "secret.js").write_text("secret", "utf-8")
    (folder / "assets" / "link.js").symlink_to(tmp_path / "secret.js")
    return folder


@pytest.fixture
def app(file: Path, tmp_path: Path, static: Path) -> ASGIApp:
    return make_app(Desk(file, Journal(tmp_path / "none")), token=TOKEN, port=PORT, static=static)


@pytest.fixture
def client(app: ASGIApp) -> TestClient:
    """Return a client; no solver is started."""
    return TestClient(app, base_url=HOME, follow_redirects=False)


@pytest.fixture(params=["", "design.json", "words/en.json", "assets/index-1a2b.js", "nothing"])
def address(request: pytest.FixtureRequest) -> str:
    return f"/{TOKEN}/{request.param}"


# --- who ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("host", [
    "evil.example", "evil.example:8123", "127.0.0.1", "127.0.0.1:80", "localhost", "",
    "127.0.0.1:8123.evil.example", "127.0.0.1:8123@evil.example", "10.0.0.1:8123",
])  # fmt: skip
def test_other_host_is_turned_away(client: TestClient, address: str, host: str) -> None:
    found = client.get(address, headers={"host": host})
    assert found.status_code == 403
    assert TOKEN not in found.text


@pytest.mark.parametrize("origin", [
    "http://evil.example", "null", "https://127.0.0.1:8123", "http://127.0.0.1:8124",
    "http://localhost:8123", "http://127.0.0.1:8123.evil.example", "http://127.0.0.1",
])  # fmt: skip
def test_other_origin_is_turned_away(client: TestClient, address: str, origin: str) -> None:
    assert client.get(address, headers={"origin": origin}).status_code == 403


def test_own_origin_is_let_in(client: TestClient) -> None:
    for name in ("127.0.0.1", "localhost"):
        headers = {"host": f"{name}:{PORT}", "origin": f"http://{name}:{PORT}"}
        assert client.get(f"/{TOKEN}/design.json", headers=headers).status_code == 200


@pytest.mark.parametrize("path", [
    "/", "/design.json", "/desk", f"/{TOKEN[:-1]}/", f"/{TOKEN}x/design.json", f"//{TOKEN}/",
    "/favicon.ico", f"/x/../{TOKEN[1:]}/", "/%00/", "/\u00e9/",
])  # fmt: skip
def test_without_the_token_there_is_nothing_but_a_sentence(client: TestClient, path: str) -> None:
    found = client.get(path)
    assert found.status_code == 404
    assert found.text.count("<p>") == 1
    assert "Open the address that noonmark web printed" in found.text
    assert TOKEN not in found.text


def test_token_without_its_slash_leads_on(client: TestClient) -> None:
    found = client.get(f"/{TOKEN}")
    assert (found.status_code, found.headers["location"]) == (307, f"/{TOKEN}/")


@pytest.mark.parametrize(("headers", "path", "status"), [
    ({}, f"/{TOKEN}/desk", 403),
    ({"origin": "http://evil.example"}, f"/{TOKEN}/desk", 403),
    ({"origin": HOME, "host": "evil.example:8123"}, f"/{TOKEN}/desk", 403),
    ({"origin": HOME}, "/wrong/desk", 404),
])  # fmt: skip
def test_websocket_of_others_is_refused(
    client: TestClient, headers: Headers, path: str, status: int
) -> None:
    with (
        pytest.raises(WebSocketDisconnect) as caught,
        client.websocket_connect(path, headers={"host": OWN["host"], **headers}),
    ):
        pass
    assert getattr(caught.value, "status_code", None) == status


# --- what ---------------------------------------------------------------------------------------


def test_page_and_its_parts_are_served(client: TestClient) -> None:
    page = client.get(f"/{TOKEN}/")
    assert page.text == "<!doctype html><title>the page</title>"
    assert page.headers["content-type"].startswith("text/html")
    part = client.get(f"/{TOKEN}/assets/index-1a2b.js")
    assert part.text == "let x = 1;"
    assert part.headers["content-type"].startswith("text/javascript")
    assert part.headers["cache-control"] == "private, max-age=31536000, immutable"


@pytest.mark.parametrize("path", [
    "../secret.js", "assets/../../secret.js", "..%2fsecret.js", "%2e%2e/secret.js",
    "assets/%2e%2e/%2e%2e/secret.js", "assets/link.js", "..%5csecret.js", "%00", "assets",
    "assets/", "notes.exe", "/etc/passwd", "%2fetc%2fpasswd",
])  # fmt: skip
def test_nothing_but_the_page_lies_there(client: TestClient, path: str) -> None:
    found = client.get(f"/{TOKEN}/{path}")
    assert found.status_code == 404
    assert "secret" not in found.text.replace("secret.js", "")


def test_answers_keep_the_page_to_this_server(client: TestClient, address: str) -> None:
    headers = client.get(address).headers
    policy = dict(
        part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";")
    )
    assert policy.pop("default-src") == "'none'"
    assert policy.pop("connect-src") == f"'self' ws://127.0.0.1:{PORT}"
    for name in ("base-uri", "form-action", "frame-ancestors"):
        assert policy.pop(name) == "'none'"
    assert set(policy) >= {"script-src", "style-src", "font-src", "img-src"}
    assert set(policy.values()) == {"'self'"}
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"
    assert "server" not in headers
    if "assets" not in address:
        assert headers["cache-control"] == "no-store"


def test_refusals_are_guarded_too(client: TestClient) -> None:
    for found in (client.get("/"), client.get("/", headers={"host": "evil.example"})):
        assert "default-src 'none'" in found.headers["content-security-policy"]
        assert "evil" not in found.headers["content-security-policy"]
        assert found.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("method", ["post", "put", "delete", "patch"])
def test_nothing_is_changed_by_addresses(client: TestClient, method: str, file: Path) -> None:
    before = file.read_bytes()
    for path in ("design.json", "", "desk", "year.json"):
        assert client.request(method, f"/{TOKEN}/{path}").status_code in (404, 405)
    assert file.read_bytes() == before


def test_missing_page_is_said_in_plain_words(file: Path, tmp_path: Path) -> None:
    desk = Desk(file, Journal(tmp_path / "none"))
    app = make_app(desk, token=TOKEN, port=PORT, static=tmp_path / "nowhere")
    found = TestClient(app, base_url=HOME).get(f"/{TOKEN}/")
    assert found.status_code == 503
    assert "The page is not built yet" in found.text
    assert "make page" in found.text


def test_design_and_words_are_had_without_the_page(client: TestClient, file: Path) -> None:
    design = client.get(f"/{TOKEN}/design.json").json()
    assert (design["type"], design["name"], design["cause"]) == ("design", file.name, "start")
    words = client.get(f"/{TOKEN}/words/en.json").json()
    assert words["web.nothing_here"] == "Nothing lies at this address."
    for language in ("xx", "../en", "en.json"):
        assert client.get(f"/{TOKEN}/words/{language}.json").status_code == 404


# --- bad messages -------------------------------------------------------------------------------


def edit(**changes: object) -> str:
    usual = {"type": "edit", "seq": 1, "building": "house", "words": ["title=x"], "hold": False}
    return json.dumps({**usual, **changes})


BAD = [
    "", "{", "null", "[]", '"edit"', "{}", '{"type": "nothing"}', "[" * 60_000, "\u0000",
    '{"type": "look"}', '{"type": "undo", "more": 1}',
    edit(seq=-1), edit(seq="1"), edit(seq=1.5), edit(seq=2**60), edit(hold=1), edit(words=[]),
    edit(words="title=x"), edit(words=[1]), edit(words=["x"] * 61), edit(words=["x" * 20_001]),
    edit(building=5), edit(more=1), edit().replace('"title=x"', '"\\ud800"'),
    edit().replace('"seq": 1', '"seq": 1e999'),
]  # fmt: skip


@pytest.mark.parametrize("text", BAD)
def test_message_that_is_none_is_answered_by_a_problem(
    client: TestClient, text: str, file: Path
) -> None:
    before = file.read_bytes()
    with client.websocket_connect(f"/{TOKEN}/desk", headers=OWN) as socket:
        socket.send_text(text)
        message = socket.receive_json()
        while message["type"] != "refused":
            message = socket.receive_json()
        assert [problem["code"] for problem in message["problems"]] == ["web.not_understood"]
        socket.send_bytes(b"\x00\x01")
        assert socket.receive_json()["type"] == "refused"
    assert file.read_bytes() == before


NASTY = [
    "house.window.99999999999999999999.head=1", f"house.window.{'9' * 5000}.head=1",
    f"house.eave.projection={'9' * 5000}", "house.eave.projection=nan", "house.eave.projection=inf",
    f"title={'[' * 15_000}", f"title={{a={'{a=' * 4000}", f"{'a.' * 9000}b=1",
    "=1", "..=1", "title=\u0000", "house=1", "schema=2", "house.window=[]x",
    "climate.file=/etc/passwd", "climate.file=\u0000", "place.time_zone=../../etc/passwd",
    "house.zone={}", "construction.wall.layers.1.material=\u202e",
]  # fmt: skip


@pytest.mark.parametrize("word", NASTY, ids=lambda word: word[:30])
def test_words_that_can_not_be_are_refused_with_reasons(
    client: TestClient, word: str, file: Path
) -> None:
    with client.websocket_connect(f"/{TOKEN}/desk", headers=OWN) as socket:
        socket.send_text(edit(words=[word]))
        message = socket.receive_json()
        while message["type"] not in ("refused", "design") or message.get("cause") == "start":
            message = socket.receive_json()
        codes = [problem["code"] for problem in message["problems"]]
        assert "web.not_done" not in codes
        assert (message["type"] == "refused") == bool(codes)
        if message["type"] == "refused":
            assert message["seq"] == 1
    assert file.read_text("utf-8").startswith("# Larkspur")
