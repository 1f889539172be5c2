"""Attacks on a real server: nothing gets in, nothing is lost, and nothing ends as a fault of the program."""

import json
import re
import socket
import ssl
from html.parser import HTMLParser
from pathlib import Path
from threading import Thread
from time import monotonic
from urllib.parse import quote

import httpx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from putback.job.kinds import KINDS
from putback.web import guard, patience
from putback.web.api import CALLS
from putback.web.openapi import description
from web_addresses import pages
from web_job import half_done
from web_server import Device, serving

pytestmark = pytest.mark.slow

PNG = b"\x89PNG\r\n\x1a\n" + bytes(100)
HARM = """<script>alert(1)</script>"'><img src=x onerror=alert(2)>{{7*7}}</title></script>&lt;b&gt;"""
LARGEST = 20_000_000
HALF_A_POST = (
    b"POST /api/jobs HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: %b\r\n\r\n{"
)


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """One for all attacks; at the end it still runs, and its output tells of no fault."""
    with serving(tmp_path_factory.mktemp("attacked")) as served:
        yield served
        assert served.process.poll() is None, served.output
        assert "Traceback" not in served.output, served.output


@pytest.fixture(scope="module")
def device(server):
    with Device(server.address) as speaking:
        yield speaking


@pytest.fixture(scope="module")
def job(device):
    """A job with three events, which every test finds as it left them."""
    job = device.open("bumper")
    device.say(job, *[device.event(job, "note added", note=f"note {n}") for n in range(2)])
    return job


@pytest.fixture(autouse=True)
def nothing_is_lost(device, job):
    """After every attack the chain holds, and what was there before is there still."""
    before = device.log(job)
    yield
    after = device.log(job)
    assert after["whole"]
    assert after["events"][: len(before["events"])] == before["events"]


def refused(answer: httpx.Response, *statuses: int) -> None:
    """It was refused, in the one shape of trouble."""
    assert answer.status_code in statuses, answer.text
    error = answer.json()["error"]
    assert error["status"] == answer.status_code
    assert error["sentence"]


def raw(server, data: bytes, wait: float = 10.0) -> bytes:
    """Bytes as they are, and what comes back until the other side closes or says nothing more."""
    with socket.create_connection(("127.0.0.1", server.port), timeout=wait) as line:
        line.sendall(data)
        answer = b""
        try:
            while piece := line.recv(65536):
                answer += piece
                if b"\r\n\r\n" in answer and not data.endswith(b"\r\n\r\nslow"):
                    break
        except (TimeoutError, ConnectionResetError):
            pass
    return answer


def status_of(answer: bytes) -> int:
    return int(answer.split(b" ", 2)[1]) if answer else 0


# --- from elsewhere -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "origin",
    [
        "http://evil.example",
        "null",
        "",
        "http://127.0.0.1",
        "https://127.0.0.1:{port}",
        "http://localhost:{port}",
        "file://",
    ],
)
def test_a_foreign_page_changes_nothing(server, device, job, origin):
    """Whatever it sends, and however: as a form, as text, as JSON. Its port and its scheme count."""
    origin = origin.format(port=server.port)
    said = json.dumps({"events": [device.event(job, "note added", note="from elsewhere")]})
    before = len(device.log(job)["events"])
    for kind in (
        "application/json",
        "text/plain",
        "application/x-www-form-urlencoded",
        "multipart/form-data; boundary=x",
    ):
        headers = {"origin": origin, "content-type": kind}
        for path in (f"/api/jobs/{job}/events", "/api/jobs", "/api/files"):
            refused(device.asking.post(path, content=said, headers=headers), 403)
        assert device.asking.post("/jobs/new", content="name=x", headers=headers).status_code == 403
    assert len(device.log(job)["events"]) == before


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "127.0.0.1.evil.example",
        "127.0.0.1@evil.example",
        "evil.example#127.0.0.1",
        "0.0.0.0",
        "127.1",
        "[::ffff:127.0.0.1]",
    ],
)
def test_a_foreign_name_is_not_answered(server, device, host):
    """Such as one that somebody let point to this computer."""
    assert device.asking.get("/api/jobs", headers={"host": host}).status_code == 421
    assert status_of(raw(server, b"GET /api/jobs HTTP/1.1\r\n\r\n")) in (400, 421)


