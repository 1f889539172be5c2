"""What a photo or a file is, by how it begins and by nothing else: a name may say anything.

References
----------
.. [1] JPEG: ITU-T T.81; PNG: ISO/IEC 15948; PDF: ISO 32000-1; WebP: RFC 9649.
"""

PDF = "application/pdf"
_BEGINNINGS = ((b"\xff\xd8\xff", "image/jpeg"), (b"\x89PNG\r\n\x1a\n", "image/png"), (b"%PDF-", PDF))


def file_type(data: bytes) -> str | None:
    """The media type of a JPEG, PNG, WebP or PDF file; None for anything else, which is not taken.

    Parameters
    ----------
    data : bytes
    """
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "image/webp"
    return next((kind for begin, kind in _BEGINNINGS if data.startswith(begin)), None)
