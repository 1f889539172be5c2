"""Who may come in: codes, tokens, PINs, and what the guard lets pass."""

import sqlite3
import stat
from datetime import UTC, datetime, timedelta
from itertools import count

import pytest
from desk_samples import Desk
from starlette.exceptions import HTTPException
from web_samples import AWAY, Web, areas_folder, sentence

from putback.errors import InputError, LedgerError
from putback.web.access import Access
from putback.web.app import ROUTES
from putback.web.codes import LENGTH, LIVES, SIGNS, TRIES_OF_ALL, TRIES_OF_ONE, Codes
from putback.web.limits import Tries

NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
LAN = "http://192.168.7.5:8140"


class Clock:
    """Seconds that only the test moves."""

    def __init__(self):
        self.time = 1000.0

    def __call__(self) -> float:
        return self.time


def refusal(work) -> int:
    """The status with which something is refused."""
    with pytest.raises(HTTPException) as refused:
        work()
    return refused.value.status_code


@pytest.fixture
def access(tmp_path):
    return Access(tmp_path / "access.db")


@pytest.fixture
def web(tmp_path, access):
    with Desk(tmp_path) as desk:
        desk.open(name="bumper")
        yield Web(
            desk,
            areas_folder(tmp_path),
            lan=True,
            hosts=("127.0.0.1", "localhost", "192.168.7.5"),
            address=LAN,
            access=access,
            clock=lambda: NOW,
        )


def away(web, method: str, path: str, **more):
    """As a device of the network."""
    return web.ask(method, path, client=AWAY, base=LAN, **more)


def paired(web, name: str = "tablet 1") -> dict:
    """The cookies of a device that was let in."""
    code = web.settings.codes.offer().text
    answer = away(web, "POST", "/pair", data={"code": code, "device": name, "person": "technician 1"})
    assert answer.status_code == 303, answer.text
    return dict(answer.cookies)


# --- codes ----------------------------------------------------------------------------------------


def test_a_code_has_eight_signs_and_none_that_is_taken_for_another():
    """And the next one is another."""
    codes = Codes(Clock())
    made = [codes.offer().text for _ in range(200)]

    assert set("".join(made)) <= set(SIGNS)
    assert not set(SIGNS) & set("01258ILOSZB")
    assert {len(code) for code in made} == {LENGTH} == {8}
    assert len(set(made)) == len(made)


def test_a_code_is_good_once():
    """Typed with small letters and a blank all the same; the second time it is refused."""
    codes = Codes(Clock())
    text = codes.offer().text
    codes.spend(f" {text[:4].lower()}-{text[4:]} ", "a")

    assert codes.now() is None
    assert refusal(lambda: codes.spend(text, "a")) == 403


@pytest.mark.parametrize(("after", "good"), [(LIVES - 1, True), (LIVES, False), (LIVES + 1, False)])
def test_a_code_is_good_for_ten_minutes(after, good):
    """One second below, at, and one second above."""
    clock = Clock()
    codes = Codes(clock)
    text = codes.offer().text
    clock.time += after

    assert (codes.now() is not None) is good
    if good:
        codes.spend(text, "a")
    else:
        assert refusal(lambda: codes.spend(text, "a")) == 403


def test_a_new_code_ends_the_one_before():
    """Only one is good at a time."""
    codes = Codes(Clock())
    old, new = codes.offer().text, codes.offer().text

    assert refusal(lambda: codes.spend(old, "a")) == 403
    codes.spend(new, "a")


@pytest.mark.parametrize("text", ["", " ", "A" * 8, "A" * 10_000, "\ud800" * 8, "\x00", "é" * 8])
def test_nothing_is_a_code_where_none_was_offered(text):
    """Blanks do not stand for it."""
    assert refusal(lambda: Codes(Clock()).spend(text, "a")) == 403


def test_guessing_ends_for_one_address_and_for_all():
    """Five from one, thirty together; after ten minutes again."""
    clock = Clock()
    codes = Codes(clock)
    text = codes.offer().text
    answers = [refusal(lambda: codes.spend("wrong", "a")) for _ in range(TRIES_OF_ONE + 1)]
    others = [refusal(lambda n=n: codes.spend("wrong", f"b{n}")) for n in range(TRIES_OF_ALL)]

    assert answers == [403] * TRIES_OF_ONE + [429]
    assert others == [403] * (TRIES_OF_ALL - TRIES_OF_ONE) + [429] * TRIES_OF_ONE
    assert refusal(lambda: codes.spend(text, "c")) == 429
    clock.time += LIVES
    codes.spend(codes.offer().text, "a")


