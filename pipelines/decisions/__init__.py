"""Estimates in, rows with their reasons out. Pure."""
