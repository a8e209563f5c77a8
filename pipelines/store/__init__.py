"""The only code that opens DuckDB. No business rule."""