def test_tries_are_forgotten_when_they_are_old():
    """Two in ten seconds: the third has to wait for the first to be over, not for the second."""
    clock = Clock()
    tries = Tries(2, 10.0, clock)
    taken = []
    for pause in (0, 4, 5, 1, 0):
        clock.time += pause
        taken.append(tries.take("a"))

    assert taken == [True, True, False, True, False]


def test_the_memory_of_tries_is_bounded():
    """Whoever changes his address all the time fills no memory."""
    tries = Tries(1, 10.0, count().__next__)
    for number in range(5000):
        tries.take(str(number))

    assert len(tries._made) <= 2000


# --- tokens ---------------------------------------------------------------------------------------


def test_a_token_lets_in_for_ninety_days(access):
    """A second below, at, and a second above."""
    token = access.pair("tablet 1", NOW)
    days = timedelta(days=90)

    assert access.device(token, NOW + days - timedelta(seconds=1)).name == "tablet 1"
    assert access.device(token, NOW + days) is None
    assert access.device(token, NOW + days + timedelta(seconds=1)) is None


def test_only_a_hash_of_a_token_and_of_a_pin_is_kept(access):
    """The file does not hold them, and nobody else may read it. A token has 256 bits: 43 signs of 6 bits."""
    token = access.pair("tablet 1", NOW)
    access.set_pin("technician 1", "271828")
    held = access.path.read_bytes()

    assert token.encode() not in held
    assert b"271828" not in held
    assert len(token) == 43
    assert stat.S_IMODE(access.path.stat().st_mode) == 0o600


def test_a_device_that_is_locked_out_is_out_at_once(access):
    """Also where another program does it; the others stay."""
    one, other = access.pair("tablet 1", NOW), access.pair("tablet 2", NOW)

    assert Access(access.path).revoke(access.device(one, NOW).number)
    assert access.device(one, NOW) is None
    assert access.device(other, NOW).name == "tablet 2"
    assert not access.revoke(99)


def test_the_list_tells_when_a_device_was_last_here(access):
    """To the hour."""
    token = access.pair("tablet 1", NOW)
    access.device(token, NOW + timedelta(minutes=30))
    assert access.devices()[0].seen_at == "2026-03-02T08:00:00.000Z"
    access.device(token, NOW + timedelta(hours=3))
    assert access.devices()[0].seen_at == "2026-03-02T11:00:00.000Z"


@pytest.mark.parametrize("name", ["", "  ", "a\x00b", "x" * 61, "\u202etablet"])
def test_a_device_needs_a_name_that_can_be_read(access, name):
    """No signs that nobody sees."""
    with pytest.raises(InputError):
        access.pair(name, NOW)


def test_a_file_that_is_none_is_told(tmp_path):
    """In one sentence; and one of a newer program is left alone."""
    (tmp_path / "a").write_text("not a database, but long enough to be taken for one" * 40)
    with pytest.raises(LedgerError, match="cannot be used"):
        Access(tmp_path / "a")
    newer = sqlite3.connect(tmp_path / "b")
    newer.execute("PRAGMA user_version = 2")
    newer.commit()
    newer.close()
    with pytest.raises(InputError, match="newer"):
        Access(tmp_path / "b")


# --- PINs -----------------------------------------------------------------------------------------


def test_a_pin_is_its_persons_alone(access):
    """However the name is spelled; two with the same PIN have not the same hash."""
    access.set_pin("Technician  1", "2718")
    access.set_pin("technician 2", "2718")
    hashes = sqlite3.connect(access.path).execute("SELECT hash FROM pins").fetchall()

    assert access.has_pin(" technician 1")
    assert access.is_pin("TECHNICIAN 1", "2718")
    assert not access.is_pin("technician 1", "2719")
    assert not access.is_pin("technician 3", "2718")
    assert hashes[0] != hashes[1]
    access.drop_pin("technician 1")
    assert not access.has_pin("technician 1")


