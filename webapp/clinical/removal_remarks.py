"""What is found where a wire is taken out: balloon, syringe, resistance, missing parts.

Source: fixtures/sources.md#clinical-23 (removal), #clinical-5.
"""

from __future__ import annotations

from dataclasses import replace

from webapp.clinical.balloon import balloon_told, last_state
from webapp.clinical.certain import certain_ends
from webapp.clinical.dependence import dependence
from webapp.clinical.evidence import entries_of
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark, Weight
from webapp.clinical.rhythm import own_rhythm, own_rows, pads_of
from webapp.clinical.told import Told

_OUT = ("removed_rhythm_back", "removed_permanent_system", "replaced")
_TAKEN_OVER = ("removed_permanent_system", "replaced")
_STUCK = ("knot", "entrapment")
_PARTS = ("tip", "electrodes", "length")
# "Connected, pacing mode ready" and "pacing now" alone are backup (clinical 18).
_READY = ("connected_ready", "pacing_now")
_LEAST_RATE = "own_rhythm_minimum_per_min"
_RESTS_ON = ("own_rhythm", "own_rate", "pads", "permanent_leads")


def removal_remarks(told: Told, wire: str) -> list[Found]:
    """Return one wire's remarks on its removal."""
    is_balloon, last = _balloon(told, wire)
    found = _dependent(told, wire)
    if _says(told, wire, "event", "removal_here"):
        found += _balloon_found(told, wire, last) if is_balloon else []
    if _says(told, wire, "resistance", "yes"):
        felt = _one(told, wire, "resistance", "removal_resistance", "look_now")
        # Once it is out there is nothing left to stop.
        found.append(replace(felt, stands=not is_over(told.fold, wire)))
    for part in _PARTS:
        if _says(told, wire, f"{part}_complete", "no"):
            code = f"removal_{part}_missing"
            found.append(_one(told, wire, f"{part}_complete", code, "look_now"))
    stuck = any(_says(told, wire, "completed", why) for why in _STUCK)
    if stuck and not heads(told.fold, f"wires/{wire}/removal.site"):
        code = "removal_not_completed"
        found.append(_one(told, wire, "completed", code, "look_again"))
    return found


def _dependent(told: Told, wire: str) -> list[Found]:
    """Say that it comes out while the own rhythm, as last told, is not reliable.

    Weighs Look now unless pads are ready, permanent leads are in, or the own rate at
    the removal is enough; where nobody told of it the question is open. Asystole or a
    slow own rate told at the removal counts whatever was told earlier. Another way of
    pacing took over: silent.
    """
    own = own_rows(told.fold)[-1:]
    if not _says(told, wire, "event", "removal_here"):
        return []
    then = _rhythm_then(told, wire)
    was = bool(own) and dependence(own_rhythm(own[0]), told.limits).is_dependent
    if then != "gone" and not was:
        return []
    if any(_says(told, wire, "ending", one) for one in _TAKEN_OVER):
        return []
    path = f"wires/{wire}/removal.event"
    pads = pads_of(told.fold).states[-1:]
    state = heads(told.fold, f"wires/{wire}/removal.pads") or [
        row.value["state"] for row in pads
    ]
    is_ready = bool(state) and all(one in _READY for one in state)
    is_ready = is_ready or _says(told, wire, "permanent_leads", "yes")
    is_ready = is_ready or then == "enough"
    weight: Weight = "look_again" if is_ready else "look_now"
    limits = tuple(name for name in (_LEAST_RATE,) if name in told.limits)
    remark = Remark("removal_dependent", weight, limits=limits, asks="own_rhythm_first")
    paths = [path, *(f"wires/{wire}/removal.{name}" for name in _RESTS_ON)]
    evidence = entries_of(told.fold, paths, [*own, *pads])
    return [Found(remark, path, wire, evidence, not is_over(told.fold, wire))]


def _rhythm_then(told: Told, wire: str) -> str:
    """Return what the removal itself tells of the own rhythm: "gone", "enough", or "".

    Of several answers the worst counts. A child has no limit: only asystole is told.
    """
    if _says(told, wire, "own_rhythm", "asystole"):
        return "gone"
    least = number(told.limits.get(_LEAST_RATE))
    said = heads(told.fold, f"wires/{wire}/removal.own_rate")
    rates = [certain_ends(one, "/min") for one in said]
    if least is None or not rates:
        return ""
    if any(high is not None and high < least for _, high in rates):
        return "gone"
    is_enough = all(low is not None and low >= least for low, _ in rates)
    return "enough" if is_enough else ""


_ASKS = {
    "removal_resistance": "stop_and_film",
    "removal_not_completed": "removal_elsewhere",
    "removal_balloon_up": "balloon_then_out",
    "removal_balloon_some_left": "balloon_then_out",
}


def _one(told: Told, wire: str, name: str, code: str, weight: Weight) -> Found:
    path = f"wires/{wire}/removal.{name}"
    evidence = entries_of(told.fold, [path])
    asks = _ASKS.get(code, "")
    return Found(Remark(code, weight, asks=asks), path, wire, evidence)


def _says(told: Told, wire: str, name: str, value: str) -> bool:
    return value in heads(told.fold, f"wires/{wire}/removal.{name}")


def _balloon(told: Told, wire: str) -> tuple[bool, str]:
    """Tell whether the wire has a balloon, and its state as last told, else ""."""
    last = last_state(balloon_told(told.fold, wire))
    state = last.state if last else ""
    kinds = heads(told.fold, f"wires/{wire}/approach.wire_kind")
    has_one = "balloon_tipped" in kinds or state in ("up", "down", "some_left")
    return has_one and state != "not_balloon", state


def _balloon_found(told: Told, wire: str, last: str) -> list[Found]:
    """Return what is said of balloon and syringe, before and after it is out.

    Before: only that it is still marked up, or with some left. After: "no", or nobody
    said and it was last marked so.
    """
    is_out = bool(heads(told.fold, f"wires/{wire}/removal.removed_at"))
    is_out = is_out or any(_says(told, wire, "ending", one) for one in _OUT)
    said = heads(told.fold, f"wires/{wire}/removal.balloon_down")
    found: list[Found] = []
    still = "some_left" if last == "some_left" else "up"
    if "no" in said:
        code = f"removal_balloon_{'not_down' if is_out else still}"
        found.append(_one(told, wire, "balloon_down", code, "look_now"))
    elif not said and last == still:
        code = f"removal_balloon_{'unsaid' if is_out else still}"
        found.append(_one(told, wire, "balloon_down", code, "look_now"))
    if _says(told, wire, "syringe_empty", "no"):
        code = "removal_syringe"
        found.append(_one(told, wire, "syringe_empty", code, "look_again"))
    return found
