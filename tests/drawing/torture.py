"""Wells that try the sheet: crowded tops, ninety degrees, long names, many findings, half-known plans."""

from __future__ import annotations

import re

from schematic.verbs import demos

BRINDLEWICK = demos()["brindlewick-4.yaml"]
SOLLIVANE = demos()["sollivane-a7.yaml"]


def changed(text: str, *changes: tuple[str, str]) -> str:
    """A well text after replacements that must each apply."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


TOP = "    - {part: pup joint, length: 12.0 ft}\n"
CROWDED = changed(
    BRINDLEWICK,
    (
        TOP,
        "".join(
            f"    - {{part: {part}, length: {length} ft, od: 8.2 in, id: 6.1 in}}\n"
            for part, length in (
                ("crossover", 2), ("swivel", 3), ("external packer", 12), ("crossover", 1.5), ("stage collar", 3),
                ("crossover", 2), ("setting sleeve", 2), ("setting sleeve", 3),
            )
        )
        + TOP,
    ),
    (
        "od: 8.250 in, bore: 7.375 in}\n",
        "od: 8.250 in, bore: 7.375 in}\n    - {part: liner top packer, name: second packer, length: 6 ft, od: 8.3 in, id: 6.2 in}\n"
        "    - {part: debris barrier, length: 2 ft, od: 8.2 in}\n",
    ),
)  # fmt: skip
MANY_PARTS = changed(
    BRINDLEWICK,
    (
        TOP,
        "".join(
            f"    - {{part: pup joint, name: space-out pup {n}, length: {4 + n} ft}}\n" for n in range(25)
        ),
    ),
)
LEVEL = changed(
    SOLLIVANE,
    ("  - {md: 3985 m, inc: 55 deg, azi: 115 deg}\n",
     "  - {md: 2500 m, inc: 55 deg, azi: 115 deg}\n  - {md: 3100 m, inc: 90 deg, azi: 120 deg}\n"
     "  - {md: 6000 m, inc: 90 deg, azi: 120 deg}\n"),
    ("    to: 3985 m\n    caliper:\n      - {to: 3985 m", "    to: 6000 m\n    caliper:\n      - {to: 6000 m"),
    ("below: 3550 m", "below: 4550 m"),
)  # fmt: skip
LONG = "Greater Eastern Ambrickshire Unit No. 14 sidetrack 2 (re-entry) & <b>Bold</b> well"
LONG_NAMES = changed(
    BRINDLEWICK,
    ("name: Brindlewick 4", f"name: '{LONG}'"),
    (
        "purpose: drilling liner",
        "purpose: contingency drilling liner across the over-pressured reactive shale",
    ),
    ("name: hydraulic hanger", "name: rotating hydraulic hanger with balanced cylinder and tie-bars"),
    ("by: R. Planner", "by: R. Planner-Featherstonehaugh of Elsewhere"),
    ("name: Corvane shale", "name: Corvane-Hallinquor-Merrowick interbedded silty shale"),
    ("known by: bond log", "known by: cement bond log and temperature log of the year before"),
)
NOT_MUCH = demos()["brindlewick-4.yaml"][: BRINDLEWICK.index("running string:  ")]
SKETCH = changed(NOT_MUCH[: NOT_MUCH.index("  assembly:")], ("    couplings:\n", "    couplings:\n"))
SHALLOW = """
lapline: 1
well:
  name: Shallow 1
  datum: {from: rotary table, above: mean sea level, height: 12 m, ground height: 8 m}
  show: metric
hole:
  - {bit: 12 1/4 in, to: 120 m}
  - {bit: 8 1/2 in, to: 200 m}
strings:
  - {name: casing, pipe: 9 5/8 in 36 lb/ft K-55, connection: buttress, shoe: 120 m, cement: {top: 4 m}}
liner: {pipe: 7 in 23 lb/ft K-55, connection: buttress, host: casing, lap: 40 m, off bottom: 1 m}
"""
LINER_IN_LINER = """
lapline: 1
well:
  name: Nested 2
  datum: {from: rotary table, above: mean sea level, height: 40 m, water depth: 300 m}
  show: metric
