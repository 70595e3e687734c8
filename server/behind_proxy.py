"""Believes what a proxy says of a request: who sent it, and under which address. From anybody else it is no more than
what anybody may write."""

from collections.abc import Callable, Iterable
from typing import Any

from werkzeug.middleware.proxy_fix import ProxyFix

Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


class BehindProxy:
    """An application behind one proxy.

    Parameters
    ----------
    app : callable
        The application (PEP 3333).
    proxy : str
        The IP address from which the proxy comes.
    """

    def __init__(self, app: Application, proxy: str) -> None:
        self.app, self.proxy = app, proxy
        self.fixed = ProxyFix(app, x_for=1, x_proto=1, x_host=1)

    def __call__(self, environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        """Answer a request."""
        believed = environ.get("REMOTE_ADDR") == self.proxy
        return (self.fixed if believed else self.app)(environ, start_response)
