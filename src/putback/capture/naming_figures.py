"""Counts and sizes in a noun phrase: "two 14 mm bolts", "bolts (4)", "top nut 15"."""

from putback.capture.naming import Naming
from putback.capture.phrases import is_plural, kind_of
from putback.capture.quantities import Quantity, is_usual_size, metric
from putback.capture.tokens import WORD

_ENDS = frozenset((",", ".", ";", ")", ":", ""))


class NamingFigures(Naming):
    """Reads the figures of a noun phrase."""

    def _quantity(self, told: list[Quantity]) -> bool:
        if (
            self.found
            and all(what == "side" for _, what in self.found)
            and told[0].kind in ("number", "count")
        ):
            return self._sided_number(told[0])
        if self.found and self.found[-1][1] == "noun" and told[0].kind == "number" and self._size_behind(told[0]):
            return True
        if self.found and told[0].kind not in ("thread",) and not self._behind(told):
            return False
        if self.found and told[0].kind != "thread":
            self.flags.add("behind")
        taken = [self._take_quantity(one, told[n + 1 :]) for n, one in enumerate(told)]
        return all(taken) and bool(taken)

    def _sided_number(self, one: Quantity) -> bool:
        """The rear two, top two."""
        counts = one.value == int(one.value) and 1 < one.value < 13
        if self.count is None and counts and not self._noun_follows(one.after):
            self.count, self.at = int(one.value), one.after
            self.flags |= {"plural", "determined"}
        return False

    def _size_behind(self, one: Quantity) -> bool:
        """Top nut 15, nuts tens: a bare size behind a fastener."""
        if self.tool and self.size_ends and is_usual_size(one.value) and one.value >= 7:
            self.cut = kind_of([self.found[-1][0]]) == "fastener" and self._low(one.after) in self.w.particle
            return False
        if self.tool or kind_of([self.found[-1][0]]) != "fastener" or not is_usual_size(one.value) or one.value < 7:
            return False
        if self._noun_follows(one.after) or (
            self._low(one.after) in ("of", "and", "off", "x")
            and not (one.plural or self._low(one.after) in ("and", "off"))
        ):
            return False
        if (
            not one.plural
            and self._low(one.after) not in _ENDS
            and one.after < len(self.tokens)
            and self.tokens[one.after].kind == WORD
            and self._low(one.after) not in self.w.particle | self.w.closed | {"removed", "undone"}
            and self._low(one.after) not in self.reader.verbs
        ):
            return False
        self.tool = metric(one.value)
        if not one.plural:
            self.flags.add("bare size")
        self.at = one.after + self._skip_s(one.after)
        return True

    def _behind(self, told: list[Quantity]) -> bool:
        """A count or a size behind the noun: "slider bolts x2", "carrier 2x17", "bolts, 13 mm" without the comma."""
        if told[0].kind not in ("count", "tool") or self.found[-1][1] == "side":
            return False
        after = told[-1].after
        if (
            after < len(self.tokens)
            and told[0].kind == "count"
            and (more := self.reader.quantities.read(after))
            and more[0].kind in ("thread", "tool")
        ):
            after = more[-1].after
        return not self._noun_follows(after)

    def _take_quantity(self, one: Quantity, rest: list[Quantity]) -> bool:
        if one.kind == "count":
            self.count = int(one.value)
        elif one.kind == "tool" and self.tool is None:
            self.tool = one.value
            self.size_ends = one.after + self._skip_s(one.after) if not self.found else 0
        elif one.kind == "thread":
            self.flags.add("thread")
        elif one.kind == "number":
            return self._bare_number(one)
        elif one.kind != "tool":
            return False
        self.at = one.after + self._skip_s(one.after)
        if self._low(self.at) == "of" and one.kind == "count":
            self.at += 1
        return True

    def _bare_number(self, one: Quantity) -> bool:
        """A bare number is a count, or behind a count or an article a size: "two 13 bolts", "a 17"."""
        value, after = one.value, one.after
        if self._low(one.first) == "one" and (self.article or self.flags) and one.after - one.first == 1:
            return False  # the third one
        if (
            self.count is None
            and self.tool is None
            and value >= 7
            and is_usual_size(value)
            and self._one_fastener_follows(after)
        ):
            self.tool, self.at = metric(value), after  # a single 13 nut
            return True
        if one.plural or (
            self._introduced()
            and self.article not in ("all", "both", "these", "those")
            and is_usual_size(value)
            and (self.count or value >= 5)
            and not self._counts(value)
        ):
            if self.tool or not is_usual_size(value):
                return False
            self.tool = metric(value)
            self.at = after + self._skip_s(after)
            self.at += self._low(self.at) in ("mil", "mm")
            return True
        if self.count is None and value == int(value) and 0 < value < 100 and self.tool is None:
            self.count = int(value)
            self.at = after
            if self._low(self.at) == "of":
                self._of_a_number()
            else:
                self.flags.add("bare")
            return True
        return False

    def _one_fastener_follows(self, at: int) -> bool:
        low = self._low(at)
        return self.reader.nouns.get(low) == "fastener" and not is_plural(low) and not self.reader.is_noun(at + 1)

    def _of_a_number(self) -> None:
        """Three of the four bolts, two of them."""
        self.at += 1
        if self._low(self.at) in ("the", "those", "these", "my"):
            self.at += 1
            number = self.reader.quantities.read(self.at) if self.at < len(self.tokens) else []
            if number and number[0].kind == "number":
                self.at = number[0].after

    def _bracketed_count(self) -> bool:
        """Bolts (4), bolts (x4); bolts (13 mm); and of counted bolts (13)."""
        inside = self.tokens[self.at + 1 : self.at + 4]
        closing = next((n for n, token in enumerate(inside) if token.low == ")"), None)
        told = self.reader.quantities.read(self.at + 1) if self.found and closing else []
        if not told or told[-1].after != self.at + 1 + closing:
            return False
        figure = told[0]
        if figure.kind == "number" and (self.count or figure.value > 12) and is_usual_size(figure.value):
            figure = figure._replace(kind="tool", value=metric(figure.value))
        if figure.kind == "tool" and self.tool is None:
            self.tool = figure.value
        elif figure.kind in ("number", "count") and self.count is None:
            self.count = int(figure.value)
        else:
            return False
        self.flags.add("behind")
        self.at += closing + 2
        return True
