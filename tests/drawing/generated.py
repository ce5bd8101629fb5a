"""Two hundred wells, each from its seed: the same seed gives the same text on every machine.

Vertical, deviated and past 90 degrees; 3 to 8 strings in place, up to three of them liners; 5 to 400 parts;
plain and long names; both unit systems; hole at bit size, washed out, logged, under-reamed; with and without
running string, cement and rock. Not every plan is a good one: a well with findings is drawn as well.
"""

from __future__ import annotations

import random
from typing import NamedTuple

COUNT = 200
MANY_PARTS = {77: 400, 13: 240, 146: 120}  # seed: parts of the liner; few, since each takes a second or so


class Step(NamedTuple):
    """Hole and the pipe set in it; each passes the drift of the step above."""

    bit_in: float
    pipe: tuple[str, ...]
    opened: str = ""


def _listed(name: str) -> tuple[str, ...]:
    return (f"pipe: {name}",)


def _by_hand(od: str, bore: str, drift: str) -> tuple[str, ...]:
    return (f"od: {od}", f"id: {bore}", f"drift: {drift}")


COMMON = (
    Step(36, _by_hand("30 in", "28 in", "27 in")),
    Step(26, _listed("20 in 133 lb/ft K-55")),
    Step(17.5, _listed("13 3/8 in 68 lb/ft L-80")),
    Step(12.25, _listed("9 5/8 in 47 lb/ft L-80")),
    Step(8.5, _listed("7 in 29 lb/ft P-110")),
    Step(6, _listed("4 1/2 in 13.5 lb/ft P-110")),
)
SLENDER = (
    Step(42, _by_hand("36 in", "34 in", "33.5 in")),
    Step(33, _by_hand("28 in", "26.5 in", "26.2 in")),
    Step(26, _by_hand("22 in", "20.5 in", "20.2 in")),
    Step(20, _by_hand("18 in", "17 in", "16.8 in")),
    Step(16.5, _by_hand("14 in", "13 in", "12.8 in")),
    Step(12.25, _listed("10 3/4 in 51 lb/ft P-110"), opened="under reamed to: 14 in"),
    Step(9.5, _listed("7 5/8 in 33.7 lb/ft P-110")),
    Step(6.5, _listed("5 in 18 lb/ft P-110"), opened="under reamed to: 7 in"),
    Step(4.125, _by_hand("3 1/2 in", "2.992 in", "2.867 in")),
)
SMALL_PARTS = ("crossover", "swivel", "setting sleeve", "external packer", "stage collar", "debris barrier")
SYLLABLES = ("bran", "dle", "wick", "sol", "li", "vane", "Ost", "rel", "cor", "morr", "\u00e9t", "\u0416u", "M W", "-x",
             "&<b>", "{0}", "%s", '"', " of the lower group ")  # fmt: skip
ROCKS = ("shale", "marl", "sand", "limestone", "dolomite", "salt", "coal", "other")
SHAPES = ("no survey", "vertical", "deviated", "horizontal", "past level")


def _name(dice: random.Random, most: int) -> str:
    return f"x{''.join(dice.choice(SYLLABLES) for _ in range(dice.randint(1, most)))}y"


def _survey(dice: random.Random, td_m: float) -> list[str]:
    """One bend from vertical to what is held down to the bottom, in 1 to 12 stations."""
    shape = dice.choice(SHAPES)
    if shape == "no survey":
        return []
    held = {
        "vertical": 1.5,
        "deviated": dice.uniform(15, 70),
        "horizontal": 90.0,
        "past level": dice.uniform(91, 98),
    }[shape]
    azi, stations = dice.randint(0, 340), dice.randint(1, 12)
    kick = round(0.15 * td_m, 1)
    end = min(kick + held / dice.uniform(1.5, 6.0) * 30.0, 0.8 * td_m)
    rows = ["survey:", f"  - {{md: 0 m, inc: 0 deg, azi: {azi} deg}}", f"  - {{md: {kick} m, inc: 0 deg, azi: {azi} deg}}"]  # fmt: skip
    for n in range(1, stations + 1):
        md, inc = kick + (end - kick) * n / stations, held * n / stations
        rows.append(f"  - {{md: {md:.1f} m, inc: {inc:.2f} deg, azi: {azi + n} deg}}")
    rows.append(f"  - {{md: {td_m} m, inc: {held:.2f} deg, azi: {azi + stations} deg}}")
    return rows


