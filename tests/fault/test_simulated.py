"""A thousand simulated schedules: cuts at every point, deaths, older copies put back.

One process, the real application, the real database file, seals and framing; time,
disk and network are simulated, nothing sleeps. A schedule that fails prints the command
that runs it again, and the steps that are enough to fail.
"""

import pytest

from tests.support.simulated_network import Fault
from tests.support.simulated_steps import Step, draw, shrunk, told
from tests.support.simulated_world import problems_of

SCHEDULES = 1000
A_TEST = 25


def pytest_generate_tests(metafunc):
    """Share the seeds out, so that every worker has some; one seed when it is asked."""
    if "seeds" in metafunc.fixturenames:
        only = metafunc.config.getoption("--seed")
        firsts = range(0, SCHEDULES, A_TEST) if only is None else [only]
        shares = [range(n, n + (A_TEST if only is None else 1)) for n in firsts]
        metafunc.parametrize("seeds", shares, ids=[f"from {s.start}" for s in shares])


def test_nothing_kept_is_lost_doubled_or_altered(simulated_site, seeds):
    for seed in seeds:
        found = problems_of(simulated_site, seed)
        if found:
            pytest.fail(_story(simulated_site, seed, found))


def test_a_seed_gives_the_same_schedule_and_the_same_end_each_time(simulated_site):
    assert draw(7) == draw(7)
    assert draw(7) != draw(8)
    assert problems_of(simulated_site, 7) == problems_of(simulated_site, 7)


def test_a_schedule_is_told_as_it_can_be_read_back():
    steps = draw(11)
    lines = told(11, steps).split("steps:\n")[1]
    read = eval(f"[{lines}]", {"Step": Step, "Fault": Fault})  # noqa: S307
    assert read == steps


def _story(site, seed, found):
    steps = shrunk(draw(seed), lambda fewer: bool(problems_of(site, seed, fewer)))
    left = "\n".join(problems_of(site, seed, steps))
    return "\n".join([*found, told(seed, steps), "which leave:", left])
