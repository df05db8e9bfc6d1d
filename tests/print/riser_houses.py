"""Random houses to draw riser diagrams of: trees of pipe, headers, heaters, softeners, returns,
drains with cleanouts and vents, much of it with holes; every fifth one in metres, every third one
mirrored."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

from handbook.house.house import House, build
from handbook.record.grammar.record import Record

Data = dict[str, Any]

FIXTURES = (
    *("water closet", "lavatory", "lavatory", "shower", "bathtub", "tub and shower", "bidet"),
    *(
        "kitchen sink",
        "dishwasher",
        "ice maker",
        "laundry box",
        "laundry tub",
        "hose bibb",
        "other",
    ),
)
COLD_ONLY = ("water closet", "ice maker", "hose bibb")
KINDS = ("ball", "gate", "globe", "butterfly", "angle stop", "straight stop", "push-pull stop")
LEAST_KNOWN, BEST_KNOWN = 0.4, 1.0
WIDE = 480


def random_house(seed: int) -> House:
    """A house of one to three levels with up to six fixtures."""
    return build(Record.model_validate(_Maker(seed).data()), Path())


class _Maker:
    """`known` is how much of what a record may leave out this one holds."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.seed = seed
        self.known = self.chance.uniform(LEAST_KNOWN, BEST_KNOWN)
        self.levels = [f"level{n}" for n in range(self.chance.randrange(1, 4))]
        self.metric = seed % 5 == 0
        self.mirrored = seed % 3 == 0
        self.count = 0

    def data(self) -> Data:
        water, fixtures, heaters = self._water()
        return {
            "format": "1",
            "house": {"name": f"House {self.seed}", "units": "metric" if self.metric else "US"},
            "levels": [self._level(n) for n in range(len(self.levels))],
            "water": water,
            "fixtures": fixtures,
            "heaters": heaters,
            "drains": self._drains(fixtures),
        }

    # --- small facts ---------------------------------------------------------------------------

    def _maybe(self, data: Data) -> Data:
        """The data with some of it left out."""
        return {k: v for k, v in data.items() if self.chance.random() < self.known}

    def _size(self) -> str:
        return self.chance.choice(("15 mm", "22 mm", "28 mm") if self.metric else _SIZES)

    def _run(self) -> Data:
        material = self.chance.choice(("PEX", "copper L"))
        return self._maybe({"length": "9 ft", "size": self._size(), "material": material})

    def _place(self, level: str) -> Data:
        across, up = self.chance.uniform(0, WIDE), self.chance.uniform(0, 360)
        across = WIDE - across if self.mirrored else across
        at = [f"{across:.1f} in", f"{up:.1f} in"]
        return self._maybe({"level": level, "at": at, "height": f"{self.chance.randrange(90)} in"})

    def _id(self, letter: str) -> str:
        self.count += 1
        return f"{letter}{self.count}"

    def _stop(self) -> Any:
        if self.chance.random() < 0.25:
            return "none"
        return {"id": self._id("W"), "kind": self.chance.choice(KINDS)}

    def _level(self, number: int) -> Data:
        return {
            "id": self.levels[number],
            "name": f"Level {number}",
            "rooms": [{"id": f"bath{number}", "name": f"Bath {number}"}],
        } | self._maybe({"elevation": f"{10 * number} ft", "ceiling": "9 ft"})

    # --- water -----------------------------------------------------------------------------------

    def _water(self) -> tuple[Data, list[Data], list[Data]]:
        chance, low = self.chance, self.levels[0]
        water: Data = {"valves": [], "tees": [], "equipment": [], "manifolds": [], "softeners": []}
        if chance.random() < 0.7:
            source = {"id": "SRC", "kind": "public main", "place": self._place("outside")}
            water["sources"] = [source]
        last = "SRC" if "sources" in water else "street"
        main = {"id": "MAIN", "main": "yes", "kind": "ball", "from": last, "by": self._run()}
        water["valves"].append(main | {"place": self._place(low)})
        last = "MAIN"
        for kind in ("pressure-reducing valve", "backflow preventer", "filter", "check valve"):
            if chance.random() < 0.4:
                thing = {"id": self._id("E"), "kind": kind, "from": last, "by": self._run()}
                water["equipment"].append(thing | {"place": self._place(low)})
                last = thing["id"]
        if chance.random() < 0.4:
            last = self._softener(water, last)
        colds, hots, heaters = [last], [], []
        if chance.random() < 0.9:
            heaters = [self._heater(last)]
            hots = ["WH"]
        for side, ends in (("cold", colds), ("hot", hots)):
            self._spread(water, side, ends)
        fixtures = [self._fixture(colds, hots) for _ in range(chance.randrange(2, 7))]
        if hots and chance.random() < 0.3:
            water["recirculation"] = {"id": "PUMP", "from": hots[-1], "by": self._run()} | {
                "to": "WH",
                "check": {"id": "CHK"},
                "place": self._place(low),
            }
        return water, fixtures, heaters

    def _softener(self, water: Data, last: str) -> str:
        valves = [{"id": self._id("W"), "kind": "ball"} for _ in range(4)]
        bypass = self.chance.choice(
            (
                {"inlet": valves[0], "outlet": valves[1], "across": valves[2] | _CLOSED},
                {"lever": valves[3]},
                "none",
            )
        )
        softener = {"id": "SOFT", "from": last, "by": self._run(), "bypass": bypass}
        water["softeners"].append(softener | {"place": self._place(self.levels[0])})
        return "SOFT"

    def _heater(self, last: str) -> Data:
        heater = {
            "id": "WH",
            "kind": "storage",
            "place": self._place(self.levels[0]),
            "cold": {"from": last, "by": self._run(), "stop": self._stop()},
        }
        if self.chance.random() < 0.5:
            heater["expansion_tank"] = {"id": "TANK"}
        return heater

    def _spread(self, water: Data, side: str, ends: list[str]) -> None:
        """Add tees, zone valves and now and then a header behind what there is on a side."""
        if not ends:
            return
        for _ in range(self.chance.randrange(1, 5)):
            level = self.chance.choice(self.levels)
            fed = {"from": self.chance.choice(ends), "by": self._run()}
            fed["place"] = self._place(level)
            kind = self.chance.random()
            if kind < 0.15:
                thing = {"id": self._id("M"), "carries": side} | fed
                water["manifolds"].append(thing)
            elif kind < 0.35:
                thing = {"id": self._id("W"), "kind": self.chance.choice(KINDS)} | fed
                water["valves"].append(thing)
            else:
                thing = {"id": self._id("T")} | fed
                water["tees"].append(thing)
            ends.append(thing["id"])

    def _fixture(self, colds: list[str], hots: list[str]) -> Data:
        kind = self.chance.choice(FIXTURES)
        level = self.chance.randrange(len(self.levels))
        name = f"f{len(self.levels)}{self._id('x')}"
        place = self._place(self.levels[level])
        if self.chance.random() < 0.5:
            place["level"], place["room"] = self.levels[level], f"bath{level}"
        fixture = {"id": name, "name": "Fixture", "kind": kind, "place": place}
        if kind != "dishwasher" or not hots:
            fixture["cold"] = self._connection(colds)
        if hots and kind not in COLD_ONLY:
            fixture["hot"] = self._connection(hots)
        return fixture

    def _connection(self, ends: list[str]) -> Data:
        connection = {"by": self._run(), "stop": self._stop()}
        if self.chance.random() < 0.6 + 0.4 * self.known:
            connection["from"] = self.chance.choice(ends)
        return connection

    # --- drains ----------------------------------------------------------------------------------

    def _drains(self, fixtures: list[Data]) -> Data:
        chance = self.chance
        drains: Data = {"stretches": [], "cleanouts": [], "vents": [], "equipment": []}
        if chance.random() < 0.8:
            drains["discharge"] = {"id": "SEWER", "kind": "public sewer"}
        last = "SEWER" if "discharge" in drains else None
        names: list[str] = []
        floors: dict[str, int] = {}
        for number in range(chance.randrange(1, 7)):
            to = chance.choice(names) if names else last
            lowest = floors.get(to or "", 0)
            floor = lowest if number < 2 else chance.randrange(lowest, len(self.levels))
            level, floors[f"D{number}"] = self.levels[floor], floor
            kind = "building drain" if number < 2 else chance.choice(("branch", "stack"))
            stretch = {"id": f"D{number}", "kind": kind, "place": self._place(level)}
            stretch["by"] = self._maybe({"length": "12 ft", "size": "3 in", "material": "PVC"})
            if to:
                stretch["to"] = to
            if chance.random() < self.known / 2:
                stretch["invert"] = f"{10 * self.levels.index(level) - 1} ft"
            drains["stretches"].append(stretch)
            names.append(stretch["id"])
        for fixture in fixtures:
            if chance.random() < 0.8 and fixture["kind"] not in ("hose bibb", "ice maker"):
                drain = {"to": chance.choice(names), "by": self._maybe({"size": "2 in"})}
                fixture["drain"] = drain | self._maybe({"trap": "1-1/2 in"})
        for number in range(chance.randrange(0, 5)):
            drains["cleanouts"].append(self._cleanout(number, names))
        for number in range(chance.randrange(0, 4)):
            drains["vents"].append(self._vent(number, names))
        if chance.random() < 0.3:
            drains["equipment"] = [{"id": "BWV", "kind": "backwater valve", "on": names[0]}]
        return drains

    def _cleanout(self, number: int, names: list[str]) -> Data:
        kind = self.chance.choice(("wall", "floor", "two-way", "end of line", "stack base"))
        facing = self.chance.choice(("downstream", "upstream", "both ways"))
        more = {"kind": kind, "facing": facing, "size": "3 in", "along": "4 ft"}
        place = self._place(self.chance.choice(self.levels))
        on = self.chance.choice(names)
        return {"id": f"C{number}", "on": on, "place": place} | self._maybe(more)

    def _vent(self, number: int, names: list[str]) -> Data:
        serves = self.chance.sample(names, k=min(len(names), self.chance.randrange(1, 4)))
        ends = self.chance.choice(("through the roof", "air admittance valve"))
        vent = {"id": f"V{number}", "serves": serves, "place": self._place(self.levels[-1])}
        if number > 1 and self.chance.random() < 0.3:
            return vent | {"to": "V1"} | self._maybe({"size": "2 in"})
        return vent | self._maybe({"size": "2 in", "ends": ends})


_SIZES = ("1/2 in", "3/4 in", "1 in", "1-1/4 in")
_CLOSED = {"stands": "closed"}
