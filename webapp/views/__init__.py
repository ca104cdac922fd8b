"""One blueprint per audience."""
