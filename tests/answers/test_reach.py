"""Reach on houses worked out on paper, and against a general-purpose graph library's distances."""

import networkx as nx
import pytest
from drain_houses import RANCH, SPLIT, drain_trees, house, house_of
from hypothesis import given
from hypothesis import strategies as st

from handbook.answers.draining.cable_fit import advice, fitting
from handbook.answers.draining.cable_walk import Cable
from handbook.answers.draining.cable_words import cable_words
from handbook.answers.not_asked import NoSuchThingError
from handbook.answers.reach import Reach, Unreached, line_holes, part_words, reach, unreached
from handbook.answers.stoppage import stoppage
from handbook.measures import parse_pipe_size
from handbook.output.told_reach import reach_text
from handbook.pages.content import Bullets, plain
from handbook.pages.parts.stoppages import stoppage_blocks

FOOT = 12


def told(answer: Reach) -> list[tuple[str, str, float, float | None]]:
    return [
        (s.stretch, s.direction, s.near.low / FOOT, s.far.high / FOOT if s.far.high else s.far.high)
        for s in answer.reached
    ]


# --- by hand --------------------------------------------------------------------------------------


def test_with_the_flow_a_cable_goes_all_the_way_to_the_sewer() -> None:
    # C1 at the head of B2 (4 ft), then M1 20, M2 10, S1 50.
    answer = reach(house(RANCH), "C1")
    assert told(answer) == [
        ("B2", "downstream", 0, 4),
        ("M1", "downstream", 4, 24),
        ("M2", "downstream", 24, 34),
        ("S1", "downstream", 34, 84),
    ]
    assert [step.through for step in answer.reached] == [
        ("2 in",),
        *[("2 in", "4 in")] * 3,
    ]


def test_from_the_middle_of_a_stretch_only_the_part_before_it_is_reached() -> None:
    first = reach(house(RANCH), "C2").reached[0]
    assert (first.stretch, first.whole, first.at) == ("M2", False, 4 * FOOT)
    assert first.far == Cable(6 * FOOT, 6 * FOOT)  # 10 - 4 ft


def test_against_the_flow_it_runs_straight_on_and_into_no_branch() -> None:
    # At the head of M2 come M1, 4 in like M2, and the 2 in kitchen branch; at M1's the two baths'.
    answer = reach(house(RANCH), "C3")
    up = [step.stretch for step in answer.reached if step.direction == "upstream"]
    assert up == ["M2", "M1"]
    assert {each.stretch for each in answer.doubtful} == {"K1", "B1", "B2"}


def test_a_stack_is_not_surely_climbed_from_below() -> None:
    text = RANCH.replace("kind: building drain, to: M2", "kind: stack, to: M2")
    doubtful = reach(house(text), "C3").doubtful
    assert ("M1", "it may not climb a stack from below") in [(d.stretch, d.why) for d in doubtful]


def test_where_two_lines_of_one_kind_meet_it_may_take_either() -> None:
    text = RANCH.replace("by: 12 ft of 2 in", "by: 12 ft of 4 in").replace(
        "Kitchen branch, kind: branch", "Kitchen branch, kind: building drain"
    )
    answer = reach(house(text), "C3")
    assert {"M1", "K1"} <= {each.stretch for each in answer.doubtful}
    assert "M1" not in [step.stretch for step in answer.reached]


def test_nothing_passes_an_ejector_and_a_backwater_flap_comes_out_first() -> None:
    pumped = RANCH + "  equipment: [{id: EJ, kind: sewage ejector, on: M2}]\n"
    assert [s.stretch for s in reach(house(pumped), "C1").reached] == ["B2", "M1"]
    flapped = RANCH + "  equipment: [{id: BV, kind: backwater valve, on: M1}]\n"
    valves = {s.stretch: s.valves for s in reach(house(flapped), "C1").reached}
    assert valves == {"B2": (), "M1": ("BV",), "M2": ("BV",), "S1": ("BV",)}
    # against the flow too: from C3 up M2 into M1
    up = {s.stretch: s.valves for s in reach(house(flapped), "C3").reached}
    assert up == {"S1": (), "M2": (), "M1": ("BV",)}


