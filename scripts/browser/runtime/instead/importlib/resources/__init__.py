"""Stands in for the reading of data files beside modules, which importlib.abc names and nothing here does."""
