"""Great Expectations, imported in one place: quietly, without telemetry, and only when a rule is to be run.

Importing it takes seconds, so nothing on the path of `longmile --help` may import this module at its top.
"""

from __future__ import annotations

import logging
import os
import warnings
from typing import Any

# Read by the library when it is imported; a workshop's machine reports to nobody.
os.environ["GX_ANALYTICS_ENABLED"] = "false"

# What goes wrong in a check is raised as an exception; without a handler Python would print it a second time.
logging.getLogger("great_expectations").addHandler(logging.NullHandler())

with warnings.catch_warnings():
    # The library reads regular expressions through two modules of the standard library that Python 3.11
    # deprecates (`sre_parse`, `sre_constants`). Only that message, and only while importing, is passed over.
    warnings.filterwarnings("ignore", r"module 'sre_\w+' is deprecated", DeprecationWarning)
    import great_expectations
    from great_expectations.core.expectation_suite import ExpectationSuite
    from great_expectations.data_context.types.base import (
        DataContextConfig,
        InMemoryStoreBackendDefaults,
        ProgressBarsConfig,
    )
    from great_expectations.expectations.core.expect_column_value_lengths_to_be_between import (
        ExpectColumnValueLengthsToBeBetween,
    )
    from great_expectations.expectations.core.expect_column_values_to_be_between import (
        ExpectColumnValuesToBeBetween,
    )
    from great_expectations.expectations.core.expect_column_values_to_be_in_set import (
        ExpectColumnValuesToBeInSet,
    )
    from great_expectations.expectations.core.expect_column_values_to_not_be_null import (
        ExpectColumnValuesToNotBeNull,
    )
    from great_expectations.expectations.core.expect_table_row_count_to_equal import (
        ExpectTableRowCountToEqual,
    )
    from great_expectations.expectations.core.unexpected_rows_expectation import (
        UnexpectedRowsExpectation,
    )

__all__ = [
    "ExpectColumnValueLengthsToBeBetween",
    "ExpectColumnValuesToBeBetween",
    "ExpectColumnValuesToBeInSet",
    "ExpectColumnValuesToNotBeNull",
    "ExpectTableRowCountToEqual",
    "ExpectationSuite",
    "UnexpectedRowsExpectation",
    "new_context",
]


def new_context() -> Any:
    """A context that lives in memory: no file, no docs site, no telemetry, no progress bar."""
    config = DataContextConfig(
        store_backend_defaults=InMemoryStoreBackendDefaults(init_temp_docs_sites=False),
        analytics_enabled=False,
        progress_bars=ProgressBarsConfig(globally=False),
    )
    return great_expectations.get_context(mode="ephemeral", project_config=config)
