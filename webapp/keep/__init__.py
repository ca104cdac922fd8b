"""Copies of the one database: made while it is written to, proven, brought back."""
