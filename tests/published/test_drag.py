"""Soft-string drag and torque against closed forms and against a general ODE solver.

The force balance is that of Johancsik, Friesen and Dawson, "Torque and Drag in Directional Wells", SPE 11380;
of the paper a summary was read, the closed forms are its limits. Tolerance of each figure as it stands beside
it; the ODE solver is scipy's, on arcs turned by Rodrigues' formula, which shares no line with the code.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from schematic.depth.survey import SurveyPath
from schematic.engineering.drag import Motion, Span, loads, loads_below

FT, LBF, LB_FT = 0.3048, 4.4482216152605, 4.4482216152605 / 0.3048
UP, DOWN, TURN = Motion.PICKING_UP, Motion.SLACKING_OFF, Motion.ROTATING


def path(*stations: tuple[float, float, float]) -> SurveyPath:
    """Stations of feet and degrees."""
    return SurveyPath([(md * FT, math.radians(inc), math.radians(azi)) for md, inc, azi in stations])


def string(length_ft: float, lb_ft: float, friction: float, radius_m: float = 0.1) -> tuple[Span, ...]:
    return (Span(0.0, length_ft * FT, lb_ft * LB_FT, friction, radius_m),)


@pytest.mark.parametrize(("motion", "printed"), [(UP, 45_588), (TURN, 30_000), (DOWN, 14_412)])
def test_a_straight_inclined_section(motion, printed):
    """3 000 ft of 20 lb/ft at 60 deg, friction 0.3: w L (cos I +/- mu sin I). Coulomb friction, limit of SPE 11380."""
    found = loads(path((0, 60, 0), (3000, 60, 0)), string(3000, 20, 0.3), motion)

    assert found[-1].tension_n / LBF == pytest.approx(printed, abs=2)


@pytest.mark.parametrize("motion", [UP, DOWN])
def test_a_vertical_section_has_no_drag(motion):
    """5 000 ft of 20 lb/ft weigh 100 000 lbf whatever the friction: limit of SPE 11380, from memory."""
    found = loads(path((0, 0, 0), (5000, 0, 0)), string(5000, 20, 0.4), motion)

    assert found[-1].tension_n / LBF == pytest.approx(100_000, abs=1)


@pytest.mark.parametrize(("motion", "printed"), [(UP, 129_927), (DOWN, 76_966)])
@pytest.mark.parametrize(
    "bend",
    [((0, 0, 0), (2000, 60, 0)), ((0, 90, 0), (2000, 90, 60)), ((0, 20, 10), (1000, 50, 10), (2000, 80, 10))],
    ids=["build", "turn", "two arcs"],
)
def test_a_bend_of_weightless_pipe_is_a_capstan(motion, printed, bend):
    """100 000 lbf around 60 deg, friction 0.25: F exp(+/- mu theta), the belt equation; limit of SPE 11380 and of
    Aadnoy and Andersen, Journal of Petroleum Science and Engineering, 2001 (abstract read).
    """
    found = loads(path(*bend), string(2000, 0, 0.25), motion, 100_000 * LBF)

    assert found[-1].tension_n / LBF == pytest.approx(printed, abs=2)


@pytest.mark.parametrize(
    ("motion", "printed", "tolerance"), [(UP, 96_588, 2), (TURN, 83_080, 2), (DOWN, 72_006, 2)]
)
def test_a_build_from_vertical_with_weight(motion, printed, tolerance):
    """50 000 lbf below 0 to 60 deg at 3 deg/100 ft, 20 lb/ft, friction 0.25: the balance of SPE 11380 integrated with
    200 000 Runge-Kutta steps; printed to 1 lbf. Its 100 lbf of tolerance is for lumped elements of 100 ft.
    """
    stations = [(n * 100, n * 3, 0) for n in range(21)]
    found = loads(path(*stations), string(2000, 20, 0.25), motion, 50_000 * LBF)
    whole = loads(path(stations[0], stations[-1]), string(2000, 20, 0.25), motion, 50_000 * LBF)

    assert found[-1].tension_n / LBF == pytest.approx(printed, abs=tolerance)
    assert whole[-1].tension_n / LBF == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(("motion", "printed"), [(UP, 32_107), (DOWN, 9_272)])
def test_a_level_turn_with_weight(motion, printed):
    """20 000 lbf below a level turn of 60 deg at 3 deg/100 ft, 20 lb/ft, friction 0.25:
    F2 = w R sinh(asinh(F1 / (w R)) +/- mu psi), the closed form of dF/ds = mu sqrt((F/R)^2 + w^2), from memory.

    The source allows 40 lbf; the closed form itself is met to 1.
    """
    found = loads(path((0, 90, 0), (2000, 90, 60)), string(2000, 20, 0.25), motion, 20_000 * LBF)
    radius = 2000 / math.radians(60)
    exact = (
        20 * radius * math.sinh(math.asinh(20_000 / (20 * radius)) + motion.value * 0.25 * math.radians(60))
    )

    assert found[-1].tension_n / LBF == pytest.approx(printed, abs=40)
    assert found[-1].tension_n / LBF == pytest.approx(exact, abs=1)


def test_torque_of_a_straight_inclined_section():
    """Mu w L sin I r, by definition: 0.3 of 30 000 lbf sin 60 at 3 in."""
    found = loads(path((0, 60, 0), (3000, 60, 0)), string(3000, 20, 0.3, 0.0762), TURN)[-1]

    wanted = 0.3 * 20 * 3000 * math.sin(math.radians(60)) * LBF * 0.0762
    assert found.torque_nm == pytest.approx(wanted, rel=1e-9)
    assert found.tension_n / LBF == pytest.approx(30_000, abs=1e-6)


# --- against a general solver -------------------------------------------------------------------------------


def _tangents(stations):
    inc, azi = np.radians([s[1] for s in stations]), np.radians([s[2] for s in stations])
    return np.column_stack([np.sin(inc) * np.cos(azi), np.sin(inc) * np.sin(azi), np.cos(inc)])


def _solved(stations, spans, motion, foot_n):
    """Tension and torque at the top by scipy, stepping arc by arc up the hole; depths in metres, degrees."""
    ends = _tangents(stations)
    tension, torque = foot_n, 0.0
    for span in reversed(spans):
        for index in range(len(stations) - 1, 0, -1):
            upper, lower = stations[index - 1][0], stations[index][0]
            low, high = max(upper, span.top_md_m), min(lower, span.bottom_md_m)
            if high <= low:
                continue
            first, last = ends[index - 1], ends[index]
            axis = np.cross(first, last)
            size = np.linalg.norm(axis)
            angle = math.atan2(size, float(first @ last))
            axis = axis / size if size > 0.0 else axis
            curvature = angle / (lower - upper)

            def balance(s, y, first=first, axis=axis, curvature=curvature, upper=upper, span=span):
                turned = curvature * (s - upper)  # Rodrigues: the axis is normal to the tangent
                t = first * math.cos(turned) + np.cross(axis, first) * math.sin(turned)
                bends = curvature * np.cross(axis, t)
                z = np.array([0.0, 0.0, 1.0])
                wall = y[0] * bends + span.weight_n_per_m * (z - t[2] * t)
                side = float(np.linalg.norm(wall))
                if span.stiffness_n_m2 and span.clearance_m and y[0] < 0.0:
                    lean = math.sqrt(max(1.0 - t[2] ** 2, 0.0))
                    snake = 2.0 * math.sqrt(
                        span.stiffness_n_m2 * span.weight_n_per_m * lean / span.clearance_m
                    )
                    upright = 5.55 * (span.stiffness_n_m2 * span.weight_n_per_m**2) ** (1 / 3)
                    if -y[0] > max(1.41 * snake, upright):
                        side += span.clearance_m * y[0] ** 2 / (4.0 * span.stiffness_n_m2)
                pull = span.weight_n_per_m * t[2] + motion.value * span.friction * side
                turn = 0.0 if motion.value else span.friction * side * span.contact_radius_m
                return [-pull, -turn]

            answer = solve_ivp(
                balance, (high, low), [tension, torque], rtol=1e-9, atol=1e-3, max_step=2.0, method="LSODA"
            )
            tension, torque = answer.y[:, -1]
    return tension, torque


WELLS = {
    "deviated": [(0, 0, 115), (600, 0, 115), (690, 7.5, 115), (870, 22.5, 115), (1260, 55, 115), (3985, 55, 115)],
    "horizontal, turning": [(0, 0, 0), (900, 3, 40), (1400, 45, 60), (1900, 88, 95), (2400, 92, 130), (3600, 89, 150)],
    "up and down": [(0, 10, 200), (700, 35, 160), (1500, 20, 250), (2600, 5, 20), (3200, 40, 300)],
    "coarse": [(0, 0, 0), (2000, 90, 90), (3000, 90, 0)],
}  # fmt: skip


@pytest.mark.parametrize("well", WELLS, ids=WELLS)
@pytest.mark.parametrize("motion", [UP, TURN, DOWN])
@pytest.mark.parametrize("foot_n", [0.0, -40e3])
def test_the_answer_of_a_general_solver(well, motion, foot_n):
    """0.1 % is asked for; Runge-Kutta on steps of 0.05 rad keeps within a tenth of that."""
    stations = WELLS[well]
    end = stations[-1][0]
    spans = (
        Span(0.0, 0.7 * end, 270.0, 0.22, 0.084),
        Span(0.7 * end, 0.8 * end, 590.0, 0.22, 0.084),
        Span(0.8 * end, end, 350.0, 0.30, 0.097),
    )
    hole = SurveyPath([(md, math.radians(inc), math.radians(azi)) for md, inc, azi in stations])

    found = loads(hole, spans, motion, foot_n)[-1]
    tension, torque = _solved(stations, spans, motion, foot_n)

    scale = sum(span.weight_n_per_m * (span.bottom_md_m - span.top_md_m) for span in spans)
    assert found.tension_n == pytest.approx(tension, rel=1e-4, abs=1e-5 * scale)
    assert found.torque_nm == pytest.approx(torque, rel=1e-4)


@pytest.mark.parametrize("foot_n", [-150e3, -230e3, -250e3])
def test_the_answer_of_a_general_solver_where_pipe_winds(foot_n):
    """Set down in the deviated well: straight, in part and mostly helical; 0.1 % of the weight set down."""
    stations = [*WELLS["deviated"][:-1], (3055, 55, 115)]
    spans = (
        Span(0.0, 2939.0, 271.6, 0.22, 0.084, 1.2289e6, 0.0449),
        Span(2939.0, 3055.0, 593.2, 0.22, 0.084, 2.299e6, 0.0449),
    )
    hole = SurveyPath([(md, math.radians(inc), math.radians(azi)) for md, inc, azi in stations])

    found = loads(hole, spans, DOWN, foot_n)[-1]
    tension, _torque = _solved(stations, spans, DOWN, foot_n)

    assert found.tension_n == pytest.approx(tension, abs=1e-3 * -foot_n)


# --- laws ---------------------------------------------------------------------------------------------------

FACTOR = st.floats(0.0, 0.6)
STATIONS = st.lists(st.tuples(st.floats(0, 110), st.floats(0, 360)), min_size=2, max_size=6)


def _hole(legs):
    # a leg of 600 m; two that would turn straight back are not drawn as neighbours
    rows = [(n * 600.0, math.radians(inc), math.radians(azi)) for n, (inc, azi) in enumerate(legs)]
    try:
        return SurveyPath(rows)
    except ValueError:
        return None


@settings(max_examples=60)
@given(STATIONS, FACTOR, st.floats(0.0, 3e5))
def test_drag_never_helps(legs, friction, foot_n):
    hole = _hole(legs)
    if hole is None:
        return
    end = hole.last_md_m
    spans = (Span(0.0, 0.6 * end, 300.0, friction, 0.08), Span(0.6 * end, end, 500.0, friction, 0.09))

    up, rest, down = (loads(hole, spans, motion, foot_n)[-1] for motion in (UP, TURN, DOWN))

    static = foot_n + sum(
        s.weight_n_per_m * (hole.tvd_m(s.bottom_md_m) - hole.tvd_m(s.top_md_m)) for s in spans
    )
    assert rest.tension_n == pytest.approx(static, rel=1e-4, abs=50.0)
    assert up.tension_n >= rest.tension_n - 50.0
    assert rest.tension_n >= down.tension_n - 50.0
    assert rest.torque_nm >= 0.0
    if friction == 0.0:
        assert up.tension_n == pytest.approx(down.tension_n, abs=1e-6)


@settings(max_examples=60)
@given(STATIONS, FACTOR, st.floats(-1e5, 3e5), st.sampled_from([UP, TURN, DOWN]))
def test_from_the_top_down_is_the_way_back(legs, friction, foot_n, motion):
    hole = _hole(legs)
    if hole is None:
        return
    spans = (Span(0.0, hole.last_md_m, 300.0, friction, 0.08),)

    top = loads(hole, spans, motion, foot_n)[-1].tension_n
    back = loads_below(hole, spans, motion, top)[-1].tension_n

    assert back == pytest.approx(foot_n, rel=1e-3, abs=1e-3 * max(abs(top), 1e5))


def test_a_push_that_locks_up_gets_nowhere():
    """A helix in a level hole: dF/ds = mu (w + k F^2) ends at a finite push however hard one pushes.

    With A = mu w and B = mu r / (4 E I) the push at the foot of a length L cannot pass sqrt(A/B) cot(sqrt(A B) L).
    """
    weight, friction, stiffness, clearance, length = 270.0, 0.3, 1.2e6, 0.045, 1000.0
    hole = SurveyPath([(0.0, math.pi / 2, 0.0), (length, math.pi / 2, 0.0)])
    spans = (Span(0.0, length, weight, friction, 0.08, stiffness, clearance),)
    a, b = friction * weight, friction * clearance / (4.0 * stiffness)
    most = math.sqrt(a / b) / math.tan(math.sqrt(a * b) * length)
    least_winds = 1.41 * 2.0 * math.sqrt(stiffness * weight / clearance)
    assert most > least_winds  # it winds all the way

    assert loads(hole, spans, DOWN, -1.001 * most)[-1].tension_n == -math.inf
    assert loads(hole, spans, DOWN, -0.95 * most)[-1].tension_n > -math.inf
    pushed = 5e6  # at the top: what is left of it by the same closed form
    left = math.sqrt(a / b) / math.tan(math.sqrt(a * b) * length + math.atan(math.sqrt(a / b) / pushed))
    assert -loads_below(hole, spans, DOWN, -pushed)[-1].tension_n == pytest.approx(left, rel=1e-4)
