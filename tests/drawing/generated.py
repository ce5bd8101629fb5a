"""Two hundred wells, each from its seed: the same seed gives the same text on every machine.

Vertical, deviated and past 90 degrees; 3 to 8 strings of which up to three are earlier liners; 5 to 400 parts;
plain and long names; both unit systems; with and without running string, cement and rock.
"""

from __future__ import annotations

import random

COUNT = 200

# hole and pipe of each step; a pipe passes the drift of the one above it, and its couplings the hole
LADDER = (
    ("36 in", "30 in wall 1 in", "drift: 27 in"),
    ("26 in", "20 in 133 lb/ft K-55", ""),
    ("17 1/2 in", "13 3/8 in 68 lb/ft L-80", ""),
    ("12 1/4 in", "9 5/8 in 47 lb/ft L-80", ""),
    ("8 1/2 in", "7 in 29 lb/ft P-110", ""),
    ("6 in", "4 1/2 in 13.5 lb/ft P-110", ""),
)
SHORT = ("crossover", "swivel", "setting sleeve", "external packer", "stage collar", "debris barrier")
SYLLABLES = ("bran", "dle", "wick", "sol", "li", "vane", "Ost", "rel", "cor", "morr", "\u00e9t", "\u0416u", "M W", "-x", "&<b>")
ROCKS = ("shale", "marl", "sand", "limestone", "dolomite", "salt", "coal", "other")


def _name(dice: random.Random, most: int) -> str:
    word = "".join(dice.choice(SYLLABLES) for _ in range(dice.randint(1, most)))
    return f"x{word}y"[:90]


def _survey(dice: random.Random, td: float) -> list[str]:
    shape = dice.choice(("none", "vertical", "deviated", "horizontal", "past level"))
    if shape == "none":
        return []
    held = {"vertical": 1.5, "deviated": dice.uniform(15, 70), "horizontal": 90.0, "past level": dice.uniform(91, 98)}[shape]
    kick = round(0.15 * td, 1)
    rate = dice.uniform(1.5, 6.0)  # deg/30 m
    end = min(kick + held / rate * 30.0, 0.8 * td)
    rows = ["survey:", "  - {md: 0 m, inc: 0 deg, azi: 30 deg}", f"  - {{md: {kick} m, inc: 0 deg, azi: 30 deg}}"]
    steps = dice.randint(1, 12)
    for n in range(1, steps + 1):
        md = kick + (end - kick) * n / steps
        rows.append(f"  - {{md: {md:.1f} m, inc: {held * n / steps:.2f} deg, azi: {30 + n} deg}}")
    rows.append(f"  - {{md: {td:.1f} m, inc: {held:.2f} deg, azi: {30 + steps} deg}}")
    return rows


def _assembly(dice: random.Random, parts: int) -> list[str]:
    rows = [
        "  assembly:",
        f"    - {{part: {dice.choice(('float shoe', 'reamer shoe', 'guide shoe'))}, length: 0.7 m}}",
        "    - {part: joint, count: 2, length: 24.1 m}",
        "    - {part: float collar, length: 0.5 m}",
    ]
    if dice.random() < 0.7:
        rows += ["    - {part: joint, count: 1, length: 12.0 m}", "    - {part: landing collar, length: 0.4 m}"]
    rows.append("    - {part: joint, fill: true, each: 12.1 m}")
    for n in range(max(parts - len(rows) - 3, 0)):
        if parts > 60:
            rows.append(f"    - {{part: pup joint, name: pup {n}, length: {dice.uniform(0.3, 0.6):.2f} m}}")
        else:
            rows.append(
                f"    - {{part: {dice.choice(SHORT)}, name: '{n} {_name(dice, 8)}', length: {dice.uniform(0.2, 2.0):.2f} m}}"
            )
    rows.append("    - {part: liner hanger, length: 3 m, slips: {from bottom: 0.4 m, length: 1.5 m}}")
    if dice.random() < 0.8:
        rows += ["    - {part: liner top packer, length: 2.2 m}", "    - {part: tie-back receptacle, length: 3.4 m}"]
    return rows


