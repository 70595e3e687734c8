"""How the web files travel: without what only people read, and pressed as far as brotli goes."""

import ast
import re
from pathlib import Path

import brotli

# Above this a file is pressed when it is built, not when it is asked for: brotli at its best takes seconds.
PRESSED_AHEAD = 50_000
BEST = 11
QUICK = 5
COMMENT_LINES = re.compile(r"^[ \t]*(?://[^\n]*|/\*\*(?:(?!\*/).)*\*/[ \t]*)\n", re.MULTILINE | re.DOTALL)


def without_docstrings(source: str) -> str:
    """Python source without comments and docstrings; what it does is unchanged.

    >>> print(without_docstrings('def one():\\n    "One."\\n    return 1  # as said'))
    def one():
        return 1
    """
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and ast.get_docstring(node, clean=False):
            # A body needs a statement.
            node.body = node.body[1:] or [ast.Pass()]
    return ast.unparse(tree)


def without_comments(source: str) -> str:
    """JavaScript without the lines that hold nothing but a comment, which is where this house writes them.

    A comment behind code, or within a line, stays: telling it from a text takes a parser.

    >>> without_comments("// one\\nconst a = 1; // two\\n/**\\n * three\\n */\\nconst b = 2;\\n")
    'const a = 1; // two\\nconst b = 2;\\n'
    """
    return COMMENT_LINES.sub("", source)


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
        return bytes(brotli.compress(data, quality=BEST))
    ahead = path.with_name(path.name + ".br")
    if ahead.is_file():
        found = ahead.read_bytes()
        if brotli.decompress(found) == data:
            return found
    return bytes(brotli.compress(data, quality=QUICK))
