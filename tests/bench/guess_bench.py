"""What it costs to guess what opens a locked tablet, measured where this runs.

python -m tests.bench.guess_bench [--guesses 8] [--many 1000]

A guesser who has copied the browser's files tries passphrases against a wrap, off the
tablet, as fast as the machine derives keys: OpenSSL's PBKDF2, one guess a core at a
time. A PIN is in no file; its rows say what it would be worth there, which is why it is
not. `--many`: so many such machines at once. Asserts nothing.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import time
from concurrent.futures import ProcessPoolExecutor

from tests.support import node

ROUNDS = 600_000
MINUTE_S, HOUR_S, DAY_S, YEAR_S = 60, 3600, 86_400, 31_557_600


def main() -> None:
    """Read the command line, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--guesses", type=int, default=8)
    parser.add_argument("--many", type=int, default=1000)
    asked = parser.parse_args()
    cores = os.cpu_count() or 1
    alone = _seconds(asked.guesses)
    begun = time.perf_counter()
    with ProcessPoolExecutor(cores) as pool:
        list(pool.map(_seconds, [asked.guesses] * cores))
    rate = asked.guesses * cores / (time.perf_counter() - begun)
    print(f"one guess ({ROUNDS:,} rounds): {alone * 1000:.0f} ms on one core")
    print(f"all {cores} cores: {rate:.1f} guesses a second\n")
    print(f"| what is guessed | of | here, on average | {asked.many:,} such machines |")
    print("| --- | --- | --- | --- |")
    for name, count in _secrets().items():
        mean_s = count / 2 / rate
        print(
            f"| {name} | {count:.2e} | {_told(mean_s)} | {_told(mean_s / asked.many)} |"
        )


def _secrets() -> dict[str, float]:
    [told] = node.call("./wraps.mjs", "drawn", [[0]])
    words = float(told["count"])
    return {
        "4 digits (in no file)": 1e4,
        "6 digits (in no file)": 1e6,
        "8 digits (in no file)": 1e8,
        "2 drawn words": words**2,
        "3 drawn words": words**3,
        "4 drawn words": words**4,
        "5 drawn words": words**5,
    }


def _seconds(guesses: int) -> float:
    """Return what one guess took, in seconds."""
    begun = time.perf_counter()
    for n in range(guesses):
        hashlib.pbkdf2_hmac("sha256", b"%d" % n, b"0123456789abcdef", ROUNDS)
    return (time.perf_counter() - begun) / guesses


def _told(seconds: float) -> str:
    for unit, size in (
        ("years", YEAR_S),
        ("days", DAY_S),
        ("hours", HOUR_S),
        ("minutes", MINUTE_S),
    ):
        if seconds >= size:
            return f"{seconds / size:,.1f} {unit}"
    return f"{seconds:.1f} seconds"


if __name__ == "__main__":
    main()
