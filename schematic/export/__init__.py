"""What leaves the tool beside drawings: tables as text, CSV and JSON, and how a value came about."""

CAUTION = (
    "A planning aid. Competent, where required licensed, people verify every figure; local regulation, the "
    "operator's procedures and the makers' ratings rule. Not a basis for well-control, pressure-testing or "
    "lifting decisions."
)