def _hole(
    dice: random.Random, steps: tuple[Step, ...], shoes: list[float], td_m: float, driven: bool
) -> list[str]:
    rows = ["hole:"]
    for n, (step, shoe) in enumerate(zip(steps, shoes, strict=False)):
        if driven and n == 0:
            continue
        opened = f", {step.opened}" if step.opened else ""
        rows.append(
            f"  - {{bit: {step.bit_in} in{opened}, to: {round(shoe + dice.choice((0.0, 4.0)), 1)} m}}"
        )
    last = steps[-1]
    rows += [f"  - bit: {last.bit_in} in", f"    to: {td_m} m"]
    if last.opened:
        rows.append(f"    {last.opened}")
    size = dice.choice(("bit size", "on diameter", "on volume", "1", "3", "40"))
    if size == "on diameter":
        rows.append("    washout: {diameter: {low: 1 %, likely: 4 %, high: 9 %}}")
    elif size == "on volume":
        rows.append(f"    washout: {{volume: {dice.randint(2, 25)} %}}")
    elif size != "bit size":
        top, count = shoes[-1] + 5.0, int(size)
        rows.append("    caliper:")
        for n in range(1, count + 1):
            to, diameter = top + (td_m - top) * n / count, (last.bit_in + 0.5) * dice.uniform(1.01, 1.2)
            rows.append(f"      - {{to: {to:.1f} m, diameter: {diameter:.3f} in}}")
    return rows


def _strings(
    dice: random.Random,
    steps: tuple[Step, ...],
    shoes: list[float],
    names: list[str],
    liners: int,
    driven: bool,
) -> list[str]:
    rows = ["strings:"]
    for n, (step, shoe, name) in enumerate(zip(steps, shoes, names, strict=False)):
        rows += [f"  - name: '{name}'", *(f"    {line}" for line in step.pipe), f"    shoe: {shoe} m"]
        if len(step.pipe) == 1:
            rows.append(f"    connection: {dice.choice(('buttress', 'special clearance buttress'))}")
        if n >= len(shoes) - liners:
            above = shoes[n - 2] if n > 1 else 0.0
            rows.append(f"    top: {shoes[n - 1] - min(120.0, 0.3 * (shoes[n - 1] - above)):.1f} m")
        if n == 0 and driven:
            rows.append("    driven: yes")
        elif dice.random() < 0.7:
            lowest = shoes[n - 1] if n else 0.5 * shoe
            known = dice.choice((", known by: bond log", ", known by: estimate", ""))
            rows.append(f"    cement: {{top: {lowest:.1f} m{known}}}")
    return rows


def _assembly(dice: random.Random, count: int) -> list[str]:
    """*count* parts from the bottom up, at least 5."""
    below = [
        f"{dice.choice(('float shoe', 'reamer shoe', 'guide shoe'))}, length: 0.7 m",
        "joint, count: 2, length: 24.1 m",
        "float collar, length: 0.5 m",
    ]
    if count >= 8 and dice.random() < 0.8:
        below += ["joint, count: 1, length: 12.0 m", "landing collar, length: 0.4 m, id: 30 mm"]
    above = ["liner hanger, length: 3 m, slips: {from bottom: 0.4 m, length: 1.5 m}"]
    if count >= 9 and dice.random() < 0.8:
        above += ["liner top packer, length: 2.2 m", "tie-back receptacle, length: 3.4 m"]
    between = ["joint, fill: true, each: 12.1 m"]
    while len(below) + len(between) + len(above) < count:
        if count > 60:
            between.append(f"pup joint, name: pup {len(between)}, length: {dice.uniform(0.3, 0.6):.2f} m")
        else:
            kind, name = dice.choice(SMALL_PARTS), f"{len(between)} {_name(dice, 7)}"
            between.append(f"{kind}, name: '{name}', length: {dice.uniform(0.2, 2.0):.2f} m")
    return ["  assembly:", *(f"    - {{part: {part}}}" for part in (*below, *between, *above))]


