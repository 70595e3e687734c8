"""Prints what the app prints, in WebKit, on paper that is a file. Run by the system's own Python, which has WebKit.

    python3 webkit_print.py ADDRESS STEP... FILE.pdf

WebKit's driver has no command for it. Each step is a piece of script that is asked again until it answers yes; the last
one presses the app's own key, and what the page then wants printed is printed.
"""

import sys
from typing import Any

POLL_MS = 200


def paper(Gtk: Any, operation: Any, file: str) -> None:  # noqa: N803
    """A4, and a printer that writes a file."""
    page = Gtk.PageSetup()
    page.set_paper_size(Gtk.PaperSize.new("iso_a4"))
    settings = Gtk.PrintSettings()
    settings.set_printer("Print to File")
    settings.set(Gtk.PRINT_SETTINGS_OUTPUT_URI, f"file://{file}")
    settings.set(Gtk.PRINT_SETTINGS_OUTPUT_FILE_FORMAT, "pdf")
    operation.set_print_settings(settings)
    operation.set_page_setup(page)


def main(address: str, steps: list[str], file: str) -> None:
    """Open the page, go through the steps, print."""
    # Here, since the tests' own Python has none of it.
    import gi

    gi.require_version("Gtk", "3.0")
    gi.require_version("WebKit2", "4.1")
    from gi.repository import GLib, Gtk, WebKit2

    window = Gtk.Window(default_width=1280, default_height=800)
    view = WebKit2.WebView()
    window.add(view)
    window.show_all()

    def wanted(_: object, operation: Any) -> bool:
        paper(Gtk, operation, file)
        operation.connect("finished", lambda *_: Gtk.main_quit())
        operation.connect("failed", lambda *_: sys.exit("It was not printed."))
        operation.print_()
        return True

    def answered(_: object, result: object) -> None:
        try:
            if view.evaluate_javascript_finish(result).to_boolean():
                steps.pop(0)
        except GLib.Error:
            # The page gave way to the next one; it is asked again.
            pass
        if steps:
            GLib.timeout_add(POLL_MS, ask)

    def ask() -> bool:
        view.evaluate_javascript(f"Boolean({steps[0]})", -1, None, None, None, answered)
        return False

    view.connect("print", wanted)
    view.load_uri(address)
    GLib.timeout_add(POLL_MS, ask)
    Gtk.main()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:-1], sys.argv[-1])
