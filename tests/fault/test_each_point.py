"""One busy exchange, ended at each of its points in turn: nothing is lost."""

import pytest

from tests.support.simulated_network import Fault
from tests.support.simulated_steps import Step
from tests.support.simulated_world import World

# Two tablets in one record, the desk as well, a copy put back, much to send and to get.
BEFORE = [
    Step("write", tablet=0, what="event"),
    Step("write", tablet=0, what="illegal"),
    Step("sync", tablet=0),
    Step("desk"),
    Step("copies"),
    Step("write", tablet=1, what="name"),
    Step("write", tablet=1, n=1, what="wire"),
    Step("sync", tablet=1),
    Step("write", tablet=0, what="strike"),
    Step("write", tablet=0, what="name"),
    Step("write", tablet=0, n=1, what="wire"),
]
PUT_BACK = [*BEFORE, Step("restores"), Step("desk")]


def exchange(fault=None, **dies):
    return Step("sync", tablet=0, fault=fault, **dies)


def ended(site, before, last):
    """Run it; return the world's server and what is wrong in the end."""
    with World(site, 0).running() as world:
        world.runs([*before, last])
        return world.server, world.heals()


@pytest.mark.parametrize("before", [BEFORE, PUT_BACK], ids=["onward", "put back"])
@pytest.mark.parametrize("after", [False, True], ids=["before it runs", "once it ran"])
def test_a_server_that_dies_at_any_statement_loses_nothing(
    simulated_site, before, after
):
    at, is_over = 0, False
    while not is_over:
        fault = Fault("server_dies", at=at, after=after, rows=1)
        server, problems = ended(simulated_site, before, exchange(fault))
        assert problems == [], f"statement {at}"
        is_over = server.deaths == 0
        at += 1
    # One exchange runs about thirty statements; each was a point to die at.
    assert at > 25


@pytest.mark.parametrize("before", [BEFORE, PUT_BACK], ids=["onward", "put back"])
@pytest.mark.parametrize("after", [False, True], ids=["before it", "behind it"])
@pytest.mark.parametrize("commits", range(6))
def test_a_tablet_that_dies_at_any_commit_loses_nothing(
    simulated_site, before, after, commits
):
    last = exchange(commits=commits, after=after)
    assert ended(simulated_site, before, last)[1] == []


@pytest.mark.parametrize("before", [BEFORE, PUT_BACK], ids=["onward", "put back"])
@pytest.mark.parametrize("at", range(0, 100, 4))
def test_a_request_cut_anywhere_changes_nothing(simulated_site, before, at):
    fault = Fault("cut_request", at=at)
    assert ended(simulated_site, before, exchange(fault))[1] == []


@pytest.mark.parametrize("at", range(0, 44, 2))
def test_another_tablet_answered_in_the_middle_of_a_request_loses_nothing(
    simulated_site, at
):
    fault = Fault("meanwhile", at=at, other=1)
    assert ended(simulated_site, BEFORE, exchange(fault))[1] == []
