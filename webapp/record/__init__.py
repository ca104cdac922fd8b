"""Entries, seals, the log, the fold and what is read from it."""
