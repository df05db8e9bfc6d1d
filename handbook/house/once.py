"""An answer is a pure function of the house, so each question is worked out once a house."""

from collections.abc import Callable, Hashable
from functools import wraps
from typing import Any, Protocol, TypeVar, cast


class Keeps(Protocol):
    """Something that keeps its answers: the house."""

    @property
    def kept(self) -> dict[Hashable, Any]:
        """Answers by question."""


Ask = TypeVar("Ask", bound=Callable[..., Any])


def once(ask: Ask) -> Ask:
    """Keep what `ask(house, ...)` returns, by its other arguments, which must be hashable.

    For answers that are frozen: whoever asks again gets the same object.
    """

    @wraps(ask)
    def asked(house: Keeps, *args: Hashable, **named: Hashable) -> Any:
        question = (ask, args, tuple(sorted(named.items())))
        if question not in house.kept:
            house.kept[question] = ask(house, *args, **named)
        return house.kept[question]

    return cast(Ask, asked)
