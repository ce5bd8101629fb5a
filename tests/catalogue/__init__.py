"""The tables of the trade and their look-up."""
