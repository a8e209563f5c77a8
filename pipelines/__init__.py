"""How the tables are made: from export files to estimates, one stage at a time."""
