"""Slipbook's engine: the physics and the verdicts of plate-type limited-slip differentials.

Pure Python over `math`. The server imports it; the phone runs these very files in MicroPython, so that the verdict at
the trackside is the workshop's by construction. `calc` is the one door.
"""

from typing import Any

from .records.kinds import ENGINE_VERSION, KINDS
from .request.calculation import NO_CALCULATION, Calculation, Calculations, answer, answer_text
from .request.errors import BadInput
from .request.fields import Field, Group

__all__ = [
    "CALCULATIONS",
    "ENGINE_VERSION",
    "KINDS",
    "BadInput",
    "Calculation",
    "calc",
    "calc_stored",
    "calc_text",
    "read_for",
    "read_more",
    "result_form",
]


def of_every_screen() -> list[Calculation]:
    """What screens want before anything is judged."""
    from .records import kinds, note
    from .request import field_names, in_words, units

    return [
        Calculation("about", "The engine's version and the kinds of entry that it judges.", Group({}), kinds.about),
        Calculation("units", "Units that may be typed, with their sizes in SI.", Group({}), units.units),
        Calculation("in_words", "A typed figure in the reader's unit.", in_words.FORM, in_words.in_words),
        Calculation("note", "Check a note.", note.NOTE_FORM, note.note),
        Calculation("field_name", "What a field is called on the screens.", field_names.FORM, name_of_field),
    ]


def of_a_unit() -> list[Calculation]:
    """A unit by itself."""
    from .unit import closing, definition, form, offer, pattern, spring_curve, usual_features

    return [
        Calculation(
            "unit", "Check a unit's definition and work out its preload and torque.", form.FORM, definition.unit
        ),
        Calculation("spring", "Curve and figures of a disc spring.", spring_curve.FORM, spring_curve.spring),
        Calculation("closing", "Forces while a unit is closed or opened.", closing.FORM, closing.closing),
        Calculation("pattern", "Check a pattern, to which units are built.", pattern.FORM, pattern.pattern),
        Calculation(
            "another",
            "What a pattern made of a unit holds, and another unit like it.",
            pattern.ANOTHER_FORM,
            pattern.another,
        ),
        Calculation(
            "pattern_offer", "What a pattern that changed offers to a unit of it.", offer.FORM, offer.pattern_offer
        ),
        Calculation(
            "usual_features",
            "What is usually inspected on each part.",
            usual_features.FORM,
            usual_features.usual_features,
        ),
    ]


def of_torque() -> list[Calculation]:
    """Torque checks."""
    from .torque_check import breakaway, compare, form

    return [
        Calculation("breakaway", "Judge a breakaway torque check.", form.FORM, breakaway.breakaway),
        Calculation("compare", "Compare two torque checks, like with like.", compare.FORM, compare.compare),
    ]


def of_parts() -> list[Calculation]:
    """Parts that are measured."""
    from .part_checks import inspection, plates, refit, rings, since_last, springs, which_plate

    return [
        Calculation("plates", "Judge measured plates.", plates.FORM, plates.plates),
        Calculation(
            "which_plate",
            "Ask about figures that fit a plate of another class.",
            which_plate.FORM,
            which_plate.which_plate,
        ),
        Calculation(
            "since_last",
            "How much plates have changed since they were measured last.",
            since_last.FORM,
            since_last.since_last,
        ),
        Calculation("spring_check", "Judge measured disc springs.", springs.FORM, springs.spring_check),
        Calculation("ring_check", "Judge ramp rings and cross pins.", rings.FORM, rings.ring_check),
        Calculation("inspection", "Judge what was found on other parts.", inspection.FORM, inspection.inspection),
        Calculation("refit", "Judge backlash, bearings and screws when a unit goes back.", refit.FORM, refit.refit),
    ]


