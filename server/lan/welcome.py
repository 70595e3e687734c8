"""The welcome page over plain HTTP: gives out the authority's certificate, says how to trust it, and nothing else.

What it gives out is public, and whoever alters it on the way is found out by the fingerprint.
"""

import html
from collections.abc import Callable

from flask import Flask, Response

from .authority import Authority

POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
STYLE = """body { font: 1.1rem/1.5 system-ui, sans-serif; max-width: 42rem; margin: 0 auto; padding: 1rem;
  color: #14211f; background: #fff; }
code { font-size: 1rem; overflow-wrap: anywhere; }
.key { display: inline-block; min-height: 3rem; line-height: 3rem; padding: 0 1.2rem; background: #123c3a; color: #fff;
  border-radius: .4rem; text-decoration: none; }
aside { border-left: .4rem solid #b35900; padding-left: 1rem; }
@media (prefers-color-scheme: dark) { body { color: #eef4f3; background: #10191a; } .key { background: #9fd8d2;
  color: #10191a; } a { color: #9fd8d2; } }
"""
PAGE = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>Welcome to Slipbook</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="stylesheet" href="/welcome.css"></head>
<body>
<h1>Let this phone trust the workshop's Slipbook</h1>
<p>Slipbook keeps working on the phone without a network. For that the phone has to trust this PC's
certificate, once.</p>
<aside><p><strong>Compare first.</strong> Before you install it, the phone can show the certificate's SHA-256
fingerprint. It has to be the one that the workshop's PC shows where Slipbook was started, not only the one below. If it
differs, stop: somebody else may be answering.</p></aside>
<p>Fingerprint: <code>{fingerprint}</code></p>
<h2>iPhone and iPad</h2>
<ol>
<li>Open this page in Safari, tap <a class="key" href="/authority.crt">the certificate</a> and allow the download.</li>
<li>Settings, General, VPN &amp; Device Management: tap the profile that was downloaded. Under More Details compare the
fingerprint, then install it.</li>
<li>Settings, General, About, Certificate Trust Settings: switch on full trust for it.</li>
</ol>
<h2>Android</h2>
<ol>
<li>Tap <a class="key" href="/authority.crt">the certificate</a> and keep the file.</li>
<li>Settings, Security and privacy, More security settings, Encryption and credentials, Install a certificate,
CA certificate: choose the file. On some phones a search in Settings for "CA certificate" is quicker.</li>
<li>Under Trusted credentials, User, tap it and compare the fingerprint; remove it if it differs.</li>
</ol>
<p>A PC's browser takes <a href="/authority.pem">the same certificate as PEM</a> in its certificate settings, under
authorities.</p>
<h2>Then open Slipbook</h2>
<ul>{addresses}</ul>
{found}<p>Whoever is at the workshop's PC makes a pairing code for this phone there, under Settings, Devices.</p>
</body></html>
"""


FOUND = """<p>This page itself is <a href="{page}">{page}</a> for phones that look up names in .local, as most do.</p>
"""


def create_welcome(
    authority: Authority, urls: Callable[[], list[str]], by_name: Callable[[], str] = lambda: ""
) -> Flask:
    """Make the application of the welcome page.

    Parameters
    ----------
    authority : Authority
        Whose certificate is given out.
    urls : callable
        Slipbook's own https addresses, as they are now.
    by_name : callable
        This page's own address by name, empty while phones cannot look it up.
    """
    app = Flask("slipbook_welcome", static_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = 0

    def answer(data: str | bytes, kind: str, name: str = "") -> Response:
        found = Response(data, content_type=kind)
        if name:
            found.headers["Content-Disposition"] = f'attachment; filename="{name}"'
        return found

    @app.get("/")
    def page() -> Response:
        links = "".join(f'<li><a href="{html.escape(one)}">{html.escape(one)}</a></li>' for one in urls())
        found = FOUND.format(page=html.escape(by_name())) if by_name() else ""
        text = PAGE.format(fingerprint=authority.fingerprint, addresses=links, found=found)
        return answer(text, "text/html; charset=utf-8")

    @app.get("/welcome.css")
    def style() -> Response:
        return answer(STYLE, "text/css; charset=utf-8")

    @app.get("/authority.crt")
    def der() -> Response:
        return answer(authority.der, "application/x-x509-ca-cert", "slipbook-authority.crt")

    @app.get("/authority.pem")
    def pem() -> Response:
        return answer(authority.pem, "application/x-pem-file", "slipbook-authority.pem")

    @app.errorhandler(Exception)
    def refused(error: Exception) -> Response:
        code = getattr(error, "code", None)
        said = Response("Only the certificate is here.\n", code if isinstance(code, int) else 500)
        said.content_type = "text/plain; charset=utf-8"
        return said

    @app.after_request
    def guard(response: Response) -> Response:
        response.headers["Content-Security-Policy"] = POLICY
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers["Cache-Control"] = "no-store"
        return response

    return app
