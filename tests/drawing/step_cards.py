"""Step cards written by hand, for drawing: as full as a card gets, with nothing, with holes, with long words."""

from __future__ import annotations

from schematic.engineering.columns import Layer
from schematic.job.card import (
    Box,
    Card,
    Countdown,
    Gauge,
    GaugeBand,
    IfNot,
    Say,
    Scene,
    Weight,
)
from schematic.outcome import Figure, Uncomputed

PSI, KLBF, FT, BBL = 6894.757293168, 4448.2216152605, 0.3048, 0.158987294928
BAR, KN = 1e5, 1e3


def psi(value: float) -> Figure:
    return Figure(value * PSI, "pressure")


def bar(value: float) -> Figure:
    return Figure(value * BAR, "pressure")


SCENE = Scene(
    shoe_md_m=12590 * FT,
    inside=(Layer("mud", 0.0, 12590 * FT, 1509.8),),
    outside=(Layer("mud", 0.0, 12600 * FT, 1509.8),),
    ball_md_m=None,
    dart_md_m=None,
    plug_md_m=9500 * FT,
    plug_latched=False,
    raised_m=0.0,
    raised_known=True,
    tool_released=False,
    string_out=False,
    slips_set=False,
    packer_set=False,
    dogs_out=False,
    ports="",
    pressure_from_md_m=None,
    pressure_to_md_m=None,
)

# Brindlewick 4, step 11: ball on seat in the landing collar, liner on its slips
SET_THE_HANGER = Card(
    number=11,
    code="set-the-hanger",
    title="Set the hanger",
    sub=Say("Slips at {a} to {b} MD.", {"a": Figure(9499 * FT, "depth"), "b": Figure(9507 * FT, "depth")}),
    do=(
        Say("Raise slowly, hold {held} for 10 min.", {"held": psi(1700)}),
        Say("Slack off the weight of the liner."),
    ),
    now=Box(psi(1700), "raise to", (Say("Pins let go at {a} to {b}.", {"a": psi(1425), "b": psi(1575)}),)),
    next=Box(psi(2160), "tool may release", (Say("From here up to {b}.", {"b": psi(2640)}),)),
    never=Box(psi(2000), "in this step", (Say("Repeats included."), Say("160 below the tool band."))),
    gauge=Gauge(
        (
            GaugeBand("hanger", 1425 * PSI, 1575 * PSI, True),
            GaugeBand("tool", 2160 * PSI, 2640 * PSI, False),
            GaugeBand("seat", 3060 * PSI, 3740 * PSI, False),
        ),
        1700 * PSI,
        2000 * PSI,
        "160 below the tool band",
    ),
    pressure=(Say("{p}, held while the weight is slacked off.", {"p": psi(1700)}),),
    volume=(Say("None goes round."),),
    weight=Weight(299.8 * KLBF, 226.6 * KLBF, "slacking off", (Say("Falls 73.2 klbf: the liner in mud."),)),
    counts=(
        Countdown("ball on seat", 269.8 * BBL, 266.0 * BBL, 274.0 * BBL, 2672.0, 2700.0, None, "the ball"),
    ),
    state=(("ball", "on seat"), ("slips", "out"), ("packer", "not set")),
    look_for=(
        Say("Pressure checks between {a} and {b}.", {"a": psi(1425), "b": psi(1575)}),
        Say("It stands."),
    ),
    if_not=(
        IfNot(Say("Pipe travels down?"), Say("Bleed off. Pick up 3 ft, clear of both couplings.")),
        IfNot(Say("Two tries failed?"), Say("Stop, hold. The supervisor decides.")),
    ),
    pick_up_limit=Say("Pick up no more than {t}.", {"t": Figure(7 * FT, "length")}),
    as_read=("pins at", "held at", "hook load"),
    caution=(Say("Pressure: stand clear of the lines."),),
    scene=SCENE._replace(
        ball_md_m=12464.3 * FT, slips_set=True, pressure_from_md_m=0.0, pressure_to_md_m=12464.3 * FT
    ),
    released=True,
    needs=(),
)

NOT_COMPUTED = Box(None, "not computed", (Say("needs {n}", {"n": "installation.tool releases at"}),))