@pytest.mark.parametrize(
    "head",
    [
        "GET http://evil.example/api/jobs HTTP/1.1\r\nHost: evil.example",
        "GET /api/jobs HTTP/1.1\r\nHost: 127.0.0.1\r\nHost: evil.example",
        "CONNECT 127.0.0.1:22 HTTP/1.1\r\nHost: 127.0.0.1:22",
        "TRACE / HTTP/1.1\r\nHost: 127.0.0.1",
        "PUT /api/jobs HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 0",
        "DELETE /devices HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 0",
        "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX: " + "a" * 200_000,
        "POST /api/jobs HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 5\r\nTransfer-Encoding: chunked",
        "POST /api/jobs HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: -5",
        "POST /api/jobs HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 5\r\nContent-Length: 6",
        "\x00\x01\x02",
        "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
    ],
)
def test_a_request_that_is_none_gets_no_answer_of_worth(server, device, head):
    """Refused or hung up on; and the server goes on."""
    answer = raw(server, head.encode("latin-1") + b"\r\n\r\n0\r\n\r\n", wait=3.0)

    assert status_of(answer) in (0, 400, 403, 404, 405, 413, 421, 431), answer[:200]
    assert device.asking.get("/api/jobs").status_code == 200


# --- bodies ---------------------------------------------------------------------------------------

POSTS = [call for call in CALLS if call.method == "POST" and call.takes]


@pytest.mark.parametrize("call", POSTS, ids=lambda call: call.name)
@pytest.mark.parametrize(
    "kind",
    [None, "", "text/plain", "application/x-www-form-urlencoded", "text/json", "application/xml", "APPLICATION/JSONP"],
)
def test_what_is_not_said_to_be_json_is_not_taken(device, job, call, kind):
    """A form of a foreign page cannot say that it is JSON."""
    headers = {} if kind is None else {"content-type": kind}

    refused(device.asking.post(call.path.format(job=job), content=b"{}", headers=headers), 400)


@pytest.mark.parametrize("call", POSTS, ids=lambda call: call.name)
@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b"[" * 100_000,
        b'{"a":' * 50_000,
        b"1" * 5_000,
        b'"\\ud800"',
        b"NaN",
        b'{"name": 1e999}',
        b'{"name": "\\u0000"}',
        b"\xff{}",
        b'{"events": NaN}',
    ],
    ids=lambda body: repr(body[:12]),
)
def test_what_is_no_json_is_told(device, job, call, body):
    """Also where it is deep, or half a sign."""
    answer = device.asking.post(call.path.format(job=job), content=body, headers={"content-type": "application/json"})

    refused(answer, 400)


def test_an_upload_that_is_too_large_is_refused(server, device):
    """By what it says, by what it is where it does not say, and by one byte. Just as large as may be is taken."""

    def endless():
        while True:
            yield bytes(100_000)

    taken = device.asking.post("/api/files", content=PNG + bytes(LARGEST - len(PNG)))
    assert (taken.status_code, taken.json()["bytes"]) == (200, LARGEST)
    refused(device.asking.post("/api/files", content=PNG + bytes(LARGEST - len(PNG) + 1)), 413)
    assert (
        status_of(raw(server, b"POST /api/files HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 999999999999\r\n\r\n"))
        == 413
    )
    try:
        refused(device.asking.post("/api/files", content=endless()), 413)
    except httpx.TransportError:
        pass  # the server hung up while we were still sending


def test_too_much_json_is_refused(device, job):
    """Before it is read as such."""
    body = b'{"events": ["' + b"x" * 9_000_000 + b'"]}'

    refused(
        device.asking.post(f"/api/jobs/{job}/events", content=body, headers={"content-type": "application/json"}), 413
    )


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("photo.png", b"<html><script>alert(1)</script>"),
        ("photo.jpg", b"GIF89a" + bytes(50)),
        ("photo.png", b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"),
        ("x.pdf", b" %PDF-1.7"),
        ("x.exe", b"MZ" + bytes(50)),
        ("../../../../tmp/evil.png", b"#!/bin/sh"),
        ("x.png", b""),
    ],
)
def test_a_file_that_is_not_what_it_may_be_is_refused(device, name, data):
    """Whatever it is called and whatever type it claims; raw and in a form."""
    refused(device.asking.post("/api/files", content=data, headers={"content-type": "image/png"}), 415)
    refused(device.asking.post("/api/files", files={"file": (name, data, "image/png")}), 415)


