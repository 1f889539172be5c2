"""The API behind the pages: what it takes, what it gives, and how it says no."""

import json

import pytest
from desk_samples import Desk
from jsonschema import Draft202012Validator
from web_samples import Web, areas_folder, sentence

from putback.desk.view import look
from putback.job.kinds import KINDS
from putback.job_json import job_object
from putback.web.api import CALLS, ROUTES
from putback.web.openapi import description

PNG = b"\x89PNG\r\n\x1a\n" + bytes(20)


@pytest.fixture
def web(tmp_path):
    with Desk(tmp_path) as desk:
        desk.open(name="bumper")
        yield Web(desk, areas_folder(tmp_path))


def event(web, number: int, kind: str = "fasteners off", **data) -> dict:
    data = data or {"item": "tray screws", "count": 2, "to": "tray", "tray position": "A2"}
    head = {"id": f"E{number:025d}", "job": web.desk.job, "kind": kind, "at": "2026-03-02T09:00:00.000Z"}
    return head | {"person": "technician 2", "device": "tablet 1", "data": data}


def job(web, more: str = "") -> str:
    return f"/api/jobs/{web.desk.job}{more}"


def valid(shape: str, value) -> None:
    """Refuses a value that has not the shape that the description promises."""
    document = description(CALLS)
    Draft202012Validator({"$ref": f"#/components/schemas/{shape}", "components": document["components"]}).validate(
        value
    )


# --- events ---------------------------------------------------------------------------------------


def test_events_are_acknowledged_with_their_numbers_and_count_once(web):
    """Sent again, as a device does that never heard the answer, they have the numbers that they had."""
    said = {"events": [event(web, 1), event(web, 2)]}
    first, again = web.post(job(web, "/events"), said), web.post(job(web, "/events"), said)

    assert (
        first.json()
        == again.json()
        == {"logged": [{"id": row["id"], "number": n} for n, row in enumerate(said["events"], 2)]}
    )
    assert look(web.desk.ledger, web.desk.job).state.groups["tray screws"].out == 4


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"kind": "fasteners off", "data": {"item": "x", "count": 0, "to": "tray"}}, "whole number from 1"),
        ({"id": "short"}, "26 or 32 letters"),
        ({"job": "J" * 26}, "was sent to job"),
        ({"at": "yesterday"}, "a time in UTC"),
        ({"person": "\ud800"}, "one line of text"),
        ({"surplus": 1}, "an object with exactly"),
        ({"data": {"item": "\ud800", "count": 1, "to": "tray", "tray position": "1"}}, "JSON cannot say"),
    ],
)
def test_one_wrong_event_keeps_all_of_its_batch_out(web, change, words):
    """All or none, and the sentence tells what is wrong."""
    text = json.dumps({"events": [event(web, 1), event(web, 2) | change]})
    answer = web.ask("POST", job(web, "/events"), content=text, headers={"content-type": "application/json"})

    assert (answer.status_code, words in sentence(answer)) == (400, True), answer.text
    assert len(web.desk.ledger.events(web.desk.job)) == 1


@pytest.mark.parametrize(
    "said", [[], {}, {"events": []}, {"events": 3}, {"events": [1]}, {"events": [{}] * 501}, 7, None, "x"]
)
def test_what_is_no_list_of_events_is_refused(web, said):
    """In one sentence of one shape."""
    answer = web.ask("POST", job(web, "/events"), json=said)

    assert answer.status_code == 400
    valid("error", answer.json())


def test_the_log_is_told_as_it_is_kept(web):
    """From a number on where one is named, and whether the chain holds."""
    web.post(job(web, "/events"), {"events": [event(web, 1), event(web, 2)]})
    log = web.get(job(web, "/events?after=2")).json()

    valid("log", log)
    assert (log["whole"], [row["number"] for row in log["events"]]) == (True, [3])
    assert log["events"][0]["hash"] == web.desk.ledger.events(web.desk.job)[-1].hash


# --- the job --------------------------------------------------------------------------------------


def test_a_job_is_the_same_values_as_everywhere(web):
    """The whole of it; and nothing at all where nothing is new."""
    whole = web.get(job(web)).json()

    valid("job", whole)
    assert whole == json.loads(json.dumps(job_object(web.desk.look(), "2026-03-02T08:30:00.000Z")))
    assert web.get(job(web, "?after=1")).status_code == 204
    web.post(job(web, "/events"), {"events": [event(web, 1)]})
    assert web.get(job(web, "?after=1")).json()["last"] == 2


@pytest.mark.parametrize("path", ["", "/events", "/points", "/plan", "/safe", "/hand-on", "/whose?seen=M8", "?after=3"])
@pytest.mark.parametrize("id", ["J" * 26, "nonsense", "%00", "..%2f..", "\u00e9" * 26])
def test_a_job_that_is_not_there_is_not_found(web, path, id):
    """Whatever stands in its place in the address."""
    answer = web.get(f"/api/jobs/{id}{path}")

    assert answer.status_code in (400, 404)
    valid("error", answer.json())


