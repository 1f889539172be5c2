"""`putback torque order`: in which order, and in which passes, to tighten a group of fasteners."""

import json
import re

from putback.errors import InputError

OPTIONS = (
    ("--rows", "RxC", "rows and columns instead, as in 2x5; numbered row by row"),
    ("--places", "FILE", "fasteners by name with their coordinates instead, one a line: name, x, y (x to the right, y "
     "up, any unit)"),
    ("--passes", "PERCENT", "passes, as in 30/60/100"),
    ("--torque", "TORQUE", 'the torque, as in "100 N·m"; the maker\'s passes and angles, as in "passes 8 / 16 / 23 '
     'N·m" or "20 N·m + 92 N·m + 90°"'),
    ("--svg", "FILE", "also draw the order into this file"),
)  # fmt: skip


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument("count", nargs="?", metavar="N", help="so many fasteners on a circle, numbered in turn")
    for option, metavar, text in OPTIONS:
        parser.add_argument(option, metavar=metavar, help=text)
    parser.add_argument("--no-round", action="store_true", help="no last round in turn at the full torque")
    parser.add_argument("--after-driving", action="store_true", help="once more after some driving, as for wheels")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Work out the order and print it."""
    from putback import order_text

    group = _group(args)
    rounds = _rounds(args, group)
    if args.svg:
        _draw(args.svg, group, rounds)
    if args.json:
        print(json.dumps(order_text.order_json(group, rounds), ensure_ascii=False))
    else:
        print("\n".join(order_text.order_lines(group, rounds)))
    return 0


def _group(args):
    from putback.torque import group

    given = [what for what in (args.count, args.rows, args.places) if what is not None]
    if len(given) != 1:
        raise InputError(
            'say one of: how many fasteners on a circle, as in "putback torque order 5"; --rows 2x5; --places FILE'
        )
    if args.rows:
        return group.in_rows(*_rows(args.rows))
    if args.places:
        return group.in_places(_read(args.places))
    return group.on_a_circle(_count(args.count))


def _count(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,4}", text):
        raise InputError(f'"{text}" is no number of fasteners; write it as in "putback torque order 5"')
    return int(text)


def _rows(text: str) -> tuple[int, int]:
    found = re.fullmatch(r"([0-9]{1,4})\s*[x×]\s*([0-9]{1,4})", text.strip())
    if not found:
        raise InputError(f'"{text}" does not say how many rows and columns; write them as in "2x5"')
    return int(found[1]), int(found[2])


def _read(name: str) -> list[tuple[str, float, float]]:
    from putback.places_file import LARGEST, read_places
    from putback.reading import read_file

    return read_places(read_file(name, LARGEST), name)


def _rounds(args, group):
    """The passes, where any are asked for."""
    from putback import units
    from putback.torque.passes import passes

    wanted = units.read_tightening(args.torque) if args.torque else units.Tightening()
    staged = len(wanted.stages) > 1 or bool(wanted.angles)
    if staged and args.passes:
        raise InputError("--torque says the maker's passes already; leave --passes out")
    if not (args.passes or args.torque or args.after_driving):
        return ()
    return passes(
        group.order,
        wanted.final,
        shares=_shares(args.passes, wanted.passes),
        stages=wanted.stages if staged else (),
        angles=wanted.angles,
        last_round=() if args.no_round else group.in_turn,
        again=args.after_driving,
    )


def _shares(text: str | None, count: int) -> tuple[float, ...]:
    """The passes that are asked for; else as many as the torque says, or the usual three."""
    from putback.torque.passes import usual_shares

    if text is None:
        return usual_shares(count if count > 1 else 3)
    found = re.fullmatch(r"\s*([0-9]{1,3}(?:\s*/\s*[0-9]{1,3})*)\s*%?\s*", text)
    if not found:
        raise InputError(f'"{text}" are no passes; write the percent of the torque at each, as in "30/60/100"')
    return tuple(int(share) / 100 for share in found[1].split("/"))


def _draw(name: str, group, rounds) -> None:
    from putback import order_text
    from putback.order_svg import order_svg
    from putback.writing import write_whole

    below = [*order_text.pass_sentences(rounds), order_text.CAUTION]
    title = f"Order of tightening: {group.what}"
    write_whole(name, order_svg(group.order, group.points, title, names=group.names, below=below))