@pytest.mark.parametrize(
    "body",
    [
        b"", b"--x\r\n", b"--x--", b"--x\r\nContent-Disposition: form-data; name=\"file\"\r\n\r\nabc\r\n--x--",
        b"--x\r\nContent-Disposition: form-data; name=file; filename=" + b"a" * 100_000 + b"\r\n\r\nabc\r\n--x--",
        b"--x\r\n" + b"A: b\r\n" * 20_000 + b"\r\nabc\r\n--x--",
        b"--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"\xff\xfe\"\r\n\r\n<b>\r\n--x--",
    ],
    ids=range(7),
)  # fmt: skip
def test_a_form_that_is_broken_is_refused(device, body):
    """As an upload, and as the form of a page."""
    headers = {"content-type": "multipart/form-data; boundary=x"}

    refused(device.asking.post("/api/files", content=body, headers=headers), 400, 415)
    assert device.asking.post("/jobs/new", content=body, headers=headers).status_code == 400
    refused(device.asking.post("/api/files", content=body, headers={"content-type": "multipart/form-data"}), 400, 415)


# --- paths ----------------------------------------------------------------------------------------

TRICKS = [
    "/static/../../../../../../etc/passwd",
    "/static/x/../../app.py",
    "/static/x/..%2f..%2fapp.py",
    "/static/x/%2e%2e/app.py",
    "/static/x/....//app.py",
    "/static/x/%00",
    "/static/x/app.py%00.css",
    "/static/%2e%2e%2f/x",
    "/..%5c..%5capp.py",
    "/api/files/..%2f..%2fledger.db",
    "/api/files/%00",
    "/api/files/" + "a" * 60_000,
    "/jobs/..%2f..",
    "/jobs/%00",
    "/jobs/%ff",
    "/jobs/" + "9" * 60_000,
    "//evil.example/",
    "/%2f%2fevil.example",
    "/areas/..%2fledger.db",
    "/areas/..%2f..%2f..%2fetc%2fpasswd",
    "/areas/.%00.yaml",
    "/areas/%2fetc%2fpasswd",
    "/jobs/new/../../x",
    "/?a=%00%ff%fe",
    "/jobs/\xff",
    "/api/jobs?all=%ff",
]


@pytest.mark.parametrize("path", TRICKS, ids=lambda path: path[:40])
def test_no_path_from_outside_is_opened(server, path):
    """Sent as it stands, which a browser would not do."""
    head = f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n".encode("latin-1")
    answer = raw(server, head)

    assert status_of(answer) in (200, 307, 308, 400, 404, 414, 431), answer[:300]
    assert not any(word in answer for word in (b"root:", b"import ", b"SQLite format"))
    assert b"location: //" not in answer.lower()
    assert b"evil.example" not in answer.split(b"\r\n\r\n")[0]


# --- what people write ----------------------------------------------------------------------------


def texts_of(kind: str, fields: dict) -> dict:
    """An event of a kind with harm in every field that takes a text."""
    fill = {
        "text": HARM,
        "texts": [HARM],
        "number": 1,
        "amount": 1,
        "count": 1,
        "yes or no": True,
        "mapping": {HARM: HARM},
        "hash": None,
    }
    said = {name.rstrip("?"): fill.get(must_be, must_be.split("|")[0]) for name, must_be in fields.items()}
    return {name: value for name, value in said.items() if value is not None}


