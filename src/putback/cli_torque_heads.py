"""`putback torque heads`: from a spanner's size to the threads it may turn, and from a thread to its spanners."""

import re

from putback.terminal import print_json

NOTE = "A head does not tell its thread: standards and years differ. Measure the thread."


def add(parser) -> None:
    """Declare the arguments."""
    parser.add_argument(
        "what", metavar="SIZE", help="of a spanner or key (15 mm, 9/16 in), or a thread (M10x1.25, 3/8-16)"
    )
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(args) -> int:
    """Print the heads; 1 where no standard here has any."""
    from putback.torque.heads import NEAR, SAME, heads_for_thread, heads_for_tool, read_across
    from putback.torque.threads import read_thread

    thread = read_thread(args.what) if _is_thread(args.what) else None
    if thread:
        heads, near = heads_for_thread(thread), ()
    else:
        across = read_across(args.what)
        heads = heads_for_tool(across)
        near = tuple(head for head in heads_for_tool(across, NEAR) if abs(head.across - across) > SAME)
    if args.json:
        found = {"heads": [_object(one) for one in heads], "nearly": [_object(one) for one in near]}
        print_json(found)
    else:
        print("\n".join(_lines(thread, args.what, heads, near)))
    return 0 if heads or near else 1


def _is_thread(text: str) -> bool:
    """A thread begins with M or #, or has its threads to the inch or its series behind a dash."""
    series = r"\d\s*\"?\s*-\s*\d+(?![\d/])|\bUN"
    return bool(re.match(r"\s*(?:M\s*\d|#|no)", text, re.IGNORECASE) or re.search(series, text))


def _object(head) -> dict:
    return {
        "thread": head.size,
        "threads": [thread.name for thread in head.threads()],
        "tool": head.tool,
        "size": head.text,
        "across_mm": round(head.across, 2),
        "kind": head.kind,
        "standard": head.standard,
    }


def _lines(thread, what: str, heads, near) -> list[str]:
    if not heads and not near:
        return [f"No standard here has a head for {thread.name if thread else what}."]
    if thread:
        return [f"To lay out for {thread.name}:", *_by_tool(heads, lambda head: head.text)]
    lines = [f"A tool of {what} may turn:", *_by_tool(heads, lambda head: head.size)] if heads else []
    if near:
        lines.append("It goes on nearly, but the right tool is another:")
        lines += [f"    {head.size:<9}{head.text + ', ' + head.kind:<34}{head.standard}" for head in near]
    return [*lines, NOTE]


def _by_tool(heads, first) -> list[str]:
    """The heads under the tool that turns them; `first` says what stands at the head of each line."""
    lines = []
    for tool in dict.fromkeys(head.tool for head in heads):
        lines.append(f"  {tool}")
        lines += [f"    {first(one):<10}{one.kind:<27}{one.standard}" for one in heads if one.tool == tool]
    return lines