@pytest.mark.parametrize("pin", ["", "123", "1" * 13, "12a4", "\u0661\u0662\u0663\u0664", "12 34"])
def test_a_pin_is_four_to_twelve_figures(access, pin):
    """Such as the keypad has."""
    with pytest.raises(InputError):
        access.set_pin("technician 1", pin)


# --- the guard ------------------------------------------------------------------------------------


def test_a_device_that_is_not_paired_gets_no_further_than_to_the_code(web):
    """Every address of the table: pages lead to Pair, calls and posts are refused, and nothing is told or kept."""
    for route in ROUTES:
        path = route.path.replace("{job}", web.desk.job).replace("{hash}", "0" * 64).replace("{number:int}", "1")
        for method in sorted(route.methods - {"HEAD"}):
            if path == "/pair" or path.startswith("/static/"):
                continue
            answer = away(web, method, path)
            expected = 303 if method == "GET" and not path.startswith("/api/") else 401
            assert (answer.status_code, "bumper" in answer.text) == (expected, False), (method, path)
    assert away(web, "GET", "/pair").status_code == 200
    assert away(web, "GET", "/pairs").status_code == 303


def test_a_paired_device_works_under_its_own_name(web):
    """What it does bears the name it was paired by, whatever it calls itself."""
    cookies = paired(web) | {"putback-device": "somebody else's"}
    away(web, "POST", f"/api/jobs/{web.desk.job}/hand-on", json={"to": "technician 2"}, cookies=cookies)

    event = web.desk.ledger.events(web.desk.job)[-1].event
    assert (event.kind, event.device, event.person) == ("job handed on", "tablet 1", "technician 1")


def test_the_token_is_kept_from_scripts_and_from_other_places(web):
    """HttpOnly, SameSite=Strict, no Domain, 90 days; Secure where the pages come by TLS."""
    for base, secure in ((LAN, False), (LAN.replace("http:", "https:"), True)):
        code = web.settings.codes.offer().text
        answer = web.ask("POST", "/pair", client=AWAY, base=base, data={"code": code, "device": "d", "person": "p"})
        token = next(
            line for line in answer.headers.get_list("set-cookie") if line.startswith("putback-token=")
        ).lower()
        assert all(word in token for word in ("httponly", "samesite=strict", "max-age=7776000", "path=/"))
        assert ("; secure" in token, "domain" in token) == (secure, False)


@pytest.mark.parametrize("token", ["", "x", "A" * 43, "'; DROP TABLE devices; --", "\xff"])
def test_a_guessed_token_does_not_let_in(web, token):
    """Nor one that means harm."""
    paired(web)
    answer = away(web, "GET", "/api/jobs", headers={b"cookie": b"putback-token=" + token.encode("latin-1")})

    assert answer.status_code == 401
    assert len(web.settings.access.devices()) == 1


def test_a_device_that_is_locked_out_may_not_go_on(web):
    """From the page at the shop's computer; another device stays in."""
    one, other = paired(web), paired(web, "tablet 2")
    number = next(device.number for device in web.settings.access.devices() if device.name == "tablet 1")

    assert away(web, "GET", "/api/jobs", cookies=one).status_code == 200
    assert away(web, "POST", f"/devices/{number}/revoke", cookies=other).status_code == 403
    assert web.post(f"/devices/{number}/revoke").status_code == 303
    assert away(web, "GET", "/api/jobs", cookies=one).status_code == 401
    assert away(web, "GET", "/api/jobs", cookies=other).status_code == 200


def test_what_looks_after_devices_and_pins_is_done_at_the_shops_computer(web):
    """A paired device sees neither codes nor PINs, and sets none."""
    cookies = paired(web)
    for method, path in (("GET", "/devices"), ("POST", "/devices/code"), ("POST", "/people/pin")):
        assert away(web, method, path, cookies=cookies, data={} if method == "POST" else None).status_code == 403
    assert "PINs for signing" not in away(web, "GET", "/people", cookies=cookies).text
    assert "PINs for signing" in web.get("/people").text