def test_script_in_any_field_stays_text_on_every_page(server, device):
    """Every kind of event, each of its texts, and the names of person and device; on every page of the table."""
    job = device.open(HARM[:200], vehicle=HARM, complaint=HARM)
    harmful = {"person": HARM, "device": HARM}
    photo = device.asking.post("/api/files", content=PNG).json()["hash"]
    skipped = ("job opened", "plan made", "hand-over signed", "event undone")
    for kind, fields in KINDS.items():
        if kind not in skipped:
            said = texts_of(kind, fields) | ({"hash": photo} if kind == "file added" else {})
            answer = device.say(job, device.event(job, kind) | {"data": said} | harmful)
            assert answer.status_code == 200, (kind, answer.text)
    (server.folder / "areas" / "harm.yaml").write_text(f"area: 1\nname: {json.dumps(HARM)}\n")
    cookies = {
        "putback-person": httpx.URL("http://x/?" + HARM).query.decode(),
        "putback-device": "%3Cscript%3Ealert(1)%3C%2Fscript%3E",
    }
    with Device(server.address, cookies=cookies) as other:
        for path in [
            *pages(job),
            f"/jobs/{job}/whose?seen={HARM}",
            f"/pair?code={HARM}",
            f"/jobs/{job}/off?seen={HARM}",
        ]:
            answer = other.asking.get(path)
            assert answer.status_code in (200, 404, 400, 403), (path, answer.text)
            if "attachment" in answer.headers.get("content-disposition", ""):  # kept as a file, never shown as a page
                assert answer.headers["x-content-type-options"] == "nosniff"
                continue
            assert "<script>alert" not in answer.text, path
            assert "<img src=x" not in answer.text, path
            assert "49</title>" not in answer.text, path


def test_no_line_of_ours_can_be_added_to_an_answer(server, device):
    """A name with the end of a line in it is refused, or stays one line."""
    evil = "x\r\nset-cookie: evil=1\r\n\r\n<script>"
    answers = [
        device.asking.post("/people/this", data={"person": evil}),
        device.asking.get("/pair", params={"code": evil}),
        device.asking.get("/", params={evil: evil}),
        device.asking.get("/jobs/x%0d%0aset-cookie:%20evil=1"),
        device.asking.post("/jobs/new", data={"name": evil}),
    ]

    for answer in answers:
        assert "evil=1" not in answer.headers.get("set-cookie", "") or "\r" not in answer.headers["set-cookie"]
        assert "evil" not in answer.cookies
        assert answer.status_code < 500


class Forms(HTMLParser):
    """The forms of a page: where each goes, and what its fields are called."""

    def __init__(self, text: str):
        super().__init__()
        self.found: list[tuple[str, list[str]]] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        """A form begins, or a field of it stands there."""
        told = dict(attrs)
        if tag == "form" and told.get("method", "").lower() == "post":
            self.found.append((told.get("action") or "", []))
        elif told.get("name") and self.found:
            self.found[-1][1].append(told["name"])


@pytest.mark.parametrize(
    "words",
    [HARM, "", "x" * 100_000, "\x00", "\u202e", "../../etc/passwd", "-1", "1e999", "\ud800", "9" * 400],
    ids=range(10),
)
def test_whatever_is_written_in_a_form_is_kept_as_text_or_refused(device, words):
    """Every form of every page, with the same in each field; from a foreign page all of them are refused."""
    job = half_done(device, 12)
    shown = {path: Forms(device.asking.get(path).text).found for path in pages(job)}
    forms = [(action or path, fields) for path, found in shown.items() for action, fields in found]
    assert len(forms) > 5
    for action, fields in forms:
        said = "&".join(f"{quote(name)}={quote(words.encode('utf-8', 'surrogatepass'))}" for name in fields or ["x"])
        headers = {"content-type": "application/x-www-form-urlencoded"}
        answer = device.asking.post(action, content=said, headers=headers | {"origin": "http://evil.example"})
        assert answer.status_code == 403, (action, answer.text)
        answer = device.asking.post(action, content=said, headers=headers)
        assert answer.status_code < 500, (action, answer.text)
        assert "<img src=x" not in answer.text
        answer = device.asking.post(
            action,
            files={
                name: (quote(words[:50].encode("utf-8", "surrogatepass")) or "x", b"\xff\x00")
                for name in fields or ["x"]
            },
        )
        assert answer.status_code < 500, (action, answer.text)
    assert device.log(job)["whole"]
    for path in pages(job):
        answer = device.asking.get(path)
        assert answer.status_code < 500, path
        assert "<img src=x" not in answer.text, path


# --- slow -----------------------------------------------------------------------------------------


