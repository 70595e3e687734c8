"""Pairing, and the paired devices. These addresses exist only while Slipbook is open to the workshop's network."""

import io
from http import HTTPStatus
from typing import Any
from uuid import UUID

import segno
from flask import Response, g, jsonify, request
from marshmallow import Schema, fields

from ..engine import BadInput
from ..engine.records.kinds import in_words, kinds_closed_to
from ..engine.request.fields import Choice, Group, Text
from ..lan import BENCH, TRACKSIDE, Device, Doorway, PairingClosed, PairingLocked, WrongCode
from ..lan.pairing import CODE_VALID_S
from .forms import schema_of
from .gate import current_door, current_register, current_registers, own_addresses
from .problems import problem
from .strict import Subject

pairing = Subject("pairing", __name__, url_prefix="/api/pairing", description="Codes, each of which pairs one device.")
pair_subject = Subject("pair", __name__, url_prefix="/api/pair", description="Pairing with a code.")
subject = Subject("devices", __name__, url_prefix="/api/devices", description="Paired devices.")

LOCKED = "Too many wrong codes came from this device: have a new code made at the workshop's PC, and type that."

ROLE_MEANINGS = {
    TRACKSIDE: f"reads all, writes all but {in_words(kinds_closed_to(TRACKSIDE))}",
    BENCH: "may do all, also let devices in",
}
NAME = Text(60, "what the device is called, for example its owner's name")
CODE_FORM = Group(
    {
        "role": Choice(ROLE_MEANINGS, "what the device may do"),
        "address": Text(300, "which of Slipbook's addresses the QR code leads to", default=""),
    },
    "a device to be paired",
)
PAIR_FORM = Group({"code": Text(40, "the pairing code, as the PC shows it"), "name": NAME}, "a device that is pairing")
NAME_FORM = Group({"name": NAME}, "a device's new name")

CodeRequestSchema = schema_of(CODE_FORM, "PairingRequest")
PairRequestSchema = schema_of(PAIR_FORM, "PairRequest")
NameRequestSchema = schema_of(NAME_FORM, "DeviceName")


class CodeSchema(Schema):
    """A code that pairs one device."""

    code = fields.String(required=True)
    role = fields.String(required=True)
    seconds = fields.Integer(required=True, metadata={"description": "How long it is good for."})
    address = fields.String(required=True, metadata={"description": "The address that the QR code leads to."})
    addresses = fields.List(fields.String(), required=True, metadata={"description": "Slipbook's addresses."})
    fingerprint = fields.String(
        required=True,
        metadata={"description": "SHA-256 of the authority's certificate; empty if phones trust it already."},
    )
    qr_svg = fields.String(required=True, metadata={"description": "The QR code (ISO/IEC 18004) as SVG."})
    welcome = fields.String(
        required=True, metadata={"description": "Where a phone gets the certificate; empty likewise."}
    )
    welcome_qr_svg = fields.String(required=True, metadata={"description": "The same as a QR code."})


class DeviceSchema(Schema):
    """A paired device."""

    id = fields.String(required=True)
    name = fields.String(required=True)
    role = fields.String(required=True)
    paired = fields.DateTime(required=True)
    seen = fields.DateTime(required=True, metadata={"description": "When it last asked for something, to the hour."})
    revoked = fields.DateTime(required=True, allow_none=True, metadata={"description": "When it was shut out."})
    this = fields.Boolean(required=True, metadata={"description": "Whether it is the device that asks."})


class PairedSchema(Schema):
    """A device and its token, which is given out only this once."""

    token = fields.String(required=True)
    device = fields.Nested(DeviceSchema, required=True)


class DevicesSchema(Schema):
    """Every device."""

    devices = fields.List(fields.Nested(DeviceSchema), required=True)


def require_door() -> Doorway:
    """The door, without which these addresses do not exist."""
    door = current_door()
    assert door is not None
    return door


