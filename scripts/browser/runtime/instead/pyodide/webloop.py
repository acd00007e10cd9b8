"""Stands in for Pyodide's event loop: nothing in this worker ever waits."""


def _initialize_event_loop():
    pass
