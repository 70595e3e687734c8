"""The welcome page over plain HTTP: hands out the authority's certificate, says how to trust it, and does nothing else.

The certificate is public; the fingerprint shows whether it was altered on the way.
"""

import html
from collections.abc import Callable

from flask import Flask, Response

from .authority import Authority

PAGE_POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
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
<p>Slipbook works on the phone without a network. For that the phone must trust this PC's certificate, once.</p>
<aside><p><strong>Compare first.</strong> Before you install it, the phone can show the certificate's SHA-256
fingerprint. It must be the one that the workshop's PC shows where Slipbook was started, not only the one below. If it
differs, stop: somebody else may be answering.</p></aside>
<p>Fingerprint: <code>{fingerprint}</code></p>
<h2>iPhone and iPad</h2>
<ol>
<li>Open this page in Safari, tap <a class="key" href="/authority.crt">the certificate</a> and allow the download.</li>
<li>Settings, General, VPN &amp; Device Management: tap the downloaded profile. Under More Details compare the
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
{by_name}<p>Then have a pairing code for this phone made at the workshop's PC, under Settings, Devices.</p>
</body></html>
"""


BY_NAME = """<p>Most phones also find this page by name: <a href="{url}">{url}</a>.</p>
"""


def create_welcome(
    authority: Authority, find_urls: Callable[[], list[str]], find_url_by_name: Callable[[], str] = lambda: ""
) -> Flask:
    """Make the application of the welcome page.

    Parameters
    ----------
    authority : Authority
        The authority whose certificate is handed out.
    find_urls : callable
        Slipbook's https addresses, as they are now.
    find_url_by_name : callable
        The address of this page by name; empty while phones cannot look the name up.
    """
    app = Flask("slipbook_welcome", static_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = 0

    def respond(data: str | bytes, content_type: str, name: str = "") -> Response:
        response = Response(data, content_type=content_type)
        if name:
            response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
        return response

    @app.get("/")
    def page() -> Response:
        links = "".join(f'<li><a href="{html.escape(url)}">{html.escape(url)}</a></li>' for url in find_urls())
        url_by_name = find_url_by_name()
        by_name = BY_NAME.format(url=html.escape(url_by_name)) if url_by_name else ""
        text = PAGE.format(fingerprint=authority.fingerprint, addresses=links, by_name=by_name)
        return respond(text, "text/html; charset=utf-8")

    @app.get("/welcome.css")
    def style() -> Response:
        return respond(STYLE, "text/css; charset=utf-8")

    @app.get("/authority.crt")
    def der() -> Response:
        return respond(authority.der, "application/x-x509-ca-cert", "slipbook-authority.crt")

    @app.get("/authority.pem")
    def pem() -> Response:
        return respond(authority.pem, "application/x-pem-file", "slipbook-authority.pem")

    @app.errorhandler(Exception)
    def refuse(error: Exception) -> Response:
        code = getattr(error, "code", None)
        response = Response("Only the certificate is here.\n", code if isinstance(code, int) else 500)
        response.content_type = "text/plain; charset=utf-8"
        return response

    @app.after_request
    def add_security_headers(response: Response) -> Response:
        response.headers["Content-Security-Policy"] = PAGE_POLICY
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers["Cache-Control"] = "no-store"
        return response

    return app
