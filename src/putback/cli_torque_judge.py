"""`putback torque judge`: is a torque sound for its fastener?"""

from putback.errors import InputError
from putback.terminal import print_json

EVIDENCE = {"read": "value read", "click": "clicked at the setting", "feel": "by feel", "assumed": "assumed"}
CAUTION = "The vehicle maker's figure goes before everything here."

# What may be said of the fastener and the work: the option, the field of Work that it sets, and its help.
FACTS = (
    ("--one-time", "one_time", "it is used once only"),
    ("--stretch", "stretch", "it is tightened past its yield point"),
    ("--self-locking", "self_locking", "it is a self-locking nut"),
    ("--coated", "coated", "it is coated or has threadlock"),
    ("--left-hand", "left_hand", "its thread is left-hand"),
    ("--new", "new", "a new one is fitted"),
    ("--cleaned", "cleaned", "thread and hole are cleaned, threadlock renewed"),
    ("--oiled", "lubricated", "oil or anti-seize on the thread"),
    ("--figure-for-oiled", "spec_lubricated", "the sheet's figure is for an oiled thread"),
    ("--angle-done", "angle_done", "the angle after the torque is turned"),
    ("--impact-tool", "impact_tool", "an impact tool is used"),
    ("--held-back", "held_back", "the stud is held with a second spanner"),
    ("--swapped", "swapped", "a long one was found where a short one belongs"),
    ("--will-not-move", "will_not_move", "it does not come loose"),
    ("--on-the-ground", "on_the_ground", "it is tightened with the car on its wheels"),
    ("--raised", "raised", "the car is raised"),
    ("--rubber-bush", "rubber_bush", "it clamps a rubber bush"),
    ("--at-rest", "at_rest", "the suspension stands at rest height"),
)


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("torque", metavar="TORQUE", help='the torque entered, as in "97 ft-lb" or "92 N·m + 90°"')
    parser.add_argument("--spec", metavar="TORQUE", help="what the maker's sheet says, with its unit")
    parser.add_argument(
        "--tolerance", metavar="PERCENT", help="how far off it may be where the sheet does not say (6 %%)"
    )
    parser.add_argument("--thread", metavar="THREAD", help="M8x1.25, 3/8-16 UNC")
    parser.add_argument("--class", dest="grade", metavar="CLASS", help="property class or grade: 8.8, A2-70, grade 5")
    parser.add_argument("--head", metavar="SIZE", help="where the thread is not known: the size of the head, 15 mm")
    parser.add_argument("--evidence", choices=EVIDENCE, help="how the torque is known")
    parser.add_argument("--uses", type=int, metavar="N", help="how many times this piece has been tightened")
    parser.add_argument(
        "--into", default="", metavar="MATERIAL", help="what the stud sits in: plastic, copper alloy, steel"
    )
    parser.add_argument("--lengths", type=int, default=1, metavar="N", help="how many lengths there are in its group")
    parser.add_argument("--long-at", default="", metavar="WHERE", help="where the long ones of the group went")
    parser.add_argument("--by", default="", metavar="NAME", help="who lets an old one-time fastener stay")
    parser.add_argument("--because", default="", metavar="REASON", help="and why; both go on the record")
    for option, field, text in FACTS:
        parser.add_argument(option, dest=field, action="store_true", help=text)
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Judge and print; 0 where the torque is fine, 1 where there is something to ask or to stop for."""
    from putback.torque.judge import judge
    from putback.units import read_tightening

    entered = read_tightening(args.torque)
    spec = read_tightening(args.spec) if args.spec else None
    thread, grade = _thread(args)
    found = judge(
        entered, spec, tolerance=_tolerance(args.tolerance), thread=thread, property_class=grade, done=_work(args)
    )
    if args.head:
        found = _with_head(found, entered, args.head)
    if args.json:
        print_json(_object(found))
    else:
        print("\n".join(_lines(found)))
    return 0 if found.verdict == "fine" else 1


def _thread(args):
    from putback.torque.classes import read_class
    from putback.torque.threads import read_thread

    if args.head and args.thread:
        raise InputError("--head is for a thread that is not known; leave it out where --thread is given")
    if args.grade and not args.thread:
        raise InputError("--class is that of a thread; name it as well, as in --thread M8x1.25")
    thread = read_thread(args.thread) if args.thread else None
    return thread, read_class(args.grade, thread) if args.grade else None


def _tolerance(text: str | None) -> float | None:
    from putback.units import number

    if text is None:
        return None
    share = number(text.replace("±", "").replace("%", "").strip()) / 100
    if share >= 1:
        raise InputError(f'"{text}": a tolerance is below 100 %')
    return share


def _work(args):
    from putback.torque.work import Work

    if args.uses is not None and args.uses < 1:
        raise InputError(f"--uses {args.uses}: count this time as well, from 1")
    if args.lengths < 1:
        raise InputError(f"--lengths {args.lengths}: count them from 1")
    facts = {field: getattr(args, field) for _, field, _ in FACTS}
    return Work(
        evidence=EVIDENCE.get(args.evidence),
        uses=args.uses,
        into=args.into.strip().lower(),
        lengths=args.lengths,
        long_at=args.long_at.strip(),
        overridden_by=args.by.strip(),
        override_reason=args.because.strip(),
        **facts,
    )


def _with_head(found, entered, text: str):
    """The judgement with what the head's size says of the torque."""
    from dataclasses import replace

    from putback.torque.finding import worst
    from putback.torque.heads import read_across
    from putback.torque.judge import head_finding

    more, meant = head_finding(entered, read_across(text), text)
    findings = [one for one in found.findings if one.code not in ("nothing-known", "class-not-known")] + [more]
    return replace(
        found, findings=tuple(findings), verdict=worst(findings), unit_probably_meant=found.unit_probably_meant or meant
    )


def _object(found) -> dict:
    return {
        "verdict": found.verdict,
        "entered_nm": _rounded(found.entered),
        "spec_nm": _rounded(found.spec),
        "proof_nm": _rounded(found.proof),
        "ratio_to_proof": _rounded(found.ratio_to_proof),
        "unit_probably_meant": found.unit_probably_meant,
        "findings": [one._asdict() for one in found.findings],
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _lines(found) -> list[str]:
    from putback.torque_values_text import indented

    told = [line for one in found.findings for line in indented(one.words, "  ")]
    return [found.verdict.upper(), *told, CAUTION]
