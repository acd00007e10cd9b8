"""What stayed the same since the last time: a long table that changes in one row is not read anew.

What is worked out row by row is kept with its rows. Of the next table the rows at its start and at its end that are the
same keep what they had, and only what lies between is worked out.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple, TypeVar

T = TypeVar("T")


class Same(NamedTuple):
    """Where two sequences are the same: items before `start` of both, and those from `gone` of the one and from `stop`
    of the other to the end.
    """

    start: int
    gone: int
    stop: int

    def spliced(self, old: Sequence[T], new: Sequence[T]) -> list[T]:
        """What was kept for the items that are the same, with `new` for those between."""
        return [*old[: self.start], *new, *old[self.gone :]]

    def moved(self, old: Mapping[int, T], new: Mapping[int, T]) -> dict[int, T]:
        """The same for what is kept of a few places only; places of `new` count from `start`."""
        kept = {at: one for at, one in old.items() if at < self.start}
        kept |= {at + self.start: one for at, one in new.items()}
        return kept | {at + self.stop - self.gone: one for at, one in old.items() if at >= self.gone}


def nothing_same(old: Sequence[Any], new: Sequence[Any]) -> Same:
    """As for two sequences that share no item."""
    return Same(0, len(old), len(new))


def same_ends(old: Sequence[Any], new: Sequence[Any]) -> Same:
    """Where two lists, or two texts, are the same at their ends; items that are one object are not looked into.

    >>> same_ends("abcdef", "abXYef"), same_ends([1, 2], [1, 2, 3])
    (Same(start=2, gone=4, stop=4), Same(start=2, gone=2, stop=3))
    """
    most, further = min(len(old), len(new)), len(new) - len(old)
    start = _furthest(most, lambda low, high: bool(old[low:high] == new[low:high]))
    last = len(old)
    end = _furthest(
        most - start,
        lambda low, high: bool(old[last - high : last - low] == new[last - high + further : last - low + further]),
    )
    return Same(start, last - end, len(new) - end)


def same_in_all(pairs: Sequence[tuple[Sequence[Any], Sequence[Any]]]) -> Same:
    """Where (old, new) lists that stand beside each other are the same in all of them."""
    found = [same_ends(old, new) for old, new in pairs]
    old, new = pairs[0]
    end = min(len(new) - one.stop for one in found)
    return Same(min(one.start for one in found), len(old) - end, len(new) - end)


def _furthest(most: int, same: Callable[[int, int], bool]) -> int:
    """How far two sequences are the same from one end on, at most so far: by halving. same: whether they are so between
    two places.
    """
    if same(0, most):
        return most
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        if same(low, middle):
            low = middle
        else:
            high = middle
    return low
