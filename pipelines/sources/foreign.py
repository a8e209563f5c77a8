"""Calls into third-party readers, whose failures on a damaged file become one UnreadableFileError."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager

from longmile.pipelines.errors import LongmileError
from longmile.pipelines.sources.shape import unreadable


@contextmanager
def damaged_if_it_fails(known_as: str, kind: str) -> Iterator[None]:
    """Turn whatever a third-party reader raises into "damaged or cut short"; our own errors pass.

    A panic of a reader written in Rust derives from BaseException, so it is known by its name; interruptions
    of the run are not caught. Warnings of the reader about the file it reads are ignored: its values are
    checked here.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    except LongmileError:
        raise
    except MemoryError:
        raise
    except Exception as error:
        raise _damaged(known_as, kind, error) from error
    except BaseException as error:
        if type(error).__name__ != "PanicException":
            raise
        raise _damaged(known_as, kind, error) from error


def _damaged(known_as: str, kind: str, error: BaseException) -> LongmileError:
    """The error, with the first line of what the reader said."""
    said = (str(error).splitlines() or [""])[0][:200] or type(error).__name__
    return unreadable(
        known_as,
        f"the {kind} is damaged or cut short ({said})",
        f"a complete {kind}",
        "Export or copy the file again",
    )