@pytest.fixture
def hasty(tmp_path, monkeypatch):
    """A server in a thread that waits half a second where the real one waits twenty."""
    from datetime import UTC, datetime
    from uuid import uuid4

    from putback.cli_serve import _server
    from putback.job.ledger import open_ledger
    from putback.web.app import make_app
    from putback.web.settings import Settings

    monkeypatch.setattr(guard, "LONGEST_WAIT", 0.5)
    monkeypatch.setattr(patience, "LONGEST_HEAD", 0.5)
    (tmp_path / "areas").mkdir()
    with open_ledger(str(tmp_path / "ledger.db")) as ledger, socket.create_server(("127.0.0.1", 0)) as listening:
        own = Settings(ledger, tmp_path / "areas", lambda: datetime.now(UTC), lambda: uuid4().hex, monotonic)
        running = _server(make_app(own), None)
        thread = Thread(target=running.run, kwargs={"sockets": [listening]})
        thread.start()
        yield type("Hasty", (), {"port": listening.getsockname()[1]})
        running.should_exit = True
        thread.join(20)


@pytest.mark.parametrize(
    ("data", "status"),
    [
        (b"", 0),
        (b"GET / HT", 0),
        (b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX: ", 0),
        (
            HALF_A_POST % b"50",
            408,
        ),
        (b"POST /api/files HTTP/1.1\r\nHost: 127.0.0.1\r\nTransfer-Encoding: chunked\r\n\r\n1\r\nx\r\n", 408),
    ],
)
def test_whoever_dawdles_is_hung_up_on(hasty, data, status):
    """At the first line, in the head, and in the body; and the connection is closed."""
    with socket.create_connection(("127.0.0.1", hasty.port), timeout=10) as line:
        line.sendall(data)
        answer = b""
        while piece := line.recv(65536):
            answer += piece

    assert status_of(answer) == status


def test_whoever_goes_on_slowly_but_steadily_is_heard(hasty):
    """A photo over a bad connection: three pieces with a third of a second between; and two requests on one line."""

    def slowly():
        from time import sleep

        for piece in (PNG[:40], PNG[40:80], PNG[80:]):
            yield piece
            sleep(0.3)

    with httpx.Client(base_url=f"http://127.0.0.1:{hasty.port}") as asking:
        assert [asking.post("/api/files", content=slowly()).status_code for _ in range(2)] == [200, 200]


def test_many_who_say_nothing_do_not_keep_others_out(server, device):
    """A hundred open lines with half a request on each."""
    lines = [socket.create_connection(("127.0.0.1", server.port)) for _ in range(100)]
    for line in lines:
        line.sendall(HALF_A_POST % b"100")
    begun = monotonic()
    answer = device.asking.get("/api/jobs")
    took = monotonic() - begun
    for line in lines:
        line.close()

    assert answer.status_code == 200
    assert took < 5


# --- in the network -------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def lan(tmp_path_factory):
    """A server that lets the network in; reached by this computer's own number there."""
    with serving(tmp_path_factory.mktemp("lan"), "--lan") as served:
        if "127.0.0.1" in served.network:
            pytest.skip("this computer is in no network")
        yield served
        assert "Traceback" not in served.output, served.output


def test_a_code_lets_one_device_in_and_guessing_ends(lan):
    """The terminal's code, once; after five wrong ones nobody at this address may try; a token is its device's."""
    said = {"device": "tablet 1", "person": "technician 1"}
    with Device(lan.network) as one, Device(lan.network) as other, Device(lan.address) as here:
        refused(one.asking.get("/api/jobs"), 401)
        assert one.asking.post("/pair", data=said | {"code": lan.code}).status_code == 303
        assert one.asking.get("/api/jobs").status_code == 200
        replayed = other.asking.post("/pair", data=said | {"code": lan.code})
        guesses = [other.asking.post("/pair", data=said | {"code": f"ACDEFG{n:02d}"}).status_code for n in range(6)]
        token = one.asking.cookies["putback-token"]
        for headers in (
            {"authorization": f"Bearer {token}"},
            {"x-putback-token": token},
            {"cookie": f"putback-token={token[:-1]}"},
        ):
            refused(other.asking.get("/api/jobs", headers=headers, params={"putback-token": token}), 401)
        here.asking.post("/devices/1/revoke")
        refused(one.asking.get("/api/jobs"), 401)

    assert (replayed.status_code, guesses) == (403, [403, 403, 403, 403, 429, 429])


def test_a_device_is_listed_and_locked_out_from_the_terminal(lan):
    """While the server runs."""
    import os
    import subprocess
    import sys

    def serve(*words: str) -> subprocess.CompletedProcess:
        line = [sys.executable, "-m", "putback", "serve", "--ledger", str(lan.ledger), *words]
        return subprocess.run(line, env=os.environ | {"PYTHONPATH": "src"}, capture_output=True, text=True, check=False)

    with Device(lan.address) as here, Device(lan.network) as one:
        here.asking.post("/devices/code")
        code = here.asking.get("/devices").text.split('class="figure code">')[1][:9]
        # This address has tried too often in the test before; the page at the computer itself has not.
        answer = here.asking.post("/pair", data={"code": code, "device": "tablet 9", "person": "technician 1"})
        one.asking.cookies = httpx.Cookies({"putback-token": answer.cookies["putback-token"]})
        assert one.asking.get("/api/jobs").status_code == 200
        listed = serve("--devices").stdout
        number = next(line.split()[0] for line in listed.splitlines() if "tablet 9" in line)
        assert serve("--revoke", number).returncode == 0
        assert one.asking.get("/api/jobs").status_code == 401
    assert serve("--revoke", number).returncode == 2
    assert "no device" in serve("--revoke", "x").stderr


def test_the_pages_come_by_tls_where_a_certificate_is_named(tmp_path):
    """With a certificate of the test's own; without it nothing is answered, and a file that is none is told."""
    import shutil
    import subprocess

    if not shutil.which("openssl"):
        pytest.skip("no openssl here to make a certificate")
    certificate, key = tmp_path / "cert.pem", tmp_path / "key.pem"
    words = [
        "req",
        "-x509",
        "-newkey",
        "rsa:2048",
        "-nodes",
        "-days",
        "2",
        "-subj",
        "/CN=127.0.0.1",
        "-addext",
        "subjectAltName=IP:127.0.0.1",
    ]
    subprocess.run(["openssl", *words, "-keyout", key, "-out", certificate], check=True, capture_output=True)
    with serving(tmp_path, "--tls", str(certificate), str(key)) as served:
        assert served.address.startswith("https:")
        with httpx.Client(verify=ssl.create_default_context(cafile=certificate)) as asking:
            assert asking.get(f"{served.address}/api/jobs").status_code == 200
        with pytest.raises(httpx.HTTPError):
            httpx.get(served.address.replace("https:", "http:"))
    with pytest.raises(AssertionError, match="no certificate with its key"):
        serving(tmp_path, "--tls", str(key), str(certificate)).__enter__()


# --- anything at all ------------------------------------------------------------------------------

SHAPES = description(CALLS)["components"]["schemas"]
SCALARS = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=30)
    | st.sampled_from([HARM, "\ud800", "\x00", "..", 10**30])
)
ANYTHING = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=12), inner, max_size=4),
    max_leaves=12,
)


