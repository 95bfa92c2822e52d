"""Finding a place by repeats and steps, and what going back to it means."""

from pathlib import Path

import pytest
from bench_pieces import ABOUT, SPAN, knot, mixed_plan, plan_of, row
from hypothesis import given
from hypothesis import strategies as st
from test_bench_screens import Bench, bench, run

from coach.plan.plan_model import Plan
from coach.project import model
from coach.session.navigation import (
    append_digit,
    given_back,
    place_figures,
    ties_between,
    unpicking,
    with_figure,
)

MIXED = mixed_plan()


def nested() -> Plan:
    """Return a plan of two groups in each of three repeats, two steps in each."""
    inner = (row(1, (2,)), knot("square knot", (1, 2), times=2))
    each = model.Each(ABOUT, model.Groups(SPAN, (
        model.Positions(SPAN, (1, 2)), model.Positions(SPAN, (3, 4)),
    )), inner)  # fmt: skip
    return plan_of(model.Use(ABOUT, "reeds", 3), pieces=2, parts={"reeds": (each,)})


def test_a_place_has_a_figure_for_every_level_that_repeats_and_one_for_its_step() -> None:
    plan = nested()
    step = plan.steps[-1]
    assert [(f.label, f.value, f.most) for f in place_figures(step)] == [
        ("reeds", 3, 3), ("group", 2, 2), ("step", 2, 2),
    ]  # fmt: skip


def test_another_figure_leads_to_another_step_and_keeps_what_is_inside() -> None:
    plan = nested()
    step = plan.steps[-1]
    repeat, group, inner = place_figures(step)
    assert with_figure(plan, step, repeat, 1) is plan.steps[3]
    assert with_figure(plan, step, group, 1) is plan.steps[9]
    assert with_figure(plan, step, inner, 1) is plan.steps[10]
    assert with_figure(plan, step, inner, 3) is None


@given(st.data())
def test_every_figure_that_is_offered_leads_to_a_place_that_has_it(data: st.DataObject) -> None:
    step = data.draw(st.sampled_from(MIXED.steps))
    number = data.draw(st.integers(0, len(place_figures(step)) - 1))
    field = place_figures(step)[number]
    value = data.draw(st.integers(1, field.most))
    found = with_figure(MIXED, step, field, value)
    assert found is not None
    there = found.trail[field.level]
    assert value == (there.turn if field.kind == "turn" else there.step)
    assert found.trail[: field.level] == step.trail[: field.level]


def test_digits_make_a_figure_and_begin_anew_beyond_the_last() -> None:
    field = place_figures(plan_of(*[row(1, (2,))] * 14).steps[0])[-1]
    assert field.most == 14
    assert append_digit(field, 0, 1) == 1
    assert append_digit(field, 1, 2) == 12
    assert append_digit(field, 12, 3) == 3
    assert append_digit(field, 1, 0) == 10
    assert append_digit(field, 0, 0) == 0


def test_ties_to_unpick_leave_out_steps_without_a_knot() -> None:
    plan = plan_of(row(1, (2, 3)), model.Space(ABOUT, None, 20.0), row(1, (2, 3)))
    assert ties_between(plan, 0, plan.total) == 4
    assert unpicking(plan, 3, 2).startswith("1 back, no tie among them")
    assert unpicking(plan, 1, 0).startswith("1 tie to unpick; that gives back about ")


def test_the_cord_that_comes_back_is_what_the_plan_says_was_used() -> None:
    """Cords by how much of them comes free, to a centimetre."""
    plan = plan_of(knot("square knot", (1, 2, 3, 4), times=10))
    freed = {
        cord: sum(
            plan.used_mm(i, 10) - plan.used_mm(i, 2)
            for i, strand in enumerate(plan.strands)
            if strand.cord == cord
        )
        for cord in ("reed", "clay")
    }
    told = given_back(plan, 10, 2)
    first, second = told.split(", ")
    for part in (first, second):
        length, cord = part.split(" cm of ")
        assert abs(float(length) * 10 - freed[cord]) <= 5
    assert given_back(plan, 4, 4) == ""


@pytest.mark.parametrize(
    ("done", "keys", "to"),
    [
        (2, ("g", "2", "g", "g"), 7),
        (8, ("g", "1", "g", "g"), 2),
        (2, ("g", "tab", "3", "g", "g"), 4),
        (3, ("g", "plus", "g", "g"), 4),
        (3, ("g", "end", "minus", "g", "g"), 9),
        (3, ("u", "u", "g", "g"), 0),
        (3, ("a", "g", "g"), 4),
        (3, ("a", "g", "escape"), 3),
        (3, ("a", "g", "a", "g", "escape"), 3),
        (3, ("a", "home", "g"), 3),
    ],
)
def test_the_count_goes_there_when_it_is_asked_twice(
    tmp_path: Path, done: int, keys: tuple[str, ...], to: int
) -> None:
    """Rows of two ties, two and one, worked twice; any other key between takes the question back.

    Afterwards the bench is there again.
    """
    wave = (row(1, (2, 3)), row(6, (5, 4)), row(3, (4,)))
    plan = plan_of(model.Use(ABOUT, "wave", 2), parts={"wave": wave})
    app, opened, clock = bench(tmp_path, plan, done)

    async def drive(seen: Bench) -> None:
        await seen.press(*keys)
        assert opened.sitting.state.done == to
        assert "next " in seen.text()

    run(app, clock, drive)


def test_going_back_says_how_many_ties_and_how_much_cord_and_keeps_the_time(
    tmp_path: Path,
) -> None:
    plan = plan_of(*[row(1, range(2, 7))] * 3)
    app, opened, clock = bench(tmp_path, plan)

    async def drive(seen: Bench) -> None:
        await seen.press(*["space"] * 7)
        spent = opened.sitting.state.worked_s
        await seen.press("u")
        assert "2 ties to unpick; that gives back about" in " ".join(seen.text().split())
        await seen.press("u", "g")
        assert "Unpicked, or never made? g again. 7 ties" in " ".join(seen.text().split())
        assert opened.sitting.state.done == 7
        await seen.press("g")
        assert opened.sitting.state.done == 0
        assert opened.sitting.state.worked_s >= spent
        assert "7 ties to unpick" in " ".join(seen.text().split())

    run(app, clock, drive)