@pytest.mark.parametrize(
    ("client", "base", "headers"),
    [
        (("192.168.7.20", 1), "http://127.0.0.1", {}),
        (("127.0.0.1", 1), LAN, {}),
        (("127.0.0.1", 1), "http://127.0.0.1", {"x-forwarded-for": "192.168.7.20"}),
        (("127.0.0.1", 1), "http://127.0.0.1", {"forwarded": "for=192.168.7.20"}),
        (("127.0.0.1.evil", 1), "http://127.0.0.1", {}),
        (("::ffff:192.168.7.20", 1), "http://127.0.0.1", {}),
    ],
)
def test_who_only_seems_to_sit_here_has_to_pair(web, client, base, headers):
    """Another's address under our name, our address under a foreign name, and what somebody passed on."""
    assert web.ask("GET", "/api/jobs", client=client, base=base, headers=headers).status_code == 401


def test_without_lan_nobody_else_comes_in(tmp_path):
    """Even if the network should reach the server; nor can anybody pair."""
    with Desk(tmp_path) as desk:
        web = Web(desk, areas_folder(tmp_path), access=Access(tmp_path / "access.db"))
        for path in ("/", "/pair", "/api/jobs"):
            assert web.ask("GET", path, client=AWAY).status_code == 403
        assert web.post("/devices/code").status_code == 400
        assert "only this computer" in web.get("/devices").text.lower()


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "127.0.0.1.evil.example",
        "localhost.",
        "",
        "127.0.0.1:x",
        "evil.example:80",
        "[::2]",
        "192.168.7.6",
    ],
)
def test_a_name_that_is_not_ours_is_refused(web, host):
    """So that no page from elsewhere reaches the server under a name of its own."""
    answer = web.get("/api/jobs", headers={"host": host})

    assert (answer.status_code, "answer under that name" in sentence(answer)) == (421, True)


@pytest.mark.parametrize("host", ["127.0.0.1:8140", "localhost:8140", "LOCALHOST", "[::1]:8140", "127.0.0.1"])
def test_our_own_names_are_answered(tmp_path, host):
    """With any port, since whoever reached us found it."""
    with Desk(tmp_path) as desk:
        assert Web(desk, areas_folder(tmp_path)).get("/api/jobs", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({}, 400),
        ({"origin": "http://127.0.0.1"}, 400),
        ({"origin": "http://127.0.0.1", "sec-fetch-site": "same-origin"}, 400),
        ({"origin": "https://127.0.0.1"}, 403),
        ({"origin": "http://127.0.0.1:81"}, 403),
        ({"origin": "http://evil.example"}, 403),
        ({"origin": "http://127.0.0.1.evil.example"}, 403),
        ({"origin": "null"}, 403),
        ({"origin": ""}, 403),
        ({"sec-fetch-site": "cross-site"}, 403),
        ({"sec-fetch-site": "same-site"}, 403),
    ],
)
def test_what_another_page_sends_is_refused(web, headers, status):
    """The request itself is wrong, so that 400 tells that it was let through as far as that."""
    assert web.post("/api/jobs", {}, headers=headers).status_code == status


def test_every_answer_says_what_a_browser_may_do_with_it(web):
    """Pages, the API, files of ours and refusals alike: no script but ours, in nobody's frame, kept by nobody."""
    answers = [web.get(path) for path in ("/", "/api/jobs", "/nothing", "/people", f"/jobs/{web.desk.job}")]
    answers += [web.get("/", headers={"host": "evil.example"}), web.post("/api/jobs", {}, headers={"origin": "null"})]

    for answer in answers:
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'; script-src 'self';" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cache-control"] == "no-store"


def test_pages_hold_no_script_and_no_style_of_their_own(web):
    """The policy would stop them. What stands in a data block is no script."""
    import re

    for path in (
        "/",
        "/people",
        "/pair",
        "/devices",
        "/jobs/new",
        f"/jobs/{web.desk.job}",
        f"/jobs/{web.desk.job}/log",
    ):
        text = web.get(path).text
        assert re.findall(r"<script(?![^>]* src=)(?![^>]*application/json)[^>]*>", text) == []
        assert re.findall(r"\s(?:style|on\w+)=", text) == []


# --- pairing and signing --------------------------------------------------------------------------


def test_pairing_by_the_page(web):
    """The computer shows code and picture; the device says it once and is in; the second try with it is not."""
    web.post("/devices/code")
    code = web.settings.codes.now().text
    said = {"code": code, "device": "tablet 1", "person": "technician 1"}

    assert f"{code[:4]} {code[4:]}" in web.get("/devices").text
    assert "data:image/svg+xml" in web.get("/devices").text
    assert away(web, "POST", "/pair", data=said).status_code == 303
    again = away(web, "POST", "/pair", data=said)
    assert (again.status_code, "putback-token" in again.cookies) == (403, False)
    assert "tablet 1" in web.get("/devices").text


