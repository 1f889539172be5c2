"""Places in a text as lines and columns."""

from bisect import bisect_right

from putback.capture.events import Source


class Places:
    """Where the lines of a text begin.

    Parameters
    ----------
    text : str
    """

    def __init__(self, text: str):
        self.text = text
        self.starts = [0]
        for line in text.splitlines(keepends=True):
            self.starts.append(self.starts[-1] + len(line))

    def source(self, start: int, end: int) -> Source:
        """The stretch from one place of the text to another.

        Parameters
        ----------
        start, end : int
            Signs from the beginning of the text
        """
        line = min(bisect_right(self.starts, start), max(1, len(self.starts) - 1))
        return Source(line, start - self.starts[line - 1] + 1, self.text[start:end], start)
