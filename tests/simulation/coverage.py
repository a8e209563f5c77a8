"""Prints the coverage tables as Markdown; not a test. `python tests/simulation/coverage.py --help`

Numbers of shops whose 95 % limits hold the truth, of those with status `ok`, in hundredths. Half an hour on 2 cores
(10, 10 and 8 minutes a table); `--only small`, `--table 2` or `--shops 100` for less.
"""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from functools import partial

from coverage_cases import broken_assumptions, right_ages, wrong_ages
from coverage_methods import AGE_METHODS, METHODS
from shop_coverage import DETAIL_HEADER, Row, band, detail_line, header, line, measure

TABLES = {
    "Every age right": (right_ages, METHODS),
    "Parts replaced before first sight": (wrong_ages, AGE_METHODS),
    "Its assumptions broken": (broken_assumptions, AGE_METHODS),
}


def case_rows(title: str, n_shops: int, seed: int, name: str) -> list[Row]:
    designs, methods = TABLES[title]
    number = list(designs()).index(name)
    return measure(name, designs()[name], n_shops, seed + 10 * number, methods)


def say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--only", default="", help="cases whose name holds this text")
    asked.add_argument("--table", choices=[str(number) for number in range(1, len(TABLES) + 1)], help="one table alone")
    asked.add_argument("--shops", type=int, default=400)
    asked.add_argument("--seed", type=int, default=20_001)
    asked.add_argument("--detail", action="store_true", help="a row a method, with bias, width, statuses")
    asked.add_argument("--processes", type=int, default=2)
    given = asked.parse_args()
    say(
        f"{given.shops} shops a case. A true 95 is seen as 95 +- {100 * band(given.shops):.1f} (binomial). \\* outside "
        "93 to 97 (widened by the binomial band where fewer shops are `ok`). In brackets the median error of the "
        "estimate in hundredths, where above 2; `of` the number of shops with status `ok`, where not all.\n"
    )
    with ProcessPoolExecutor(given.processes) as pool:
        for number, (title, (designs, methods)) in enumerate(TABLES.items(), 1):
            if given.table not in (None, str(number)):
                continue
            names = [name for name in designs() if given.only in name]
            say(f"### {title}\n\n{DETAIL_HEADER if given.detail else header(methods)}")
            for rows in pool.map(partial(case_rows, title, given.shops, given.seed), names):
                shown = [detail_line(row) for row in rows] if given.detail else [line(rows, methods, given.shops)]
                say("\n".join(shown))
            say("")


if __name__ == "__main__":
    main()
