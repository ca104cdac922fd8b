"""Every kind of value goes in by the screen and lies in the log as it was given."""

import io
import zlib

import pytest
from playwright.sync_api import expect

HOSTILE = "<b>Ó'Brien & Søn</b>"
LONG = "x" * 2000


def picture() -> bytes:
    """The smallest PNG there is (PNG specification, third edition: IHDR, IDAT, IEND)."""
    out = io.BytesIO(b"")
    out.write(b"\x89PNG\r\n\x1a\n")
    pixel = zlib.compress(b"\x00\xff\x00\x00")
    for kind, body in (
        (b"IHDR", bytes((0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0))),
        (b"IDAT", pixel),
        (b"IEND", b""),
    ):
        check = zlib.crc32(kind + body)
        out.write(len(body).to_bytes(4, "big") + kind + body + check.to_bytes(4, "big"))
    return out.getvalue()


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_new()
    return bedside


def test_text_is_kept_on_leaving_the_field(case):
    case.types("Family name", "ALDERMERE")
    case.says("Family name", "kept")
    assert case.value("patient.family_name") == "ALDERMERE"


def test_text_is_kept_after_five_seconds_without_leaving(case):
    case.field("Given name").get_by_role("textbox", name="Given name").fill("Test-Ines")
    case.keeps("patient.given_name", "Test-Ines")
    focused = case.page.evaluate("document.activeElement.value")
    assert focused == "Test-Ines"


def test_enter_keeps_text_and_sends_no_form(case):
    box = case.field("Given name").get_by_role("textbox", name="Given name")
    box.fill("Test-Ines")
    box.press("Enter")
    case.keeps("patient.given_name", "Test-Ines")


def test_markup_stands_as_typed(case):
    case.types("Family name", HOSTILE)
    case.says("Family name", "kept")
    assert case.value("patient.family_name") == HOSTILE
    expect(case.page.locator("#case-strip .who-name")).to_have_text(HOSTILE)
    assert case.page.locator("#case-strip .who-name b").count() == 0


def test_two_thousand_letters_without_a_space_are_kept_whole(case):
    case.goes_to("Indication")
    case.types("Why now", LONG)
    case.says("Why now", "kept")
    assert case.value("indication.why_now") == LONG


def test_more_letters_than_a_name_takes_are_kept_and_said(case):
    case.types("Family name", "y" * 90)
    expect(case.field("Family name").locator(".field-problem")).to_contain_text(
        "kept whole"
    )
    assert case.value("patient.family_name") == "y" * 90


def test_yes_or_no_is_one_tap(case):
    case.picks("Identity known", "no")
    case.says("Identity known", "kept")
    assert case.value("patient.identity_known") == "no"


def test_a_wrong_tap_is_put_right_by_the_other_and_both_are_kept(case):
    case.picks("Identity known", "no")
    case.says("Identity known", "kept")
    case.picks("Identity known", "yes")
    case.keeps("patient.identity_known", "yes")
    metas = case.fold()["entries"].values()
    assert len([m for m in metas if m["path"] == "patient.identity_known"]) == 2


def test_a_choice_is_one_tap(case):
    case.picks("Sex for clinical use", "Female")
    case.says("Sex for clinical use", "kept")
    assert case.value("patient.sex") == "female"


def test_other_takes_words(case):
    case.goes_to("Indication")
    case.picks("Main rhythm", "Other (say)")
    case.field("Main rhythm").get_by_role(
        "textbox", name="Other (say): Main rhythm"
    ).fill("Agonal rhythm")
    case.leaves(case.field("Main rhythm"))
    case.keeps("indication.main_rhythm", {"other": "Agonal rhythm"})


def test_several_of_many_are_kept_in_the_order_of_the_list(case):
    case.goes_to("Indication")
    case.picks("Compromise", "Shock", "Hypotension")
    case.keeps("indication.compromise", ["hypotension", "shock"])


def test_the_last_of_many_taken_away_is_not_asked_never_empty(case):
    case.picks("Allergies", "Latex")
    case.says("Allergies", "kept")
    case.field("Allergies").get_by_label("Latex", exact=True).press("Space")
    case.keeps("patient.allergies", {"absent": "not_asked"})


def test_taps_in_quick_succession_are_one_answer(case):
    case.goes_to("Indication")
    box = case.field("Compromise")
    box.evaluate(
        """(root) => ["hypotension", "shock", "syncope"].forEach(
          (code) => root.querySelector(`input[value="${code}"]`).click())"""
    )
    case.keeps("indication.compromise", ["hypotension", "shock", "syncope"])


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("1,5", {"as": "1,5", "n": "1.5", "unit": "kg"}),
        ("70.0", {"as": "70.0", "n": "70", "unit": "kg"}),
        ("60-70", {"as": "60-70", "low": "60", "high": "70", "unit": "kg"}),
        (">90", {"as": ">90", "cmp": ">", "n": "90", "unit": "kg"}),
    ],
    ids=["comma", "trailing zero", "range", "comparator"],
)
def test_a_quantity_is_exact_and_keeps_how_it_was_typed(case, typed, kept):
    case.types("Weight", typed)
    case.says("Weight", "kept")
    assert case.value("patient.weight") == kept


def test_a_unit_is_never_taken_for_granted_where_there_are_several(case):
    case.types("Temperature", "98.8")
    case.says("Temperature", "kept")
    assert case.value("patient.temperature") == {"as": "98.8", "n": "98.8", "unit": ""}