def text_of(seed: int) -> str:
    """The text of the well of a seed."""
    dice = random.Random(seed)
    steps = dice.randint(2, 5)  # strings of the ladder that reach surface or hang as liners
    first = dice.randint(0, 5 - steps)
    liners = min(dice.randint(0, 3), steps - 1)
    shoes = [round(dice.uniform(60, 350), 1)]
    for _ in range(steps - 1):
        shoes.append(round(shoes[-1] + dice.uniform(420, 1600), 1))
    td = round(shoes[-1] + dice.uniform(420, 2600), 1)
    rows = [
        "lapline: 1",
        "well:",
        f"  name: '{_name(dice, 14)}'",
        "  datum: {from: rotary table, above: mean sea level, height: 30 m, ground height: 20 m}",
        f"  show: {dice.choice(('field', 'metric'))}",
        *_survey(dice, td),
        "hole:",
    ]
    driven = dice.random() < 0.4
    for n, shoe in enumerate(shoes):
        if n == 0 and driven:
            continue
        rows.append(f"  - {{bit: {LADDER[first + n][0]}, to: {round(shoe + dice.choice((0.0, 4.0)), 1)} m}}")
    last = f"  - {{bit: {LADDER[first + steps][0]}, to: {td} m"
    size = dice.choice(("gauge", "washout", "caliper"))
    if size == "washout":
        last += ", washout: {diameter: {low: 1 %, likely: 4 %, high: 9 %}}"
    rows.append(last + "}")
    if size == "caliper":
        rows[-1] = f"  - bit: {LADDER[first + steps][0]}\n    to: {td} m\n    caliper:"
        inch = {"8 1/2 in": 8.5, "6 in": 6.0, "12 1/4 in": 12.25, "17 1/2 in": 17.5, "26 in": 26.0}[LADDER[first + steps][0]]
        count = dice.choice((1, 3, 40))
        start = shoes[-1] + 5.0
        rows += [
            f"      - {{to: {start + (td - start) * (n + 1) / count:.1f} m, diameter: {inch * dice.uniform(1.01, 1.2):.3f} in}}"
            for n in range(count)
        ]
    rows.append("strings:")
    names = [f"{n} {_name(dice, 5)}" for n in range(steps)]
    for n, shoe in enumerate(shoes):
        pipe, drift = LADDER[first + n][1:]
        line = f"  - {{name: '{names[n]}', pipe: {pipe}, connection: {dice.choice(('buttress', 'special clearance buttress'))}, shoe: {shoe} m"
        if n >= steps - liners:
            line += f", top: {round(shoes[n - 1] - min(120.0, 0.3 * (shoes[n - 1] - (shoes[n - 2] if n > 1 else 0.0))), 1)} m"
        if n == 0 and driven:
            line += ", driven: yes"
        elif dice.random() < 0.7:
            line += f", cement: {{top: {round(0.5 * shoe + 25, 1)} m, known by: {dice.choice(('bond log', 'estimate'))}}}"
        rows.append(line + (f", {drift}" if drift else "") + "}")
    parts = dice.choice((5, 9, 14, 20, 40, 400)) if dice.random() < 0.5 else dice.randint(5, 30)
    rows += [
        "liner:",
        f"  pipe: {LADDER[first + steps][1]}",
        f"  host: '{names[-1]}'",
        f"  lap: {dice.uniform(35, 100):.1f} m",
        f"  off bottom: {dice.choice(('0 m', '3 m', '14 m'))}",
        *(_assembly(dice, parts) if dice.random() < 0.85 else []),
    ]
    if dice.random() < 0.6:
        rows += [
            "running string:",
            "  stick up: 2 m",
            "  assembly:",
            "    - {part: wiper plug}",
            "    - {part: inner string, length: 5 m, od: 60 mm, id: 50 mm}",
            "    - {part: running tool, length: 6 m, od: 88 mm, id: 50 mm}",
            "    - {part: drill pipe, od: 88.9 mm, id: 70.2 mm, weight: 20.7 kg/m}",
        ]
    rows += ["fluids:", "  mud: {kind: mud, density: 1.3 sg}", "  lead: {kind: slurry, density: 1.6 sg}",
             "  tail: {kind: slurry, density: 1.9 sg, yield: 0.76 m3/t, mix water: 0.44 m3/t}"]  # fmt: skip
    if dice.random() < 0.6:
        rows += ["formation:", "  pressures:"]
        rows += [
            f"    - {{md: {md:.1f} m, pore: {dice.uniform(1.0, 1.25):.2f} sg, fracture: {dice.uniform(1.4, 2.1):.2f} sg}}"
            for md in (shoes[-1], 0.5 * (shoes[-1] + td), td)
        ]
        rows.append("  tops:")
        rows += [
            f"    - {{name: '{_name(dice, 7)} {n}', md: {50 + (td - 60) * n / 9:.1f} m, rock: {dice.choice(ROCKS)}}}"
            for n in range(dice.randint(1, 9))
        ]
    if dice.random() < 0.7:
        rows += ["cement:", f"  above liner top: {dice.choice((0, 30, 60))} m", "  excess: {open hole: 20 %, basis: gauge}"]
        split = round(shoes[-1] + 0.6 * (td - shoes[-1]), 1)
        rows += dice.choice(
            (["  slurries: [{fluid: tail}]"], [f"  slurries: [{{fluid: lead}}, {{fluid: tail, below: {split} m}}]"])
        )
    return "\n".join(rows) + "\n"
