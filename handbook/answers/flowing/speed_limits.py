"""How fast water should run in a pipe at its peak demand, and who says so.

Hot water wears copper sooner, and the hotter the sooner: what a heater feeds has a limit of its
own there, by what the heater is set to. Where that is not recorded the limit lies between two, and
it says what it hangs on. Other metal, brass and steel, has one limit for cold and hot.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from handbook.house.house import House
from handbook.house.hydraulics import Stretch
from handbook.house.water import fed_through
from handbook.measures import Temperature, Units, Velocity, say_temperature, say_velocity
from handbook.record.grammar.common import each
from handbook.record.grammar.water import Equipment
from handbook.tables import table

PLASTIC = ("PEX", "CPVC", "PE", "PVC")
COPPER = ("copper K", "copper L", "copper M")
MIXER = "mixing valve"


@dataclass(frozen=True)
class SpeedLimit:
    """The limit in ft/s; it lies between two where it hangs on `needs`, which is not recorded.

    `mixed_by` are the mixing valves behind which water is taken to be no hotter than the bound.
    """

    least: float
    most: float
    needs: str = ""
    mixed_by: tuple[str, ...] = ()

    @property
    def ft_s(self) -> float | None:
        """The limit as one figure; None where it hangs on what is not recorded."""
        return self.most if self.least == self.most else None

    def exceeded(self, speed: float | None) -> bool | None:
        """Whether water runs faster than it should; None where that cannot be told."""
        if speed is None:
            return None
        if speed > self.most:
            return True
        return False if speed <= self.least else None


def speed_limit(house: House, stretch: Stretch) -> SpeedLimit | None:
    """Return how fast water should run in this pipe; None where its material is not recorded."""
    hot = stretch.hot and stretch.run and stretch.run.material in COPPER
    return _in_hot_copper(house, stretch) if hot else cold_limit(stretch)


def cold_limit(stretch: Stretch) -> SpeedLimit | None:
    """Return how fast cold water should run in this pipe, whatever it carries."""
    material = stretch.run.material if stretch.run else None
    if material is None:
        return None
    if material in PLASTIC:
        return _one(table("velocity_limits_plastic").values["plastic"])
    return _one(table("velocity_limits").values["metal"])


def _one(ft_s: float) -> SpeedLimit:
    return SpeedLimit(ft_s, ft_s)


def _in_hot_copper(house: House, stretch: Stretch) -> SpeedLimit:
    """Return the limit by the setting of the heaters that feed this pipe, the hottest of them."""
    limits = table("velocity_limits").values["hot_copper"]
    through = fed_through(house.water, frozenset({stretch.end}))
    heaters = [heater for heater in each(house.record.heaters) if heater.id in through]
    hot = [h.setting.fahrenheit > limits["up_to_f"] for h in heaters if h.setting is not None]
    unset = [heater.id for heater in heaters if heater.setting is None]
    slow, fast = max(limits["over"]), limits["up_to"]
    if mixers := _mixers(house, through):
        return SpeedLimit(fast, fast, mixed_by=mixers if any(hot) or unset else ())
    if any(hot):
        return _one(slow)
    if unset:
        return SpeedLimit(slow, fast, f"the setting of {', '.join(unset)} (`setting`)")
    return _one(fast)


def _mixers(house: House, through: Iterable[str]) -> tuple[str, ...]:
    entries = (house.items[name].entry for name in through if name in house.items)
    return tuple(e.id for e in entries if isinstance(e, Equipment) and e.kind == MIXER)


def limits_said(units: Units) -> str:
    """Return the limits in words, each with who sets it."""
    metal, plastic = table("velocity_limits").values, table("velocity_limits_plastic").values
    hot, whose = metal["hot_copper"], metal["whose"]
    bound = hot_bound(units)
    low, high = (_said(ft_s, units) for ft_s in hot["over"])
    return (
        f"{_said(metal['metal'], units)} in metal pipe ({whose['metal']}), but in hot copper "
        f"{_said(hot['up_to'], units)} up to {bound} ({whose['hot_copper_up_to']}) and {low} to "
        f"{high} above it ({whose['hot_copper_over']}), {_said(plastic['plastic'], units)} in "
        f"plastic pipe ({plastic['whose']})"
    )


def hot_bound(units: Units) -> str:
    """Return, in words, the temperature above which hot copper has a lower limit."""
    bound: float = table("velocity_limits").values["hot_copper"]["up_to_f"]
    return say_temperature(Temperature(bound), units)


def _said(ft_s: float, units: Units) -> str:
    return say_velocity(Velocity(ft_s), units)
