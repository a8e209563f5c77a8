"""Arrays of lives in, frozen results out. Numpy and SciPy only: no frames, files, clock or logging."""
