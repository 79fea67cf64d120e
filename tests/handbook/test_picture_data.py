"""A picture on a page holds nothing but the picture: written with Pillow, read back with Pillow."""

from __future__ import annotations

import io
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.handbook.make import make
from rigbook.handbook.picture_data import bare
from rigbook.handbook.themes import find_theme

PIL = pytest.importorskip("PIL")
from PIL import Image  # noqa: E402
from PIL.PngImagePlugin import PngInfo  # noqa: E402

SECRET = "Zqwhereitwastakenqz"
VIEWS = ("crew", "guest", "public")


def painted(mode: str = "RGB") -> Image.Image:
    """Noise, so that a scan is long enough to hold every kind of byte."""
    dice = random.Random(4)
    return Image.frombytes("RGB", (64, 40), bytes(dice.randrange(256) for _ in range(64 * 40 * 3))).convert(mode)


def saved(ending: str, turned: int = 1, **more: object) -> bytes:
    """A picture with the secret wherever its kind can hold one."""
    out, exif, image = io.BytesIO(), Image.Exif(), painted("P" if ending == ".gif" else "RGB")
    exif[0x0112], exif[0x010E], exif[0x013B] = turned, SECRET, SECRET
    exif.get_ifd(0x8825)[1] = SECRET  # the place
    if ending == ".png":
        said = PngInfo()
        for add in (said.add_text, said.add_itxt):
            add("Comment", SECRET)
        image.save(out, "PNG", pnginfo=said, exif=exif)
    elif ending == ".jpg":
        image.save(out, "JPEG", exif=exif, comment=SECRET.encode(), **more)
        out.write(SECRET.encode())  # behind the end
    elif ending == ".webp":
        image.save(out, "WEBP", lossless=True, exif=exif, xmp=SECRET.encode())
    else:
        image.save(out, "GIF", comment=SECRET.encode(), **more)
    return out.getvalue()


@pytest.mark.parametrize("ending", [".jpg", ".png", ".webp", ".gif"])
def test_what_is_said_beside_the_picture_goes_and_the_picture_stays(ending: str) -> None:
    data = saved(ending)
    assert SECRET.encode() in data
    got = bare(data, ending)
    assert SECRET.encode() not in got
    before, after = (Image.open(io.BytesIO(d)) for d in (data, got))
    assert before.convert("RGBA").tobytes() == after.convert("RGBA").tobytes()
    assert bare(got, ending) == got


@pytest.mark.parametrize("progressive", [False, True])
@pytest.mark.parametrize("turned", range(1, 9))
def test_a_photograph_stays_the_right_way_up(turned: int, progressive: bool) -> None:
    got = bare(saved(".jpg", turned, progressive=progressive, icc_profile=b"profile"), ".jpg")
    image = Image.open(io.BytesIO(got))
    assert dict(image.getexif()) == ({0x0112: turned} if turned != 1 else {})
    assert image.info["icc_profile"] == b"profile"
    image.load()


def test_a_drawing_loses_its_comments_and_its_programs_notes() -> None:
    svg = (f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="urn:i" '
           f'inkscape:export-filename="/home/{SECRET}.png">'
           f'<!-- {SECRET} --><metadata id="m"><a>{SECRET}</a></metadata><sodipodi:namedview a="{SECRET}"/>'
           '<title>Stage</title><g inkscape:label="x" id="g"><path d="M0 0h9"/></g></svg>')
    assert bare(svg.encode(), ".svg") == (
        b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="urn:i"><title>Stage</title>'
        b'<g id="g"><path d="M0 0h9"/></g></svg>')


def test_an_animation_goes_on_repeating() -> None:
    other = painted("P").transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    got = Image.open(io.BytesIO(bare(saved(".gif", save_all=True, append_images=[other], loop=0), ".gif")))
    assert (got.n_frames, got.info["loop"]) == (2, 0)


@given(st.sampled_from([".jpg", ".jpeg", ".png", ".webp", ".gif", ".svg"]), st.binary(max_size=300), st.booleans())
def test_no_file_is_too_broken(ending: str, data: bytes, begun: bool) -> None:
    """What is not that kind of picture, or cut off, is shown as it is or in part; it never stops a build."""
    head = {".png": b"\x89PNG\r\n\x1a\n", ".webp": b"RIFF\0\0\0\0WEBP", ".gif": b"GIF89a"}.get(ending, b"\xff\xd8")
    assert isinstance(bare(head + data if begun else data, ending), bytes)


@pytest.mark.parametrize("view", VIEWS)
def test_no_view_gives_away_where_a_photograph_was_taken(compiled, view: str) -> None:
    got = compiled(
        "plan: 1\nshow: Open\nunits: {desk: desk-16}\n"
        "notes: {Way in: {text: '![the door](door.jpg) ![the gate](gate.png)', page: venue, for: public}}\n",
        door__jpg=saved(".jpg"), gate__png=saved(".png"))
    files = make(got, view, find_theme("plain"))
    assert sum(name.startswith("pictures/") for name in files) == 2
    assert [name for name, data in files.items() if SECRET.encode() in data] == []