def draw_qr(text: str) -> str:
    """The QR code of a text, as a whole SVG file."""
    svg = io.BytesIO()
    segno.make(text, error="m", micro=False).save(svg, kind="svg", xmldecl=False, scale=6, border=4, light="#fff")
    return svg.getvalue().decode()


def as_answer(device: Device) -> dict[str, Any]:
    """A device as answers show it, without anything that is secret."""
    asking: Device | None = g.get("device")
    return {
        "id": device.id,
        "name": device.name,
        "role": device.role,
        "paired": device.paired,
        "seen": device.seen,
        "revoked": device.revoked or None,
        "this": asking is not None and asking.id == device.id,
    }


@pairing.route("", methods=["POST"])
@pairing.arguments(CodeRequestSchema, description="A device to be paired.")
@pairing.response(200, CodeSchema, description="The code, valid for ten minutes and one device.")
def open_pairing(body: dict[str, Any]) -> Response:
    """Make a code; an earlier one that is still open becomes invalid."""
    door = require_door()
    addresses = own_addresses()
    address = body.get("address") or addresses[0]
    if address not in addresses:
        raise BadInput("address", f"Choose one of Slipbook's addresses: {', '.join(addresses)}.")
    code = current_register().pairing.open(body["role"])
    link = f"{address}#/pair/{code}"
    welcome = door.welcome_url()
    return jsonify(
        {
            "code": code,
            "role": body["role"],
            "seconds": CODE_VALID_S,
            "address": link,
            "addresses": addresses,
            "fingerprint": door.fingerprint,
            "qr_svg": draw_qr(link),
            "welcome": welcome,
            "welcome_qr_svg": draw_qr(welcome) if welcome else "",
        }
    )


@pair_subject.route("", methods=["POST"])
@pair_subject.arguments(PairRequestSchema, description="The code and the device's name.")
@pair_subject.response(200, PairedSchema, description="The device's token.")
def pair(body: dict[str, Any]) -> Response:
    """Pair a device by a code."""
    try:
        g.workshop = current_registers().find_workshop(body["code"])
        role = current_register().pairing.use(body["code"], request.remote_addr or "")
    except PairingLocked as locked:
        answer = problem(HTTPStatus.TOO_MANY_REQUESTS, LOCKED)
        answer.headers["Retry-After"] = str(locked.wait_s)
        return answer
    except PairingClosed:
        raise BadInput("code", "No pairing is open: have a new code made at the workshop's PC.") from None
    except WrongCode as wrong:
        tries = f"{wrong.tries_left} {'try is' if wrong.tries_left == 1 else 'tries are'} left"
        raise BadInput("code", f"This is not the code on the PC: compare it letter by letter; {tries}.") from None
    device, token = current_register().devices.add(body["name"].strip(), role)
    return jsonify({"token": token, "device": as_answer(device)})


@subject.route("", methods=["GET"])
@subject.response(200, DevicesSchema, description="Every device; those that were shut out come last.")
def devices() -> Response:
    """Every device that was ever paired."""
    return jsonify({"devices": [as_answer(device) for device in current_register().devices.all()]})


@subject.route("/<uuid:device>", methods=["PATCH"])
@subject.arguments(NameRequestSchema, description="The new name.")
@subject.response(200, DeviceSchema, description="The device.")
def rename(body: dict[str, Any], device: UUID) -> Response:
    """Give a device another name."""
    return answer_device(current_register().devices.rename(str(device), body["name"].strip()))


@subject.route("/<uuid:device>", methods=["DELETE"])
@subject.response(200, DeviceSchema, description="The device, which is now shut out.")
def revoke(device: UUID) -> Response:
    """Shut a device out; its entries stay."""
    return answer_device(current_register().devices.revoke(str(device)))


def answer_device(device: Device | None) -> Response:
    """The answer about a device, or 404 if there is none."""
    if device is None:
        return problem(404, "There is no such device: choose one from the list of devices.")
    return jsonify(as_answer(device))
