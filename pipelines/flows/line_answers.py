"""What people answer about the text of a line: components with position, action and reason, or none of the vocabulary.

As typed: `water_pump`, `front_brake_pads lf,rf replaced worn`, several separated by a semicolon, or `none`. The first
word is a component's code, or its name in full; words that are an action or a reason are taken as such, the rest is the
position.
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

from longmile.pipelines.errors import LongmileError
from longmile.schemas.vocabulary import ACTIONS, BY_CODE, COMPONENTS, REASONS

NONE = "none"
_BY_NAME = {component.name.lower(): component.code for component in COMPONENTS}
_SPELLINGS = {**_BY_NAME, **{code: code for code in BY_CODE}}


def line_answer(text: str) -> dict[str, Any]:
    """The answer kept for a line: {"mentions": [{component, position, action, reason}, ...]}, empty for `none`.

    Raises LongmileError naming the word that is no component, with the nearest, or a line that names none.
    """
    words = " ".join(text.split())
    if words.lower() == NONE:
        return {"mentions": []}
    mentions = [_mention(part.strip()) for part in words.split(";") if part.strip()]
    if not mentions:
        raise LongmileError(f"decision: {text!r} names no component. Expected component codes, or `{NONE}`.")
    return {"mentions": mentions}


def line_words(answer: Mapping[str, Any]) -> str:
    """The answer as it would be typed."""
    keys = ("component", "position", "action", "reason")
    told = [" ".join(one[key] for key in keys if one.get(key)) for one in answer["mentions"]]
    return "; ".join(told) or NONE


def _mention(part: str) -> dict[str, str | None]:
    code, rest = _component(part)
    words = rest.split()
    action = next((word for word in words if word.lower() in ACTIONS), None)
    reason = next((word for word in words if word.lower() in REASONS), None)
    position = " ".join(word for word in words if word not in (action, reason)).lower()
    return {
        "component": code,
        "position": position or None,
        "action": action.lower() if action else None,
        "reason": reason.lower() if reason else None,
    }


def _component(part: str) -> tuple[str, str]:
    """The component at the start of the words, longest spelling first, and what follows it."""
    words = part.split()
    for n in range(len(words), 0, -1):
        code = _SPELLINGS.get(" ".join(words[:n]).lower())
        if code:
            return code, " ".join(words[n:])
    near = get_close_matches(words[0].lower(), _SPELLINGS, n=3, cutoff=0.0)
    raise LongmileError(
        f"decision: {part!r} does not begin with a component. Expected one of the {len(BY_CODE)} codes; nearest are "
        f"{', '.join(_SPELLINGS[name] for name in near)}."
    )
