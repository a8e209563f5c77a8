"""What the tables are. Standard library only: no input or output, no frames, no database."""
