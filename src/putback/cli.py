"""The command line: one thin front over the rooms.

Each command lives in a module of its own, which has `add(parser)` to declare its arguments and
`run(args)` to do the work and return the exit status. Only the module of the command at hand is
imported, so that help comes at once however much the others need.

A command that is a family of commands has a table `WORDS` of its own in place of `add` and `run`: the word after
the command is then looked up there in the same way, as in `putback torque set`.

Exit status
-----------
0    done
1    an honest "no": there is no way, or the check found something
2    the input cannot be used, or the command line is wrong
70   a fault in the program itself
130  interrupted
141  whoever read the output stopped reading
"""

import argparse
import os
import sys
from importlib import import_module

from putback import __version__, terminal
from putback.errors import InputError, NoWay, PutbackError

SUMMARY = "Plans what to take off a car to reach a part, and how to put it all back."

# Name of the command: its module, and what the list of commands says of it.
COMMANDS = {
    "way": ("putback.cli_way", "the cheapest way in and back, step by step, with its reasons"),
    "quote": ("putback.cli_quote", "time and money with their spread, what to order, what is nearly free"),
    "check": ("putback.cli_check", "what is wrong or missing in an area file or a shop file"),
    "new-area": ("putback.cli_new_area", "an area file to begin with"),
    "new-shop": ("putback.cli_new_shop", "a shop file to begin with"),
    "torque": ("putback.cli_torque", "tightening: torques, wrench settings and orders"),
    "evidence": ("putback.cli_evidence", "records of volts: battery, cables, alternator and starter by their waveforms"),
    "belt": ("putback.cli_belt", "belt drives: the route, the tensioner, whether it is laid right, wear"),
    "suspects": ("putback.cli_suspects", "what readings say of what may be wrong, and whether a part may be ordered"),
    "job": ("putback.cli_job", "a job from its opening to its hand-over, with nothing left over"),
    "notes": ("putback.cli_notes", "what dictated or typed notes say: procedure, left over, a draft of an area file"),
    "paper": ("putback.cli_paper", "estimate, job sheet, labels, tag, record and others as PDF, CSV or JSON"),
    "serve": ("putback.cli_serve", "the pages at the car, for this computer or the phones and tablets of the shop"),
    "demo": ("putback.cli_demo", "whole jobs on invented cars"),
    "schema": ("putback.cli_schema", "the form of these files, for editors and other programs"),
}

DONE, NO, UNUSABLE, FAULT, INTERRUPTED, UNREAD = 0, 1, 2, 70, 130, 141


def main(argv: list[str] | None = None, commands: dict[str, tuple[str, str]] = COMMANDS) -> int:
    """Run one command line and return its exit status; whatever goes wrong ends as a sentence.

    Parameters
    ----------
    argv : list of str, optional
        The words after the program's name; those of this process when left out.
    commands : dict of str to (str, str)
        The commands there are, each with its module and one line about it.
    """
    words = sys.argv[1:] if argv is None else argv
    terminal.prepare()
    try:
        status = _run(words, commands)
        terminal.finish()
        return status
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        if os.environ.get("PUTBACK_DEBUG"):
            raise
        return _tell(error, words)


def _run(words: list[str], commands: dict[str, tuple[str, str]], parser: "_Parser | None" = None) -> int:
    """Run `words` with one of the commands; `parser` is that of the command whose own words these are."""
    family = parser.prog if parser else None
    parser = parser or _main_parser()
    parsers = _parsers(parser, commands)
    chosen = _chosen(words, commands, family)
    at = words.index(chosen) if chosen else len(words)
    try:
        parser.parse_args(words[:at])
        if not chosen:
            parser.print_help()
            return DONE
        module = import_module(commands[chosen][0])
        if hasattr(module, "WORDS"):
            return _run(words[at + 1 :], module.WORDS, parsers[chosen])
        module.add(parsers[chosen])
        # Intermixed, so that a name may follow an option; only the command's own parser can do that.
        args = parsers[chosen].parse_intermixed_args(words[at + 1 :])
    except SystemExit as ended:  # --help and --version have said their part
        return ended.code or DONE
    return module.run(args)


def _main_parser() -> "_Parser":
    parser = _Parser("putback", description=SUMMARY)
    parser.add_argument("--version", action="version", version=f"putback {__version__}")
    return parser


def _parsers(parser: "_Parser", commands: dict[str, tuple[str, str]]) -> dict[str, "_Parser"]:
    """One parser for each command, still without arguments; `parser` tells of them in its help."""
    parser.epilog = f"`{parser.prog} COMMAND --help` tells more about one of them."
    adder = parser.add_subparsers(metavar="COMMAND", title="commands")
    return {
        name: adder.add_parser(name, help=text, description=text[0].upper() + text[1:] + ".")
        for name, (_, text) in commands.items()
    }


def _chosen(words: list[str], commands: dict[str, tuple[str, str]], family: str | None) -> str | None:
    """The command named; options ahead of it take no values, so it is the first other word."""
    name = next((word for word in words if not word.startswith("-")), None)
    if name is not None and name not in commands:
        kind = f'"{family}" has no command' if family else "there is no command"
        raise InputError(f'{kind} "{name}"; there are: {", ".join(commands)}')
    return name


def _tell(error: Exception, words: list[str]) -> int:
    """Say on stderr what went wrong, in words for whom it concerns, and choose the exit status."""
    match error:
        case BrokenPipeError():
            terminal.silence()
            return UNREAD
        case NoWay():
            terminal.complain(str(error))
            return NO
        case PutbackError():
            terminal.complain(str(error))
            return UNUSABLE
        case OSError() if error.strerror:
            terminal.silence()
            terminal.complain(f"{error.filename or 'the output'}: {error.strerror}")
            return UNUSABLE
    from putback import crash  # rarely wanted, and slow to come

    terminal.complain(crash.sentence(error, words))
    return FAULT


class _Parser(argparse.ArgumentParser):
    """Complains as everything else here does: by an InputError of one sentence."""

    def __init__(self, prog: str, **kwargs):
        # A fixed width spares the look at the terminal, and help reads the same everywhere.
        kwargs.setdefault("formatter_class", lambda prog: argparse.RawDescriptionHelpFormatter(prog, width=88))
        super().__init__(prog, allow_abbrev=False, **kwargs)

    def error(self, message: str):
        raise InputError(f"{message}; see {self.prog} --help")
