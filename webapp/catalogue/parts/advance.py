"""Advance: what was checked, how deep the wire went and what it showed there."""

from __future__ import annotations

from webapp.catalogue.choices import ANSWERED, BALLOON, READ_AT, READ_HOW
from webapp.catalogue.declare import (
    OTHER,
    equals,
    group,
    has,
    many,
    one,
    per_wire,
    photo,
    pick,
    qty,
    some,
    text,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.shared_groups import BEGUN, THIS_WIRE_IN

_FLUOROSCOPY = some(
    equals("advance.guided_by", "fluoroscopy"),
    equals("advance.fluoroscopy_used", "yes"),
)
_CARDIAC_ECG = equals("advance.guided_by", "intracardiac_ecg")
_BALLOON = equals("approach.wire_kind", "balloon_tipped")

GUIDES = pick(
    intracardiac_ecg="Intracardiac ECG",
    pacing="Pacing while advancing",
    fluoroscopy="Fluoroscopy",
    transthoracic="Transthoracic ultrasound",
    transoesophageal="Transoesophageal ultrasound",
)

RESULTS = (
    *pick(
        svc="SVC",
        high_ra="High RA",
        mid_ra="Mid RA",
        low_ra="Low RA",
        ivc="IVC",
        rv_free="RV free",
        rv_contact="RV contact (ST up)",
        outflow_pa="Outflow or pulmonary artery",
        above_rv="Above RV",
        unclear="Unclear",
        no_complexes="No complexes at all",
        p_captured="P captured",
        qrs_captured="QRS captured",
        no_capture="No capture",
        twitch="Twitch",
        cannot_tell="Can't tell",
        ra="RA",
        across_valve="Across the valve",
        rv_apex="RV apex",
        rv_other="RV other",
        not_seen="Not seen",
    ),
    OTHER,
)

BEFORE = Section(
    "Before the wire goes in",
    per_wire(
        many("guided_by", "Guided by", (*GUIDES, OTHER), "R C", asked_when=BEGUN),
        yn("fluoroscopy_used", "Fluoroscopy used", since=3),
        yn("before_sleeve_on", "Sleeve on"),
        yn("before_balloon_tested", "Balloon tested", asked_when=_BALLOON),
        yn(
            "before_v_lead",
            "Distal (−) electrode on the V lead",
            asked_when=_CARDIAC_ECG,
        ),
        text("before_v_lead_which", "Which V lead", asked_when=_CARDIAC_ECG),
        yn("before_curve_checked", "Curve checked"),
        yn("before_generator_ready", "Generator ready"),
        yn("before_left_bundle_asked", "Left bundle branch block asked"),
        one("before_answered", "Lines answered", ANSWERED),
    ),
)

WAY = Section(
    "On the way",
    per_wire(
        one(
            "p_waves",
            "P waves",
            pick(
                yes="Yes",
                none="None (AF, standstill)",
                cannot_tell="Can't tell",
            ),
        ),
        group(
            "depth_reading",
            "Depth reading",
            "",
            qty("depth", "Depth", "cm", "1", hard="0..125"),
            one("read_at", "Read at", READ_AT),
            one("read_how", "Read how", READ_HOW),
            qty("rings_out", "Rings outside the hub"),
            qty("cm_beyond", "cm beyond the ring", "cm", "0.5"),
            one("guided_by", "Judged by", (*GUIDES, OTHER)),
            one("result", "Result", RESULTS),
            one("balloon", "Balloon", BALLOON),
            qty(
                "balloon_ml",
                "Left in the balloon",
                "mL",
                "0.1",
                hard="0..3",
                asked_when=equals("row.balloon", "some_left"),
            ),
            qty("output", "Output in use", "mA", "0.1", hard="0..25"),
            qty("rate", "Rate in use", "/min", hard="0..800"),
            qty("st_mm", "ST at contact", "mm", "0.5"),
            one(
                "st_gain",
                "Gain",
                pick(
                    mm_20="20 mm/mV",
                    mm_10="10 mm/mV",
                    mm_5="5 mm/mV",
                    mm_2_5="2.5 mm/mV",
                ),
                asked_when=has("row.st_mm"),
            ),
            photo("strip", "Photo of the strip"),
        ),
        group(
            "ectopy",
            "Ectopy",
            "",
            one("amount", "Amount", pick(none="None", some="Some", runs="Runs")),
        ),
        group(
            "vt_vf",
            "VT / VF",
            "",
            one("rhythm", "Rhythm", pick(vt="VT", vf="VF")),
            yn("pulse", "Pulse"),
            text("ended_by", "Ended by"),
        ),
        group(
            "resistance",
            "Resistance, or cannot be moved",
            "",
            qty("depth", "Depth", "cm", "1", hard="0..125"),
            text("action", "What was done"),
        ),
        group(
            "balloon",
            "Balloon",
            "",
            one("state", "State", BALLOON),
            qty(
                "left_ml",
                "Left in it",
                "mL",
                "0.1",
                hard="0..3",
                asked_when=equals("row.state", "some_left"),
            ),
            yn("air_back", "Air came back"),
        ),
        group(
            "new_pass",
            "New pass",
            "",
            text("because", "Because"),
        ),
        qty(
            "fluoroscopy_time",
            "Fluoroscopy time",
            "s min",
            "1",
            "C",
            asked_when=_FLUOROSCOPY,
        ),
        qty(
            "fluoroscopy_dose",
            "Fluoroscopy dose",
            "mGy mGy.cm2 Gy.cm2 uGy.m2",
            "0.1",
            "C",
            asked_when=_FLUOROSCOPY,
        ),
        qty("contrast", "Contrast", "mL", "1", "C", asked_when=_FLUOROSCOPY),
    ),
)

PLACE = Section(
    "Where it stays",
    per_wire(
        qty(
            "final_depth",
            "Final depth at sheath hub",
            "cm",
            "0.5",
            "N6 H",
            hard="0..125",
            asked_when=THIS_WIRE_IN,
        ),
        one("final_read_how", "Read how", READ_HOW, "N6 H", asked_when=THIS_WIRE_IN),
        one("final_read_at", "Read at", READ_AT, asked_when=THIS_WIRE_IN),
    ),
)

PART = Part("advance", "Advance", (BEFORE, WAY, PLACE))
