"""What happens at each step of the job, in one sentence without figures to obey; those stand on the cards."""

from __future__ import annotations

from schematic.job.step_texts import Line, holds

TOLD = {
    "check-the-parts": (
        "Everything is measured, drifted and counted before it goes in: a joint counted wrong puts every "
        "later depth wrong."
    ),
    "condition-the-hole": (
        "The hole is wiped and circulated clean, and the casing is scraped where the liner will grip and "
        "seal."
    ),
    "make-up-the-shoe-track": (
        "Shoe, first joints and collars are made up, and their check valves are tried before they are out "
        "of reach."
    ),
    "run-the-liner": (
        "Joint after joint goes in; each is filled, and what the hole gives back is held against the "
        "steel that went in."
    ),
    "pick-up-the-hanger": (
        "The hanger assembly comes on top with the running tool in it; the liner is weighed alone."
    ),
    "run-in-on-pipe": (
        "Drill pipe now carries the liner down inside the casing; the fill keeps the pressure even."
    ),
    "circulate-at-the-host-shoe": (
        "At the last safe place before open hole the mud is moved and the weights are read: they are the "
        "baseline."
    ),
    "run-to-depth": "The liner goes through open hole without stopping until its shoe stands on depth.",
    "circulate-on-depth": "On depth the mud is circulated clean and even before anything is set.",
    "ball-on-seat": "The ball goes down the string onto its seat and closes it: now pressure can work.",
    "set-the-hanger": (
        "Pressure behind the ball shears pins; slips move up their cones and bite the host casing, which "
        "then carries the liner."
    ),
    "set-the-hanger-by-turning": (
        "Turning frees the slips while springs hold them; as the pipe comes down they ride up the cones "
        "and bite."
    ),
    "set-the-hanger-as-its-maker-says": (
        "The hanger is expanded against the host casing as its maker says, and then carries the liner."
    ),
    "set-on-bottom": "Without a hanger the liner has to stand on the bottom before the tool lets it go.",
    "release-the-tool": (
        "Pressure lets the running tool go of the liner, which is held where it is already."
    ),
    "release-the-tool-by-turning": (
        "With no load on it the running tool is turned out of the liner, which is held where it is already."
    ),
    "prove-the-release": (
        "A short pick-up shows that only the string comes along, while the seal stays in the liner."
    ),
    "set-weight-on-the-tool": (
        "Weight is put on the tool so that pressure under its seal cannot push it out."
    ),
    "shear-the-seat": "Pressure opens the ball seat: the way down the liner is free again.",
    "circulate-hung": (
        "Mud goes down the liner and comes back outside it, through the lap: the way is open."
    ),
    "pump-spacer-and-cement": (
        "Spacer goes first to keep mud and cement apart, then the cement; the dart follows behind it."
    ),
    "dart-meets-plug": "The dart reaches the wiper plug and frees it: a spike of pressure says so.",
    "displace-the-liner": "The cement is pushed down the liner, round the shoe and up outside it.",
    "displace-by-volume": (
        "Without a plug nothing tells when the cement is where it should be: only the volume does."
    ),
    "stages-not-covered": "What opens or sets later for another stage is worked by its maker's procedure.",
    "bump-the-plug": (
        "The plug lands on the landing collar; the bump says that displacement ended where it should, and "
        "the check valves hold."
    ),
    "set-the-packer": (
        "Picked up a little, the dogs of the tool spring out; weight on the receptacle pushes the packer "
        "against the casing."
    ),
    "test-the-packer": (
        "Pressure from above tries the packer while the string is still there to set it again."
    ),
    "pull-out-and-reverse": (
        "The string is pulled clear of the liner top, and the cement above it is circulated out."
    ),
    "pull-clear": "The string is pulled clear of the liner top; nothing was cemented.",
    "pull-out-of-hole": "The running tool comes to surface and shows by its marks what happened below.",
    "wait-on-cement": "Nobody drills or tests until the cement bears it; then the inside is cleaned out.",
    "test-the-lap": "Pressure from above shows whether lap and packer hold.",
    "inflow-test": "Pressure inside is taken below that of the rock: nothing may flow in.",
}