def of_the_bench() -> list[Calculation]:
    """What is done at the bench."""
    from .records import (
        came_out,
        guided_steps,
        kit,
        letterhead,
        outing,
        photo,
        planned,
        rebuild,
        service,
        shelf_count,
        trial,
    )

    return [
        Calculation("steps", "The steps of a guided strip and close.", Group({}), guided_steps.steps),
        Calculation("strip", "Check the sign-off of a strip.", guided_steps.STRIP_FORM, guided_steps.strip),
        Calculation("close", "Check the sign-off of a close.", guided_steps.CLOSE_FORM, guided_steps.close),
        Calculation("rebuild", "Check what a rebuild fitted.", rebuild.REBUILD_FORM, rebuild.rebuild),
        Calculation(
            "came_out", "Where plates that come out of a unit may go.", came_out.STARTS_FORM, came_out.came_out
        ),
        Calculation("planned", "Check a plan that was taken.", planned.PLANNED_FORM, planned.planned),
        Calculation("trial", "Check a change to try.", trial.FORM, trial.trial),
        Calculation("photo", "Check a photo's entry.", photo.FORM, photo.photo),
        Calculation("outing", "Check an outing.", outing.FORM, outing.outing),
        Calculation("service", "Check what service was done.", service.FORM, service.service),
        Calculation("shelf", "Check a count of the shelf.", shelf_count.SHELF_FORM, shelf_count.shelf),
        Calculation("shelf_less", "The shelf without what was fitted.", shelf_count.LESS_FORM, shelf_count.shelf_less),
        Calculation("kit", "Check a tool of the kit.", kit.KIT_FORM, kit.kit),
        Calculation("letterhead", "Check a letterhead.", letterhead.LETTERHEAD_FORM, letterhead.letterhead),
    ]


def of_customers() -> list[Calculation]:
    """Whose the units are."""
    from .history import customers
    from .records import customer

    return [
        Calculation("customer", "Check a customer's record.", customer.CUSTOMER_FORM, customer.customer),
        Calculation("sheet_sent", "Check that a sheet was sent.", customer.SENT_FORM, customer.sheet_sent),
        Calculation("erasure", "Check an erasure.", customer.ERASURE_FORM, customer.erasure),
        Calculation("owners", "Whose each unit is.", customers.OWNERS_FORM, customers.owners),
    ]


def of_what_is_not_measured() -> list[Calculation]:
    """What cannot be measured."""
    from .history import from_log
    from .worked_out import form, work_out

    return [
        Calculation(
            "work_out",
            "Work out a depth, a free height or a friction that cannot be measured.",
            form.FORM,
            work_out.work_out,
        ),
        Calculation(
            "from_log", "What the log can say of figures that nobody measured.", from_log.FORM, from_log.from_log
        ),
    ]


def of_a_plan() -> list[Calculation]:
    """Plates to fit."""
    from .plan import plan

    return [
        Calculation("plan", "Choose plates that reach a torque, proven to be the best choice.", plan.FORM, plan.plan),
    ]


def of_the_car() -> list[Calculation]:
    """What a unit does in a car."""
    from .car import car
    from .corner import corner, corner_map, traction
    from .drive import ramps, workbench

    return [
        Calculation("car", "A car as far as it is known, with usual ranges for the rest.", car.FORM, car.car),
        Calculation("ramps", "Lock on drive and coast for each way of fitting the rings.", ramps.FORM, ramps.ramps),
        Calculation("candidates", "Ways to build a unit, side by side.", workbench.FORM, workbench.candidates),
        Calculation("traction", "Torque that an axle puts down with a unit.", traction.FORM, traction.traction),
        Calculation("corner", "A driven axle in a steady corner.", corner.FORM, corner.corner),
        Calculation("corner_map", "A corner for each way to build a unit.", corner_map.FORM, corner_map.corner_map),
    ]


def of_complaints() -> list[Calculation]:
    """What a driver felt."""
    from .complaint import complaint

    return [
        Calculation(
            "complaint", "What is behind what a driver felt, and what to change.", complaint.FORM, complaint.complaint
        ),
    ]


def standing_now() -> list[Calculation]:
    """What stands."""
    from .history import last_looked, marked_parts, shelf_now, standing

    return [
        Calculation("standing", "What stands for a unit, from its entries.", standing.FORM, standing.standing),
        Calculation("kit_standing", "The kit that stands, from its entries.", standing.FORM, standing.kit_standing),
        Calculation("shelf_now", "The shelf that stands, from counts and units.", shelf_now.FORM, shelf_now.shelf_now),
        Calculation(
            "marked_parts",
            "Where every marked part is, and what is known of its life.",
            marked_parts.FORM,
            marked_parts.marked_parts,
        ),
        Calculation(
            "last_looked", "Units by when somebody looked at them last.", last_looked.FORM, last_looked.last_looked
        ),
    ]


