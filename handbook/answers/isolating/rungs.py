"""A rung of the ladder for people: valves in words, what else runs dry, what the heater needs."""

from dataclasses import dataclass
from typing import Literal

from handbook.answers.isolating import ladder
from handbook.answers.isolating.handling import handling
from handbook.answers.isolating.nearness import nearness
from handbook.answers.isolating.words import said_lost
from handbook.answers.serves import all_dry, heaters_without_water
from handbook.house.house import House
from handbook.house.water import LEVER
from handbook.record.grammar.common import Handle, given
from handbook.tables import table


@dataclass(frozen=True)
class Turn:
    """One valve to work in a step."""

    id: str
    name: str
    do: str
    """How it is turned, in words; from its kind, or as the record says."""
    limit: str | None
    tool: str | None
    where: str | None
    utility: bool


@dataclass(frozen=True)
class Rung:
    """One step of the ladder. `also_off` are supply ids (`hall-lav.hot`)."""

    close: tuple[str, ...]
    open: tuple[str, ...]
    also_off: tuple[str, ...]
    also_off_said: tuple[str, ...]
    turns: tuple[Turn, ...]
    heater: tuple[str, ...]
    """What to do with each heater whose supply this step stops."""
    utility: bool
    """Whether a valve of the utility's is among them."""
    handy: bool
    """Whether nothing runs dry but what stands in the room of the thing itself."""

    @property
    def tools(self) -> tuple[str, ...]:
        """What is needed beside a hand."""
        return tuple(dict.fromkeys(turn.tool for turn in self.turns if turn.tool))


@dataclass(frozen=True)
class Leak:
    """What has to be dry: `targets`, nodes of the water network.

    `thing` is what was asked about, `stands` the thing or room before which one stands; `own` are
    supplies not counted as lost, `failed` valves that may not serve.
    """

    thing: str
    stands: str | None
    targets: frozenset[str]
    own: frozenset[str] = frozenset()
    failed: frozenset[str] = frozenset()


def climb(house: House, leak: Leak) -> tuple[Rung, ...]:
    """Return every rung for a leak; none where no water reaches it, or nothing helps."""
    near = nearness(house, leak.stands)
    failed, rungs = leak.failed, []
    for step in ladder.steps(house.water.network, leak.targets, leak.own, failed, near):
        heaters = _dry_heaters(house, leak.targets, step, failed)
        rungs.append(_rung(house, step, leak.own, heaters, _handy(house, leak.thing, step)))
        failed = failed.union(step.close, step.open)
    return tuple(rungs)


def _handy(house: House, thing: str, step: ladder.Step) -> bool:
    """Whether all that a step shuts off stands where the thing does; a thing's own supplies count
    as there."""
    item = house.items.get(thing)
    if item is None:
        return False
    lost = {owner for owner, own in house.water.own.items() if set(own) & set(step.lost)}
    return all(_room(house, owner) == _room(house, thing) for owner in lost - {item.owner})


def _room(house: House, thing: str) -> str | None:
    """The room of a thing, or its level where it stands in none."""
    place = house.items[thing].place
    return (place.room if place else None) or house.places.level_id(place)


def _rung(
    house: House, step: ladder.Step, own: frozenset[str], heaters: tuple[str, ...], handy: bool
) -> Rung:
    opened = tuple(valve for valve in step.open if not valve.endswith(LEVER))
    turns = tuple(turned(house, valve, "close") for valve in step.close)
    turns += tuple(turned(house, valve, "open") for valve in opened)
    dry = all_dry(house, heaters)
    return Rung(
        step.close,
        opened,
        step.lost,
        said_lost(house, frozenset(step.lost) | own, own, heaters_dry=dry, closed=step.close),
        turns,
        heaters,
        any(turn.utility for turn in turns),
        handy,
    )


def turned(house: House, valve: str, way: Literal["close", "open"]) -> Turn:
    """Return a valve with how it is turned and where it is."""
    item = house.items[valve]
    handle = item.entry
    assert isinstance(handle, Handle)
    manner = table("valves").values.get(handle.kind or "", {})
    return Turn(
        valve,
        item.name,
        handling(handle, way) or f"{way} it (how it turns is not recorded)",
        manner.get("limit"),
        given(handle.tool),
        house.places.say(item.place),
        bool(getattr(handle, "utility", False)),
    )


def _dry_heaters(
    house: House, targets: frozenset[str], step: ladder.Step, failed: frozenset[str]
) -> tuple[str, ...]:
    """Say what each heater needs that gets no water once this step is done."""
    network = house.water.network
    barred = network.standing(targets, failed).barred(step.close, step.open)
    return heaters_without_water(house, network.nodes - network.downstream(network.sources, barred))
