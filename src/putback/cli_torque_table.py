"""`putback torque table`: a table of torques, typed or pasted, judged on its way into an area file."""

from putback.errors import InputError
from putback.terminal import print_json


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", metavar="FILE", help="rows of a name and a torque; - reads the standard input")
    parser.add_argument("--source", default="", metavar="TEXT", help='where the figures come from: "page 12"')
    parser.add_argument("--area", metavar="FILE", help="an area file: names, threads and classes are taken from it")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Read, judge and print; 1 where a row is refused or has something to ask."""
    from putback.torque.pasted import read_pasted
    from putback.torque.rows import judge_rows

    pasted = read_pasted(_text(args.file))
    judged = judge_rows(pasted.rows, _fasteners(args.area) if args.area else None)
    if not judged and not pasted.refused:
        raise InputError(f'{args.file}: no row with a torque; write rows as in "upper bolt; 46 N·m + 90°"')
    source = " ".join(args.source.split())
    if args.json:
        print_json(_object(pasted, judged, source))
    else:
        print("\n".join(_lines(args.file, pasted, judged, source)))
    return 1 if pasted.refused or any(one.judgement.verdict != "fine" for one in judged) else 0


def _text(name: str) -> str:
    from putback.area.nodes import LARGEST
    from putback.reading import read_file, read_standard_input

    data = read_standard_input(LARGEST) if name == "-" else read_file(name, LARGEST)
    if len(data) > LARGEST:
        raise InputError(f"{name}: too large for a table; part it")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(f"{name}: this is no text in UTF-8; save it as UTF-8") from None


def _fasteners(name: str) -> dict:
    """The fasteners of an area, by name."""
    from putback.area.area_file import read_area
    from putback.area.nodes import LARGEST
    from putback.reading import read_file

    area = read_area(read_file(name, LARGEST), name)
    return {item.name: _known(item.fastener) for item in area.items.values() if item.fastener}


def _known(fastener):
    from putback.torque.classes import strength
    from putback.torque.rows import Known
    from putback.torque.threads import coarse_pitch, metric
    from putback.units import read_tightening

    thread = fastener.thread
    told = read_tightening(fastener.torque.text) if fastener.torque and fastener.torque.text else None
    words = " ".join(filter(None, (thread.text if thread else "", fastener.noun)))
    words = f"{fastener.count} x {words}" if fastener.count > 1 else words
    words += f", class {fastener.property_class}" if fastener.property_class else ""
    if thread is None or thread.kind != "M" or not (thread.pitch or coarse_pitch(thread.diameter)):
        return Known(words=words, tightening=told)
    read = metric(thread.diameter, thread.pitch)
    known = fastener.property_class and strength(fastener.property_class, read)
    return Known(read, fastener.property_class if known else None, words, told)


def _object(pasted, judged, source: str) -> dict:
    return {
        "source": source or None,
        "rows": [_row(one, source) for one in judged],
        "headings": [{"line": line, "text": text} for line, text in pasted.headings],
        "refused": [{"line": one.line, "text": one.text, "reason": one.reason} for one in pasted.refused],
    }


def _row(judged, source: str) -> dict:
    from putback.torque.rows import area_line

    row, told, found = judged.row, judged.row.tightening, judged.judgement
    thread = row.thread or (judged.known.thread if judged.known else None)
    return {
        "line": row.line,
        "name": row.name,
        "text": told.text,
        "stages_nm": [round(stage, 4) for stage in told.stages],
        "low_nm": None if told.low is None else round(told.low, 4),
        "high_nm": None if told.high is None else round(told.high, 4),
        "angles_deg": list(told.angles),
        "passes": told.passes,
        "thread": thread.name if thread else None,
        "class": row.property_class or (judged.known.property_class if judged.known else None),
        "note": row.note,
        "verdict": found.verdict,
        "ratio_to_proof": None if found.ratio_to_proof is None else round(found.ratio_to_proof, 4),
        "unit_probably_meant": found.unit_probably_meant,
        "findings": [one._asdict() for one in found.findings],
        "area_line": area_line(judged, source),
    }


def _lines(file: str, pasted, judged, source: str) -> list[str]:
    """Lines that go into an area file as they are, with what there is to say as remarks."""
    from putback.torque.rows import area_line

    told = [(one.row.line, [area_line(one, source), *_remarks(one)]) for one in judged]
    told += [(line, [f"# {text}"]) for line, text in pasted.headings]
    lines = [words for _, block in sorted(told) for words in block]
    if pasted.refused:
        lines += ["", "# Not taken, each for its reason:"]
        lines += [line for one in pasted.refused for line in _refusal(file, one)]
    count = f"# {_count(len(judged), 'row')} read, {len(pasted.refused)} not taken."
    return [*lines, "", count, *_no_source(source)]


def _refusal(file: str, refused) -> list[str]:
    from putback.torque_values_text import indented

    return [f"# {file}:{refused.line}: {refused.text}", *indented(refused.reason, "#   ")]


def _remarks(judged) -> list[str]:
    from putback.torque_values_text import indented

    found = [one for one in judged.judgement.findings if one.verdict != "fine"]
    words = [f"{one.verdict.upper()}: {one.words}" for one in found] + ([judged.row.note] if judged.row.note else [])
    return [line for one in words for line in indented(one, "#   ")]


def _no_source(source: str) -> list[str]:
    return [] if source else ['# No source is said; name the sheet\'s page, as in --source "page 12".']


def _count(number: int, noun: str) -> str:
    return f"1 {noun}" if number == 1 else f"{number} {noun}s"
