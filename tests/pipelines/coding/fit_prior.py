"""Writes pipelines/coding/prior_curve.py: confidence of the vocabulary's readings before a shop's own lines are known.

Run from the root of the repository: `python tests/pipelines/coding/fit_prior.py`. Fitted to the labelled lines that are
not held out; the threshold is where 97 of 100 of them are right, by curves fitted without the line itself.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
from written_lines import written

from longmile.pipelines.coding.calibration import fitted, folds, threshold_for
from longmile.pipelines.coding.mentions import read_line
from longmile.pipelines.coding.signs import reading_signs
from longmile.pipelines.coding.training import N_FOLDS, TARGET

PATH = Path(__file__).parents[3] / "pipelines" / "coding" / "prior_curve.py"
TEXT = '''"""Confidence of the vocabulary's readings before a shop's own lines are known; from {n:,} invented lines.

Written by tests/pipelines/coding/fit_prior.py from the lines of tests/pipelines/coding/lines that are not held out, on
which the rules of this package were worked out too.
It is therefore too sure of lines that are new (tests/pipelines/coding/RESULTS.md says by how much). Once a shop has
lines of its own, the curve is fitted to those.
"""

from __future__ import annotations

import numpy as np

from longmile.pipelines.coding.calibration import Curve

PRIOR_THRESHOLD = {threshold:.4f}
"""Confidence from which on 97 of 100 of the invented lines were right."""

_SIGNS = {signs}
"""Name of a sign, with its middle, its spread and its weight."""

_NUMBERS = np.array([[float(number) for number in numbers] for _, *numbers in _SIGNS])

PRIOR_CURVE = Curve(
    names=tuple(str(name) for name, *_ in _SIGNS),
    middle=_NUMBERS[:, 0],
    spread=_NUMBERS[:, 1],
    weights=_NUMBERS[:, 2],
    base={base:.5f},
)
'''


def main() -> None:
    """Fit the curve and write the module."""
    lines = written(is_held_out=False)
    readings = [read_line(one.line.kind, one.line.texts) for one in lines]
    names = (*sorted(readings[0].signs), "is_open", "is_nothing")
    signs = reading_signs(names, readings, None, ())
    right = np.array(
        [{m.component_code for m in r.mentions} == one.components for one, r in zip(lines, readings, strict=True)]
    )
    fold = folds([one.line_id for one in lines], N_FOLDS)
    sure = np.zeros(len(lines))
    for i in range(N_FOLDS):
        curve = fitted(names, signs[fold != i], right[fold != i])
        sure[fold == i] = curve.confidence(signs[fold == i])
    curve = fitted(names, signs, right)
    rows = [
        (name, round(float(m), 5), round(float(s), 5), round(float(w), 5))
        for name, m, s, w in zip(names, curve.middle, curve.spread, curve.weights, strict=True)
    ]
    told = "(\n" + "".join(f"    {json.dumps(list(row)).replace('[', '(').replace(']', ')')},\n" for row in rows) + ")"
    threshold = threshold_for(sure, right, TARGET)
    PATH.write_text(TEXT.format(n=len(lines), threshold=threshold, signs=told, base=curve.base), encoding="utf-8")


if __name__ == "__main__":
    main()
