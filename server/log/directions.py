"""Text from right to left in what is written from left to right, as in names: it turns nothing round that follows it.

What is stored stays as it was typed. `screens/frame/directions.js` does the same for what screens show.

References
----------
1. Unicode Standard Annex 9, the bidirectional algorithm: 2 on what its control characters open and close, 3.2 on
   letters from right to left.
"""

import re

RIGHT_TO_LEFT = "\u0590-\u08ff\u200f\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff"
# What turns round all up to the end of its paragraph, where nothing closes it.
OPENS_OR_CLOSES = re.compile("[\u202a-\u202e\u2066-\u2069]")
# Words of one name; a figure or a comma between two may be of the sentence.
NAMES = re.compile(f"[{RIGHT_TO_LEFT}](?:[ \xa0'\"’\u0300-\u036f-]*[{RIGHT_TO_LEFT}\u0300-\u036f])*")
# Those besides them that show nothing: marks of a direction.
MARKS = re.compile("[\u200e\u200f\u061c]")
FROM_RIGHT, END = "\u2067", "\u2069"
END_EMBEDDED = "\u202c"
EMBEDS, ISOLATES, ENDS_PARAGRAPH = "\u202a\u202b\u202d\u202e", "\u2066\u2067\u2068", "\n\r\u2029"


def steady(text: str) -> str:
    r"""A text whose parts from right to left stand alone, so that all beside them keeps its place.

    >>> steady("Bramble: 84.6 N·m"), ascii(steady("\u05d3\u05e0\u05d9 2: \u202e84.6 N\xb7m"))
    ('Bramble: 84.6 N·m', "'\\u2067\\u05d3\\u05e0\\u05d9\\u2069 2: 84.6 N\\xb7m'")
    """
    if text.isascii():
        return text
    return NAMES.sub(rf"{FROM_RIGHT}\g<0>{END}", OPENS_OR_CLOSES.sub("", text))


def undirected(text: str) -> str:
    r"""A text for what draws letters one after the other and knows no directions: none of their characters is in it.

    >>> undirected("a\u202eb\u200f")
    'ab'
    """
    return MARKS.sub("", OPENS_OR_CLOSES.sub("", text))


def closed(text: str) -> str:
    r"""A text as it was typed, then the ends of what it leaves open: so that nothing behind it is turned round.

    >>> ascii(closed("a\u202eb\u2066")), closed("\u202ea\u202c") == "\u202ea\u202c", closed("\u202ea\nb")[-1]
    ("'a\\u202eb\\u2066\\u2069\\u202c'", True, 'b')
    """
    if text.isascii():
        return text
    ends: list[str] = []
    for letter in text:
        if letter in EMBEDS:
            ends.append(END_EMBEDDED)
        elif letter in ISOLATES:
            ends.append(END)
        elif letter == END_EMBEDDED and ends[-1:] == [END_EMBEDDED]:
            ends.pop()
        elif letter == END and END in ends:
            # It ends what was opened within it too.
            while ends.pop() != END:
                pass
        elif letter in ENDS_PARAGRAPH:
            ends.clear()
    return text + "".join(reversed(ends))
