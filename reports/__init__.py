"""What is said: facts, sentences, charts and pages from result frames. Reads no table."""
