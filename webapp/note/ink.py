"""Colours and sizes of the note; black on white works alone."""

from __future__ import annotations

from reportlab.lib.colors import HexColor

TEXT = HexColor("#14202a")
QUIET = HexColor("#47545a")
LINE = HexColor("#664200")
ALARM = HexColor("#962406")
EDGE = HexColor("#747d78")
SEA = HexColor("#e9f0ef")
BAND = HexColor("#d3e2e4")
PAPER = HexColor("#ffffff")

MARGIN_PT = 36.0
HAIR_PT = 0.6
RULE_PT = 1.4
