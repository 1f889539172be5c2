"""`putback suspects`: what readings say of what may be wrong, and whether a part may be ordered now."""

from putback.errors import InputError
from putback.terminal import visible

MANY = 60  # sets of readings in one file, from which on one test is looked ahead, not two
OPTIONS = {
    "--model": ("NAME", "charging (when left out), starter, blower, or a FILE.yaml of your own"),
    "--readings": ("FILE", "what was read: a mapping, or a list of them, as YAML or JSON"),
    "--area": ("FILE", "the area file of the car: what a wrong repair costs there"),
    "--target": ("PART", "the part in question: an action of the model; with --area a target of the area"),
    "--shop": ("FILE", "the shop file; without it a shop that lacks nothing, minutes only"),
}


def add(parser) -> None:
    """Declare the arguments."""
    for option, (metavar, text) in OPTIONS.items():
        parser.add_argument(option, metavar=metavar, help=text)
    parser.add_argument("--names", action="store_true", help="the readings of the model, with their units and words")
    parser.add_argument("--json", action="store_true", help="one JSON object a line, one for each set of readings")


def run(args) -> int:
    """Judge each set of readings in its order; 0, for what was asked is told."""
    from putback.models import load

    form = load(args.model or "charging")
    if args.names:
        return _names(args, form)
    if args.readings is None:
        raise InputError("name what was read, as in: putback suspects --readings FILE.yaml; --names tells what can be")
    sets = _sets(args, form)
    target, prices = _target(args, form)
    ahead = 1 if len(sets) > MANY else 2
    for number, readings in enumerate(sets, 1):
        _tell(args, form, readings, target, prices, ahead, number if len(sets) > 1 else None)
    return 0


def _sets(args, form) -> list[dict]:
    from putback.models.readings_file import LARGEST, read_readings
    from putback.reading import read_file

    return read_readings(form, read_file(args.readings, LARGEST), args.readings)


def _tell(args, form, readings: dict, target, prices, ahead: int, number: int | None) -> None:
    import json

    from putback.models import answer
    from putback.suspects_text import answer_json, answer_lines

    found = answer(form, readings, target, prices, ahead=ahead)
    if args.json:
        print(visible(json.dumps(answer_json(found), ensure_ascii=False)))
        return
    heading = [f"SET {number}"] if number else []
    print(visible("\n".join([*heading, *answer_lines(form, found), *([""] if number else [])])))


def _names(args, form) -> int:
    from putback.suspects_text import names_json, names_lines

    print(visible(names_json(form) if args.json else "\n".join(names_lines(form))))
    return 0


# --- the car --------------------------------------------------------------------------------------


def _target(args, form):
    """The action whose part is in question, and what the planner says it costs."""
    if args.area is None:
        _without_area(args)
        return _action(form, args.target), None
    area, shop, target = _car(args, args.target or form.target)
    return form.target, _prices(form, area, shop, target)


def _car(args, target: str):
    """The area, the shop, and the part in question."""
    from putback.area.area_file import read_area
    from putback.area.shop_file import read_shop
    from putback.cli_planning import read_bytes
    from putback.way.full_shop import full_shop

    area = read_area(read_bytes(args.area), args.area)
    shop = read_shop(read_bytes(args.shop), args.shop) if args.shop else full_shop(area, [target])
    return area, shop, target


def _prices(form, area, shop, target: str):
    from time import perf_counter

    from putback.desk.planning import Thinking
    from putback.suspects_prices import prices

    return prices(form, area, shop, target, Thinking(perf_counter))


def _without_area(args) -> None:
    if args.shop is not None:
        raise InputError("--shop is about a car; name its area file as well, as in --area FILE")


def _action(form, target: str | None) -> str | None:
    if target is None or target in form.actions:
        return target
    raise InputError(f'the model "{form.name}" has no action "{target}"; there are: {", ".join(form.actions)}')