def of_the_log() -> list[Calculation]:
    """What the log tells beyond that."""
    from .history import change, experience, judged_again, life, loss, outlook, patterns, so_far, strip_found

    return [
        Calculation("outlook", "When a unit's torque will meet a limit.", outlook.FORM, outlook.outlook),
        Calculation("loss", "Share a change of torque between plates, spring and friction.", loss.FORM, loss.loss),
        Calculation("life", "When wear will meet a limit.", life.FORM, life.life),
        Calculation("change", "What changed between two torque checks of a unit.", change.FORM, change.change),
        Calculation(
            "judged_again",
            "What is found otherwise in a torque check that an older engine judged.",
            judged_again.AGAIN_FORM,
            judged_again.judged_again,
        ),
        Calculation(
            "experience",
            "What builds in the log have shown of torque over thickness.",
            experience.FORM,
            experience.experience,
        ),
        Calculation("strip_found", "What the last strip of a unit found.", strip_found.FORM, strip_found.strip_found),
        Calculation("so_far", "What is known of a unit so far, and what it comes to.", so_far.FORM, so_far.so_far),
        Calculation(
            "built_to",
            "Entries of the shop that say what units are built to.",
            patterns.BUILT_TO_FORM,
            patterns.built_to,
        ),
    ]


def on_paper() -> list[Calculation]:
    """What is printed."""
    from .history import sheet

    return [Calculation("sheet", "What stands on a unit's sheet, from its entries.", sheet.FORM, sheet.sheet)]


OF_THE_LOG = (
    "outlook",
    "loss",
    "life",
    "change",
    "judged_again",
    "experience",
    "so_far",
    "built_to",
    "strip_found",
)

BENCH = (
    "steps",
    "strip",
    "close",
    "rebuild",
    "came_out",
    "planned",
    "trial",
    "photo",
    "outing",
    "service",
    "shelf",
    "shelf_less",
    "kit",
    "letterhead",
)

# A phone starts for one question, so each group is read when the first of its calculations is asked for. What is wanted
# first stands first: the worker reads on in this order while nobody asks.
CALCULATIONS = Calculations(
    [
        (("about", "units", "in_words", "note", "field_name"), of_every_screen),
        (("breakaway", "compare"), of_torque),
        (("standing", "kit_standing", "shelf_now", "marked_parts", "last_looked"), standing_now),
        (OF_THE_LOG, of_the_log),
        (("plates", "which_plate", "since_last", "spring_check", "ring_check", "inspection", "refit"), of_parts),
        (BENCH, of_the_bench),
        (("customer", "sheet_sent", "erasure", "owners"), of_customers),
        (("unit", "spring", "closing", "pattern", "another", "pattern_offer", "usual_features"), of_a_unit),
        (("plan",), of_a_plan),
        (("ramps", "candidates", "traction", "corner", "corner_map", "car"), of_the_car),
        (("complaint",), of_complaints),
        (("work_out", "from_log"), of_what_is_not_measured),
        (("sheet",), on_paper),
    ]
)


def name_of_field(request: dict[str, Any]) -> dict[str, Any]:
    """See `field_names.field_name`, here over every form that the engine has."""
    from .request import field_names

    calculation = request["calculation"]
    if calculation not in CALCULATIONS:
        raise BadInput("calculation", NO_CALCULATION)
    return field_names.field_name(CALCULATIONS[calculation].form, request["field"], request["body"])


def calc(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """Calculate: see `calculation.answer`, here over every calculation that the engine has."""
    return answer(CALCULATIONS, name, request)


def calc_text(text: str) -> str:
    """The same in JSON text: see `calculation.answer_text`."""
    return answer_text(CALCULATIONS, text)


def read_for(name: str) -> None:
    """Read what a calculation needs, so that it is there when it is asked for; nothing where there is no such name."""
    CALCULATIONS.read_for(name)


def read_more() -> bool:
    """Read one group of calculations that nobody has asked for yet; returns whether there was any."""
    return CALCULATIONS.read_more()


def calc_stored(name: str, request: dict[str, Any], version: str) -> dict[str, Any]:
    """Calculate for an entry that the engine of a `version` accepted: a rule that came later does not refuse it."""
    from .history import judged_again
    from .unit import definition, form

    if name == "unit" and judged_again.is_older(version):
        checked: dict[str, Any] = form.FORM.read(request, "")
        return definition.worked_out(checked)
    return calc(name, request)


def result_form(name: str) -> Field:
    """The form of a calculation's result; read only when it is asked for, since the phone keeps none of them."""
    from .results import RESULTS

    return RESULTS[name]
