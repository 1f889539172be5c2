"""Photos and files: taken only when they begin as what they may be, and given back as what they are."""

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from putback.errors import InputError
from putback.desk.file_type import PDF, file_type
from putback.job.ledger import LARGEST_FILE
from putback.web.asked import settings
from putback.web.calls import Call

UNKNOWN = "application/octet-stream"
UNSUITED = 415


async def upload(request: Request) -> dict:
    """Keep a photo or a file, sent as it is or as the field `file` of a form."""
    data = await _sent(request)
    kind = file_type(data)
    if kind is None:
        raise HTTPException(UNSUITED, "this is no JPEG, PNG, WebP or PDF file; take the photo again or convert it")
    if len(data) > LARGEST_FILE:
        raise HTTPException(413, "a photo or a file may have 20 MB; make it smaller")
    kept = await run_in_threadpool(settings(request).ledger.put_file, data)
    return {"hash": kept, "type": kind, "bytes": len(data)}


async def _sent(request: Request) -> bytes:
    if not request.headers.get("content-type", "").startswith("multipart/form-data"):
        return await request.body()
    async with request.form(max_files=1, max_fields=4) as form:
        file = form.get("file")
        if not isinstance(file, UploadFile):
            raise InputError('send the file as the field "file" of the form')
        return await file.read()


def download(request: Request) -> Response:
    """A photo or a file under its hash; only what a page can show safely is shown in one."""
    try:
        data = settings(request).ledger.file(request.path_params["hash"])
    except InputError:
        raise HTTPException(404, "no such file is kept here") from None
    kind = file_type(data) or UNKNOWN
    headers = {
        "cache-control": "private, max-age=31536000, immutable",
        "content-security-policy": "default-src 'none'; sandbox",
    }
    if kind in (PDF, UNKNOWN):
        headers["content-disposition"] = "attachment"
    return Response(data, media_type=kind, headers=headers)


CALLS = [
    Call(
        "POST",
        "/api/files",
        "upload",
        "Keeps a photo or a file of at most 20 MB: JPEG, PNG, WebP or PDF.",
        upload,
        "kept",
    ),
    Call("GET", "/api/files/{hash}", "download", "A photo or a file under its hash.", download),
]
