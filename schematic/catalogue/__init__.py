"""Tables of the trade: casing, drill pipe, grades and words, each value with its source."""
