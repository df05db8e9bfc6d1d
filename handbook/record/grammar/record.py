"""The whole house file."""

from typing import Literal

from pydantic import Field

from handbook.record.entry import Entry
from handbook.record.fields import Known, Maybe
from handbook.record.grammar.drains import Drains
from handbook.record.grammar.fixtures import Fixture
from handbook.record.grammar.gas import Gas
from handbook.record.grammar.heaters import Heater
from handbook.record.grammar.people import Electrical, HouseFacts, HouseNote, Person
from handbook.record.grammar.places import Level, Site, Stair
from handbook.record.grammar.safeguards import Safeguards
from handbook.record.grammar.walls import Walls
from handbook.record.grammar.water import Water


class Record(Entry):
    """A house as it was built, as far as somebody looked."""

    format: Literal["1"] = Field(
        description="version of this grammar", json_schema_extra={"const": 1, "type": "integer"}
    )
    house: HouseFacts
    people: Known[tuple[Person, ...]] = None
    site: Known[Site] = None
    levels: Known[tuple[Level, ...]] = None
    stairs: Maybe[tuple[Stair, ...]] = None
    water: Known[Water] = None
    fixtures: Known[tuple[Fixture, ...]] = None
    drains: Known[Drains] = None
    gas: Maybe[Gas] = None
    heaters: Maybe[tuple[Heater, ...]] = None
    safeguards: Known[Safeguards] = None
    electrical: Known[Electrical] = None
    walls: Known[Walls] = None
    notes: Known[tuple[HouseNote, ...]] = None
