"""Colours and line weights of the sheets.

The three colours are from the set for colour-blind readers by Okabe and Ito, as printed by B. Wong,
"Color blindness", Nature Methods 8, 441 (2011): blue, bluish green, vermillion. They differ little
in grey, so form always carries the meaning first and colour repeats it. The greys are the sheet's
own. Weights follow one rule: texture and leaders fine, faces of things outlined, few rules heavy.
"""

from __future__ import annotations

BLACK = "#000000"
WHITE = "#ffffff"
BLUE = "#0072b2"  # this liner: steel and names
GREEN = "#009e73"  # cement of this job, static column; never text
VERMILION = "#d55e00"  # findings and the fracture limit; never text
GREY = "#595959"  # remarks, leaders, hatch
LIGHT_GREY = "#a6a6a6"  # light rules, rock texture; carries no meaning
FLAT_GREY = "#ececec"  # stretched depth; may vanish in a photocopy
RETRIEVED_GREY = "#8c8c8c"  # steel that comes out of the well
PRESSURE_GREY = "#dfe3e6"  # what holds pressure
FAINT = (LIGHT_GREY, FLAT_GREY, PRESSURE_GREY)  # under 3:1 on white: nothing hangs on seeing them

FINE_MM = 0.18  # the thinnest line that prints
OUTLINE_MM = 0.35
HEAVY_MM = 0.70

CENTRE_DASH_MM = (4.0, 0.7, 0.6, 0.7)
ESTIMATED_DASH_MM = (1.2, 0.6)
PLANNED_DASH_MM = (2.2, 0.6, 0.5, 0.6)