def test_a_unit_is_chosen_beside_the_number(case):
    case.types("Temperature", "98.8", unit="°F")
    case.says("Temperature", "kept")
    assert case.value("patient.temperature")["unit"] == "[degF]"


def test_maximum_is_not_a_number(case):
    field = case.field("Weight")
    field.get_by_role("button", name="keypad: Weight").click()
    field.get_by_role("button", name="maximum").click()
    field.get_by_role("button", name="done").click()
    case.page.locator("#case-strip .who").click()
    case.keeps("patient.weight", {"as": "maximum", "special": "maximum", "unit": "kg"})


def test_an_impossible_value_is_kept_as_typed_and_marked(case):
    case.types("Height", "340")
    case.says("Height", "impossible")
    field = case.field("Height")
    expect(field).to_have_attribute("data-state", "impossible")
    expect(field.get_by_role("textbox", name="Height")).to_have_value("340")
    expect(field.get_by_role("textbox", name="Height")).to_have_attribute(
        "aria-invalid", "true"
    )
    expect(field.locator(".field-problem")).to_contain_text("275")
    assert case.value("patient.height")["n"] == "340"


def test_text_that_is_no_number_is_kept_as_typed_and_marked(case):
    case.types("Height", "tall")
    case.says("Height", "impossible")
    assert case.value("patient.height") == {"as": "tall", "unit": "cm"}


def test_a_date_is_day_first(case):
    case.types("Date of birth", "3.2.54")
    case.says("Date of birth", "kept")
    assert case.value("patient.birth_date") == {"as": "3.2.54", "date": "1954-02-03"}


def test_a_day_that_no_calendar_has_is_kept_and_marked(case):
    case.types("Date of birth", "31.2.54")
    case.says("Date of birth", "impossible")
    assert case.value("patient.birth_date") == {"as": "31.2.54"}


def test_a_person_is_a_name_a_role_and_a_credential(case):
    case.goes_to("Approach")
    field = case.field("Scanned by")
    field.get_by_label("name: Scanned by").fill("E. Tarn-Example")
    field.locator(".person-role").fill("operator")
    field.locator(".person-credential").fill("MD")
    case.leaves(field)
    case.says("Scanned by", "kept")
    assert case.value("approach.scanned_by") == {
        "person": None,
        "name": "E. Tarn-Example",
        "role": "operator",
        "credential": "MD",
    }


def test_a_photo_is_kept_before_its_name_and_shown(case):
    case.goes_to("Approach")
    case.picks("Guidance", "Real-time ultrasound")
    case.picks("Image stored", "yes")
    case.photographs("Photo of the image", "vein.png", picture())
    expect(case.field("Photo of the image").get_by_role("img")).to_be_visible()
    kept = case.value("approach.image_photo")
    assert kept["type"] == "image/png"
    assert kept["size"] == len(picture())


SLOW_CAMERA = """() => {
  const decode = window.createImageBitmap;
  window.createImageBitmap = async (file) => {
    await new Promise((resolve) => (window.developed = resolve));
    window.createImageBitmap = decode;
    return decode(file);
  };
}"""


def test_a_photo_that_takes_long_stays_with_the_case_it_was_taken_in(case):
    first = case.record
    case.goes_to("Approach")
    case.picks("Guidance", "Real-time ultrasound")
    case.picks("Image stored", "yes")
    case.page.evaluate(SLOW_CAMERA)
    case.photographs("Photo of the image", "vein.png", picture())
    case.page.evaluate("location.hash = '#/'")
    case.waits_for("Boolean(window.developed)")
    case.page.evaluate("developed()")
    case.starts_new()
    assert "approach.image_photo" not in case.fold()["values"]
    case.page.evaluate(f"location.hash = '#/case/{first}/approach'")
    expect(case.field("Photo of the image").get_by_role("img")).to_be_visible()
    assert case.value("approach.image_photo")["size"] == len(picture())


def test_a_file_that_is_no_picture_is_refused_in_words(case):
    case.goes_to("Approach")
    case.picks("Guidance", "Real-time ultrasound")
    case.picks("Image stored", "yes")
    case.photographs("Photo of the image", "vein.png", b"no picture")
    said = case.field("Photo of the image").locator(".photo-said")
    expect(said).to_have_text("vein.png is not a picture. Choose a photo.")
    assert case.value("approach.image_photo") == []


def test_a_signature_is_kept_as_strokes(case):
    case.goes_to("Consent")
    case.picks("Consent", "By the patient")
    case.draws("Signature", (20, 60), (80, 20), (140, 90))
    case.leaves(case.field("Signature"))
    case.says("Signature", "kept")
    kept = case.value("consent.signature")
    assert (kept["width"], kept["height"]) == (600, 200)
    (stroke,) = kept["strokes"]
    assert len(stroke) >= 3
    assert all(isinstance(n, int) for point in stroke for n in point)


def test_a_signature_cleared_is_not_asked(case):
    case.goes_to("Consent")
    case.picks("Consent", "By the patient")
    case.draws("Signature", (20, 60), (80, 20))
    case.leaves(case.field("Signature"))
    case.says("Signature", "kept")
    case.field("Signature").get_by_role("button", name="Clear").click()
    case.keeps("consent.signature", {"absent": "not_asked"})


def test_a_second_tap_at_once_is_a_trembling_hand(case):
    case.field("Allergies").get_by_label("Latex", exact=True).dblclick(delay=20)
    case.keeps("patient.allergies", ["latex"])