@pytest.mark.parametrize("after", ["-1", "x", "1e3", "9999999999", "\u0663"])
def test_a_number_must_be_one(web, after):
    """A figure in another script is none."""
    assert web.get(job(web, f"?after={after}")).status_code == 400


@pytest.mark.slow
def test_a_demo_job_from_opening_to_what_stands_open(tmp_path):
    """Opened with files of the folder, planned, told what is found, planned again, made safe, handed on."""
    with Desk(tmp_path) as desk:
        web = Web(desk, areas_folder(tmp_path))
        files = {"area": "demo-a.yaml", "shop": "demo-shop.yaml"}
        web.desk.job = web.post("/api/jobs", {"name": "alternator", "complaint": "lamp on", **files}).json()["job"]
        asked = {
            "jobs": web.get("/api/jobs"),
            "job": web.get(job(web)),
            "plan": web.get(job(web, "/plan")),
            "points": web.get(job(web, "/points?fast=1")),
            "differs": web.post(job(web, "/differs"), {"item": "left mount nuts", "what": "seized", "count": 1}),
            "safe": web.get(job(web, "/safe?rolled=1")),
            "sheet": web.post(job(web, "/hand-on"), {"to": "technician 2"}),
            "matches": web.get(job(web, "/whose?seen=M10")),
            "areas": web.get("/api/areas"),
        }

    for shape, answer in asked.items():
        assert answer.status_code == 200, answer.text
        valid(shape, answer.json())
    assert asked["plan"].json()["minutes"] == 278.2
    assert asked["differs"].json()["ladder"]["rungs"]
    assert asked["areas"].json()["shops"] == [{"file": "demo-shop.yaml", "title": "demo shop"}]


def test_a_job_is_opened_with_names_of_the_folder_only(web):
    """A path is no name, and a field that is not known is refused."""
    for said in (
        {"name": "x", "area": "../areas/demo-a.yaml"},
        {"name": "x", "area": "/etc/passwd"},
        {"name": "x", "id": "1"},
        {},
        [],
    ):
        assert web.post("/api/jobs", said).status_code == 400
    assert len(web.desk.ledger.jobs()) == 1


def test_what_speaks_against_an_event_is_told_before(web):
    """Somebody under the car, and the car is to be lowered."""
    web.desk.say("car moved", posture="on a lift")
    web.desk.say("person went under", who="technician 1")
    stops = web.post(
        job(web, "/stops"), {"events": [{"kind": "car moved", "data": {"posture": "on the ground"}}]}
    ).json()

    valid("stops", stops)
    assert [stop["hard"] for stop in stops["stops"]] == [True]


def test_a_hand_over_is_refused_while_something_bars_it_and_signed_then(web):
    """With what it costs to reach it again; the event alone signs nothing."""
    web.desk.off("tray screws", 2)
    refused, bare = web.post(job(web, "/hand-over"), {"by": "technician 1"}), event(web, 1, "hand-over signed", by="x")
    assert web.post(job(web, "/events"), {"events": [bare]}).status_code == 403
    web.desk.say("fasteners on", item="tray screws", count=2, new=False, evidence="value read", torque=9.0)
    signed = web.post(job(web, "/hand-over"), {"by": "technician 1", "customer": "a customer"})

    for answer in (refused, signed):
        valid("handed_over", answer.json())
    assert (refused.json()["signed"], signed.json()["signed"]) == (False, True), signed.text
    assert refused.json()["reasons"][0]["item"] == "tray screws"
    assert web.get(job(web, "/record")).json() == signed.json()["record"]


def test_the_history_of_a_vehicle_is_found_by_a_part_of_its_name(web):
    """And a blank is none."""
    web.post("/api/jobs", {"name": "wiper", "vehicle": "AB 1234"})
    found = web.get("/api/history?vehicle=b12").json()

    valid("history", found)
    assert [one["name"] for one in found] == ["wiper"]
    assert web.get("/api/history?vehicle=%20").status_code == 400


# --- files ----------------------------------------------------------------------------------------


def test_a_photo_comes_back_as_it_was_sent(web):
    """Raw or in a form, twice the same is kept once; its type is told by how it begins, whatever was said."""
    raw = web.ask("POST", "/api/files", content=PNG, headers={"content-type": "text/html"})
    form = web.ask("POST", "/api/files", files={"file": ("x.html", PNG, "text/html")})
    back = web.get(f"/api/files/{raw.json()['hash']}")

    valid("kept", raw.json())
    assert raw.json() == form.json()
    assert (back.content, back.headers["content-type"], back.headers["x-content-type-options"]) == (
        PNG,
        "image/png",
        "nosniff",
    )


@pytest.mark.parametrize("data", [b"", b"<html><script>", b"GIF89a", b"MZ", b"RIFF____WAVE", b"\xff\xd8"])
def test_what_is_no_photo_is_refused(web, data):
    """Whatever it says it is."""
    answer = web.ask("POST", "/api/files", content=data, headers={"content-type": "image/png"})

    assert answer.status_code == 415
    valid("error", answer.json())


