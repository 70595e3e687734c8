"""What stands beside the fields of the screens is what the forms say, which sentences go by too."""

from server.api.client_labels import FILE, text


def test_the_labels_are_those_of_the_forms() -> None:
    assert FILE.read_text(encoding="utf-8") == text(), "run `npm run types` in webui"
