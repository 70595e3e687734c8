"""Slipbook's engine: the physics and the verdicts of plate-type limited-slip differentials.

Pure Python over `math`. The server imports it; the phone runs these very files in MicroPython, so that the verdict at
the trackside is the workshop's by construction. `calc` is the one door.
"""

from typing import Any

from .drive import ramps, traction
from .history import change, judged_again, last_looked, life, loss, outlook, standing
from .part_checks import plates, refit, rings, springs
from .plan import plan
from .records import guided_steps, kinds, kit, note, photo, rebuild, shelf_count
from .records.kinds import ENGINE_VERSION, KINDS
from .request import in_words, units
from .request.calculation import Calculation, answer, answer_text
from .request.errors import BadInput
from .request.fields import Field, Group
from .torque_check import breakaway, compare, form
from .unit import closing, definition, spring_curve

__all__ = ["CALCULATIONS", "ENGINE_VERSION", "KINDS", "BadInput", "Calculation", "calc", "calc_text", "result_form"]

CALCULATIONS = {
    calculation.name: calculation
    for calculation in [
        Calculation("about", "The engine's version and the kinds of entry that it judges.", Group({}), kinds.about),
        Calculation("units", "Units that may be typed, with their sizes in SI.", Group({}), units.units),
        Calculation("in_words", "A typed figure in the reader's unit.", in_words.FORM, in_words.in_words),
        Calculation(
            "unit", "Check a unit's definition and work out its preload and torque.", definition.FORM, definition.unit
        ),
        Calculation("breakaway", "Judge a breakaway torque check.", form.FORM, breakaway.breakaway),
        Calculation("plates", "Judge measured plates.", plates.FORM, plates.plates),
        Calculation("spring", "Curve and figures of a disc spring.", spring_curve.FORM, spring_curve.spring),
        Calculation("closing", "Forces while a unit is closed or opened.", closing.FORM, closing.closing),
        Calculation("plan", "Choose plates that reach a torque, proven to be the best choice.", plan.FORM, plan.plan),
        Calculation("ramps", "Lock on drive and coast for each way of fitting the rings.", ramps.FORM, ramps.ramps),
        Calculation("traction", "Torque that an axle puts down with a unit.", traction.FORM, traction.traction),
        Calculation("loss", "Share a change of torque between plates, spring and friction.", loss.FORM, loss.loss),
        Calculation("life", "When wear will meet a limit.", life.FORM, life.life),
        Calculation("compare", "Compare two torque checks, like with like.", compare.FORM, compare.compare),
        Calculation("spring_check", "Judge measured disc springs.", springs.FORM, springs.spring_check),
        Calculation("ring_check", "Judge ramp rings and cross pins.", rings.FORM, rings.ring_check),
        Calculation("refit", "Judge backlash, bearings and screws when a unit goes back.", refit.FORM, refit.refit),
        Calculation("steps", "The steps of a guided strip and close.", Group({}), guided_steps.steps),
        Calculation("strip", "Check the sign-off of a strip.", guided_steps.STRIP_FORM, guided_steps.strip),
        Calculation("close", "Check the sign-off of a close.", guided_steps.CLOSE_FORM, guided_steps.close),
        Calculation("rebuild", "Check what a rebuild fitted.", rebuild.REBUILD_FORM, rebuild.rebuild),
        Calculation("photo", "Check a photo's entry.", photo.FORM, photo.photo),
        Calculation("shelf", "Check a count of the shelf.", shelf_count.SHELF_FORM, shelf_count.shelf),
        Calculation("shelf_less", "The shelf without what was fitted.", shelf_count.LESS_FORM, shelf_count.shelf_less),
        Calculation("kit", "Check a tool of the kit.", kit.KIT_FORM, kit.kit),
        Calculation("note", "Check a note.", note.NOTE_FORM, note.note),
        Calculation("kit_standing", "The kit that stands, from its entries.", standing.FORM, standing.kit_standing),
        Calculation(
            "last_looked", "Units by when somebody looked at them last.", last_looked.FORM, last_looked.last_looked
        ),
        Calculation("change", "What changed between two torque checks of a unit.", change.FORM, change.change),
        Calculation(
            "judged_again",
            "What is found otherwise in a torque check that an older engine judged.",
            judged_again.AGAIN_FORM,
            judged_again.judged_again,
        ),
        Calculation("outlook", "When a unit's torque will meet a limit.", outlook.FORM, outlook.outlook),
        Calculation("standing", "What stands for a unit, from its entries.", standing.FORM, standing.standing),
    ]
}


def calc(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """Calculate: see `calculation.answer`, here over every calculation that the engine has."""
    return answer(CALCULATIONS, name, request)


def calc_text(text: str) -> str:
    """The same in JSON text: see `calculation.answer_text`."""
    return answer_text(CALCULATIONS, text)


def result_form(name: str) -> Field:
    """The form of a calculation's result; read only when it is asked for, since the phone keeps none of them."""
    from .results import RESULTS

    return RESULTS[name]
