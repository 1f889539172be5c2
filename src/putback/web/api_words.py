"""Free words: kept as a note by the device, and understood here; what they told is answered."""

from putback.desk.hearing import hear_note
from putback.hearing_json import answer_object
from putback.web.asked import of_job, settings, stamp
from putback.web.calls import Call, body
from putback.web.json_shapes import HEARD


def heard(request, said: dict) -> dict:
    """Log what a note tells; once it was heard, what it told is answered again."""
    told = hear_note(settings(request).ledger, of_job(request), stamp(request), said["note"], said.get("tray", ""))
    return answer_object(told)


CALLS = [
    Call(
        "POST",
        "/api/jobs/{job}/heard",
        "heard",
        "Understands a note that is to be heard, logs the events that it tells, and asks what it leaves open.",
        heard,
        "understood",
        body("heard", HEARD),
    ),
]
