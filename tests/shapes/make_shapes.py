"""Write every shape's files and truth: `python tests/shapes/make_shapes.py [FOLDER]`; the same each time."""

from __future__ import annotations

import importlib
import json
import sys
from pathlib import Path

HERE = Path(__file__).parent
MAKING = HERE / "making"


def main(folder: Path) -> None:
    """Write all shapes below `folder`, which gets `known`, `held_out` and `fresh`."""
    sys.path.insert(0, str(MAKING))
    truth = importlib.import_module("truth")
    for kind in ("known", "held_out", "fresh"):
        for module in sorted(MAKING.glob(f"{kind}_*.py")):
            made = importlib.import_module(module.stem).make()
            target = folder / kind / module.stem.removeprefix(f"{kind}_")
            target.mkdir(parents=True, exist_ok=True)
            for name, content in made.files.items():
                (target / name).write_bytes(content)
            parts = [truth.part_truth(part) for part in made.parts]
            personal = truth.personal_values(made.parts)
            stated = {"title": made.title, "personal_values": personal, "parts": parts}
            (target / "truth.json").write_text(as_text(stated) + "\n", encoding="utf-8")


def as_text(stated: object, depth: int = 0) -> str:
    """JSON in which what fits on a line stands on one, so that a change of one row is a change of one line."""
    flat = json.dumps(stated, ensure_ascii=False)
    is_words = isinstance(stated, list) and all(isinstance(one, str) for one in stated)
    if (depth and (len(flat) < 110 or depth >= 5 or is_words)) or not isinstance(stated, dict | list) or not stated:
        return flat
    pad, end = " " * (depth + 1), " " * depth
    if isinstance(stated, dict):
        inner = [f"{pad}{json.dumps(k, ensure_ascii=False)}: {as_text(v, depth + 1)}" for k, v in stated.items()]
        return "{\n" + ",\n".join(inner) + f"\n{end}}}"
    return "[\n" + ",\n".join(pad + as_text(v, depth + 1) for v in stated) + f"\n{end}]"


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
