"""Stands in for the standard library's asyncio, which Pyodide imports at its start: nothing in this worker ever
waits.
"""
