"""The out-and-back chart of a plan, as SVG.

Time runs downwards along an axis: the way in above the swap, the way back below it. Each part is an arc, from where it
is opened to where it is closed, so that what lies under the open arcs is off the car. Were the way back the reverse of
the way in, the arcs would nest like the skins of an onion; the fewest arcs without which they do are drawn heavy and
dashed. The picture is black on white and needs neither colour nor scripts nor anything from elsewhere.
"""

from putback.chart.draw import chart_svg
from putback.chart.stored import stored_plan

__all__ = ["chart_svg", "stored_plan"]