CARDS = {
    "full": SET_THE_HANGER,
    "not computed": SET_THE_HANGER._replace(
        now=NOT_COMPUTED,
        next=NOT_COMPUTED,
        never=NOT_COMPUTED,
        gauge=None,
        weight=Weight(None, None, "", (Say("none: nothing hangs on the hook"),)),
        counts=(),
        needs=(Uncomputed("next event", ("installation.tool releases at", "formation.leak off")),),
    ),
    "words for figures": SET_THE_HANGER._replace(
        now=Box(None, "as the program says", (Say("If the program has one."),)),
        next=Box(Figure(7.375 * 0.0254, "size"), "over all", ()),
        never=Box(None, "whatever the maker of the hanger has written for it", ()),
    ),
    "no gauge": SET_THE_HANGER._replace(gauge=None),
    "bare": SET_THE_HANGER._replace(
        do=(),
        now=Box(None, "no figure", ()),
        next=Box(None, "none", ()),
        never=Box(None, "none", ()),
        gauge=None,
        weight=Weight(None, None, "", (Say("none: nothing hangs on the hook"),)),
        counts=(),
        state=(),
        look_for=(),
        if_not=(),
        pick_up_limit=None,
        as_read=(),
        caution=(),
    ),
    "not released": SET_THE_HANGER._replace(now=Box(psi(2619), "raise to", ()), released=False),
    "each motion": SET_THE_HANGER._replace(
        weight=Weight(
            None,
            None,
            "on the way",
            (
                Say("picking up {up}", {"up": Figure(1248 * KN, "force")}),
                Say("slacking off {down}", {"down": Figure(868 * KN, "force")}),
                Say("The last stand was not weighed."),
            ),
        )
    ),
    "one weight": SET_THE_HANGER._replace(weight=Weight(None, 226.6 * KLBF, "at rest", ())),
    "many sentences": SET_THE_HANGER._replace(
        do=tuple(Say(f"Sentence {n} of a step that has far more to tell than one page holds.") for n in range(60)),
        if_not=tuple(
            IfNot(Say(f"Sign {n} not seen?"), Say(f"Then remedy {n}, " + "and again the same " * 9 + "until it is."))
            for n in range(12)
        ),
        never=Box(psi(2000), "in this step", tuple(Say(f"Reason {n}, with some more words to it.") for n in range(14))),
        as_read=tuple(f"reading number {n}" for n in range(9)),
    ),
    "long words": SET_THE_HANGER._replace(
        title="Set the rotating hydraulic hanger with balanced cylinder between the couplings",
        sub=Say("Slips " + "between couplings that nobody has located, " * 6 + "so look twice."),
        do=(Say("{long}", {"long": "Unbroken" * 60}),),
        state=(("the ball that was dropped before", "on its seat in the landing collar of the liner"),) * 5,
        gauge=Gauge(
            tuple(GaugeBand(f"external packer number {n}", n * 300 * PSI, (n * 300 + 200) * PSI, n == 2) for n in range(1, 9)),
            500 * PSI,
            505 * PSI,
            "close to where it goes",
        ),
        as_read=("the pressure at which the pins were seen to let go at surface", "held"),
    ),
    "gauge without target": SET_THE_HANGER._replace(gauge=SET_THE_HANGER.gauge._replace(target_pa=None)),
    "gauge without limit": SET_THE_HANGER._replace(gauge=SET_THE_HANGER.gauge._replace(limit_pa=None)),
    "target at the limit": SET_THE_HANGER._replace(gauge=SET_THE_HANGER.gauge._replace(target_pa=2000 * PSI)),
    "target beyond the limit": SET_THE_HANGER._replace(gauge=SET_THE_HANGER.gauge._replace(target_pa=2300 * PSI)),
    "target at nought": SET_THE_HANGER._replace(
        gauge=SET_THE_HANGER.gauge._replace(target_pa=0.0, limit_pa=100 * PSI)
    ),
    "limit at the end": SET_THE_HANGER._replace(
        gauge=SET_THE_HANGER.gauge._replace(target_pa=3700 * PSI, limit_pa=3800 * PSI)
    ),
}  # fmt: skip

# Sollivane A-7, step 20: plug landed, pressure above it, tail cement outside, the seat in the tool sheared
BUMP_METRIC = SET_THE_HANGER._replace(
    number=20,
    code="bump-the-plug",
    title="Bump the plug",
    sub=Say("Plug on the landing collar at {a} MD.", {"a": Figure(3944.42, "depth")}),
    now=Box(bar(115), "bump at", (Say("Hold 5 min."),)),
    next=Box(Figure(44.39, "volume"), "stop at", (Say("No bump: stop there."),)),
    never=Box(bar(250.5), "at surface", (Say("More lifts the tool out of its seal."),)),
    gauge=Gauge((GaugeBand("bump", 100 * BAR, 130 * BAR, True),), 115 * BAR, 250.5 * BAR, "the seal of the tool"),
    weight=Weight(635 * KN, 635 * KN, "at rest", (Say("Stays: the tool is held down."),)),
    counts=(
        Countdown("bump", 44.03, 43.6, 44.5, None, 2520.0, 23.9e5, "the dart"),
        Countdown("maximum over-displacement", 44.39, 44.39, 44.39, None, None, None, "the dart"),
    ),
    scene=SCENE._replace(
        shoe_md_m=3982.0,
        inside=(Layer("mud", 0.0, 3944.42, 1380.0), Layer("tail", 3944.42, 3982.0, 1900.0)),
        outside=(
            Layer("mud", 0.0, 2600.0, 1380.0),
            Layer("spacer", 2600.0, 2995.0, 1500.0),
            Layer("lead", 2995.0, 3550.0, 1620.0),
            Layer("tail", 3550.0, 3985.0, 1900.0),
        ),
        dart_md_m=3944.42,
        plug_md_m=3944.42,
        plug_latched=True,
        tool_released=True,
        slips_set=True,
        pressure_from_md_m=0.0,
        pressure_to_md_m=3944.42,
    ),
)  # fmt: skip
