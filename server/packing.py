"""How the web files travel: without what only people read, and pressed as far as brotli goes."""

import ast
import re
from pathlib import Path
from typing import Any

import brotli

# Above this a file is pressed when it is built, not when it is asked for: brotli at its best takes seconds.
PRESSED_AHEAD = 50_000
BEST = 11
# Whole files are looked at at once.
WIDEST = 24
QUICK = 5
COMMENT_LINES = re.compile(r"^[ \t]*(?://[^\n]*|/\*\*(?:(?!\*/).)*\*/[ \t]*)\n", re.MULTILINE | re.DOTALL)
TYPES = re.compile(r"/\*\* @(?:(?!\*/).)*\*/ ?", re.DOTALL)


# Where a field of the engine's forms says what it means, which only the API's document asks.
MEANINGS = {
    "Checked": 0,
    "Day": 0,
    "Figure": 0,
    "YesNo": 0,
    "Choice": 1,
    "Group": 1,
    "OpenGroup": 1,
    "Text": 1,
    "Whole": 2,
    "Listing": 3,
    "Number": 3,
}


class Bare(ast.NodeTransformer):
    """Takes docstrings, annotations and the meanings of fields out of a program."""

    def bare(self, node: Any) -> Any:
        """A module, class or function without its docstring."""
        self.generic_visit(node)
        if ast.get_docstring(node, clean=False) is not None:
            # A body needs a statement.
            node.body = node.body[1:] or [ast.Pass()]
        return node

    visit_Module = visit_ClassDef = bare  # noqa: N815

    def visit_FunctionDef(self, node: ast.FunctionDef) -> Any:  # noqa: D102
        node.returns = None
        return self.bare(node)

    def visit_arg(self, node: ast.arg) -> Any:  # noqa: D102
        node.annotation = None
        return node

    def visit_Call(self, node: ast.Call) -> Any:  # noqa: D102
        self.generic_visit(node)
        place = MEANINGS.get(node.func.id) if isinstance(node.func, ast.Name) else None
        if place is not None and place < len(node.args) and isinstance(node.args[place], ast.Constant):
            node.args[place] = ast.Constant("")
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> Any:  # noqa: D102
        self.generic_visit(node)
        return ast.Assign([node.target], node.value) if node.value else None


def without_docstrings(source: str) -> str:
    """Python source without comments, docstrings, annotations and what fields mean, a blank a level; it does the same.

    >>> print(without_docstrings('def one(a: int) -> int:\\n    "One."\\n    b: int = a\\n    return b  # as said'))
    def one(a):
     b = a
     return b
    >>> print(without_docstrings('wide = Number(0, 9, "mm", "how wide it is", default=2)'))
    wide = Number(0, 9, 'mm', '', default=2)
    """
    bare = ast.unparse(ast.fix_missing_locations(Bare().visit(ast.parse(source))))
    return re.sub("^(?:    )+", lambda indent: " " * (len(indent[0]) // 4), bare, flags=re.MULTILINE)


def without_comments(source: str) -> str:
    """JavaScript without the lines that hold nothing but a comment, which is where this house writes them, and types.

    Any other comment within a line stays: telling it from a text takes a parser.

    >>> without_comments("// one\\nconst a = 1; // two\\n/**\\n * three\\n */\\nconst b = /** @type {any} */ (2);\\n")
    'const a = 1; // two\\nconst b = (2);\\n'
    """
    return TYPES.sub("", COMMENT_LINES.sub("", source))


def without_indents(source: str) -> str:
    """JavaScript without empty lines, whose lines begin at their first sign: in markup any white space is one blank.

    >>> without_indents("if (a)\\n\\n  html`<p>\\n    one</p>`;\\n")
    'if (a)\\nhtml`<p>\\none</p>`;\\n'
    """
    return re.sub("^\\s+", "", source, flags=re.MULTILINE)


def slim_style(source: str) -> str:
    """A style sheet without comments, indents and what else the grammar does without; no text in one of ours holds any.

    >>> slim_style("/* one */\\na {\\n  color: red;\\n}\\n")
    'a{color:red}\\n'
    """
    flat = re.sub(r"\s*\n\s*", "\n", re.sub(r"/\*.*?\*/", "", source, flags=re.DOTALL)).lstrip("\n")
    for long, short in ((" {\n", "{"), (";\n", ";"), (";}", "}"), (": ", ":")):
        flat = flat.replace(long, short)
    return flat


def pressed(data: bytes, path: Path | None) -> bytes:
    """Data in brotli's format.

    Parameters
    ----------
    data : bytes
        What is to be pressed.
    path : Path or None
        The file that it comes from. What the build pressed of it, a neighbour with `.br` behind its name, is taken
        where there is one that fits.
    """
    if len(data) <= PRESSED_AHEAD or path is None:
        return bytes(brotli.compress(data, quality=BEST, lgblock=WIDEST))
    ahead = path.with_name(path.name + ".br")
    if ahead.is_file():
        found = ahead.read_bytes()
        if brotli.decompress(found) == data:
            return found
    return bytes(brotli.compress(data, quality=QUICK))
