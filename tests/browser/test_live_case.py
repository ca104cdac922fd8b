"""A clean emergency case by one finger: what it takes, counted tap by tap.

Budgets: ux.md section 3. Identity is typed and counted apart; what policy asks for is
never an answer. A field is *needed* where the note cannot stand without it; the rest is
*beside* it, answered or said absent before signing. Drug, pads and own rhythm are asked
before the wire paces: they count as needed.
"""

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import Browser
from tests.support.main_job import enrols
from tests.support.one_finger import (
    NOT_KNOWN,
    NOW,
    Count,
    Number,
    OneFinger,
    Words,
)
from webapp.clinical.case_remarks import case_remarks
from webapp.clinical.policy import load

READING, OUTPUT, TIME_OUT, CASE = 2, 2, 8, 120
# Everything answered, also what may wait for the signature: it may only become less.
WHOLE = 218

IDENTITY = {
    "patient.identity_known": "yes",
    "patient.family_name": Words("ALDERMERE"),
    "patient.given_name": Words("Test-Ines"),
    "patient.record_number": Words("00417220"),
    "patient.encounter_number": Words("E-88-0142"),
    "patient.birth_date": Words("3 Feb 1949"),
}
PATIENT = {
    "patient.sex": "female",
    "patient.weight": Number("64"),
    "patient.weight_how": "estimated",
    "patient.allergies": "none_known",
    "patient.on_blood_thinner": "no",
    "patient.laboratory": NOT_KNOWN,
    "patient.place_of_care": "emergency_room",
    "patient.people": {"person": Words("Test-Ines ALDERMERE"), "role": "operator"},
}
CAUTIONS = (
    "mechanical_tricuspid tricuspid_repair tricuspid_device left_bundle_block "
    "heart_transplant permanent_leads vena_cava_filter severe_hypothermia "
    "bleeding_tendency thrombolysis infected_skin digoxin_toxicity "
    "vegetation_or_shunt vein_blocked organophosphate refusal_before"
)
INDICATION = {
    "indication.main_rhythm": "complete_av_block",
    "indication.compromise": "hypotension",
    "indication.urgency": "emergency",
    "indication.pre_diagnosis": "complete_av_block",
    "indication.observations": {"heart_rate": Number("32")},
    "indication.drugs_given": {"drug": "atropine", "dose": Number("1", unit="mg")},
    "indication.skin_pacing": {"state": "ready_not_pacing"},
    "indication.pads": {"state": "connected_ready"},
    **{f"indication.caution_{name}": "no" for name in CAUTIONS.split()},
    "indication.own_rhythm": {"result": "none"},
}
EARLY = ("indication.drugs_given", "indication.pads", "indication.own_rhythm")
CONSENT = {
    "consent.basis": "emergency_exception",
    "consent.capacity": "lacks",
    "consent.lacks_why": Words("drowsy"),
    "consent.threat": Words("shock from complete block"),
    "consent.who_sought": Words("daughter, not reached"),
    "consent.sought_at": NOW,
    "consent.known_refusal": "no",
    "consent.second_clinician": Words("Test-Ole SKAGMERE"),
}
APPROACH = {
    "approach.wire_came": "new_here",
    "approach.chamber": "rv",
    "approach.site": "internal_jugular_right",
    "approach.guidance": "real_time_ultrasound",
    "approach.skin_prep": "chlorhexidine_alcohol",
    "approach.local_anaesthetic": {
        "agent": "lidocaine",
        "strength": Number("1"),
        "volume": Number("5"),
    },
    "approach.introducer_length": Number("11"),
    "approach.introducer_side_port": "yes",
    "approach.wire_kind": "balloon_tipped",
    "approach.wire_poles": Count("2"),
    "approach.wire_length": Number("110"),
    "approach.wire_balloon_ml": Number("1.5"),
    "approach.wire_spacing": Number("10"),
    "approach.wire_ring_code": "every_10_cm",
    "approach.wire_lot": NOT_KNOWN,
    "approach.wire_expiry": NOT_KNOWN,
    "approach.first_puncture": NOW,
    "approach.attempts": {"outcome": "vein_entered"},
    "approach.venous_proof": "wire_seen",
    "approach.venous_proof_at": NOW,
    "approach.dilator_at": NOW,
    "approach.guidewires_opened": Count("1"),
    "approach.guidewires_out": Count("1"),
}
FINISH = {
    "finish.outcome": "capturing_wire_in",
    "finish.balloon_at_end": "down",
    "finish.balloon_syringe": "off",
    "finish.dressing_on": NOW,
    "finish.paced_ecg": {"pattern": "left_bundle"},
    "finish.imaging": {"kind": "film", "state": "seen_by_me"},
    "finish.complications_line": {"none_seen": "yes"},
    "finish.blood_loss": "minimal",
    "finish.specimens": "no",
    "finish.implants": "no",
    "finish.findings": Words("Complete block, contact at 34 cm."),
    "finish.technique": Words("Floated, balloon up; down before testing."),
    "finish.post_diagnosis": "complete_av_block",
    "finish.brief_note_written": NOW,
}