def test_what_a_page_cannot_show_safely_is_saved_and_not_shown(web):
    """A PDF, and whatever else the ledger keeps, such as an area file."""
    for data, kind in ((b"%PDF-1.7", "application/pdf"), (b"<script>alert(1)</script>", "application/octet-stream")):
        answer = web.get(f"/api/files/{web.desk.ledger.put_file(data)}")
        assert (answer.headers["content-type"], answer.headers["content-disposition"]) == (kind, "attachment")


@pytest.mark.parametrize("hash", ["0" * 64, "x", "..%2f..%2fetc%2fpasswd", "%00", "A" * 64])
def test_a_file_that_is_not_there_is_not_found(web, hash):
    """No path from outside is opened."""
    assert web.get(f"/api/files/{hash}").status_code == 404


# --- the description ------------------------------------------------------------------------------


@pytest.mark.slow
def test_every_route_is_described_and_every_shape_is_used(web):
    """One table makes both; every reference leads somewhere; every shape is a sound JSON Schema (draft 2020-12, which
    OpenAPI 3.1 uses)."""
    document = web.get("/api/openapi.json").json()
    text = json.dumps(document["paths"]) + json.dumps(document["components"])
    described = {(method.upper(), path) for path, calls in document["paths"].items() for method in calls}

    assert described == {(method, route.path) for route in ROUTES for method in route.methods - {"HEAD"}}
    for name, shape in document["components"]["schemas"].items():
        Draft202012Validator.check_schema(shape)
        assert f'"#/components/schemas/{name}"' in text, name


def test_the_description_has_the_form_of_openapi(web):
    """Checked against what OpenAPI 3.1.0 demands of the parts that are used (from memory of the specification: openapi,
    info.title, info.version, paths; an operation's responses with a description; parameters with name, in and schema,
    those in the path required and named in it; ids of operations unique)."""
    document = web.get("/api/openapi.json").json()
    operations = [(path, one) for path, calls in document["paths"].items() for one in calls.values()]

    Draft202012Validator(OPENAPI).validate(document)
    assert len({one["operationId"] for _, one in operations}) == len(operations)
    for path, one in operations:
        for parameter in one.get("parameters", []):
            assert parameter["in"] != "path" or f"{{{parameter['name']}}}" in path


def test_every_kind_of_event_is_in_the_description(web):
    """With the fields that the table of kinds has, and no others."""
    shapes = description(CALLS)["components"]["schemas"]["event"]["oneOf"]

    assert {shape["properties"]["kind"]["const"] for shape in shapes} == set(KINDS)
    valid("event", event(web, 1))
    with pytest.raises(Exception, match=r"valid under any|is not valid"):
        valid("event", event(web, 1, item="x"))


_TEXT = {"type": "string"}
_CONTENT = {
    "type": "object",
    "additionalProperties": {"type": "object", "required": ["schema"], "properties": {"schema": {"type": "object"}}},
}
_ANSWER = {
    "type": "object",
    "required": ["description"],
    "properties": {"description": _TEXT, "content": _CONTENT},
    "additionalProperties": False,
}
_PARAMETER = {
    "type": "object",
    "required": ["name", "in", "schema"],
    "properties": {
        "name": _TEXT,
        "in": {"enum": ["path", "query"]},
        "required": {"type": "boolean"},
        "description": _TEXT,
        "schema": {"type": "object"},
    },
    "if": {"properties": {"in": {"const": "path"}}},
    "then": {"required": ["required"]},
    "additionalProperties": False,
}
_OPERATION = {
    "type": "object",
    "required": ["responses", "operationId", "summary"],
    "properties": {
        "operationId": _TEXT,
        "summary": _TEXT,
        "parameters": {"type": "array", "items": _PARAMETER},
        "requestBody": {
            "type": "object",
            "required": ["content"],
            "properties": {"content": _CONTENT, "required": {"type": "boolean"}},
        },
        "responses": {
            "type": "object",
            "propertyNames": {"pattern": "^([1-5]\\d\\d|default)$"},
            "additionalProperties": _ANSWER,
            "minProperties": 1,
        },
    },
    "additionalProperties": False,
}
OPENAPI = {
    "type": "object",
    "required": ["openapi", "info", "paths"],
    "properties": {
        "openapi": {"const": "3.1.0"},
        "info": {"type": "object", "required": ["title", "version"], "properties": {"title": _TEXT, "version": _TEXT}},
        "paths": {
            "type": "object",
            "propertyNames": {"pattern": "^/"},
            "additionalProperties": {
                "type": "object",
                "propertyNames": {"enum": ["get", "post"]},
                "additionalProperties": _OPERATION,
            },
        },
        "components": {"type": "object", "propertyNames": {"const": "schemas"}},
    },
    "additionalProperties": False,
}
