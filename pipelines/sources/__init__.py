"""Files to raw text rows: one module per file shape. No cleaning, no database."""
