"""Whatever valid well is written, its sheet draws, on both scales, with nothing on top of anything."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from schematic import check
from schematic.drawing import overlap
from schematic.verbs import load_text, sheet

# hole, pipe of the string in it; each fits through the one above by its drift
LADDER = (
    ("36 in", "30 in wall 1 in"),
    ("26 in", "20 in 133 lb/ft K-55"),
    ("17 1/2 in", "13 3/8 in 68 lb/ft K-55"),
    ("12 1/4 in", "9 5/8 in 47 lb/ft L-80"),
    ("8 1/2 in", "7 in 29 lb/ft P-110"),
    ("6 in", "4 1/2 in 11.6 lb/ft L-80"),
)
SHORT = (
    "crossover",
    "swivel",
    "setting sleeve",
    "pup joint",
    "external packer",
    "stage collar",
    "debris barrier",
)
NAME = st.text("abcdefgh\u00e9\u0416 -&<>WMil", min_size=1, max_size=70).map(lambda s: f"x{s.strip(' -')}y")


@st.composite
def wells(draw) -> str:
    """The text of a well: 2 to 5 strings, a lap of 30 to 600 m, 1 to 20 parts, vertical or not."""
    count = draw(st.integers(2, 5))
    first = draw(st.integers(0, 5 - count))
    shoes = [draw(st.floats(40.0, 400.0))]
    for _ in range(count - 1):
        shoes.append(shoes[-1] + draw(st.floats(100.0, 2500.0)))
    shoes = [round(shoe, 1) for shoe in shoes]
    td = round(shoes[-1] + draw(st.floats(60.0, 3000.0)), 1)
    lap = round(min(draw(st.floats(30.0, 600.0)), 0.9 * (shoes[-1] - shoes[-2])), 1)
    rows = [
        "lapline: 1",
        "well:",
        f"  name: '{draw(NAME)}'",
        "  datum: {from: rotary table, above: mean sea level, height: 30 m, ground height: 20 m}",
        f"  show: {draw(st.sampled_from(['field', 'metric']))}",
    ]
    if draw(st.booleans()):
        held = draw(st.floats(3.0, 92.0))
        kick, end = 0.2 * shoes[0], max(0.2 * shoes[0] + 40.0 * held, 0.0)
        rows += [
            "survey:",
            "  - {md: 0 m, inc: 0 deg, azi: 0 deg}",
            f"  - {{md: {kick:.1f} m, inc: 0 deg, azi: 40 deg}}",
        ]
        if end < td - 10.0:
            rows.append(f"  - {{md: {end:.1f} m, inc: {held:.1f} deg, azi: 40 deg}}")
            rows.append(f"  - {{md: {td} m, inc: {held:.1f} deg, azi: 40 deg}}")
        else:
            rows.append(f"  - {{md: {td} m, inc: {min(held, (td - kick) / 40.0):.1f} deg, azi: 40 deg}}")
    washed = draw(
        st.sampled_from(
            ["", ", washout: {volume: 12 %}", ", washout: {diameter: {low: 1 %, likely: 4 %, high: 9 %}}"]
        )
    )
    rows.append("hole:")
    for n, shoe in enumerate(shoes):
        rows.append(f"  - {{bit: {LADDER[first + n][0]}, to: {shoe + draw(st.sampled_from([0.0, 3.0]))} m}}")
    rows += [f"  - {{bit: {LADDER[first + count][0]}, to: {td} m{washed}}}", "strings:"]
    for n, shoe in enumerate(shoes):
        known = draw(st.sampled_from(["", ", known by: bond log", ", known by: estimate"]))
        cement = draw(st.sampled_from(["", f", cement: {{top: {round(0.4 * shoe, 1)} m{known}}}"]))
        drift = ", drift: 27 in" if "wall" in LADDER[first + n][1] else ""
        rows.append(f"  - {{name: string {n}, pipe: {LADDER[first + n][1]}, shoe: {shoe} m{drift}{cement}}}")
    rows += [
        "liner:",
        f"  pipe: {LADDER[first + count][1]}",
        f"  host: string {count - 1}",
        f"  lap: {lap} m",
        f"  off bottom: {draw(st.sampled_from(['0 m', '2 m', '15 m']))}",
    ]
    extra = draw(st.integers(0, 14))
    if draw(st.booleans()):
        rows += [
            "  assembly:",
            "    - {part: float shoe, length: 0.7 m}",
            "    - {part: joint, count: 2, length: 24 m}",
        ]
        rows += ["    - {part: float collar, length: 0.5 m}", "    - {part: landing collar, length: 0.5 m}"]
        rows.append("    - {part: joint, fill: true, each: 12.1 m}")
        for n in range(extra):
            kind, name = draw(st.sampled_from(SHORT)), draw(NAME)
            rows.append(
                f"    - {{part: {kind}, name: '{n} {name}', length: {draw(st.floats(0.2, 1.5)):.2f} m}}"
            )
        rows.append("    - {part: liner hanger, length: 3 m}")
        if draw(st.booleans()):
            rows += [
                "    - {part: liner top packer, length: 2 m}",
                "    - {part: tie-back receptacle, length: 3 m}",
            ]
    elif draw(st.booleans()):
        rows += ["  assembly:", "    - {part: joint, fill: true, each: 12.1 m}"]
    rows += ["fluids:", "  mud: {kind: mud, density: 1.3 sg}", "  tail: {kind: slurry, density: 1.9 sg}"]
    if draw(st.booleans()):
        rows.append("formation:")
        rows.append("  pressures:")
        for md in (shoes[-1], 0.5 * (shoes[-1] + td), td):
            rows.append(
                f"    - {{md: {md:.1f} m, pore: {draw(st.floats(1.0, 1.25)):.2f} sg, fracture: {draw(st.floats(1.4, 2.1)):.2f} sg}}"
            )
        rows.append("  tops:")
        for n in range(draw(st.integers(1, 8))):
            md = round(50.0 + (td - 60.0) * n / 8.0, 1)
            rows.append(
                f"    - {{name: '{draw(NAME)} {n}', md: {md} m, rock: {draw(st.sampled_from(['shale', 'sand', 'marl', 'limestone']))}}}"
            )
    if draw(st.booleans()):
        top = draw(st.sampled_from([shoes[-1] - lap - 20.0, shoes[-1] - 0.5 * lap, shoes[-1] + 20.0]))
        rows += [
            "cement:",
            f"  planned top: {max(top, 5.0):.1f} m",
            "  excess: {open hole: 20 %}",
            "  slurries: [{fluid: tail}]",
        ]
    return "\n".join(rows) + "\n"


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(wells())
def test_any_valid_well_draws_with_nothing_on_top_of_anything(text):
    evaluation = check(load_text(text, "any"))
    for scale in ("fitted", "true"):
        for scene in sheet(evaluation, scale).scenes:
            assert overlap.problems(scene) == []  # what lines and grounds do to texts is among them
