"""Old and new: the new part beside the old one, feature by feature, before anything goes in."""

from collections.abc import Iterator

from starlette.requests import Request
from starlette.responses import Response

from putback.desk.view import View
from putback.errors import InputError
from putback.job.accepted import is_accepted
from putback.job.match import features, fits, mismatches, not_compared
from putback.web.access import one_line
from putback.web.asked import of_job, view
from putback.web.pages_common import Said, job_page, log, needed, one_of, posting, under
from putback.web.people import may_sign

OLD, NEW, MORE = "old: ", "new: ", "more: "
BLANK = ("1", "2", "3")  # lines for what no description names
FITS, DIFFERS, ACCEPTED, MISSING = "fits", "differs", "accepted", ""


def match(request: Request, wrong: tuple[str, ...] = (), status: int = 200) -> Response:
    """The parts that the car came for, or the one that the address names."""
    seen = view(request)
    asked = request.query_params.get("part", "").strip()[:200]
    names = list(dict.fromkeys((*seen.state.targets, *seen.state.compared, *([asked] if asked else []))))
    parts = [_part(name, seen) for name in names]
    prefixes = {"old": OLD, "new": NEW, "more": MORE, "blank": BLANK}
    return job_page(request, "match.html", seen, wrong, status, parts=parts, **prefixes)


def _part(name: str, seen: View) -> dict:
    state, car = seen.state, seen.car
    return {
        "name": name,
        "rows": list(_rows(name, seen)),
        "missing": not_compared(name, state, car),
        "differs": [one for one in mismatches(name, state, car) if not _taken(name, one.feature, seen)],
        "wrong": state.wrong.get(name),
        "described": bool(car.area and car.area.match),
        "swapped": name in state.swapped,
    }


def _rows(name: str, seen: View) -> Iterator[dict]:
    said = seen.state.compared.get(name, {})
    old, new = said.get("old", {}), said.get("new", {})
    wanted = dict(seen.area.match) if seen.area else {}
    compared = features(name, seen.state, seen.car)
    for feature in dict.fromkeys((*wanted, *compared, *old, *new)):
        asked = compared.get(feature) or old.get(feature, "")
        row = {"feature": feature, "wanted": wanted.get(feature, ""), "old": old.get(feature, ""), "new": new.get(feature, "")}
        yield row | {"is_figure": asked[:1].isdigit(), "verdict": _verdict(name, feature, asked, row["new"], seen)}


def _verdict(name: str, feature: str, asked: str, new: str, seen: View) -> str:
    if not new or feature in not_compared(name, seen.state, seen.car):
        return MISSING
    if not asked or fits(asked, new):
        return FITS
    return ACCEPTED if _taken(name, feature, seen) else DIFFERS


def _taken(name: str, feature: str, seen: View) -> bool:
    """Whether somebody has taken a difference on himself since it was compared."""
    return is_accepted(_key(name, feature), seen.state, seen.state.compared.get(name, {}).get("number", 0))


def _key(name: str, feature: str) -> str:
    return f"mismatch: {name}, {feature}"


def _compare(request: Request, said: Said, part: str) -> None:
    old, new = dict(under(said, OLD)), dict(under(said, NEW))
    for number in BLANK:
        if feature := said.get(f"{MORE}{number}"):
            sides = ((old, said.get(f"more old: {number}")), (new, said.get(f"more new: {number}")))
            for side, value in sides:
                side |= {feature: value} if value else {}
    if not old and not new:
        raise InputError(f"{part}: nothing was written; measure both and write down what you find")
    log(request, "part compared", part=part, old=old, new=new)


def _is_wrong(request: Request, said: Said, part: str) -> None:
    log(request, "part found wrong", part=part, note=said.get("note") or None)


def _accept(request: Request, said: Said, part: str) -> None:
    by, feature = one_line("signer", needed(said, "by", "say who answers for it")), needed(said, "feature", "say in what it differs")
    reason = needed(said, "reason", "say the reason; it goes on the record")
    may_sign(request, by, said.get("pin", ""))
    log(request, "point accepted", point=_key(part, feature), reason=reason, by=by)


ACTIONS = {"compare": _compare, "wrong": _is_wrong, "accept": _accept}


def does(request: Request, said: Said) -> str:
    """Log what was measured, that the part is wrong, or who answers for a difference."""
    one_of(ACTIONS, said)(request, said, needed(said, "part", "say which part"))
    return f"/jobs/{of_job(request)}/match"


ROUTES = posting("/jobs/{job}/match", match, does)