hole:
  - {bit: 36 in, to: 450 m}
  - {bit: 26 in, to: 1200 m}
  - {bit: 17 1/2 in, to: 2600 m}
  - {bit: 12 1/4 in, to: 3900 m}
  - {bit: 8 1/2 in, to: 4600 m, washout: {volume: 12 %}}
  - {bit: 6 in, to: 5100 m, washout: {diameter: {low: 1 %, likely: 4 %, high: 9 %}}}
strings:
  - {name: conductor, pipe: 30 in wall 1 in, shoe: 450 m, drift: 27 in, cement: {top: 340 m, known by: returns}}
  - {name: surface casing, pipe: 20 in 133 lb/ft K-55, connection: buttress, shoe: 1200 m, cement: {top: 340 m, known by: returns}}
  - {name: intermediate casing, pipe: 13 3/8 in 72 lb/ft P-110, connection: buttress, shoe: 2600 m, cement: {top: 2000 m}}
  - {name: production casing, pipe: 9 5/8 in 47 lb/ft P-110, connection: buttress, shoe: 3900 m, cement: {top: 3300 m, known by: bond log}}
  - {name: drilling liner, pipe: 7 in 29 lb/ft P-110, connection: special clearance buttress, top: 3750 m, shoe: 4600 m, cement: {top: 3750 m, known by: bond log}}
liner:
  pipe: 4 1/2 in 12.6 lb/ft L-80
  od: 4.5 in
  id: 3.958 in
  coupling od: 4.9 in
  host: drilling liner
  top: 4480 m
  off bottom: 2 m
  assembly:
    - {part: guide shoe, length: 0.4 m, od: 4.9 in}
    - {part: joint, count: 2, length: 24 m}
    - {part: float collar, length: 0.5 m, od: 4.9 in}
    - {part: landing collar, length: 0.5 m, od: 4.9 in, id: 1.5 in}
    - {part: joint, fill: true, each: 12.1 m}
    - {part: liner hanger, length: 2.6 m, od: 5.9 in, id: 3.9 in, slips: {from bottom: 0.4 m, length: 1 m}}
    - {part: liner top packer, length: 2.0 m, od: 5.9 in, id: 3.9 in}
    - {part: tie-back receptacle, length: 3.0 m, od: 5.9 in, bore: 5.25 in}
fluids:
  mud: {kind: mud, density: 1.55 sg}
  lead: {kind: slurry, density: 1.7 sg}
  middle: {kind: slurry, density: 1.8 sg}
  tail: {kind: slurry, density: 1.9 sg}
cement:
  planned top: 4500 m
  excess: {open hole: 20 %}
  slurries: [{fluid: lead}, {fluid: middle, below: 4700 m}, {fluid: tail, below: 4900 m}]
