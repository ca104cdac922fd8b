"""Generated inputs for what is computed: ordinary ones, and ones no case would hold."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.support.clinical_calls import Input

DIALS: tuple[Any, ...] = (
    None,
    [{"from": "0.1", "to": "20", "step": "0.1"}],
    [{"from": "0.2", "to": "20", "step": "0.2"}],
    [{"from": "1", "to": "20", "step": "0.5"}],
    [
        {"from": "0.1", "to": "1", "step": "0.1"},
        {"from": "1", "to": "5", "step": "0.5"},
        {"from": "5", "to": "20", "step": "1"},
    ],
    [{"from": "0.05", "to": "10", "step": "0.05"}],
    [{"from": "5", "to": "1", "step": "0.1"}],
    "0.1 to 20",
)
POLICIES: tuple[dict[str, str] | None, ...] = (
    None,
    {"threshold_margin_target": "3", "threshold_margin_floor": "2.5"},
    {"output_minimum_ma": "0.1", "margin_high_multiple": "3.5"},
    {
        "test_coarse_ratio": "3/5",
        "test_fine_step_ma": "0.3",
        "margin_shown_factor": "3",
    },
)
_ODD = ("abc", "", "-1", "1e3", ".8", "1,5", "0", "999999999999999", "2/3", "1.", "+2")


class Generated:
    """A source of inputs, the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)

    def output(self) -> str:
        """Return an output, mostly on a dial, sometimes between, rarely odd."""
        roll = self.chance.random()
        if roll < 0.03:
            return self.chance.choice(_ODD)
        if roll < 0.15:
            return f"{self.chance.randint(0, 2500) / 100:.2f}"
        return f"{self.chance.randint(0, 60) / 10:.1f}"

    def reading(self) -> dict[str, Any]:
        """Return one output with its result."""
        pick = self.chance.choice
        results = ("captures", "captures", "captures", "no_capture", "cannot_tell")
        told: dict[str, Any] = {"output": self.output(), "result": pick(results)}
        if self.chance.random() < 0.3:
            told |= {
                "rate": pick(("60", "70", "80.5", None)),
                "own_rate": pick(("55", "60", None)),
            }
        if self.chance.random() < 0.05:
            told["pads_pacing"] = True
        return told

    def around(self) -> Input:
        """Return what any of the functions may be given."""
        pick = self.chance.choice
        return {
            "dial": pick(DIALS),
            "policy": pick(POLICIES),
            "is_adult": pick((True, True, False)),
            "is_dependent": pick((True, False)),
        }

    def test(self) -> Input:
        """Return one threshold test."""
        readings = [self.reading() for _ in range(self.chance.randint(0, 12))]
        pick = self.chance.choice
        return {
            **self.around(),
            "readings": readings,
            "is_ordered": pick((True, False)),
            "unit": pick(("mA", "mA", "V")),
        }

    def calls(self, count: int) -> list[tuple[str, Input]]:
        """Return `count` calls of different functions."""
        return [self._call(n) for n in range(count)]

    def _call(self, n: int) -> tuple[str, Input]:
        pick, output = self.chance.choice, self.output
        kind = n % 10
        if kind < 3:
            return "threshold_test", self.test()
        if kind < 5:
            return "next_output", {**self.test(), "set": pick((output(), None))}
        if kind < 7:
            asks = {"threshold": pick((output(), None)), "unit": pick(("mA", "V"))}
            return "policy_asks", {**self.around(), **asks}
        if kind < 9:
            return "margin", self._margin()
        return self._small()

    def _margin(self) -> Input:
        pick, output = self.chance.choice, self.output
        setting = {
            "output": pick((output(), output(), None)),
            "unit": pick(("mA", "V")),
            "is_final": pick((True, False)),
            "at_handover": pick((True, False)),
        }
        bases = {
            "threshold": pick((output(), output(), None)),
            "at_most": pick((output(), None)),
        }
        return {**self.around(), "setting": setting, **bases}

    def _small(self) -> tuple[str, Input]:
        pick, output = self.chance.choice, self.output
        return pick(
            (
                ("dial", {"value": output(), "dial": pick(DIALS)}),
                ("shown", {"value": output(), "step": pick(("0.1", "1", "0.05", "x"))}),
                ("truncated", {"value": output(), "step": pick(("0.1", "1", "0.01"))}),
                ("elapsed", {"seconds": self.chance.randint(-10, 400_000)}),
                ("age", {"seconds": self.chance.randint(-10, 400_000)}),
                ("segments", {"text": self._table()}),
                ("dependence", {"own": self._own(), "is_adult": pick((True, False))}),
                (
                    "age_class",
                    {
                        "years": pick((output(), None)),
                        "weight_kg": output(),
                        "by_look": pick(("", "child", "adult")),
                    },
                ),
            )
        )

    def _table(self) -> str:
        output = self.output
        joined = self.chance.choice((", ", ";", "\n", " ", ",", " and "))
        word = self.chance.choice((" to ", "-", " – ", "..."))
        return joined.join(
            f"{output()}{word}{output()} by {output()} mA"
            for _ in range(self.chance.randint(0, 3))
        )

    def _own(self) -> dict[str, Any]:
        pick = self.chance.choice
        return {
            "result": pick(("rhythm", "rhythm", "none", "not_tested", None)),
            "rate_per_min": pick(("29", "29.9", "30", "38", None, "x")),
            "is_tolerated": pick((True, True, False, None)),
            "is_called_reliable": pick((True, None)),
        }

    def told(self) -> Input:
        """Return a record told in entries, with what belongs to it in any disorder."""
        return {
            "told": [self._entry(n) for n in range(self.chance.randint(3, 30))],
            "policy": self.chance.choice(POLICIES),
            "now": self.chance.choice(("10:40", "+1 10:20", "+3 00:00")),
        }

    def _entry(self, n: int) -> dict[str, Any]:
        pick, under = (
            self.chance.choice,
            f"wires/{self.chance.choice(('w1', 'w1', 'w1', 'w2'))}",
        )
        part = pick(("capture", "capture", "checks"))
        amount = {"as": self.output(), "unit": pick(("mA", "mA", "mA", "V", ""))}
        number = pick(("n", "n", "n", "none", "special", "low"))
        if number == "n":
            amount["n"] = amount["as"]
        elif number == "special":
            amount["special"] = pick(("maximum", "low"))
        elif number == "low":
            amount |= {"low": "1", "high": "2"}
        name = pick(("output", "output", "output", "output_v"))
        test = pick(("t0", "t1", "t1", "t2", "gone", None))
        rows: tuple[dict[str, Any], ...] = (
            {
                "path": f"{under}/{part}.output_reading",
                "add": {
                    "of": test,
                    name: amount,
                    "result": pick(
                        ("captures", "captures", "no_capture", "cannot_tell", None)
                    ),
                },
            },
            {
                "path": f"{under}/{part}.output_reading",
                "add": {
                    "of": test,
                    "output": f"{self.chance.randint(1, 50) / 10} mA",
                    "result": pick(("captures", "no_capture")),
                },
            },
            {
                "path": f"{under}/{part}.output_reading",
                "add": {
                    "of": test,
                    "output": f"{self.chance.randint(1, 50) / 10} mA",
                    "result": "captures",
                    "rate": "70 /min",
                },
            },
            {
                "path": f"{under}/{part}.threshold_test",
                "add": {
                    "set_output": pick((amount, "5 mA")),
                    "kind": "full",
                    "rate": pick(("80 /min", amount)),
                },
                "id": f"t{n % 3}-{n}" if n % 5 else f"t{n % 3}",
            },
            {
                "path": f"{under}/{part}.dial_left_at",
                "add": {
                    name: amount,
                    "when_kind": pick(("first", "final", {"absent": "not_known"})),
                },
            },
            {
                "path": f"{under}/{part}.dial_left_at",
                "add": {"output": "3.0 mA", "when_kind": "final"},
            },
            {
                "path": f"{under}/advance.depth_reading",
                "add": {
                    "depth": f"{self.chance.randint(30, 36)} cm",
                    "read_at": pick(("sheath_hub", "skin")),
                    "read_how": pick(("ruler", "on_ring", "estimated")),
                    "balloon": pick(("up", "down", "not_known")),
                },
            },
            {
                "path": f"{under}/capture.changed",
                "add": {"what": pick(("cable", "battery", {"other": "x"}))},
            },
            {
                "path": f"{under}/capture.generator",
                "add": {
                    "output_dial": self._table() or "0.1 to 20 by 0.1",
                    "output_kind": pick(("current", "voltage")),
                },
            },
            {
                "path": "indication.own_rhythm",
                "add": {
                    "result": pick(("rhythm", "none", None)),
                    "rate": pick(("38 /min", "62 /min", amount)),
                    "tolerated": pick(("yes", "no")),
                },
            },
            {
                "path": "indication.pads",
                "add": {"state": pick(("pacing_now", "connected_ready", "none"))},
            },
            {
                "path": "indication.skin_pacing",
                "id": f"s{n}",
                "add": {
                    "state": pick(("paced", "not_used")),
                    "start": pick(("10:05", {"absent": "not_known"})),
                    **pick(({}, {"stop": "10:12"})),
                },
            },
            {
                "path": "indication.skin_pacing_stop",
                "add": {
                    "of": f"s{self.chance.randint(0, 30)}",
                    "moment": pick(("10:07", "10:20")),
                },
            },
            {"path": "patient.weight", "set": pick(("39 kg", "70 kg", "900 kg"))},
            {"path": "patient.estimated_age", "set": pick(("17 a", "64 a", "3 d"))},
            {
                "path": f"{under}/{part}.output_reading",
                "strike": f"e{self.chance.randint(0, max(0, n - 1))}",
            },
        )
        weights = (6, 10, 4, 5, 2, 3, 2, 1, 1, 2, 1, 1, 1, 1, 1, 1)
        told = dict(self.chance.choices(rows, weights)[0])
        if "/checks." in told["path"] and told["path"].endswith("balloon"):
            return {"path": "wires", "add": {}}
        return {**told, "log": pick(("tablet-1", "tablet-1", "tablet-1", "tablet-2"))}
