"""Slowing down guesses, with a clock of the test's own."""

from webapp.people import throttle
from webapp.people.throttle import ACCOUNT_FACTOR, ADDRESS_FACTOR, Limits

LIMITS = Limits(5, 15)
WARD, CAR_PARK = "192.0.2.1", "192.0.2.2"


def fail(db, login, address, times, now=0.0):
    for _ in range(times):
        throttle.count_failure(db, login, address, LIMITS, now)


def waits(db, login, address, now=0.0):
    return throttle.must_wait(db, login, address, LIMITS, now)


def test_the_fifth_failure_of_a_pair_is_the_last_for_the_window(db):
    fail(db, "test-ines", WARD, 4)
    assert not waits(db, "test-ines", WARD)
    fail(db, "test-ines", WARD, 1)
    assert waits(db, "test-ines", WARD)
    assert waits(db, "test-ines", WARD, 15 * 60 - 1)
    assert not waits(db, "test-ines", WARD, 15 * 60 + 1)


def test_a_guesser_elsewhere_does_not_shut_a_person_out_at_once(db):
    fail(db, "test-ines", CAR_PARK, 5)
    assert waits(db, "test-ines", CAR_PARK)
    assert not waits(db, "test-ines", WARD)


def test_one_account_guessed_from_many_addresses_is_slowed(db):
    for number in range(5 * ACCOUNT_FACTOR):
        fail(db, "test-ines", f"198.51.100.{number}", 1)
    assert waits(db, "test-ines", "203.0.113.9")
    assert not waits(db, "test-oda", "203.0.113.9")


def test_one_address_guessing_many_accounts_is_slowed(db):
    for number in range(5 * ADDRESS_FACTOR):
        fail(db, f"person-{number}", CAR_PARK, 1)
    assert waits(db, "test-ines", CAR_PARK)
    assert not waits(db, "test-ines", WARD)


def test_success_begins_the_count_anew_for_that_pair_only(db):
    fail(db, "test-ines", WARD, 5)
    fail(db, "test-oda", WARD, 5)
    throttle.forget(db, "test-ines", WARD)
    assert not waits(db, "test-ines", WARD)
    assert waits(db, "test-oda", WARD)


def test_failures_too_old_to_matter_are_forgotten(db):
    fail(db, "test-ines", WARD, 5)
    fail(db, "test-oda", WARD, 1, now=3600.0)
    rows = db.conn.execute("SELECT login FROM sign_in_failure").fetchall()
    assert [row[0] for row in rows] == ["test-oda"]
