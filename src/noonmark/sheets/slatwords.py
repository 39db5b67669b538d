"""The sheet of a shade of boards with its words."""

from __future__ import annotations

import math
from dataclasses import replace

from noonmark.cards.speech import Speech
from noonmark.choose.slats import Hours
from noonmark.errors import Sentence
from noonmark.sheets.drawing import Drawing
from noonmark.sheets.slatdetail import DetailWords
from noonmark.sheets.slats import SlatsLabels, draw_slats
from noonmark.study.results.shade import SlatPlan, SlatsResult
from noonmark.units import Quantity


def slats_sheet(result: SlatsResult, hours: Hours, *, title: str, speech: Speech) -> Drawing:
    """Return the workshop sheet of the recommended shade as a drawing."""
    plan = result.plans[result.recommended]
    upright = "_upright" if result.upright else ""
    stance = ("_upright" if plan.tilt_deg else "_square") if result.upright else ""
    # away from the sun and, from outdoors, the other way round
    away = speech.word("slats_sheet.left" if result.sun_side == "left" else "slats_sheet.right")
    values = {
        "title": title,
        "window": result.window,
        "put_up": hours.put_up,
        "take_down": hours.take_down,
        "begin": f"{hours.begin:%H:%M}",
        "end": f"{hours.end:%H:%M}",
        "tilt": _whole(plan.tilt_deg, speech),
        "away": away,
    }
    labels = SlatsLabels(
        title=speech.say(Sentence("slats_sheet.title", values)),
        subtitle=speech.say(Sentence(f"slats_sheet.subtitle{stance}", values)),
        description=speech.word("slats_sheet.description"),
        front=speech.word("slats_sheet.front"),
        detail=speech.word(f"slats_sheet.detail{upright}"),
        strip=speech.say(Sentence(f"slats_sheet.strip{upright}", {"begin": away})),
        window=speech.word("slats_sheet.window"),
        overall=speech.word("slats_sheet.overall"),
        detail_words=_detail_words(result, plan, speech),
        cut_list=speech.word("slats.cuts"),
        cuts=_cuts(result, plan, speech),
        notes=(speech.word("slats.note"),),
    )
    return draw_slats(result, labels, speech.system)


def _whole(degrees: float, speech: Speech) -> str:
    """Return an angle in whole degrees."""
    return Quantity(degrees, "angle").write(speech.system, digits=0)


def _detail_words(result: SlatsResult, plan: SlatPlan, speech: Speech) -> DetailWords:
    fine = replace(speech, fine=True)
    values = {
        "depth": Quantity(result.depth_m, "length"),
        "thickness": Quantity(result.thickness_m, "length"),
        "spacing": Quantity(plan.spacing_m, "length"),
        "tilt": _whole(plan.tilt_deg, speech),
        "drop": Quantity(result.depth_m * math.sin(math.radians(plan.tilt_deg)), "length"),
        "length": Quantity(result.stand_off_m, "length"),
        "angle": Quantity(result.stopped_deg, "angle"),
    }
    if plan.tilt_deg == 0.0:
        tilt = "square" if result.upright else "level"
    else:
        tilt = "turned" if result.upright else "down"
    sun = "sun_upright" if result.upright else "sun"
    return DetailWords(
        board=fine.say(Sentence("slats_sheet.board", values)),
        spacing=fine.say(Sentence("slats_sheet.spacing", values)),
        tilt=fine.say(Sentence(f"slats_sheet.{tilt}", values)),
        stand_off=fine.say(Sentence("slats_sheet.stand_off", values)),
        face=fine.word("slats_sheet.face"),
        sun=fine.say(Sentence(f"slats_sheet.{sun}", values)),
    )


def _cuts(result: SlatsResult, plan: SlatPlan, speech: Speech) -> tuple[str, ...]:
    """Return the cut list, a kind of piece a line."""
    fine = replace(speech, fine=True)
    board, side = plan.pieces
    sizes = {
        "depth": Quantity(result.depth_m, "length"),
        "thickness": Quantity(result.thickness_m, "length"),
    }
    boards = {"count": board.count, "length": Quantity(board.length_m, "length"), **sizes}
    sides = {
        "count": board.count,
        "length": Quantity(side.length_m, "length"),
        "first": Quantity(plan.first_m, "length"),
        "last": Quantity(plan.marks_m[-1], "length"),
        "lumber": Quantity(plan.lumber_m, "length"),
        **sizes,
    }
    return (
        fine.say(Sentence("slats_sheet.boards", boards)),
        fine.say(Sentence("slats_sheet.rails" if result.upright else "slats_sheet.sides", sides)),
    )
