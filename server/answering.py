"""Writes JSON answers by orjson: several times quicker than Python's own writer, and with a tenth of the memory."""

from typing import Any

import orjson
from flask import Response
from flask.json.provider import DefaultJSONProvider

# What Python's own writer has its own way with is left to it.
OPTIONS = orjson.OPT_APPEND_NEWLINE | orjson.OPT_PASSTHROUGH_DATETIME | orjson.OPT_PASSTHROUGH_DATACLASS


class QuickJson(DefaultJSONProvider):
    """Flask's JSON, names in the order in which they come and letters as they are."""

    sort_keys = False
    ensure_ascii = False

    def response(self, *args: Any, **kwargs: Any) -> Any:
        """An answer that holds a value as JSON."""
        try:
            text = orjson.dumps(self._prepare_response_obj(args, kwargs), option=OPTIONS)
        except orjson.JSONEncodeError:
            # It holds what orjson does not know, such as a whole number of more than 64 bits.
            return super().response(*args, **kwargs)
        return Response(text, mimetype=self.mimetype)