@pytest.fixture
def touched(playwright_here, tmp_path):
    """A tablet's browser with a finger."""
    made = Browser(playwright_here, tmp_path / "profile", has_touch=True)
    yield made
    made.close()


@pytest.fixture
def finger(touched, live, db, cast):
    """A finger at an enrolled tablet that goes without network."""
    assert cast.signer
    enrols(touched, live, db).close()
    live.stop()
    return OneFinger(Bedside(touched, live.url))


def says_who(finger):
    """Say who enters, by the key with their name."""
    finger.touches(finger.page.locator("#case-strip [data-act=who]"))
    sheet = finger.page.get_by_role("dialog", name="Who is here")
    finger.touches(sheet.locator(".field").first.locator("[data-person]").first)
    finger.touches(sheet.locator("[data-act=who-done]"))
    expect(sheet).to_be_hidden()


def reads_aloud(finger, first, kind):
    """Answer a list line by line; return the taps its lines took, without its key."""
    page = finger.page
    finger.touches(page.locator(".part:visible [data-act=spoken]"), kind)
    before = sum(finger.taps.values())
    sheet = page.locator("#who-sheet")
    count = sheet.locator(".spoken-list > li").count()
    for place in range(1, count + 1):
        expect(sheet.locator(".sheet-of")).to_have_text(f"{place} of {count}")
        act = first if place == 1 else "yes"
        key = sheet.locator(f"[data-act=spoken-{act}]")
        # A hand takes longer than a tremble from line to line.
        finger.bedside.waits_for("performance.now() - (window.tapped ?? 0) > 400")
        finger.touches(key, kind)
        page.evaluate("window.tapped = performance.now()")
    return sum(finger.taps.values()) - before


def depth_reading(finger, cm, result):
    before = finger.total("needed")
    finger.acts(f"depth-{cm}", f"result-{result}")
    expect(finger.page.locator(".adv-depth [data-called]")).to_have_count(0)
    return finger.total("needed") - before


def output_reading(finger, result):
    before = finger.total("needed")
    confirm = finger.page.locator("#panel [data-act=dial-confirm]")
    finger.acts("dial-confirm", result)
    expect(confirm).to_have_attribute("aria-pressed", "false")
    return finger.total("needed") - before


def pad(finger, act, figures):
    finger.acts(act)
    for figure in figures:
        finger.touches(finger.page.locator(f"#panel [data-key='{figure}']"))
    finger.acts("pad-done")


def enters(finger, part, told):
    finger.goes_to(part)
    for path, value in told.items():
        finger.answers(path, value, "needed" if path in EARLY else "")


def patient(finger):
    finger.part = "Patient"
    for path, value in IDENTITY.items():
        finger.answers(path, value, "identity")
    for path, value in PATIENT.items():
        finger.answers(path, value)


def approach(finger):
    enters(finger, "Approach", APPROACH)
    for act in ("kit-introducer-6", "kit-wire-5"):
        key = finger.page.locator(f".part:visible [data-act='{act}']")
        finger.touches(key, "beside")
    return reads_aloud(finger, "yes", "beside")


