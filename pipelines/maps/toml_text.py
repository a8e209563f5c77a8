"""Values as TOML text. Anything that an editor might not show is written in escapes, so that what is read is seen."""

from __future__ import annotations

import re
from collections.abc import Sequence

_ESCAPES = {"\\": "\\\\", '"': '\\"', "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}
_WIDTH = 100
_BARE = re.compile(r"[A-Za-z0-9_-]+")


def toml_string(text: str) -> str:
    """The text in double quotes."""
    return '"' + "".join(_ESCAPES.get(sign) or _shown(sign) for sign in text) + '"'


def _shown(sign: str) -> str:
    """The sign itself where it is printed, else its number."""
    if sign.isprintable():
        return sign
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x10000 else f"\\U{ord(sign):08x}"


def toml_key(text: str) -> str:
    """The text as a key, in quotes where it needs them."""
    return text if _BARE.fullmatch(text) else toml_string(text)


def toml_strings(texts: Sequence[str]) -> str:
    """The texts as an array: on one line where they fit, else one a line."""
    written = [toml_string(text) for text in texts]
    if sum(map(len, written)) + 2 * len(written) <= _WIDTH:
        return f"[{', '.join(written)}]"
    return "[\n" + "".join(f"  {text},\n" for text in written) + "]"


def toml_comment(text: str) -> str:
    """The text as one line of comment, without signs that could end it."""
    return f"# {toml_string(text)[1:-1]}".replace('\\"', '"').rstrip()
