"""Files in one: a line of JSON with the size of each by its name, then their contents in that order."""

import json


def join(files: dict[str, bytes]) -> bytes:
    """Put files into one.

    >>> join({"a.py": b"one", "b.py": b"two"})
    b'{"a.py": 3, "b.py": 3}\\nonetwo'
    """
    sizes = {name: len(data) for name, data in files.items()}
    return b"".join([json.dumps(sizes).encode(), b"\n", *files.values()])


def split(joined: bytes) -> dict[str, bytes]:
    """Take them apart again.

    >>> split(b'{"a.py": 3, "b.py": 3}\\nonetwo')
    {'a.py': b'one', 'b.py': b'two'}
    """
    line, _, data = joined.partition(b"\n")
    files, start = {}, 0
    for name, size in json.loads(line).items():
        files[name] = data[start : start + size]
        start += size
    return files
