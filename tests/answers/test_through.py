"""Water is coming through here: suspects by the plan and what stops them, on a house drawn by hand.

Two levels, each 30 ft wide. Above: a bath (0..10 ft), a hall (10..20), a laundry (20..30). Below:
the kitchen under the bath, the den under the hall, a store under the laundry. Each upper room has
its own shutoffs in the store; the search for valves itself is checked in `test_ladder`.
"""

import json
from itertools import combinations, pairwise
from typing import Any

import pytest
from click.testing import CliRunner
from plan_houses import EXAMPLE, Data, box, example, in_metres, made, mirrored, without

from handbook.answers.finding.surroundings import surroundings
from handbook.answers.isolate import isolate
from handbook.answers.isolating.ladder import cuts
from handbook.answers.isolating.targets import WHOLE
from handbook.answers.through import NoSuchRoomError, Through, left_running, through, walks
from handbook.cli import main
from handbook.house.house import House
from handbook.output.told_through import through_text
from handbook.pages.content import plain
from handbook.pages.through_cases import case_of
from handbook.pages.through_steps import to_close

RUN = {"length": "9 ft", "size": "1/2 in", "material": "PEX"}


def valve(name: str, from_: str, **more: Any) -> Data:
    place = {"room": "store", "at": ["25 ft", "5 ft"]}
    return {"id": name, "kind": "ball", "from": from_, "place": place, **more}


def fixture(name: str, kind: str, place: Data, **sides: Any) -> Data:
    return {"id": name, "name": name, "kind": kind, "place": place, **sides}


def drawn() -> Data:
    rooms = {"kitchen": 0, "den": 10, "store": 20}
    uppers = {"bath": 0, "hall": 10, "laundry": 20}

    def level(name: str, height: str, named: dict[str, int]) -> Data:
        made_of = [
            {"id": room, "name": room.capitalize(), "outline": box(x, 0, x + 10, 10)}
            for room, x in named.items()
        ]
        doors = [
            {"between": [a, b], "at": [f"{x} ft", "5 ft"]}
            for (a, b), x in zip(combinations_of_two(named), (10, 20), strict=True)
        ]
        return {
            "id": name,
            "name": f"{name} level",
            "elevation": height,
            "ceiling": "8 ft",
            "rooms": made_of,
            "doors": doors,
        }

    return {
        "format": "1",
        "house": {"name": "Drawn by hand"},
        "levels": [level("low", "0 ft", rooms), level("high", "9 ft", uppers)],
        "stairs": [
            {
                "id": "flight",
                "foot": {"room": "den", "at": ["15 ft", "0 ft"]},
                "head": {"room": "hall", "at": ["15 ft", "10 ft"]},
            }
        ],
        "water": {
            "valves": [
                valve("W1", "street", main="yes"),
                valve("W2", "W1"),
                valve("W3", "W1"),
                valve("W4", "W1"),
            ]
        },
        "fixtures": [
            fixture(
                "basin",
                "lavatory",
                {"room": "bath", "at": ["5 ft", "9 ft"]},
                cold={
                    "from": "W2",
                    "by": {**RUN, "way": "under the bath floor", "through": ["kitchen", "bath"]},
                },
                drain={"to": "D1"},
            ),
            fixture(
                "washer",
                "laundry box",
                {"room": "laundry", "at": ["20 ft 6 in", "5 ft"]},
                cold={
                    "from": "W3",
                    "by": {**RUN, "way": "up the wall", "through": ["store", "laundry"]},
                },
                drain={"to": "D2"},
            ),
            fixture(
                "sink",
                "kitchen sink",
                {"room": "kitchen", "at": ["9 ft", "5 ft"]},
                cold={"from": "W4", "by": {**RUN, "way": "in the den ceiling", "through": ["den"]}},
                drain={"to": "D1"},
            ),
        ],
        "drains": {
            "stretches": [
                {
                    "id": "D1",
                    "kind": "stack",
                    "place": {"room": "bath"},
                    "by": {
                        **RUN,
                        "material": "PVC",
                        "way": "inside the wall",
                        "through": ["bath", "kitchen"],
                    },
                },
                {
                    "id": "D2",
                    "kind": "branch",
                    "place": {"room": "laundry"},
                    "by": {
                        **RUN,
                        "material": "PVC",
                        "way": "under the hall floor",
                        "through": ["hall", "den"],
                    },
                },
            ]
        },
    }


def combinations_of_two(named: dict[str, int]) -> list[tuple[str, str]]:
    return list(pairwise(named))


HOUSE = made(drawn())
EVERY = [
    (home, room, sign)
    for home in ("drawn", "example")
    for room in (HOUSE if home == "drawn" else made(example())).places.rooms
    for sign in ("ceiling", "wall", "floor", "fixture", None)
]
HOMES = {"drawn": HOUSE, "example": made(example())}


