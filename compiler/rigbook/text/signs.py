"""Mistakes with quotes, brackets and the signs that YAML keeps for itself. One rule a function."""

from __future__ import annotations

import re

from rigbook.text.complaints import DEEP, FLATTER
from rigbook.text.limits import MAX_DEPTH
from rigbook.text.lines import Line
from rigbook.text.mistakes import Mend, Mistake, Trouble, clip, in_quotes
from rigbook.text.phrase import phrase


def open_quote(t: Trouble) -> Mistake | None:
    """A quote that is never closed."""
    line: int | None = None
    if "quoted scalar" in t.context and "end of stream" in t.problem:
        line = t.from_line
    else:
        # a quote opened above ends at the next one of its kind, and the parser stumbles behind that
        here = t.here()
        column = len(here.text[: t.column].rstrip()) - 1
        quote = here.text[column : column + 1]
        if quote and quote in "'\"" and here.closing_quote(column) is None:
            line = next((i for i in range(t.line - 1, -1, -1) if quote in t.lines[i]), None)
    if line is None:
        return None
    found = t.at(line)
    start = found.open_quote()
    if start is None:
        return None
    quote = found.text[start]
    message = phrase("the quote before %(text)s is never closed", text=clip(found.text[start + 1 : found.end]))
    return Mistake(
        line, start, start + 1, message, phrase("write `%(quote)s` at the end of the text as well", quote=quote)
    )


def behind_quote(t: Trouble) -> Mistake | None:
    """`a: 'x' y` and `a: 'it's'`."""
    line, column = (t.from_line, t.from_column) if "quoted scalar" in t.context else (t.line, t.column)
    here = t.at(line)
    column = len(here.text[:column].rstrip()) - 1
    start = here.closing_quote(column)
    if start is None or any(a < start and (b < 0 or b > column) for a, b in here.brackets.items()):
        return None
    quote = here.text[column]
    value = here.text[start : here.end]
    if quote == "'" and here.text[column + 1 : column + 2].isalpha():
        fix = phrase("write an apostrophe inside single quotes twice (`''`), or use double quotes")
    elif quote == '"' and here.text[column + 1 : here.end].endswith('"'):
        fix = phrase("put single quotes around a text that holds double quotes")
    else:
        fix = phrase("put quotes around the whole value, or around none of it")
    return Mistake(
        line, column + 1, here.end, phrase("text follows the closing quote in %(text)s", text=clip(value)), fix
    )


def directive(t: Trouble) -> Mistake | None:
    """A line that begins with `%`."""
    line = next((i for i in (t.from_line, t.line) if t.lines[i].startswith("%")), None)
    if line is None:
        return None
    return Mistake(
        line,
        0,
        t.at(line).end,
        phrase("a line begins with `%`"),
        phrase("take it out, or begin it with a key"),
        Mend.LINE,
    )


def odd_start(t: Trouble) -> Mistake | None:
    """A value that begins with a sign YAML keeps for itself."""
    for line in dict.fromkeys((t.line, t.from_line)):
        m = re.search(r"(?:^\s*|[:\-\[{,]\s+|[\[{])([@`%&*!])", t.lines[line])
        if not m or (line == t.line and m.start(1) > t.column):
            continue
        here = t.at(line)
        start = m.start(1)
        word = here.text[start : here.end]
        if m.group(1) == "!" and "tag" in t.context + t.problem:
            first = word.split()[0]
            return Mistake(
                line,
                start,
                start + len(first),
                phrase("%(text)s is a tag", text=clip(first)),
                phrase("take it out"),
                check="tag-used",
            )
        front = here.text[:start]
        if front.count("{") + front.count("[") > front.count("}") + front.count("]"):
            # between brackets the value ends at the comma
            word = re.split(r"[,}\]]", word)[0].strip() or word
        sign = phrase("a backtick") if m.group(1) == "`" else f"`{m.group(1)}`"
        message = phrase("a value begins with %(sign)s", sign=sign)
        return Mistake(
            line, start, start + 1, message, phrase("put quotes around it: %(text)s", text=clip(in_quotes(word), 60))
        )
    return None


