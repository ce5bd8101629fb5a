"""The app: the same verbs as the command in a browser page; no engineering in it."""