def test_looking_at_the_pair_page_uses_no_code_up(web):
    """A camera that looks ahead at an address opens it and nothing more; and only a person's button sends it."""
    code = web.settings.codes.offer().text

    assert code in away(web, "GET", f"/pair?code={code}").text
    assert web.settings.codes.now().text == code


def test_a_name_that_is_missing_costs_no_code(web):
    """The form comes back, and the code is still good."""
    code = web.settings.codes.offer().text
    for missing in ("device", "person"):
        said = {"code": code, "device": "tablet 1", "person": "technician 1"} | {missing: " "}
        assert away(web, "POST", "/pair", data=said).status_code == 400
    assert web.settings.codes.now().text == code


def signed(web, who: str, pin: str | None = None, number: int = 1, kind: str = "point accepted", **more):
    """Send a signature."""
    if kind == "hand-over":
        said = {"by": who} | ({} if pin is None else {"pin": pin})
        return web.ask("POST", f"/api/jobs/{web.desk.job}/hand-over", json=said, **more)
    data = {"point": "x", "reason": "y", "by": who} if kind == "point accepted" else {"item": "x"}
    event = {
        "id": f"S{number:025d}", "job": web.desk.job, "kind": kind, "at": "2026-03-02T09:00:00.000Z",
        "person": who, "device": "tablet 1", "data": data,
    }  # fmt: skip
    said = {"events": [event]} | ({} if pin is None else {"pin": pin})
    return web.ask("POST", f"/api/jobs/{web.desk.job}/events", json=said, **more)


@pytest.mark.parametrize("kind", ["hand-over", "point accepted", "hold point released"])
def test_a_signature_needs_its_signers_pin(web, kind):
    """On a device always; at the shop's computer where the signer has one. Somebody else's will not do."""
    cookies, at = paired(web), {"client": AWAY, "base": LAN, "kind": kind}
    web.settings.access.set_pin("technician 1", "2718")
    web.settings.access.set_pin("technician 2", "3141")
    answers = [
        signed(web, "technician 1", cookies=cookies, **at),
        signed(web, "technician 1", "3141", cookies=cookies, **at),
        signed(web, "technician 3", "2718", cookies=cookies, **at),
        signed(web, "technician 1", "3141", kind=kind),
        signed(web, "technician 1", "2718", cookies=cookies, **at),
        signed(web, "technician 3", number=2, kind=kind),
    ]

    assert [answer.status_code for answer in answers] == [403, 403, 403, 403, 200, 400 if kind == "hand-over" else 200]
    assert len(web.desk.ledger.events(web.desk.job)) == (2 if kind == "hand-over" else 3)


def test_pins_cannot_be_tried_out(web):
    """Five wrong ones, then not even the right one for a quarter of an hour; another person is not held up."""
    web.settings.access.set_pin("technician 1", "2718")
    web.settings.access.set_pin("technician 2", "3141")
    tried = [signed(web, "technician 1", f"000{n}").status_code for n in range(5)]

    assert [*tried, signed(web, "Technician  1", "2718").status_code] == [403] * 5 + [429]
    assert signed(web, "technician 2", "3141").status_code == 200


def test_pins_are_set_at_the_shops_computer(web):
    """Twice the same; a slip is told."""
    said = {"person": "technician 1", "pin": "2718", "again": "2718"}

    assert web.ask("POST", "/people/pin", data=said | {"again": "2719"}).status_code == 400
    assert web.ask("POST", "/people/pin", data=said).status_code == 303
    assert web.settings.access.is_pin("technician 1", "2718")
    assert web.ask("POST", "/people/pin", data={"person": "technician 1", "drop": "1"}).status_code == 303
    assert not web.settings.access.has_pin("technician 1")


def test_a_person_is_chosen_on_each_device(web):
    """By a cookie of that device; signs outside of ASCII come through."""
    answer = web.ask("POST", "/people/this", data={"person": "Jürg"})

    assert "<b>Jürg</b>, on this computer" in web.get("/people", cookies=dict(answer.cookies)).text
    assert "Nobody has said so yet" in web.get("/people").text
