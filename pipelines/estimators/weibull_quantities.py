"""Moved to quantities."""
from longmile.pipelines.estimators.quantities import *  # noqa: F403