# where the plan is otherwise: the first that stands is told, by the words that `steps.yaml` asks for
_OTHERWISE: dict[str, tuple[Line, ...]] = {
    "condition-the-hole": (
        Line(
            "The hole is wiped and circulated clean down to its bottom, on which the liner is to stand.",
            ("no hanger",),
        ),
    ),
    "make-up-the-shoe-track": (
        Line("Shoe, first joints and collars are made up; no check valve is in them.", ("no floats",)),
    ),
    "run-the-liner": (
        Line(
            "Joint after joint goes in and fills by itself; what the hole gives back is held against the "
            "steel that went in.",
            ("no floats",),
        ),
    ),
    "pick-up-the-hanger": (
        Line(
            "The liner top comes on with the running tool in it; there is no hanger. The liner is weighed "
            "alone.",
            ("no hanger",),
        ),
    ),
    "run-in-on-pipe": (
        Line("Drill pipe now carries the liner down inside the casing; it fills by itself.", ("no floats",)),
    ),
    "run-to-depth": (
        Line(
            "The liner goes down inside the casing until its shoe stands on depth; it meets no open hole.",
            ("no open hole",),
        ),
    ),
    "ball-on-seat": (
        Line(
            "A ball is to close the string, so that pressure can work. Where it stops the file does not "
            "say: until that is known none is dropped.",
            ("no seat",),
        ),
    ),
    "set-the-hanger": (
        Line(
            "Pressure is to push the slips up their cones until they bite the host casing. What closes the "
            "string for it the file does not say.",
            ("no seat",),
        ),
    ),
    "set-the-hanger-as-its-maker-says": (
        Line(
            "The hanger takes hold of the host casing, and then carries the liner. How it is set the file "
            "does not say.",
            ("no expandable",),
        ),
    ),
    "release-the-tool": (
        Line(
            "More pressure than set the hanger lets the running tool go of the liner, which is held where "
            "it is already.",
            ("seat", "hydraulic"),
        ),
        Line(
            "Pressure is to let the running tool go of the liner, which is held where it is already. What "
            "closes the string for it the file does not say.",
            ("no seat", "tool pressure"),
        ),
        Line(
            "The running tool lets go of the liner, which is held where it is already. Whether by pressure "
            "or by turning the file does not say.",
            ("no seat",),
        ),
    ),
    "shear-the-seat": (
        Line(
            "Pressure is to open the ball seat, so that the way down is free again. Where that seat is the "
            "file does not say.",
            ("no seat",),
        ),
    ),
    "pump-spacer-and-cement": (
        Line(
            "Spacer goes first to keep mud and cement apart, then the cement; there is no plug for a dart "
            "to free.",
            ("no plug",),
        ),
    ),
    "bump-the-plug": (
        Line(
            "The plug lands on the landing collar; the bump says that displacement ended where it should.",
            ("no floats",),
        ),
    ),
    "set-the-packer": (
        Line(
            "Picked up a little, the dogs of the tool spring out; weight on the liner top pushes the packer "
            "against the casing.",
            ("no receptacle",),
        ),
    ),
    "test-the-lap": (
        Line("Pressure from above is to show whether the lap holds, but not as planned.", ("no released",)),
        Line("Pressure from above shows whether the lap holds.", ("no packer",)),
    ),
    "inflow-test": (
        Line(
            "Pressure inside is to be taken below that of the rock; with the fluid of this plan it stays "
            "above, and nothing is proved.",
            ("proves nothing",),
        ),
    ),
}


def told(code: str, words: frozenset[str]) -> str:
    """The sentence of a step, by the words that hold for the plan and "released" where it is not on hold."""
    return next((line.text for line in _OTHERWISE.get(code, ()) if holds(line.when, words)), TOLD[code])