def escape(t: Trouble) -> Mistake | None:
    """A backslash in double quotes with a letter behind it that YAML does not know."""
    if not re.search(r"escape|hexdecimal|hexadecimal|Unicode character", t.problem):
        return None
    text = t.lines[t.line]
    at = max(text.rfind("\\", 0, t.column + 1), 0)
    message = phrase("`%(value)s` means nothing between double quotes", value=text[at : at + 2])
    return Mistake(t.line, at, at + 2, message, phrase("use single quotes, in which a backslash is a backslash"))


def block_header(t: Trouble) -> Mistake | None:
    """`a: | some text`."""
    here = t.at(t.from_line)
    start, value = here.value()
    if "block scalar" not in t.context or value[:1] not in ("|", ">"):
        return None
    message = phrase("text follows the `%(value)s` on its line", value=value[0])
    return Mistake(t.from_line, start + 1, here.end, message, phrase("begin the text on the next line, indented"))


def comment_in_brackets(t: Trouble) -> Mistake | None:
    """`{outlets: at the desk #2}`: a number sign behind a space begins a comment, and the bracket closes in that."""
    for line in dict.fromkeys((t.from_line, t.line, t.above(t.line))):
        if line is None or t.at(line).open_bracket() is None:
            continue
        here = t.at(line)
        sign = here.text.find("#", here.end)
        m = re.match(r"#[^\s,\]}]+(?: [^,:\]}]*)?(?=[,\]}])", here.text[max(sign, 0) :])
        start = re.search(r"(?:[:,]\s|[\[{])\s*([^\s:,\[{\"'](?:(?![:,]\s|[\[{]).)*)$", here.text[: here.end])
        if sign < 0 or m is None or start is None:
            continue
        meant = f"{start.group(1)}{here.text[here.end : sign]}{m.group().rstrip()}"
        message = phrase(
            "` #` begins a comment, which goes to the end of the line: %(text)s",
            text=clip(here.text[sign:].rstrip(), 24),
        )
        text = here.text[: start.start(1)] + in_quotes(meant) + here.text[sign + len(m.group().rstrip()) :]
        fix = phrase("put the text in quotes: `%(quoted)s`", quoted=in_quotes(meant))
        return Mistake(line, sign, sign + len(m.group().rstrip()), message, fix, Mend.TEXT, text=text)
    return None


def too_deep(t: Trouble) -> Mistake | None:
    """Brackets or indentations inside one another beyond what the parser follows, closed or not."""
    if "nesting depth" not in t.problem:
        return None
    line, start = _deep_brackets(t) if "flow" in t.context else _deep_lines(t)
    return Mistake(line, start, start + 1, phrase(DEEP, most=MAX_DEPTH), FLATTER, check="too-deep")


def _deep_brackets(t: Trouble) -> tuple[int, int]:
    """The bracket that is too deep where one line holds them all; else the first of the line that they begin in."""
    signs = [(s in "[{") - (s in "]}") for s in t.lines[t.line][: t.column]]
    if sum(signs) > MAX_DEPTH:
        return t.line, next(column for column in range(len(signs)) if sum(signs[: column + 1]) > MAX_DEPTH)
    line = t.line
    while (above := t.above(line)) is not None and t.at(above).open_bracket() is not None:
        line = above
    return line, min(i for i in map(t.lines[line].find, "[{") if i >= 0)


def _deep_lines(t: Trouble) -> tuple[int, int]:
    """The line that lies too deep below others."""
    outer, above = [t.line], t.above(t.line)
    while above is not None:
        outer += [above] if t.at(above).indent < t.at(outer[-1]).indent else []
        above = t.above(above)
    line = outer[-MAX_DEPTH - 1] if len(outer) > MAX_DEPTH else t.line
    return line, t.at(line).indent