def _formation(dice: random.Random, shoe_m: float, td_m: float) -> list[str]:
    rows = ["formation:", "  pressures:"]
    for md in (shoe_m, 0.5 * (shoe_m + td_m), td_m):
        pore, fracture = dice.uniform(1.0, 1.25), dice.uniform(1.4, 2.1)
        rows.append(f"    - {{md: {md:.1f} m, pore: {pore:.2f} sg, fracture: {fracture:.2f} sg}}")
    rows.append("  tops:")
    for n in range(dice.randint(1, 9)):
        md, rock = 50.0 + (td_m - 60.0) * n / 9.0, dice.choice(ROCKS)
        rows.append(f"    - {{name: '{_name(dice, 6)} {n}', md: {md:.1f} m, rock: {rock}}}")
    return rows


def _cement(dice: random.Random, shoe_m: float, td_m: float) -> list[str]:
    split = shoe_m + 0.6 * (td_m - shoe_m)
    slurries = dice.choice(("{fluid: tail}", f"{{fluid: lead}}, {{fluid: tail, below: {split:.1f} m}}"))
    return [
        "cement:",
        f"  above liner top: {dice.choice((0, 15, 60))} m",
        f"  excess: {{open hole: 20 %, basis: {dice.choice(('gauge', 'caliper'))}}}",
        f"  slurries: [{slurries}]",
    ]


RUNNING_STRING = """running string:
  stick up: 2 m
  assembly:
    - {part: wiper plug}
    - {part: inner string, length: 5 m, od: 48 mm, id: 38 mm}
    - {part: running tool, length: 6 m, od: 60 mm, id: 38 mm}
    - {part: drill pipe, od: 73 mm, id: 54.6 mm, weight: 15.5 kg/m}""".splitlines()
FLUIDS = """fluids:
  mud: {kind: mud, density: 1.3 sg}
  lead: {kind: slurry, density: 1.6 sg}
  tail: {kind: slurry, density: 1.9 sg, yield: 0.76 m3/t, mix water: 0.44 m3/t}""".splitlines()


def text_of(seed: int) -> str:
    """The text of the well of a seed."""
    dice = random.Random(seed)
    ladder = dice.choice((COMMON, SLENDER))
    count = dice.randint(3, len(ladder) - 1)
    first = dice.randint(0, len(ladder) - 1 - count)
    steps = ladder[first : first + count + 1]
    shoes = [round(dice.uniform(60, 350), 1)]
    while len(shoes) < count:
        shoes.append(round(shoes[-1] + dice.uniform(420, 1600), 1))
    td = round(shoes[-1] + dice.uniform(420, 2600), 1)
    names = [f"{n} {_name(dice, 5)}" for n in range(count)]
    driven = dice.random() < 0.3
    parts = MANY_PARTS.get(seed, dice.choice((5, dice.randint(6, 14), dice.randint(6, 40))))
    rows = [
        "lapline: 1",
        "well:",
        f"  name: '{_name(dice, 14)}'",
        "  datum: {from: rotary table, above: mean sea level, height: 30 m, ground height: 20 m}",
        f"  show: {dice.choice(('field', 'metric'))}",
        *_survey(dice, td),
        *_hole(dice, steps, shoes, td, driven),
        *_strings(dice, steps, shoes, names, dice.randint(0, min(3, count - 1)), driven),
        "liner:",
        *(f"  {line}" for line in steps[-1].pipe),
        f"  host: '{names[-1]}'",
        f"  lap: {dice.uniform(35, 100):.1f} m",
        f"  off bottom: {dice.choice(('0 m', '3 m', '14 m'))}",
    ]
    if seed in MANY_PARTS or dice.random() < 0.9:
        rows += _assembly(dice, parts)
    if dice.random() < 0.6:
        rows += RUNNING_STRING
    rows += FLUIDS
    if dice.random() < 0.6:
        rows += _formation(dice, shoes[-1], td)
    if dice.random() < 0.7:
        rows += _cement(dice, shoes[-1], td)
    return "\n".join(rows) + "\n"
