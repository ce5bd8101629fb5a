"""Rules about the plan and what follows from it, one file per subject, and their evaluation."""
