"""Photos as they go on paper: turned as they were taken, and no larger than print can show."""

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

from putback.errors import InputError

LONG_SIDE = 1000  # px; 80 mm wide that is more than 300 to the inch
QUALITIES = (72, 50, 30, 10)  # the first with which a photo is small enough
MOST_BYTES = 230_000  # so that 40 photos of anything stay below 10 MB
AT_ONCE = 4  # photos in work at one time; each is large until it is small
MOST_PIXELS = 120_000_000  # more than any phone takes; what claims more is no photo


def small_photos(hashes: Iterable[str], file: Callable[[str], bytes]) -> list[bytes | None]:
    """Photos of a ledger made small, each None where it cannot be read, or is lost.

    Parameters
    ----------
    hashes : iterable of str
    file : function
        Gives the content of a file by its hash.
    """

    def small(hash: str) -> bytes | None:
        try:
            return small_photo(file(hash))
        except InputError:  # a file that was lost does not cost the record
            return None

    with ThreadPoolExecutor(AT_ONCE) as pool:
        return list(pool.map(small, hashes))


def small_photo(data: bytes) -> bytes | None:
    """A photo as a small JPEG without what the camera noted, such as the place; None where it cannot be read.

    Parameters
    ----------
    data : bytes
        As it was taken: JPEG, PNG, WebP, GIF.
    """
    from PIL import Image, ImageOps

    Image.MAX_IMAGE_PIXELS = MOST_PIXELS  # up to there it has nothing to warn of
    try:
        with Image.open(BytesIO(data), formats=("JPEG", "PNG", "WEBP", "GIF")) as photo:
            if photo.width * photo.height > MOST_PIXELS:
                return None
            # A JPEG is read at the fraction of its size that will do, in a fraction of the time.
            photo.draft("RGB", [side * LONG_SIDE // max(photo.size) for side in photo.size])
            upright = ImageOps.exif_transpose(photo).convert("RGB")
        upright.thumbnail((LONG_SIDE, LONG_SIDE))
        return _jpeg(upright)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None


def _jpeg(photo) -> bytes:
    small = b""
    for small in _ever_smaller(photo):
        if len(small) <= MOST_BYTES:
            break
    return small


def _ever_smaller(photo) -> Iterator[bytes]:
    for quality in QUALITIES:
        to = BytesIO()
        photo.save(to, "JPEG", quality=quality)
        yield to.getvalue()