def first(answer: Through) -> tuple[str, ...]:
    return answer.ladder[0].close


def ids(answer: Through) -> set[str]:
    return {suspect.id for suspect in answer.suspects}


# --- what lies round a room --------------------------------------------------------------------


def test_above_is_what_overlaps_and_beside_is_what_shares_a_wall() -> None:
    around = surroundings(HOUSE, "den")
    assert (around.above, around.beside, around.below) == (("hall",), ("kitchen", "store"), ())


def test_the_example_s_dining_room_lies_under_a_bedroom_a_bath_and_a_closet() -> None:
    # Dining room 0..16 by 0..14 ft; above it bedroom 3, the hall bath and the linen closet, and
    # nothing of the primary bath, which begins at 14 ft.
    around = surroundings(HOMES["example"], "dining")
    assert around.above == ("bedroom-3", "hall-bath", "linen")


# --- suspects and valves -----------------------------------------------------------------------


def test_through_the_ceiling_comes_what_stands_above_and_what_is_in_its_floor() -> None:
    answer = through(HOUSE, "kitchen", "ceiling")
    assert ids(answer) == {"basin", "pipe to basin.cold", "D1"}
    assert first(answer) == ("W2",)
    assert answer.ladder[0].also_off == ()  # the basin's own supply is not counted as lost


def test_through_a_wall_comes_what_stands_at_its_other_side() -> None:
    # The sink stands 1 ft from the den's wall; the washer's wall is on another level.
    answer = through(HOUSE, "den", "wall")
    assert "sink" in ids(answer)
    assert first(answer) == ("W4",)


def test_a_fixture_at_the_far_wall_of_the_next_room_is_no_suspect() -> None:
    data = drawn()
    data["fixtures"][2]["place"]["at"] = ["1 ft", "5 ft"]  # 9 ft from the den
    assert "sink" not in ids(through(made(data), "den", "wall"))


def test_a_pipe_in_the_ceiling_of_a_room_is_suspected_there_and_not_in_its_wall() -> None:
    assert "pipe to sink.cold" in ids(through(HOUSE, "den", "ceiling"))
    data = drawn()
    data["fixtures"][2]["place"]["at"] = ["1 ft", "5 ft"]
    assert "pipe to sink.cold" not in ids(through(made(data), "den", "wall"))


def test_the_rooms_own_fixtures_are_what_a_fixture_sign_means() -> None:
    answer = through(HOUSE, "bath", "fixture")
    assert ids(answer) == {"basin", "pipe to basin.cold"}
    assert first(answer) == ("W2",)
    assert answer.stop_using == ("basin",)


def test_without_a_sign_all_of_them_are_stopped() -> None:
    # Ceiling: basin (W2). Fixture: sink (W4). Both hang on W1 alone, which would also stop the
    # washer; W2 and W4 together lose nothing else.
    assert first(through(HOUSE, "kitchen")) == ("W2", "W4")


def test_where_only_a_drain_can_leak_there_is_nothing_to_close_and_something_not_to_use() -> None:
    data = without(drawn(), "hot")
    data["fixtures"][2]["cold"]["by"]["way"] = "under the kitchen floor"
    data["fixtures"][2]["cold"]["by"]["through"] = ["kitchen"]
    data["fixtures"][2]["cold"]["from"] = "W4"
    data["water"]["valves"][3]["place"] = {"room": "kitchen"}
    answer = through(made(data), "den", "ceiling")
    assert ids(answer) == {"D2"}
    assert answer.ladder == ()
    assert answer.stop_using == ("washer",)
    assert not answer.unsure


@pytest.mark.parametrize(("home", "room", "sign"), EVERY)
def test_the_first_step_dries_every_suspect(home: str, room: str, sign: Any) -> None:
    house = HOMES[home]
    answer = through(house, room, sign)
    if not answer.ladder or answer.unsure:
        return
    targets = nodes(house, answer)
    step = answer.ladder[0]
    if targets and not stoppable(house, targets):
        assert answer.ladder == isolate(house, WHOLE).ladder
        return
    assert cuts(house.water.network, targets, step.close, step.open)
    for one in step.close:  # and no valve of it is needless
        rest = [other for other in step.close if other != one]
        assert not cuts(house.water.network, targets, rest, step.open)


def stoppable(house: House, targets: frozenset[str]) -> bool:
    """Whether closing every valve there is stops them; not the pipe ahead of the first one."""
    return cuts(house.water.network, targets, sorted(house.water.network.handles))


def nodes(house: House, answer: Through) -> frozenset[str]:
    """Every node of the water network that a suspect holds, found from its id alone."""
    found: set[str] = set()
    for suspect in answer.suspects:
        end = suspect.id.removeprefix("pipe to ")
        if suspect.kind == "pipe":
            found.add(end if end in house.water.network.nodes and "." in end else f"{end}.in")
        elif suspect.kind in ("fixture", "equipment"):
            found |= house.water.bodies.get(end, frozenset())
    return frozenset(found)


