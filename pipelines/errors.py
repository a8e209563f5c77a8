"""The exceptions of longmile. A bad row and a thin answer are not exceptions; only a broken promise is."""

from __future__ import annotations


class LongmileError(Exception):
    """Any promise broken: the message says what, where, how many, what was expected and what to do.

    `exit_code` is what the command line ends with (the list is in the README).
    """

    exit_code = 1


class WorkspaceError(LongmileError):
    """The folder is not a workspace, or it cannot be used as one."""

    exit_code = 3


class SettingsError(LongmileError):
    """`longmile.toml` holds something that cannot be used; names the key and what it may be."""

    exit_code = 3


class MapError(LongmileError):
    """A source map states something that cannot be; names the file, the key and what it may be."""

    exit_code = 3


class UnreadableFileError(LongmileError):
    """A file cannot be read at all and is set aside whole; the run goes on."""

    exit_code = 4


class StoreBusyError(LongmileError):
    """Another process is writing to the store."""

    exit_code = 5


class ReconciliationError(LongmileError):
    """Rows landed do not equal rows kept, quarantined and repeated."""

    exit_code = 6


class CheckStoppedError(LongmileError):
    """A table rule of severity `stop` is broken."""

    exit_code = 7


class LivesError(LongmileError):
    """Lives that cannot be: unequal lengths, exit not after entry, negative miles."""

    exit_code = 8
