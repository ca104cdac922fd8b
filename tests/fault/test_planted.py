"""The harness can fail: each bug planted here is one that it must find."""

from contextlib import contextmanager
from dataclasses import replace
from unittest.mock import patch

import pytest

from tests.support import simulated_tablet
from tests.support.simulated_disk import Disk
from tests.support.simulated_network import Fault
from tests.support.simulated_steps import Step, draw, shrunk, told
from tests.support.simulated_tablet import SimulatedTablet
from tests.support.simulated_world import World, problems_of
from webapp.record import log, receive, witness
from webapp.record.entry import uuid7

WITHIN = 60
append = log.append
exchanges = SimulatedTablet.exchanges
takes_in = SimulatedTablet._takes_in
pulled = SimulatedTablet._pulled


def forgets_one(db, batch, at=None):
    """A server that answers for a whole batch and keeps it but for the last."""
    new = list(batch)
    kept = append(db, new[:-1] if len(new) > 1 else new, at)
    after = [kept[-1].position + 1 for _ in new[len(kept) :]]
    return kept + [kept[-1]._replace(position=position) for position in after]


def keeps_twice(db, batch, at=None):
    """A server that takes the first of some batches for two entries."""
    new = list(batch)
    kept = append(db, new, at)
    if len(new) > 1:
        header = new[0].header._replace(id=uuid7(), log=uuid7())
        append(db, [new[0]._replace(header=header)], at)
    return kept


def alters(db, batch, at=None):
    """A server that writes a body anew instead of keeping its bytes."""
    new = [one._replace(body=one.body.replace(b'":', b'": ')) for one in batch]
    return append(db, new, at)


@contextmanager
def commits_each(db):
    """A server that commits statement by statement."""
    yield db


def holds_what_it_sends(tablet):
    """A tablet that counts what it sends as held before it is answered."""
    tips = tablet.disk.tips
    request = SimulatedTablet._request

    def sends(self, sent):
        raw = request(self, sent)
        self.disk = replace(self.disk, held=tips, sure=tips)
        return raw

    with patch.object(SimulatedTablet, "_request", sends):
        return exchanges(tablet)


def marks_before_it_keeps(tablet, shares):
    """A tablet that notes how far it pulled and keeps none of the first share."""
    return pulled(tablet, shares[1:])


def believes_the_number(disk, log):
    """A tablet that takes the server's number for an answer on these very rows."""
    return disk.held.get(log, 0)


def never_refiles(tablet):
    """A tablet that leaves entries in places that others took."""
    return False


PLANTED = {
    "forgets one": (receive.log, "append", forgets_one, "is not there"),
    "keeps twice": (receive.log, "append", keeps_twice, "no tablet wrote this"),
    "alters": (receive.log, "append", alters, "not what was written"),
    "never says it went back": (witness, "is_known", lambda *_: True, "went_back"),
    "commits each statement": (receive, "writing", commits_each, ""),
    "holds what it sends": (
        SimulatedTablet,
        "exchanges",
        holds_what_it_sends,
        "",
    ),
    "marks before it keeps": (
        SimulatedTablet,
        "_pulled",
        marks_before_it_keeps,
        "shows",
    ),
    "never refiles": (SimulatedTablet, "_refiles", never_refiles, "unsent"),
}


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_bug_is_found(simulated_site, name):
    where, what, bug, words = PLANTED[name]
    with patch.object(where, what, bug):
        _, problems = first_found(simulated_site)
    assert any(words in problem for problem in problems), problems


@pytest.mark.parametrize("believes", [False, True], ids=["sound", "planted"])
def test_a_tablet_that_believes_a_number_alone_is_found(simulated_site, believes):
    writes = [Step("write", what="name"), Step("write", what="event")]
    damaged = Step("sync", fault=Fault("garbled", at=90))
    known = believes_the_number if believes else Disk._known
    with World(simulated_site, 0).running() as world:
        world.runs([*writes, damaged])
        # The first entry is sent again by itself; both are then said to be held.
        with (
            patch.object(simulated_tablet, "BATCH", 1),
            patch.object(Disk, "_known", known),
        ):
            problems = world.heals()
    assert any("not what was written" in one for one in problems) == believes, problems


def test_a_schedule_that_fails_is_shrunk_and_fails_still(simulated_site):
    where, what, bug, _ = PLANTED["alters"]
    with patch.object(where, what, bug):
        seed, _ = first_found(simulated_site)
        steps = shrunk(draw(seed), lambda few: fails(simulated_site, seed, few))
        assert fails(simulated_site, seed, steps)
    assert len(steps) <= 3
    assert f"--seed {seed}" in told(seed, steps)
    assert not fails(simulated_site, seed, steps)


def fails(site, seed, steps):
    return problems_of(site, seed, steps) != []


def first_found(site):
    for seed in range(WITHIN):
        problems = problems_of(site, seed)
        if problems:
            return seed, problems
    raise AssertionError(f"{WITHIN} schedules did not find it")