def values(shape: dict) -> st.SearchStrategy:
    """Values of a shape of the description, as far as its words are used there."""
    if "$ref" in shape:
        return st.deferred(lambda: values(SHAPES[shape["$ref"].rpartition("/")[2]]))
    if "const" in shape:
        return st.just(shape["const"])
    if "enum" in shape:
        return st.sampled_from(shape["enum"])
    if several := shape.get("oneOf") or shape.get("anyOf"):
        return st.sampled_from(several).flatmap(values)
    return {
        "object": _objects,
        "array": lambda one: st.lists(values(one["items"]), max_size=3),
        "boolean": lambda _: st.booleans(),
        "integer": lambda one: st.integers(one.get("minimum"), one.get("maximum")), "null": lambda _: st.none(),
        "number": lambda one: st.floats(one.get("minimum"), allow_nan=False, allow_infinity=False), "string": _strings,
    }[shape["type"]](shape)  # fmt: skip


def _strings(shape: dict) -> st.SearchStrategy:
    if shape == SHAPES["time"]:
        return st.datetimes().map(lambda time: time.isoformat(timespec="milliseconds").zfill(23) + "Z")
    if "pattern" in shape:
        return st.from_regex(shape["pattern"].replace("$", r"\Z"))
    return st.text(min_size=shape.get("minLength", 0), max_size=min(shape.get("maxLength", 40), 40))


