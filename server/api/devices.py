"""Pairing, and the devices that were let in. There only while Slipbook is open to the workshop's network."""

import io
from http import HTTPStatus
from typing import Any
from uuid import UUID

import segno
from flask import Response, g, jsonify, request
from marshmallow import Schema, fields

from ..engine import BadInput
from ..engine.records.kinds import in_words, kept_from
from ..engine.request.fields import Choice, Group, Text
from ..lan import BENCH, TRACKSIDE, Device, Door, PairingClosed, PairingLocked, WrongCode
from ..lan.pairing import VALID_S
from .forms import schema_of
from .gate import current_door
from .problems import problem
from .strict import Subject

pairing = Subject("pairing", __name__, url_prefix="/api/pairing", description="Codes that let one device in.")
pair_subject = Subject("pair", __name__, url_prefix="/api/pair", description="Coming in with a code.")
subject = Subject("devices", __name__, url_prefix="/api/devices", description="Devices that were let in.")

LOCKED = "Too many wrong codes came from this device: have a new code made at the workshop's PC, and type that one."

ROLE_MEANINGS = {
    TRACKSIDE: f"reads all, writes all but {in_words(kept_from(TRACKSIDE))}",
    BENCH: "may do all, also let devices in",
}
NAME = Text(60, "what the device is called, for example its owner's name")
CODE_FORM = Group(
    {
        "role": Choice(ROLE_MEANINGS, "what the device may do"),
        "address": Text(300, "which of Slipbook's addresses the QR code leads to", default=""),
    },
    "a device to be let in",
)
PAIR_FORM = Group({"code": Text(40, "the pairing code, as it is shown on the PC"), "name": NAME}, "a device coming in")
NAME_FORM = Group({"name": NAME}, "a device's new name")

CodeRequestSchema = schema_of(CODE_FORM, "PairingRequest")
PairRequestSchema = schema_of(PAIR_FORM, "PairRequest")
NameRequestSchema = schema_of(NAME_FORM, "DeviceName")


class CodeSchema(Schema):
    """A code that lets one device in."""

    code = fields.String(required=True)
    role = fields.String(required=True)
    seconds = fields.Integer(required=True, metadata={"description": "How long it is good for."})
    address = fields.String(required=True, metadata={"description": "What the QR code leads to."})
    addresses = fields.List(fields.String(), required=True, metadata={"description": "Slipbook's addresses."})
    fingerprint = fields.String(required=True, metadata={"description": "SHA-256 of the authority's certificate."})
    qr_svg = fields.String(required=True, metadata={"description": "The QR code (ISO/IEC 18004) as SVG."})
    welcome = fields.String(required=True, metadata={"description": "Where a phone gets the certificate to trust."})
    welcome_qr_svg = fields.String(required=True, metadata={"description": "The same as a QR code."})


class DeviceSchema(Schema):
    """A device that was let in."""

    id = fields.String(required=True)
    name = fields.String(required=True)
    role = fields.String(required=True)
    paired = fields.DateTime(required=True)
    seen = fields.DateTime(required=True, metadata={"description": "When it was here last, to the hour."})
    revoked = fields.DateTime(required=True, allow_none=True, metadata={"description": "When it was shut out."})
    this = fields.Boolean(required=True, metadata={"description": "Whether it is the one that asks."})


class PairedSchema(Schema):
    """A device and its token, which is told this once."""

    token = fields.String(required=True)
    device = fields.Nested(DeviceSchema, required=True)


class DevicesSchema(Schema):
    """Every device."""

    devices = fields.List(fields.Nested(DeviceSchema), required=True)


def door_here() -> Door:
    """The door; these addresses exist only with one."""
    door = current_door()
    assert door is not None
    return door


def qr_svg(text: str) -> str:
    """The QR code of a text, as a picture of its own."""
    picture = io.BytesIO()
    segno.make(text, error="m", micro=False).save(picture, kind="svg", xmldecl=False, scale=6, border=4, light="#fff")
    return picture.getvalue().decode()


def shown(device: Device) -> dict[str, Any]:
    """What may be told of a device."""
    mine: Device | None = g.get("device")
    return {
        "id": device.id,
        "name": device.name,
        "role": device.role,
        "paired": device.paired,
        "seen": device.seen,
        "revoked": device.revoked or None,
        "this": mine is not None and mine.id == device.id,
    }


@pairing.route("", methods=["POST"])
@pairing.arguments(CodeRequestSchema, description="A device to be let in.")
@pairing.response(200, CodeSchema, description="The code, good for ten minutes and one device.")
def open_pairing(asked: dict[str, Any]) -> Response:
    """Make a code, in place of any that is still open."""
    door = door_here()
    addresses = door.urls()
    address = asked.get("address") or addresses[0]
    if address not in addresses:
        raise BadInput("address", f"Choose one of Slipbook's addresses: {', '.join(addresses)}.")
    code = door.pairing.open(asked["role"])
    link = f"{address}#/pair/{code}"
    return jsonify(
        {
            "code": code,
            "role": asked["role"],
            "seconds": VALID_S,
            "address": link,
            "addresses": addresses,
            "fingerprint": door.credentials.authority.fingerprint,
            "qr_svg": qr_svg(link),
            "welcome": door.welcome(),
            "welcome_qr_svg": qr_svg(door.welcome()),
        }
    )


@pair_subject.route("", methods=["POST"])
@pair_subject.arguments(PairRequestSchema, description="The code and the device's name.")
@pair_subject.response(200, PairedSchema, description="The device's token.")
def pair(asked: dict[str, Any]) -> Response:
    """Come in with a code."""
    door = door_here()
    try:
        role = door.pairing.use(asked["code"], request.remote_addr or "")
    except PairingLocked as found:
        answer = problem(HTTPStatus.TOO_MANY_REQUESTS, LOCKED)
        answer.headers["Retry-After"] = str(found.wait_s)
        return answer
    except PairingClosed:
        raise BadInput("code", "No pairing is open: have a new code made at the workshop's PC.") from None
    except WrongCode as wrong:
        tries = f"{wrong.left} {'try is' if wrong.left == 1 else 'tries are'} left"
        raise BadInput("code", f"This is not the code on the PC: compare it letter by letter; {tries}.") from None
    device, token = door.devices.add(asked["name"].strip(), role)
    return jsonify({"token": token, "device": shown(device)})


@subject.route("", methods=["GET"])
@subject.response(200, DevicesSchema, description="Every device, those that were shut out last.")
def devices() -> Response:
    """Every device that was ever let in."""
    return jsonify({"devices": [shown(one) for one in door_here().devices.all()]})


@subject.route("/<uuid:device>", methods=["PATCH"])
@subject.arguments(NameRequestSchema, description="The new name.")
@subject.response(200, DeviceSchema, description="The device.")
def rename(asked: dict[str, Any], device: UUID) -> Response:
    """Give a device another name."""
    return told(door_here().devices.rename(str(device), asked["name"].strip()))


@subject.route("/<uuid:device>", methods=["DELETE"])
@subject.response(200, DeviceSchema, description="The device, which comes in no more.")
def revoke(device: UUID) -> Response:
    """Shut a device out; what it wrote stays."""
    return told(door_here().devices.revoke(str(device)))


def told(device: Device | None) -> Response:
    """A device, or that there is none."""
    if device is None:
        return problem(404, "There is no such device: choose one from the list of devices.")
    return jsonify(shown(device))
