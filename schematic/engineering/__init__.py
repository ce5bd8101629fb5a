"""What follows from a plan: volumes and cement."""
