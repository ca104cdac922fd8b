"""Which results a way of guiding can tell, and the ST size it gives.

Source: fixtures/sources.md#clinical-4, #domain-3.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.exact import decimal, number

ATRIAL = ("high_ra", "mid_ra", "low_ra")
_CARDIAC_ECG = (
    *("svc", *ATRIAL, "ivc", "rv_free", "rv_contact"),
    *("outflow_pa", "unclear", "no_complexes"),
)
_PACING = ("no_capture", "p_captured", "qrs_captured", "twitch", "cannot_tell")
_IMAGING = (
    *("not_seen", "ra", "across_valve", "rv_apex", "rv_other"),
    *("outflow_pa", "unclear"),
)
# clinical 4, as recorders have it: mm for 1 mV, by the catalogue's code of the gain.
GAINS = {
    "mm_20": Fraction(20),
    "mm_10": Fraction(10),
    "mm_5": Fraction(5),
    "mm_2_5": Fraction(5, 2),
}


def results_for(guide: str, p_waves: str) -> tuple[str, ...]:
    """Return the results that can be read by a guide, in the order of their keys.

    Without P waves ("none") the atrial ones are replaced by "above RV".
    """
    if guide == "pacing":
        return _PACING
    if guide in ("fluoroscopy", "transthoracic", "transoesophageal"):
        return _IMAGING
    if guide != "intracardiac_ecg":
        return ()
    if p_waves != "none":
        return _CARDIAC_ECG
    kept = [one for one in _CARDIAC_ECG if one not in ATRIAL]
    kept.insert(1, "above_rv")
    return tuple(kept)


def st_mv(mm: object, gain: object) -> str | None:
    """Return the size of an ST shift, mV: mm by the gain; None where one is not known.

    ("3.5", "mm_5") gives "0.7".
    """
    size = number(mm)
    per_mv = GAINS.get(gain) if isinstance(gain, str) else None
    return None if size is None or per_mv is None else decimal(size / per_mv)