def open_bracket(t: Trouble) -> Mistake | None:
    """A bracket that is not closed, looked for from the parser's place upwards."""
    for line in range(t.line, max(t.line - 200, -1), -1):
        here = t.at(line)
        start = here.open_bracket()
        if start is None:
            continue
        if not ("flow" in t.context or line in (t.line, t.above(t.line))):
            return None
        closed = {"[": "]", "{": "}"}[here.text[start]]
        if _closes_below(t, line, here, closed):
            continue
        fix = phrase("close it with `%(closed)s`", closed=closed)
        return Mistake(
            line, start, start + 1, phrase("the bracket `%(here)s` is never closed", here=here.text[start]), fix
        )
    return None


def _closes_below(t: Trouble, line: int, here: Line, closing: str) -> bool:
    """True where the deeper lines below hold the closing bracket: then the bracket is not the mistake."""
    for i in range(line + 1, len(t.lines)):
        text = t.lines[i]
        if text.strip() and len(text) - len(text.lstrip()) <= here.indent and text.strip()[0] not in "]}":
            return False
        if closing in text:
            return True
    return False


def colon_in_brackets(t: Trouble) -> Mistake | None:
    """`{outlets: rear: at the desk}`: one word with a colon begins a value, which is a text that needs quotes."""
    here = t.here()
    if "flow" not in t.context or here.text[t.column : t.column + 1] != ":":
        return None
    m = re.search(r"(?:^|[\s\[{,])([A-Za-z][\w-]*): +([^\s,:\[\]{}\"']+)$", here.text[: t.column])
    rest = re.match(r":[^,\[\]{}\"':]*(?=[,\]}])", here.text[t.column : here.end])
    if m is None or rest is None:
        return None
    value = m.group(2) + rest.group().rstrip()
    end = t.column + len(rest.group().rstrip())
    text = here.text[: m.start(2)] + in_quotes(value) + here.text[end:]
    message = phrase("the text after %(text)s holds another colon", text=clip(m.group(1) + ":"))
    fix = phrase("put quotes around it: %(text)s", text=f"`{m.group(1)}: {in_quotes(value)}`")
    return Mistake(t.line, t.column, t.column + 1, message, fix, Mend.TEXT, text=text)


def comma_missing(t: Trouble) -> Mistake | None:
    """Between brackets: a missing comma, a comma too many, the wrong closing bracket."""
    if "flow" not in t.context:
        return None
    here = t.here()
    sign = here.text[t.column : t.column + 1]
    if sign and sign in "]}":
        message = phrase("`%(sign)s` stands where another bracket should close", sign=sign)
        return Mistake(
            t.line, t.column, t.column + 1, message, phrase("close brackets in the order in which they were opened")
        )
    if sign == ",":
        return Mistake(
            t.line, t.column, t.column + 1, phrase("nothing stands before this comma"), phrase("take the comma out")
        )
    word = here.text[: t.column].split(" ")[-1] + here.text[t.column : t.column + 1]
    what = clip(word if sign == ":" else here.text[t.column : here.end].split(",")[0], 24)
    start = t.column - len(word) + 1 if sign == ":" else t.column
    fix = phrase("separate what stands between brackets with commas: `{name: Fiddle, from: box/in 1}`")
    return Mistake(t.line, start, t.column + 1, phrase("a comma is missing before %(what)s", what=what), fix)


def stray_bracket(t: Trouble) -> Mistake | None:
    """A closing bracket or a comma where a value belongs."""
    sign = t.lines[t.line][t.column : t.column + 1]
    if not sign or sign not in "]},":
        return None
    what = phrase("a comma begins the value") if sign == "," else phrase("`%(sign)s` closes nothing", sign=sign)
    return Mistake(t.line, t.column, t.column + 1, what, phrase("take it out, or put quotes around the text"))