def test_a_cable_from_below_is_told_of_an_ejectors_check_valve_where_it_may_get_to_it() -> None:
    """By hand: K1 joins at the head of M2, 10 ft up from C3; M2 itself begins at C3. Common
    practice, no source: a check valve stands on an ejector's discharge."""
    for on, feet in (("K1", 10), ("M2", 0)):
        pumped = house(RANCH + f"  equipment: [{{id: EJ, kind: sewage ejector, on: {on}}}]\n")
        (met,) = [each for each in reach(pumped, "C3").doubtful if each.pumps]
        assert (met.stretch, met.pumps, met.valves) == (on, ("EJ",), ())
        assert met.at == Cable(feet * FOOT, feet * FOOT)
        said = f"at {feet} ft it may get into {on}, to the check valve of EJ; at EJ: nothing passes"
        assert said in reach_text(pumped, reach(pumped, "C3"))
    pumped = house(RANCH + "  equipment: [{id: EJ, kind: sewage ejector, on: K1}]\n")
    up = [way for way in stoppage(pumped, ["wc", "tub"]).cleanouts if way.direction == "upstream"]
    assert [[met.pumps for met in way.strays] for way in up] == [[("EJ",)]]
    bullets = [block for block in stoppage_blocks(pumped) if isinstance(block, Bullets)]
    told = [plain(line) for block in bullets for line in block.lines]
    assert any(line.startswith("Sewage ejector EJ: nothing passes its pump") for line in told)


def test_the_cable_counts_from_the_opening_down_its_riser() -> None:
    # C3 opens at the ground, -1 ft; the sewer's inside bottom there is at -4 ft 6 in: 3 ft 6 in.
    text = RANCH.replace("id: S1, name: Sewer", "id: S1, invert: -4 ft 6 in, name: Sewer")
    assert told(reach(house(text), "C3"))[:2] == [
        ("S1", "downstream", 3.5, 53.5),
        ("M2", "upstream", 3.5, 13.5),
    ]
    unknown = reach(house(RANCH), "C3")
    assert any("counted from the pipe" in said for said in unknown.assumed)


def test_part_of_the_way_down_the_riser_follows_the_fall() -> None:
    # M2 falls 1/4 in a foot from -3 ft; at 4 ft it is 1 in lower: -37 in. C2 opens at the floor, 0.
    text = RANCH.replace(
        "id: M2, name: Main to the wall,",
        "id: M2, name: Main to the wall, invert: -3 ft, slope: 1/4 in per ft,",
    )
    assert reach(house(text), "C2").riser == Cable(37, 37)


def test_what_no_cleanout_reaches_is_listed_with_its_part() -> None:
    # B1 and K1 have no cleanout; C2 and C3 reach M2 from both sides, C1 comes down M1.
    assert unreached(house(RANCH)) == (Unreached("B1", whole=True), Unreached("K1", whole=True))
    alone = house(RANCH.replace("kind: two-way, on: S1, along: 0 ft, facing: both ways",
                                "kind: floor, on: S1, along: 20 ft, facing: downstream")
                  .replace("on: B2, along: 0 ft", "on: S1, along: 30 ft")
                  .replace("on: M2, along: 4 ft", "on: S1, along: 40 ft"))  # fmt: skip
    assert Unreached("S1", whole=False, part=(0, 20 * FOOT)) in unreached(alone)


def test_the_part_that_is_left_out_is_said_from_the_upper_end() -> None:
    assert part_words(Unreached("S1", whole=False, part=(0, 20 * FOOT)), "US") == "its upper 20 ft"
    middle = Unreached("S1", whole=False, part=(FOOT, 20 * FOOT))
    assert part_words(middle, "metric") == "from 305 mm to 6.096 m down"
    assert part_words(Unreached("S1", whole=True), "US") == ""