@pytest.mark.parametrize("room", HOUSE.places.rooms)
def test_no_choice_of_valves_loses_less(room: str) -> None:
    answer = through(HOUSE, room)
    if answer.unsure or not answer.ladder:
        return
    network, targets = HOUSE.water.network, nodes(HOUSE, answer)
    if not stoppable(HOUSE, targets):
        return
    mine = {s for f in answer.suspects for s in HOUSE.water.own.get(f.id, ())}
    losses = []
    for size in (1, 2, 3):
        for chosen in combinations(sorted(network.handles), size):
            if cuts(network, targets, chosen):
                wet = network.downstream(network.sources, network.standing(targets).barred(chosen))
                lost = {s.id for s in network.supplies if s.node not in wet} - mine
                losses.append((len(lost), size))
    step = answer.ladder[0]
    assert (len(step.also_off), len(step.close)) == min(losses)


def test_the_pipe_ahead_of_the_only_main_is_left_running_by_the_main_and_that_is_told() -> None:
    # the store hides what nothing stops; the main is closed all the same, before anybody calls
    answer = through(HOMES["drawn"], "store", "wall")
    assert not stoppable(HOMES["drawn"], nodes(HOMES["drawn"], answer))
    assert answer.ladder[0].close == isolate(HOMES["drawn"], WHOLE).ladder[0].close
    assert left_running(HOMES["drawn"], answer, answer.ladder[0])


# --- the example, by hand ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("room", "sign", "close"),
    [
        # The headers' risers run under the hall bath's floor, above the dining room.
        ("dining", "ceiling", ("W16", "W17")),
        # Only the laundry lies above the powder room, fed from W34 and W35.
        ("powder", "ceiling", ("W34", "W35")),
        ("entry", "ceiling", ("W34", "W35")),
        # Above the kitchen: the primary bath, and pipes of the hall bath in the wall between.
        ("kitchen", "ceiling", ("W30", "W32", "W31", "W33")),
        # Behind the pantry's wall: the powder room's two pipes.
        ("pantry", "wall", ("W18", "W19")),
        ("hall-bath", "fixture", ("W30", "W31")),
        ("laundry", "floor", ("W34", "W35")),
    ],
)
def test_the_example_by_hand(room: str, sign: Any, close: tuple[str, ...]) -> None:
    assert first(through(HOMES["example"], room, sign)) == close


def test_what_a_ceilings_valves_leave_running_is_why_a_wall_takes_more() -> None:
    """By hand: W16 and W17 feed the upper level; the refrigerator, at the wall to the kitchen,
    hangs on W20."""
    subject = HOMES["example"]
    above = through(subject, "dining", "ceiling").ladder[0]
    left = left_running(subject, through(subject, "dining", "wall"), above)
    assert (above.close, {suspect.thing for suspect in left}) == (("W16", "W17"), {"ice-maker"})


def test_the_valves_of_its_own_ladder_leave_no_suspect_running() -> None:
    answer = through(HOMES["example"], "kitchen", "wall")
    assert all(left_running(HOMES["example"], answer, rung) == () for rung in answer.ladder)


def test_what_hangs_in_the_attic_is_suspected_under_it_and_has_no_valve() -> None:
    answer = through(HOMES["example"], "upper-hall", "ceiling")
    assert {"CD2", "P3"} <= ids(answer)
    assert answer.ladder == ()
    assert answer.turn_off == ("heating and cooling unit in the attic",)


def test_a_mirrored_or_a_metric_house_gets_the_same_answer() -> None:
    data = example()
    for other in (made(mirrored(data)), made(in_metres(data))):
        for room in ("dining", "powder", "kitchen"):
            theirs, ours = through(other, room), through(HOMES["example"], room)
            assert (first(theirs), ids(theirs)) == (first(ours), ids(ours))


def test_the_way_to_each_valve_comes_with_it() -> None:
    house = HOMES["example"]
    found = walks(house, through(house, "dining", "ceiling"))
    assert [walk.goal for walk in found] == ["W16", "W17"]
    assert all(walk.start == "dining" and walk.distance_ft for walk in found)


# --- what is not recorded ----------------------------------------------------------------------


def test_where_nothing_is_recorded_the_whole_house_is_stopped_and_that_is_said() -> None:
    data = drawn()
    data["fixtures"], data["drains"] = data["fixtures"][:1], {}
    answer = through(made(data), "store", "ceiling")
    assert answer.unsure
    assert answer.suspects == ()
    assert answer.ladder == isolate(made(data), "house").ladder


