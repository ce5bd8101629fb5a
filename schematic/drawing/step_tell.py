"""What the names beside the well at a step say, and where each points to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing.captions import THIN
from schematic.drawing.palette import BLACK, BLUE
from schematic.drawing.step_dropped import ball_m, ball_place, plug_place
from schematic.drawing.step_fluids import FILLED, inside_rings, outside_rings, piston_level
from schematic.drawing.step_stands import HANGING, Stands, surrounds
from schematic.drawing.step_string import lifted_m, seal_levels, sealing_part, tool_levels
from schematic.drawing.step_view import View, in_whole
from schematic.engineering.columns import Layer
from schematic.job.card import Scene
from schematic.units import System, number, sentence_case, show, size

_SAME_M = 0.02
_COLLARS = ("landing collar", "float collar", "stage collar")
_SHOES = ("float shoe", "reamer shoe", "guide shoe")


class Name(NamedTuple):
    """A name beside the well: of which part, the words, where it points to, how it is printed."""

    part: str
    text: str
    y_mm: float
    end_mm: float
    strong: bool = False
    colour: str = BLACK
    rank: int = 1  # where there is not room for all, the lowest stay


class Teller:
    """Tells what is where in a scene."""

    def __init__(
        self,
        evaluation: Evaluation,
        scene: Scene,
        before: Scene | None,
        its: Stands,
        seen: View,
        system: System,
    ) -> None:
        self.plan, self.evaluation, self.scene, self.before = evaluation.plan, evaluation, scene, before
        self.its, self.seen, self.system = its, seen, system
        self.frame, self.axis = seen.frame, seen.frame.axis_mm
        self.ends = (seen.frame.scale.levels_mm[0], seen.frame.scale.levels_mm[-1])

    def at(self, md_m: float) -> str:
        """A depth without its unit."""
        return number(md_m, "depth", self.system, THIN)

    def new(self, *fields: str) -> bool:
        """Whether something of the scene is not as it was in the step before."""
        before = self.before
        return before is not None and any(getattr(self.scene, f) != getattr(before, f) for f in fields)

    def middle(self, top_md_m: float, bottom_md_m: float) -> float | None:
        """The middle of the tallest stretch of an interval that is seen."""
        pieces = self.seen.shown(top_md_m, bottom_md_m)
        if not pieces:
            return None
        y0, y1 = max(pieces, key=lambda piece: piece[1] - piece[0])
        return 0.5 * (y0 + y1)

    def string(self) -> list[Name]:
        """Pipe, tool, dogs, pack-off."""
        found: list[Name] = []
        its, frame, scene = self.its, self.frame, self.scene
        levels = tool_levels(scene, its, self.seen)
        for part in its.running:
            lacks = "" if part.od_m is not None and part.id_m is not None else ": OD or bore not given"
            end = self.axis + (frame.r(part.od_m) if part.od_m is not None else 0.0)
            name = sentence_case(part.name)
            if part is its.tool and levels is not None:
                state = self.tool_state()
                strong = self.new("tool_released", "raised_m")
                y = min(levels.place.top_mm + 3.0, levels.dogs[0] - 1.0)
                found.append(Name(part.path, f"{name}, {state}{lacks}", y, end, strong, rank=0))
            elif part.kind not in HANGING:
                y_or_none = self.middle(part.top_md_m, part.bottom_md_m)
                if y_or_none is not None:
                    long = f", {show(part.length_m, 'depth', self.system, THIN)}"
                    if scene.raised_m > 0.0 and not scene.raised_known and part.top_md_m < _SAME_M:
                        long = ""  # how much of it is in the well is not known
                    found.append(Name(part.path, f"{name}{long}{lacks}", y_or_none, end))
            elif part is not sealing_part(its) and part.kind != "wiper plug":
                y_or_none = self.middle(part.top_md_m, part.bottom_md_m)
                if y_or_none is not None:
                    found.append(Name(part.path, f"{name}{lacks}", y_or_none, end, rank=2))
        tool = its.tool
        packs = any(part.kind == "liner top packer" for part in its.liner)
        if levels is not None and packs and tool is not None and tool.od_m is not None:
            words = "Dogs out, on the liner top" if scene.dogs_out else "Dogs folded"
            y = 0.5 * sum(levels.dogs)
            found.append(
                Name(
                    tool.path,
                    words,
                    y,
                    self.axis + frame.r(tool.od_m) + 0.6,
                    self.new("dogs_out") and scene.dogs_out,
                )
            )
        seal, part_ = seal_levels(scene, its, self.seen), sealing_part(its)
        if seal is not None and part_ is not None:
            on = (
                show(part_.od_m, "diameter", self.system)
                if part_.od_m is not None
                else "a joint of unknown OD"
            )
            r = frame.r(part_.od_m) if part_.od_m is not None else 0.0
            state = "lifted, on" if lifted_m(part_, scene) > _SAME_M else "seals on"
            words = f"Pack-off {state} {on}"
            if 0.5 * sum(seal) < frame.y(its.top_md_m):
                words = "Pack-off out of the liner"
            found.append(Name(part_.path, words, 0.5 * sum(seal), self.axis + r + 1.0, rank=0))
        level = piston_level(scene, its, self.seen)
        if level is not None and scene.by_tool:
            end = self.axis + frame.r(self.plan.depth.liner.od_m) + 0.6
            found.append(Name("", "Piston, under pressure", level, end, True, rank=0))
            if levels is not None and tool is not None:
                y, end = levels.dogs[0] - 2.5, self.axis + frame.r(tool.od_m or 0.0)
                found.append(Name(tool.path, "Tool's ports: place not given", y, end, rank=0))
        elif level is not None:
            end = self.axis + frame.r(self.plan.depth.liner.id_m)
            found.append(Name("", "Ports, pressure in", level, end))
        return found

    def tool_state(self) -> str:
        """What the tool does: let go, raised and how far, set down again."""
        scene, before = self.scene, self.before
        if not scene.tool_released:
            return "made up"
        state = "let go, not yet proved" if before is not None and not before.tool_released else "released"
        if scene.raised_m <= 0.0:
            return f"{state}, set down again" if before is not None and before.raised_m > 0.0 else state
        if scene.raised_below_m is not None:
            return f"{state}, raised well short of {show(scene.raised_below_m, 'length', self.system, THIN)}"
        up = f" {show(scene.raised_m, 'length', self.system, THIN)}" if scene.raised_known else ""
        return f"{state}, raised{up}"

    def liner(self) -> list[Name]:
        """The parts of the liner that do something, with their state."""
        found: list[Name] = []
        its, frame, scene = self.its, self.frame, self.scene
        if not its.liner:
            return found
        first = its.liner[0]
        end = self.axis + frame.r(first.od_m if first.od_m is not None else self.plan.depth.liner.od_m)
        moved = self.new("shoe_md_m")
        words = f"Liner top {self.at(its.top_md_m)}"
        if first.path == self.plan.depth.liner.parts[0].path:  # else the top is not made up yet
            found.append(Name(first.path, words, frame.y(its.top_md_m) + 0.4, end, True, BLUE, rank=0))
        for part in its.liner:
            end = self.axis + frame.r(part.od_m if part.od_m is not None else self.plan.depth.liner.od_m)
            y = self.middle(part.top_md_m, part.bottom_md_m)
            if y is None or part.kind in ("joint", "pup joint"):
                continue
            name = sentence_case(part.name)
            if part.kind == "liner top packer":
                words = f"{name}, set" if scene.packer_set else f"{name}, not set"
                pressed = scene.annulus_to_md_m is not None
                strong = self.new("packer_set") or (pressed and self.new("annulus_to_md_m"))
                found.append(Name(part.path, words, y, end, strong, rank=0))
            elif part.kind == "liner hanger":
                found.append(Name(part.path, self.grip(part), y, end, self.new("slips_set"), rank=0))
            elif part.kind in _SHOES:
                if part is its.liner[-1]:
                    found.append(Name(part.path, f"{name} {self.at(its.shoe_md_m)}", y, end, moved, rank=0))
            elif part.kind == "external packer":
                found.append(Name(part.path, f"{name}, drawn as run in", y, end, rank=2))
            elif part.kind in _COLLARS:
                found.append(Name(part.path, f"{name} {self.at(part.top_md_m)}", y, end, rank=0))
            else:
                found.append(Name(part.path, name, y, end, rank=2))
        return found

    def grip(self, part: LinerPart) -> str:
        """What the hanger does."""
        name, held = sentence_case(part.name), self.scene.slips_set
        if part.hanger_type == "expandable":
            return f"{name}, {'expanded' if held else 'not expanded'}"
        if not part.hanger_type:  # whether it has slips is not said
            return f"{name}, {'set' if held else 'not set'}"
        if not held:
            return f"{name}, slips folded"
        slips = part.slips_md_m
        where = "" if slips is None else f", {self.at(slips[0])} to {self.at(slips[1])}"
        return f"Slips biting{where}"

    def well(self) -> list[Name]:
        """What stands around: couplings and shoe of the host, the bottom of the hole, the rotary table."""
        frame, depth = self.frame, self.plan.depth
        host, slips = depth.host, next((p.slips_md_m for p in self.its.liner if p.slips_md_m), None)
        found: list[Name] = []
        edge = self.axis + frame.r(host.od_m)
        planned = next((p.slips_md_m for p in depth.liner.parts if p.slips_md_m), None)
        if not self.its.liner and planned is not None:
            y = 0.5 * (frame.y(planned[0]) + frame.y(planned[1]))
            words = f"Slips are to bite {self.at(planned[0])} to {self.at(planned[1])}"
            found.append(Name(host.path, words, y, self.axis + frame.r(host.id_m), True, rank=0))
            slips = planned
        if not self.its.liner:
            top = depth.liner.top_md_m
            words = f"Liner top is to stand at {self.at(top)}"
            found.append(Name("liner.top", words, frame.y(top), self.axis + frame.r(host.id_m), rank=0))
        if slips is not None:
            for near in (
                *[md for md in host.couplings_md_m if md < slips[0]][-1:],
                *[md for md in host.couplings_md_m if md > slips[1]][:1],
            ):
                if self.seen.shown(near - 0.5, near + 0.5):
                    found.append(Name(host.path, f"Host coupling {self.at(near)}", frame.y(near), edge))
        found.append(Name(host.path, f"Host shoe {self.at(host.shoe_md_m)}", frame.y(host.shoe_md_m), edge))
        bottom = frame.scale.bottom_md_m
        wall = surrounds(self.evaluation, frame, bottom - 0.01, bottom)
        if wall and self.its.shoe_md_m < bottom - _SAME_M:
            found.append(
                Name(
                    "hole", f"Hole {self.at(bottom)}", frame.y(bottom), self.axis + 0.6 * wall[-1][2], rank=1
                )
            )
        if self.seen.windows and self.seen.windows[0].top_md_m <= _SAME_M:
            found.append(
                Name(
                    "well",
                    f"{sentence_case(self.plan.identity.datum.name)} 0",
                    frame.y(0.0) + 0.3,
                    edge,
                    rank=0,
                )
            )
        return found

    def dropped(self) -> list[Name]:
        """Ball, plug, dart."""
        scene, frame, its = self.scene, self.frame, self.its
        found: list[Name] = []
        if scene.ball_md_m is not None:
            found.append(self.ball(scene.ball_md_m))
        at = plug_place(self.evaluation, scene, its, self.seen)
        if at is not None:
            words = "Dart in the plug" if at.with_dart else "Wiper plug"
            if scene.plug_latched:
                words = "Dart and plug landed" if at.with_dart else "Wiper plug landed"
            elif at.hangs:
                words += ", hanging on the tool" if not at.with_dart else ", about to go"
            elif scene.plug_md_m is not None:
                words += f" at {in_whole(scene.plug_md_m, self.system)}, on its way"
            y = 0.4 * at.place.top_mm + 0.6 * at.place.bottom_mm
            strong = self.new("plug_md_m", "plug_latched") or (at.with_dart and not scene.plug_latched)
            end = self.axis + 0.75 * frame.r(self.plan.depth.liner.id_m)
            found.append(Name("running string", words, y, end, strong, rank=0))
        if scene.dart_md_m is not None and not (at is not None and at.with_dart):
            words = (
                "Dart, just dropped"
                if scene.dart_md_m < 1.0
                else f"Dart at {in_whole(scene.dart_md_m, self.system)}"
            )
            y = max(frame.y(scene.dart_md_m), self.seen.windows[0].top_mm + 4.0) - 1.5
            found.append(Name("running string", words, y, self.axis + 0.8, True, rank=0))
        return found

    def ball(self, md_m: float) -> Name:
        """The ball: on its seat in the landing collar or in the tool, or on its way."""
        known = ball_m(self.evaluation)
        at = ball_place(self.evaluation, self.scene, self.its, self.seen)
        if known is None or at is None:
            return Name("", "Ball: size not given, not drawn", self.frame.y(md_m), self.axis, True, rank=0)
        collar = next((p for p in self.its.liner if p.kind == "landing collar"), None)
        seat = self.plan.job.seat_m if at.seat == "tool" else collar.seat_m if collar is not None else None
        bore = f" {show(seat, 'diameter', self.system)}" if seat is not None else ""
        where = {"collar": f"on seat{bore}", "tool": f"on seat in the tool{bore}"}.get(
            at.seat, f"on its way at {in_whole(md_m, self.system)}"
        )
        words = f"Ball {size(known, self.system)} {where}"
        return Name("running string", words, at.centre_mm, self.axis + 0.7 * at.radius_mm, True, rank=0)

    def fluids(self) -> list[Name]:
        """Each fluid where most of it is seen; outside with its top, inside with where it ends."""
        scene = self.scene
        kinds = {fluid.name: fluid.kind for fluid in self.plan.fluids}
        found: list[Name] = []
        plain: dict[str, tuple[float, Name]] = {}
        for side, layers in (("outside", scene.outside), ("inside", scene.inside)):
            known = getattr(self.before, side) if self.before is not None else layers
            for layer in layers:
                made = self.fluid(layer, side, layers, layer not in known)
                if made is None:
                    continue
                if kinds.get(layer.fluid, "mud") in FILLED:
                    found.append(made[1])
                elif made[0] > plain.get(layer.fluid, (0.0, None))[0]:
                    words = f"{sentence_case(layer.fluid)} {self.weighs(layer)}"
                    plain[layer.fluid] = made[0], made[1]._replace(text=words, strong=False)
        return found + [name for _height, name in plain.values()]

    def weighs(self, layer: Layer) -> str:
        """The density of a fluid with its unit."""
        return show(layer.density_kg_per_m3, "density", self.system, THIN)

    def fluid(
        self, layer: Layer, side: str, layers: Sequence[Layer], changed: bool
    ) -> tuple[float, Name] | None:
        """The name of a layer and how high it is seen; None where it is not."""
        rings_of = outside_rings if side == "outside" else inside_rings
        best: tuple[float, float, float] | None = None
        edge = self.frame.y(layer.top_md_m if side == "outside" else layer.bottom_md_m)
        solid = [part.top_md_m for part in self.its.liner if part.kind in (*_COLLARS, *_SHOES)]
        for top, bottom, inner, outer in rings_of(self.evaluation, self.its, self.frame, layer):
            if side == "inside" and top in solid:
                continue  # its bore is narrower than it is drawn here
            for y0, y1 in self.seen.shown(top, bottom):
                high, wide = y1 - y0, outer - inner
                ends = abs((y0 if side == "outside" else y1) - edge) < 0.1 and edge not in self.ends
                worth = (100.0 if ends else 0.0) + min(high, 12.0) * wide
                if high > 1.0 and wide > 0.5 and (best is None or worth > best[0]):
                    x = self.axis + (0.5 * (inner + outer) if inner > 0.0 else 0.6 * outer)
                    y = 0.5 * (y0 + y1) if not ends else y0 + 1.0 if side == "outside" else y1 - 1.0
                    best = worth, y, x
        if best is None:
            return None
        words = f"{sentence_case(layer.fluid)} {self.weighs(layer)}"
        known = self.scene.left_known or layer is not layers[0]
        if side == "inside":
            last = layer is layers[-1]
            words += " inside" if last else f" inside, down to {in_whole(layer.bottom_md_m, self.system)}"
        elif not known:
            words += ", top not known"
        elif layer.top_md_m > 1.0:
            words += f", top {in_whole(layer.top_md_m, self.system)}"
        return best[0], Name(f"fluids.{layer.fluid}", words, best[1], best[2], changed and known)
