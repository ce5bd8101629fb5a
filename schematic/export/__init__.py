"""What leaves the tool beside drawings: tables as text, CSV and JSON, and how a value came about."""