def test_without_outlines_the_whole_level_above_is_taken_and_that_is_said() -> None:
    answer = through(made(without(drawn(), "outline")), "kitchen", "ceiling")
    assert {"basin", "washer"} <= ids(answer)
    assert first(answer) == ("W2", "W3")
    said = "No outline of Kitchen is recorded: the whole high level is taken to lie above."
    assert said in answer.assumed


def test_without_heights_of_levels_nobody_knows_what_is_above() -> None:
    answer = through(made(without(drawn(), "elevation")), "kitchen", "ceiling")
    assert answer.unsure
    assert first(answer) == ("W1",)
    assert any(said.startswith("What lies above kitchen is not known") for said in answer.missing)


def test_a_pipe_of_which_no_room_is_known_is_said() -> None:
    data = drawn()
    del data["water"]["valves"][0]["place"]
    assert "Which rooms hide the pipe to W1 is not recorded." in through(made(data), "den").missing


def test_an_unknown_room_is_refused_with_the_nearest() -> None:
    with pytest.raises(NoSuchRoomError, match="did you mean `kitchen`"):
        through(HOUSE, "kitchn")


# --- nearest on foot ---------------------------------------------------------------------------


def two_in_line(first_room: str, second_room: str) -> House:
    """Valves W2 and W3 one behind the other on the basin's pipe, in these rooms."""
    data = drawn()
    data["fixtures"] = data["fixtures"][:1]
    data["fixtures"][0]["cold"] = {"from": "W3", "stop": "none"}
    at = {"bath": ["4 ft", "4 ft"], "store": ["25 ft", "5 ft"]}
    places = [{"room": room, "at": at[room]} for room in (first_room, second_room)]
    data["water"]["valves"] = [
        valve("W1", "street", main="yes"),
        {**valve("W2", "W1"), "place": places[0]},
        {**valve("W3", "W2"), "place": places[1]},
    ]
    return made(data)


def test_of_two_valves_that_lose_the_same_the_nearer_on_foot_comes_first() -> None:
    near_first = isolate(two_in_line("bath", "store"), "basin")
    assert [rung.close for rung in near_first.ladder] == [("W2",), ("W3",), ("W1",)]
    near_second = isolate(two_in_line("store", "bath"), "basin")
    assert [rung.close for rung in near_second.ladder] == [("W3",), ("W2",), ("W1",)]


def test_nearness_never_outweighs_what_is_lost() -> None:
    # W1 stands in the store like the others; were it beside the basin it would still come last.
    data = drawn()
    data["water"]["valves"][0]["place"] = {"room": "bath", "at": ["5 ft", "8 ft"]}
    assert isolate(made(data), "basin").ladder[0].close == ("W2",)


# --- the command line --------------------------------------------------------------------------


def test_the_command_line_gives_the_same_answer() -> None:
    asked = ["through", str(EXAMPLE), "dining", "--sign", "ceiling", "--json"]
    said = json.loads(CliRunner().invoke(main, asked, catch_exceptions=False).output)
    ours = through(HOMES["example"], "dining", "ceiling")
    assert said["ladder"][0]["close"] == ["W16", "W17"]
    assert {suspect["id"] for suspect in said["suspects"]} == ids(ours)
    assert said["walks"][0]["distance_ft"] == pytest.approx(
        walks(HOMES["example"], ours)[0].distance_ft
    )


def test_the_command_line_refuses_a_room_that_is_not_there() -> None:
    done = CliRunner().invoke(main, ["through", str(EXAMPLE), "dinning"])
    assert done.exit_code == 2
    assert "did you mean `dining`" in done.output


def test_behind_a_main_recorded_as_closed_it_is_named_as_for_any_thing_there() -> None:
    """W1 feeds all; the street ahead of it has no valve, so nothing else can be closed."""
    tree = drawn()
    tree["water"]["valves"][0]["stands"] = "closed"
    house = made(tree)
    answer = through(house, "kitchen", "ceiling")
    assert [turn.id for turn in answer.kept_off] == ["W1"]
    assert answer.kept_off == isolate(house, "basin").kept_off
    # Were it open after all, W2 stops the basin's pipe, as it does where nothing is closed.
    assert first(answer) == first(through(HOUSE, "kitchen", "ceiling")) == ("W2",)
    said = through_text(answer, walks(house, answer), "US")
    assert "W1 (Shutoff) is recorded as closed: then no water reaches it." in said
    assert "No shutoff" not in said


def test_a_page_for_a_room_behind_a_closed_main_says_to_look_at_it_first() -> None:
    tree = drawn()
    tree["water"]["valves"][0]["stands"] = "closed"
    house = made(tree)
    said = plain(to_close(house, case_of(house, "kitchen", "ceiling")))
    assert said == "By the record, W1 is closed already: see that it is; if it still runs, W2"