def _objects(shape: dict) -> st.SearchStrategy:
    known = {name: values(one) for name, one in shape.get("properties", {}).items()}
    needed = {name: known[name] for name in shape.get("required", [])}
    return st.fixed_dictionaries(needed, optional={name: one for name, one in known.items() if name not in needed})


@st.composite
def nearly(draw, shape: dict):
    """A value of a shape with something else in one place of it."""
    value = draw(values(shape))
    return _spoiled(draw, value) if draw(st.booleans()) else value


def _spoiled(draw, value):
    if isinstance(value, dict) and value and draw(st.integers(0, 3)):
        name = draw(st.sampled_from(sorted(value)))
        return value | {name: _spoiled(draw, value[name])}
    if isinstance(value, list) and value and draw(st.integers(0, 3)):
        return [_spoiled(draw, value[0]), *value[1:]]
    return draw(ANYTHING)


@pytest.mark.parametrize("call", POSTS, ids=lambda call: call.name)
def test_whatever_is_posted_is_done_or_refused(server, device, call):
    """Values of the described shape, the same with one thing wrong, and anything at all: done, or told why not; what
    was logged before stays, and the chain holds."""
    job = device.open("anything")

    @settings(max_examples=60, suppress_health_check=list(HealthCheck))
    @given(st.one_of(nearly(call.takes.shape), ANYTHING))
    def post(said):
        body = json.dumps(said).replace('"job": "', f'"job": "{job}", "was": "', 1 if len(json.dumps(said)) % 2 else 0)
        answer = device.asking.post(
            call.path.format(job=job), content=body, headers={"content-type": "application/json"}
        )
        assert answer.status_code < 500, (said, answer.text)
        if answer.status_code != 200:
            refused(answer, 400, 403, 404, 409, 413)

    post()
    assert device.log(job)["whole"]


def test_events_of_the_described_shape_are_kept(device):
    """Each kind as the description has it, sent to the job it names: kept, or refused for what one field asks of
    another; and every one that was acknowledged is in the log."""
    job = device.open("described")
    kept: list[str] = []

    @settings(max_examples=150, suppress_health_check=list(HealthCheck))
    @given(values(SHAPES["event"]))
    def post(event):
        answer = device.say(job, event | {"job": job, "person": "technician 1", "device": "test"})
        assert answer.status_code < 500, (event, answer.text)
        if answer.status_code == 200:
            kept.append(answer.json()["logged"][0]["id"])

    post()
    assert len(set(kept)) > 20
    assert set(kept) <= {event["id"] for event in device.log(job)["events"]}
    for path in ("", "/points", "/safe", "/hand-on", "/stops"):
        answer = (
            device.asking.get(f"/api/jobs/{job}{path}")
            if path != "/stops"
            else device.asking.post(f"/api/jobs/{job}/stops", json={"events": []})
        )
        assert answer.status_code == 200, answer.text


@settings(max_examples=80, suppress_health_check=list(HealthCheck))
@given(
    where=st.sampled_from([call.path for call in CALLS if call.method == "GET"]),
    names=st.text(max_size=40),
    asked=st.dictionaries(
        st.sampled_from(["after", "all", "seen", "rolled", "fast", "code", "x"]), st.text(max_size=20), max_size=3
    ),
)
def test_whatever_is_asked_is_answered_or_refused(device, job, where, names, asked):
    """In place of names, and behind the question mark."""
    for name in (job, quote(names.encode("utf-8", "replace"), safe="")):
        answer = device.asking.get(
            re.sub(r"{\w+}", lambda _: name, where),
            params={key: text.encode("utf-8", "replace") for key, text in asked.items()},
        )
        assert answer.status_code < 500, answer.text


def test_nothing_was_written_outside_of_the_servers_own_folder(server):
    """Ledger, its two companions, the file of devices, and the areas with what was put there."""
    own = {path.name for path in Path(server.folder).iterdir()}

    assert own <= {"ledger.db", "ledger.db-wal", "ledger.db-shm", "ledger.db.access.db", "areas", "putback"}
    assert {path.name for path in (server.folder / "areas").iterdir()} <= {
        "demo-a.yaml",
        "demo-a-drive.yaml",
        "demo-b.yaml",
        "demo-c.yaml",
        "demo-d.yaml",
        "demo-shop.yaml",
        "harm.yaml",
    }
