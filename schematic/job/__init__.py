"""The installation: what is pumped, pulled, set down and seen, in order."""