def advance(finger):
    """Float the wire on the live screen: each depth stands on the lens."""
    finger.goes_to("Advance")
    finger.acts("guide-intracardiac_ecg")
    told = [depth_reading(finger, 15, "svc"), depth_reading(finger, 19, "high_ra")]
    finger.acts("balloon-up")
    for cm, result in ((23, "low_ra"), (27, "rv_free"), (31, "rv_free")):
        told.append(depth_reading(finger, cm, result))
    told.append(depth_reading(finger, 34, "rv_contact"))
    finger.acts("balloon-down")
    return told


def capture(finger):
    """Wiring, what is set, the margin shown, what is left, the pulse; on live keys."""
    finger.goes_to("Capture")
    lines = (
        "atrial_output_zero ventricular_port distal_to_negative proximal_to_positive"
    )
    finger.acts("wiring", *(f"{line}-yes" for line in lines.split()), "over-close")
    pad(finger, "read-output", "5")
    finger.acts("keep-read")
    told = [output_reading(finger, "captures"), output_reading(finger, "captures")]
    # Back at what it was left at before: that number stands on a key of its own.
    finger.acts("read-output", "seen-5.0")
    for act, figures in (("rate", "80"), ("sensitivity", "2")):
        pad(finger, f"read-{act}", figures)
    finger.acts("read-mode", "mode-vvi", "pulse", "sign-pleth")
    for figure in "80":
        finger.touches(finger.page.locator(f"#panel [data-key='{figure}']"))
    finger.acts("pad-done")
    finger.shows_fields()
    for name in ("electrical_capture", "pins_covered", "v_lead_off"):
        finger.answers(f"capture.{name}", "yes")
    return told


def place(finger):
    """The depth at the end, among the fields."""
    finger.goes_to("Advance")
    finger.answers("advance.final_depth", Number("34"))
    finger.answers("advance.final_read_how", "estimated")


def table(finger, rows):
    """Print what each part took, and the flows that have a budget of their own."""
    parts = dict.fromkeys(part for part, _ in finger.taps)
    kinds = ("needed", "beside", "identity")
    print(f"\n{'taps':12}" + "".join(f"{kind:>10}" for kind in kinds))
    for part in parts:
        print(f"{part:12}" + "".join(f"{finger.taps[part, k]:10}" for k in kinds))
    print(f"{'all':12}" + "".join(f"{finger.total(k):10}" for k in kinds))
    letters = {
        k: sum(n for (_, of), n in finger.letters.items() if of == k) for k in kinds
    }
    print(f"{'letters':12}" + "".join(f"{letters[kind]:10}" for kind in kinds))
    for name, taps, budget in rows:
        print(f"{name}: {taps}, at most {budget}")


def test_a_clean_emergency_case_by_one_finger_is_within_its_taps(finger, capsys):
    finger.touches(finger.page.get_by_role("button", name="Start now, no name"))
    says_who(finger)
    patient(finger)
    enters(finger, "Indication", INDICATION)
    enters(finger, "Consent", CONSENT)
    time_out = reads_aloud(finger, "by-birth_date", "needed")
    approach(finger)
    depths = advance(finger)
    outputs = capture(finger)
    place(finger)
    enters(finger, "Finish", FINISH)

    rows = [
        ("depth reading", max(depths), READING),
        ("output reading", max(outputs), OUTPUT),
        ("time-out", time_out, TIME_OUT),
        ("the case, what its note needs", finger.total("needed"), CASE),
        ("the case, everything", finger.total("needed", "beside"), WHOLE),
    ]
    with capsys.disabled():
        table(finger, rows)
    left = finger.page.locator(".part:visible .finish .open-list a").all_inner_texts()
    assert left == []
    weights = [one.remark.weight for one in found(finger.bedside)]
    assert weights.count("look_now") == 0
    assert weights.count("look_again") <= 2
    assert {name: taps for name, taps, budget in rows if taps > budget} == {}


def found(bedside):
    """What is remarked on the case, by the server's own rules."""
    return case_remarks(bedside.fold(), load())
