"""One module per table built, named as the table. No Prefect, no files."""
