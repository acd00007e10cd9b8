"""Changes of finished text that must find what they change: a theme of a newer edition stops the build instead of
losing a part of every page without a word.
"""


class Unfound(RuntimeError):
    """What was to be changed is not there, or is there more often than it should be."""


def replaced(text: str, old: str, new: str, where: object) -> str:
    """The text with its one `old` as `new`; where: what is named when there is none, or more than one."""
    if text.count(old) != 1:
        raise Unfound(f"{where}: “{old[:80]}” stands {text.count(old)} times, not once")
    return text.replace(old, new)
