"""A command that ends in whichever way it is told to; the tests hand it to the front."""

import os
import signal
import sys
from pathlib import Path

from putback.errors import Findings, InputError, NoWay, PutbackError

COMMANDS = {"fake": ("frame_fake", "end as told"), "absent": ("no_such_module", "never asked for")}
FAMILY = {"family": ("frame_family", "several words")}


def add(parser):
    parser.add_argument("outcome")
    parser.add_argument("--torque")


def run(args) -> int:
    return globals()[args.outcome]()


def fine() -> int:
    print("25 N·m")
    return 0


def input_error():
    raise InputError('torque "25 lb" has no clear unit', ("car.yaml", 41, 7))


def other_error():
    raise PutbackError("something a person should read")


def no_way():
    raise NoWay("every way lowers the subframe", ["support bar"])


def findings():
    raise Findings([InputError("first", ("car.yaml", 1)), InputError("second", ("car.yaml", 2))])


def missing_file():
    Path("no such file.yaml").read_text()


def fault():
    return 1 / 0


def interrupted():
    os.kill(os.getpid(), signal.SIGINT)
    signal.pause()


def talkative() -> int:
    for _ in range(100_000):
        print("a line that nobody reads")
    return 0


if __name__ == "__main__":
    from putback.cli import main

    sys.exit(main(commands=COMMANDS))