# --- holes ----------------------------------------------------------------------------------------


def test_a_length_that_is_not_recorded_makes_a_range_open_above() -> None:
    text = RANCH.replace("to: M2, by: 20 ft of 4 in PVC", "to: M2, by: {size: 4 in}")
    answer = reach(house(text), "C1")
    last = answer.reached[-1]
    assert (last.near, last.far) == (Cable(14 * FOOT, None), Cable(64 * FOOT, None))
    assert "The length of M1 is not recorded." in line_holes(house(text).drains, ["M1", "M2"])


def test_where_a_cleanout_stands_unknown_on_a_known_length_is_a_range() -> None:
    answer = reach(house(RANCH.replace("on: M2, along: 4 ft", "on: M2")), "C2")
    assert answer.reached[0].far == Cable(0, 10 * FOOT)
    assert answer.reached[1].near == Cable(0, 10 * FOOT)
    assert any("`along`" in said for said in answer.missing)


def test_which_way_it_faces_is_assumed_aloud_or_known_by_its_kind() -> None:
    """IRC P3005.2.8: it opens in the direction of flow, a two-way one both ways."""
    plain = reach(house(RANCH.replace("along: 4 ft, facing: downstream", "along: 4 ft")), "C2")
    assert {step.direction for step in plain.reached} == {"downstream"}
    assert any("P3005.2.8" in said for said in plain.assumed)
    two = reach(house(RANCH.replace("facing: both ways, ", "")), "C3")
    assert {step.direction for step in two.reached} == {"downstream", "upstream"}


def test_a_cleanout_on_no_stretch_reaches_nothing_and_says_why() -> None:
    answer = reach(house(RANCH.replace("on: M2, along: 4 ft,", "")), "C2")
    assert answer.reached == ()
    assert any("(`on`)" in said for said in answer.missing)


def test_a_record_that_contradicts_itself_is_told_so() -> None:
    beyond = reach(house(RANCH.replace("on: M2, along: 4 ft", "on: M2, along: 14 ft")), "C2")
    assert any("longer" in said or "one is wrong" in said for said in beyond.missing)
    deep = RANCH.replace("id: S1, name: Sewer", "id: S1, invert: 3 ft, name: Sewer")
    assert any("one is wrong" in said for said in reach(house(deep), "C3").assumed)


def test_a_cleanout_that_is_not_there_is_an_error_with_a_near_name() -> None:
    with pytest.raises(NoSuchThingError, match="did you mean `C1`"):
        reach(house(RANCH), "c1")


def test_no_house_without_cleanouts_breaks_it() -> None:
    assert [gap.whole for gap in unreached(house(SPLIT))] == [True] * 4


# --- which cable ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sizes", "fits"),
    [
        (["1-1/2 in"], ["small"]),
        (["2 in"], ["small", "medium"]),
        (["2 in", "3 in"], ["medium"]),
        (["3 in"], ["medium", "main", "heavy"]),
        (["3 in", "4 in"], ["main", "heavy"]),
        (["2 in", "4 in"], ["medium+main", "medium+heavy"]),  # 3/8 to 1/2 in, or 1/2 in
        (["1-1/2 in", "3 in"], ["small+medium"]),  # 5/16 in
        (["1-1/2 in", "4 in"], []),
        (["100 mm"], ["main", "heavy"]),
    ],
)
def test_a_cable_fits_when_every_pipe_lies_in_its_range(sizes: list[str], fits: list[str]) -> None:
    """Articles on drain cables: 1/4-5/16 in to 2 in pipe, 3/8-1/2 in for 3-4 in mains, 1/2-3/4 in
    for sewers to 6 in; the medium range is common practice, from memory."""
    read = [parse_pipe_size(size) for size in sizes]
    assert [fit.id for fit in fitting(read, Cable(0, 0))] == fits


