"""The contract's rules, run by Great Expectations and listed row by row. Defines no rule of its own."""
