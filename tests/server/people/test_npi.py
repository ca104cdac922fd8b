"""The NPI's check digit, against the published example and another Luhn."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import luhn

from webapp.people.npi import ISSUER_PREFIX, is_npi


def test_the_worked_example_of_the_rule_is_right():
    # CMS, "Requirements for NPI and NPI Check Digit": 123456789 takes the digit 3.
    assert [d for d in range(10) if is_npi(f"123456789{d}")] == [3]


@given(st.text("0123456789", min_size=10, max_size=10))
def test_it_agrees_with_the_luhn_of_python_stdnum(digits):
    assert is_npi(digits) == luhn.is_valid(ISSUER_PREFIX + digits)


@given(st.integers(1_000_000_000, 2_999_999_999), st.integers(0, 9), st.integers(1, 9))
def test_one_wrong_digit_is_always_found(number, place, change):
    right = str(number)[:9] + luhn.calc_check_digit(ISSUER_PREFIX + str(number)[:9])
    wrong = right[:place] + str((int(right[place]) + change) % 10) + right[place + 1 :]
    assert is_npi(right)
    assert not is_npi(wrong)


@pytest.mark.parametrize(
    "text",
    ["", "123456789", "12345678933", "12345678 3", "１２３４５６７８９３", "abc"],
)
def test_what_is_not_ten_ascii_digits_is_no_npi(text):
    assert not is_npi(text)