def test_a_cable_that_is_too_short_is_said_to_be() -> None:
    far = reach(house(RANCH.replace("by: 50 ft of 4 in", "by: 150 ft of 4 in")), "C3").reached[0]
    assert advice([far], "US").endswith("of up to 100 ft, which does not get to the far end")
    assert advice([far], "metric").endswith("of up to 30.48 m, which does not get to the far end")


def test_the_advice_names_how_far_one_cable_fits() -> None:
    narrow = RANCH.replace("4 ft of 2 in", "4 ft of 1-1/2 in").replace(
        "size: 2 in", "size: 1-1/2 in"
    )
    steps = reach(house(narrow), "C1").reached
    assert advice(steps, "US") == "a small hand cable, 1/4 to 5/16 in, as far as B2"


def test_a_size_of_cable_that_two_ranges_share_takes_the_pipe_of_both() -> None:
    """2 in pipe takes 5/16 to 1/2 in, 4 in pipe 3/8 to 1/2 in (ranges as above): 3/8 to 1/2 in."""
    (main,) = [step for step in reach(house(RANCH), "C1").reached if step.stretch == "M1"]
    assert advice([main], "US") == "a cable, 3/8 to 1/2 in"


def test_in_a_sewer_the_cable_for_roots_is_said() -> None:
    """A general article on drain cables: 1/2 to 3/4 in for main sewers with roots."""
    heavy = "for roots a heavy main line cable, 1/2 to 3/4 in"
    for cleanout, said in (("C3", heavy), ("C1", "too light for roots")):
        (sewer,) = [s for s in reach(house(RANCH), cleanout).reached if s.stretch == "S1"]
        assert advice([sewer], "US").endswith(said)


def test_cable_is_said_by_the_foot_outward_and_by_the_half_metre() -> None:
    near, far = Cable(5.8 * FOOT, 5.8 * FOOT), Cable(47.2 * FOOT, 47.2 * FOOT)
    assert cable_words(near, far, "US") == "5 to 48 ft"
    # 5.8 ft = 1.768 m, 47.2 ft = 14.39 m
    assert cable_words(near, far, "metric") == "1.5 to 14.5 m"
    assert cable_words(near, Cable(60, None), "US") == "5 ft or more"


# --- against a graph library ----------------------------------------------------------------------


@given(drain_trees(), st.data())
def test_cable_lengths_are_the_distances_along_the_pipes(record: dict, data: st.DataObject) -> None:
    """networkx's Dijkstra over the same pipes, each an edge as long as itself."""
    stretches = {s["id"]: s for s in record["drains"]["stretches"]}
    on = data.draw(st.sampled_from(sorted(stretches)))
    length = {name: int(s["by"]["length"].split()[0]) for name, s in stretches.items()}
    along = data.draw(st.integers(0, length[on]))
    record["drains"]["cleanouts"] = [
        {"id": "C", "on": on, "along": f"{along} ft", "facing": "both ways", "size": "4 in"}
    ]
    pipes = nx.Graph()
    for name, stretch in stretches.items():
        if name == on:
            pipes.add_edge(name, "opening", weight=along)
            pipes.add_edge("opening", stretch["to"], weight=length[name] - along)
        else:
            pipes.add_edge(name, stretch["to"], weight=length[name])
    away = nx.single_source_dijkstra_path_length(pipes, "opening")
    answer = reach(house_of(record), "C")
    for step in answer.reached:
        head, foot = away[step.stretch], away[stretches[step.stretch]["to"]]
        if step.stretch == on:
            ends = (0, foot if step.direction == "downstream" else head)
        else:
            ends = (head, foot) if step.direction == "downstream" else (foot, head)
        assert (step.near.low / FOOT, step.far.low / FOOT) == pytest.approx(ends)
    # With the flow it misses nothing on the way down.
    down = [step.stretch for step in answer.reached if step.direction == "downstream"]
    way, at = [], on if along < length[on] else stretches[on]["to"]
    while at != "END":
        way.append(at)
        at = stretches[at]["to"]
    assert down == way