"""
LINER_IN_LINER = LINER_IN_LINER.replace("  pipe: 4 1/2 in 12.6 lb/ft L-80\n", "")
MANY_FINDINGS = changed(
    BRINDLEWICK,
    ("bit: 17 1/2 in", "bit: 20 in"),
    ("bit: 12 1/4 in, to", "bit: 12.5 in, from: 4130 ft, to"),
    ("bit: 8 1/2 in", "bit: 9 in"),
    ("shoe: 90 ft", "top: 100 ft\n    shoe: 90 ft"),
    ("lap: 370 ft", "lap: 90 ft\n  top: 9700 ft"),
    ("shoe: 4120 ft\n", "shoe: 4120 ft\n    shoe tvd: 4200 ft\n"),
    ("shoe: 9850 ft\n", "shoe: 9850 ft\n    shoe tvd: 4100 ft\n"),
    ("od: 8.312 in\n", "od: 8.9 in\n"),
    ("limits:\n", "waived:\n  - {rule: no such rule, by: A. Nyone, reason: none}\n\nlimits:\n"),
)
OPEN_TOP = changed(BRINDLEWICK, ("planned top: 9280 ft", "planned top: 11000 ft"))
NOT_CLOSED = changed(BRINDLEWICK, ("fill: true, each: 40.334 ft", "count: 60, length: 2420 ft"))
TOO_LONG = changed(BRINDLEWICK, ("fill: true, each: 40.334 ft", "count: 90, length: 3630 ft"))
NO_ROCK = changed(
    BRINDLEWICK[: BRINDLEWICK.index("formation:\n")] + BRINDLEWICK[BRINDLEWICK.index("cement:\n  planned") :],
    ("a", "a"),
)

LONG_LAP = changed(
    SOLLIVANE,
    ("lap: 125 m", "lap: 3000 m"),
    ("planned top: 2995 m", "planned top: 150 m"),
    ("length: 2941 m", "length: 66 m"),
)
BELOW_HOST = changed(SOLLIVANE, ("  lap: 125 m\n", "  top: 3300 m\n"))
CALIPERED = (
    "      - {to: 11300 ft, diameter: 9.30 in}\n",
    "      - {to: 12600 ft, diameter: 8.80 in}\n",
)
UNDER_REAMED = changed(
    BRINDLEWICK,
    (
        "  - bit: 8 1/2 in\n    to: 12600 ft\n    caliper:\n" + "".join(CALIPERED),
        "  - {bit: 12 1/4 in, under reamed to: 14 3/4 in, to: 12600 ft}\n",
    ),
)
CALIPER_LOG = changed(
    BRINDLEWICK,
    (
        CALIPERED[0],
        "".join(
            f"      - {{to: {9850 + 50 * n} ft, diameter: {8.6 + 0.05 * (n % 13):.2f} in}}\n"
            for n in range(1, 50)
        ),
    ),
)
ROCKS = ("shale", "marl", "limestone", "sand")
TEN_TOPS = BRINDLEWICK[: BRINDLEWICK.index("  tops:\n")] + (
    "  tops:\n"
    + "".join(
        f"    - {{name: unit {n} of the interbedded group, md: {9300 + 330 * n} ft, rock: {ROCKS[n % 4]}}}\n"
        for n in range(10)
    )
    + BRINDLEWICK[BRINDLEWICK.index("  temperature: {static: 246") :]
)
PORE_ONLY = re.sub(r", fracture: [0-9.]+ ppg", "", BRINDLEWICK)
UNICODE = changed(
    BRINDLEWICK,
    ("name: Brindlewick 4", "name: 'Br\u00e4n\u010f-\u043b\u044e 4 \u0301 \u4e2d\u6587'"),
    ("name: intermediate casing", "name: 'Zwischenst\u00fccke der mittleren Rohrtour mit einem sehr langen Namen, sechzig'"),
    ("host: intermediate casing", "host: 'Zwischenst\u00fccke der mittleren Rohrtour mit einem sehr langen Namen, sechzig'"),
    ("at: intermediate casing", "at: 'Zwischenst\u00fccke der mittleren Rohrtour mit einem sehr langen Namen, sechzig'"),
)  # fmt: skip

WELLS = {
    "brindlewick": BRINDLEWICK,
    "sollivane": SOLLIVANE,
    "crowded liner top": CROWDED,
    "forty parts": MANY_PARTS,
    "ninety degrees": LEVEL,
    "long names": LONG_NAMES,
    "no running string": NOT_MUCH,
    "sketch": SKETCH,
    "shallow": SHALLOW,
    "liner in liner": LINER_IN_LINER,
    "many findings": MANY_FINDINGS,
    "cement top in open hole": OPEN_TOP,
    "tally too short": NOT_CLOSED,
    "tally too long": TOO_LONG,
    "no formation": NO_ROCK,
    "long lap": LONG_LAP,
    "below host shoe": BELOW_HOST,
    "under-reamed": UNDER_REAMED,
    "caliper log": CALIPER_LOG,
    "ten tops": TEN_TOPS,
    "pore only": PORE_ONLY,
    "unicode": UNICODE,
    **{name: text for name, text in demos().items() if text not in (BRINDLEWICK, SOLLIVANE)},
}
