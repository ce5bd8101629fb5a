"""What a person writes: the well file, its reading, its problems, edits in place."""
