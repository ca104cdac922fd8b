"""A fictitious hospital, filled through the same paths as real use."""
