"""`putback evidence`: what records of volts say of battery, cables, alternator and starter."""

import json

from putback.errors import Findings, InputError
from putback.terminal import visible

_FASTEST, _TOP_RPM = 1e8, 10_000.0


def add(parser) -> None:
    """Declare the arguments."""
    option = parser.add_argument
    option("files", nargs="+", metavar="FILE", help="a record: CSV of time, volts, perhaps amps; may be .gz")
    option("--at", choices=("posts", "stud"), help="where the leads were: the battery's posts or the alternator's stud")
    option("--rpm", type=float, metavar="N", help="engine speed; tells sound from broken where sizes do not")
    option("--pole-pairs", type=int, metavar="N", help="of the alternator, as a rule 6 to 8; only with --rpm")
    option("--rate", type=float, metavar="HERTZ", help="samples a second, in place of a column of time")
    option("--svg", metavar="FILE", help="also draw record and spectrum; into a folder, if there is one")
    option("--json", action="store_true", help="print one JSON object a line")


def run(args) -> int:
    """Read, judge and print, in the order given."""
    _must_be_sensible(args)
    refused = []
    for name in args.files:
        try:
            _tell(name, _judged(name, args), args)
        except InputError as error:  # the other records are none the worse
            refused.append(error)
    if refused:
        raise Findings(refused)
    return 0


def _tell(name: str, evidence, args) -> None:
    if args.svg:
        _draw(name, args, evidence)
    told = json.dumps(_found(name, evidence), ensure_ascii=False) if args.json else _sentences(name, evidence)
    print(visible(told))


def _must_be_sensible(args) -> None:
    limits = (("rpm", 1, _TOP_RPM), ("pole_pairs", 1, 40), ("rate", 1, _FASTEST))
    for option, low, high in limits:
        value = getattr(args, option)
        if value is not None and not low <= value <= high:
            raise InputError(f"--{option.replace('_', '-')} {value:g} is out of range; give {low:g} to {high:g}")
    if args.pole_pairs and not args.rpm:
        raise InputError("--pole-pairs says nothing without --rpm; give both")


def _judged(name: str, args):
    from putback.charging.evidence import judge
    from putback.reading import read_file
    from putback.record_file import LARGEST, read_record

    record = read_record(read_file(name, LARGEST), name, args.rate)
    return judge(record, args.at, args.rpm, args.pole_pairs)


def _found(name: str, evidence) -> dict:
    said, hertz = evidence.said, evidence.ripple.hertz
    return {
        "file": name,
        "ripple": evidence.ripple.verdict,
        "cranking": evidence.cranking.verdict if evidence.cranking else None,
        "confidence": round(said.confidence, 2),
        "cannot_separate": list(said.cannot_separate),
        "mean_v": round(evidence.record.mean, 3),
        "ripple_hz": None if hertz is None else round(hertz, 1),
        "why": "; ".join([said.why, *evidence.record.mended]),
    }


def _sentences(name: str, evidence) -> str:
    said, record = evidence.said, evidence.record
    what = "cranking" if evidence.cranking else "running"
    lines = [
        f"{name}: {what}, {said.verdict} ({100 * said.confidence:.0f} % sure)",
        f"  {said.why}",
        f"  mean {record.mean:.2f} V, {record.seconds:.3g} s at {record.rate / 1e3:.4g} kS/s",
    ]
    if said.cannot_separate:
        lines.append(f"  not told apart: {', '.join(said.cannot_separate)}")
    return "\n".join([*lines, *(f"  {one}" for one in record.mended)])


def _draw(name: str, args, evidence) -> None:
    """The picture of a record: in the file named, or in the folder named under the record's own name."""
    from pathlib import Path

    from putback.evidence_svg import evidence_svg
    from putback.writing import write_whole

    target = Path(args.svg)
    if target.is_dir():
        target /= f"{Path(name).name.removesuffix('.gz').removesuffix('.csv')}.svg"
    elif len(args.files) > 1:
        raise InputError(f"--svg {args.svg} is one file for {len(args.files)} records; name a folder that is there")
    write_whole(str(target), evidence_svg(evidence, Path(name).name))
