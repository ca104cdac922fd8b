"""Codes a record supports, as data and one small engine; no Flask, no SQL."""
