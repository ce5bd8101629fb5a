"""What happens at each step of the job, in one sentence without figures to obey; those stand on the cards."""

from __future__ import annotations

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
        "The hanger takes hold of the host casing in the way that its maker says, and then carries the liner."
    ),
    "set-on-bottom": "Without a hanger the liner has to stand on the bottom before the tool lets it go.",
    "release-the-tool": (
        "More pressure lets the running tool go of the liner, which is held where it is already."
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
