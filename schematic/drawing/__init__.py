"""From an evaluated plan to sheets of plain shapes, and from those to files."""
