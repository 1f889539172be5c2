"""Jobs for programs: the list, one of them, its plan, what stands open, and what the desk can do with it."""

from dataclasses import asdict

from starlette.responses import Response

from putback.desk.differs import Found, differs, plan_again, vary
from putback.desk.jobs import open_jobs
from putback.desk.opening import open_job
from putback.desk.passing_on import hand_on, hand_on_of
from putback.desk.planning import first_plan
from putback.desk.reach import reaches
from putback.desk.safe import make_safe
from putback.desk.shelf import AREA, DRIVE, SHOP, beside, shelved, take
from putback.desk_json import differs_object, reach_object, safe_object
from putback.errors import InputError
from putback.job.whose import whose
from putback.job_json import job_object, point_object
from putback.web.asked import of_job, settings, stamp, thinking, view
from putback.web.calls import Call, body, number, yes
from putback.web.json_shapes import DIFFERS, HAND_ON, OPEN, PLAN, VARIANT


def job_list(request) -> list:
    """The jobs, each as one line."""
    return [line._asdict() for line in open_jobs(settings(request).ledger, signed=yes(request, "all"))]


def open_one(request, said: dict) -> dict:
    """Open a job with files of the shop's folder, or for a car that nobody has described; plan it where it can be."""
    own, who = settings(request), stamp(request)
    files = {kind: take(own.areas, said.pop(kind)) for kind in (AREA, SHOP) if kind in said}
    complaint = said.pop("complaint", None)
    job = open_job(own.ledger, who, said.pop("name"), **files, beside=beside(own.areas), **said)
    if complaint:
        own.ledger.append([who.event(job, "intake noted", complaint=complaint)])
    first_plan(own.ledger, job, who, thinking(request))
    return {"job": job}


def job(request) -> dict | Response:
    """A whole job; nothing where `after` is the number of its last event, so that asking often costs little."""
    after = number(request, "after")
    if after and len(settings(request).ledger.events(request.path_params["job"], after - 1)) == 1:
        return Response(status_code=204)
    return job_object(view(request), stamp(request).now())


def points(request) -> list:
    """What stands open, with what it costs to reach it again."""
    seen, now = view(request), stamp(request).now()
    found = {} if yes(request, "fast") else reaches(seen, now, thinking(request))
    rows = [(point_object(point), found.get(point.key)) for point in seen.points]
    return [row | {"reach": reach_object(reach) if reach else None} for row, reach in rows]


def car_differs(request, said: dict) -> dict:
    """Log what differs, plan again, and tell what changed."""
    told = differs(settings(request).ledger, of_job(request), stamp(request), Found(**said), thinking(request))
    return differs_object(told)


def variant(request, said: dict) -> dict:
    """Log which variant the car turned out to be, plan again, and tell what changed."""
    told = vary(settings(request).ledger, of_job(request), stamp(request), said["variant"], thinking(request))
    return differs_object(told)


def plan(request, said: dict) -> dict:
    """Plan again from where the job stands, and put that plan in force."""
    told = plan_again(settings(request).ledger, of_job(request), stamp(request), thinking(request), **said)
    return differs_object(told)


def plan_in_force(request) -> dict:
    """The plan in force, as `putback way --json` has it."""
    seen = view(request)
    if seen.plan is None:
        raise InputError(
            f"{seen.state.name}: it has no plan yet; POST to the same address makes one where the car is described"
        )
    return seen.plan


def safe(request) -> dict:
    """The cheapest steps to a car that can be lowered, or rolled away."""
    return safe_object(make_safe(view(request), stamp(request).now(), thinking(request), yes(request, "rolled")))


def sheet(request) -> dict:
    """What whoever takes the job over has to know."""
    return asdict(hand_on_of(view(request), stamp(request).now()))


def pass_on(request, said: dict) -> dict:
    """Hand the job to a colleague."""
    return asdict(hand_on(settings(request).ledger, of_job(request), stamp(request), said["to"]))


def whose_is_it(request) -> list:
    """Which fastener of this job a loose one can be."""
    seen, asked = view(request), request.query_params.get("seen", "").strip()
    if not 0 < len(asked) <= 200:
        raise InputError('say what you see of it, as in "?seen=M8x30, 13 mm"')
    return [asdict(one) for one in whose(asked, seen.state, seen.car)]


def areas(request) -> dict:
    """The area files, the shop files and the drive files of this shop's folder."""
    folder = settings(request).areas
    return {f"{kind}s": [one._asdict() for one in shelved(folder, kind)] for kind in (AREA, SHOP, DRIVE)}


JOB = "/api/jobs/{job}"
CALLS = [
    Call(
        "GET",
        "/api/jobs",
        "jobs",
        "The jobs that are open.",
        job_list,
        "jobs",
        asks={"all": "1: those handed over as well"},
    ),
    Call(
        "POST",
        "/api/jobs",
        "open",
        "Opens a job, and plans it where the car is described.",
        open_one,
        "opened",
        body("job", OPEN),
    ),
    Call(
        "GET",
        JOB,
        "job",
        "A whole job: where it stands, and every step still to do.",
        job,
        "job",
        asks={"after": "204 where nothing was logged behind this number"},
    ),
    Call(
        "GET",
        f"{JOB}/points",
        "points",
        "What stands open, and what it costs to reach it again.",
        points,
        "points",
        asks={"fast": "1: without the costs"},
    ),
    Call(
        "POST",
        f"{JOB}/differs",
        "differs",
        "Logs what differs, plans again from where the car stands, and tells what changed.",
        car_differs,
        "differs",
        body("difference", DIFFERS),
    ),
    Call(
        "POST",
        f"{JOB}/variant",
        "variant",
        "Logs which variant the car turned out to be, plans again, and tells what changed.",
        variant,
        "differs",
        body("variant", VARIANT),
    ),
    Call("GET", f"{JOB}/plan", "plan_in_force", "The plan in force.", plan_in_force, "plan"),
    Call(
        "POST",
        f"{JOB}/plan",
        "plan",
        "Plans again from where the job stands, and puts that plan in force.",
        plan,
        "differs",
        body("plan", PLAN),
    ),
    Call(
        "GET",
        f"{JOB}/safe",
        "safe",
        "The cheapest steps to a car that can be lowered.",
        safe,
        "safe",
        asks={"rolled": "1: it is to be pushed out of the bay as well"},
    ),
    Call("GET", f"{JOB}/hand-on", "sheet", "What whoever takes the job over has to know.", sheet, "sheet"),
    Call(
        "POST", f"{JOB}/hand-on", "hand_on", "Hands the job to a colleague.", pass_on, "sheet", body("hand on", HAND_ON)
    ),
    Call(
        "GET",
        f"{JOB}/whose",
        "whose",
        "Which fastener of this job a loose one can be.",
        whose_is_it,
        "matches",
        asks={"seen": "thread, length, size, as in M8x30"},
    ),
    Call("GET", "/api/areas", "areas", "The area files, shop files and drive files of this shop.", areas, "areas"),
]
