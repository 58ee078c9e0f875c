"""Files made to harm are refused. Sizes and forms follow the published descriptions of each attack, named beside it."""

import gzip
import io
import tarfile
import zipfile
import zlib

import pytest

from rewriter import intake
from rewriter.errors import Unusable
from rewriter.intake import Limits, Taken

RUSK = b"SWEET RUSK\n\n2 cups flour\n1 tsp soda\n\nBake at 350 F.\n"


def zipped(members: dict[str, bytes], **how: int) -> bytes:
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w", how.get("compression", zipfile.ZIP_DEFLATED)) as packed:
        for name, data in members.items():
            packed.writestr(name, data)
    return into.getvalue()


def tarred(members: list[tuple[tarfile.TarInfo, bytes]], mode: str = "w:gz") -> bytes:
    into = io.BytesIO()
    with tarfile.open(fileobj=into, mode=mode) as packed:  # type: ignore[call-overload]
        for info, data in members:
            info.size = len(data)
            packed.addfile(info, io.BytesIO(data))
    return into.getvalue()


def outcomes(data: bytes, name: str, limits: Limits = intake.LIMITS) -> list[str]:
    """The words of each file taken, or the complaint about it."""
    found = intake.take_each(data, name, limits)
    return [one.text if isinstance(one, Taken) else str(one[2]) for one in found]


def test_a_member_that_unpacks_a_thousandfold_is_refused() -> None:
    # The classic zip bomb: deflate packs zeros about 1,032 to 1 (zlib's technical notes).
    assert "refused" in outcomes(zipped({"zeros.txt": bytes(20_000_000)}), "cards.zip")[0]


def test_many_members_together_beyond_the_limit_are_refused() -> None:
    data = zipped({f"{n}.txt": bytes(range(256)) * 100 for n in range(50)})
    [told] = outcomes(data, "cards.zip", Limits(unpacked=1_000_000))
    assert "unpacks to more than 1 MB" in told


def test_a_size_in_the_directory_that_lies_is_found_out() -> None:
    data = bytearray(zipped({"a.txt": b"2 cups flour " * 40_000}))
    true = (13 * 40_000).to_bytes(4, "little")
    at = data.rfind(true)
    data[at : at + 4] = (100).to_bytes(4, "little")
    [told] = outcomes(bytes(data), "cards.zip")
    assert "cannot be unpacked" in told or "refused" in told


def test_members_that_overlap_are_refused() -> None:
    # Fifield, A better zip bomb (2019): directory entries that share one packed kernel.
    data = bytearray(zipped({"a.txt": b"%064d" % 7 * 400, "b.txt": b"%064d" % 7 * 400}, compression=zipfile.ZIP_STORED))
    second = data.rfind(b"PK\x01\x02")
    data[second + 42 : second + 46] = (0).to_bytes(4, "little")  # its local header is the first one's
    del data[data.rfind(b"PK\x03\x04") : data.find(b"PK\x01\x02")]
    told = " ".join(outcomes(bytes(data), "cards.zip"))
    assert "damaged" in told or "overlap" in told or "cannot be unpacked" in told


def test_archives_within_archives_stop() -> None:
    data = RUSK
    for depth in range(4):
        data = zipped({f"{depth}.{'zip' if depth else 'txt'}": data})
    assert "archives within archives" in outcomes(data, "cards.zip")[0]


def test_an_archive_in_an_archive_is_read() -> None:
    data = zipped({"aunt.zip": zipped({"rusk.txt": RUSK}), "uncle.txt": RUSK + b"Cool."})
    assert outcomes(data, "cards.zip") == [RUSK.decode(), RUSK.decode() + "Cool."]


@pytest.mark.parametrize("name", ["../rusk.txt", "a/../../rusk.txt", "/etc/rusk.txt", "C:\\rusk.txt", "..\\rusk.txt"])
def test_a_name_that_leads_out_is_refused_and_the_rest_goes_on(name: str) -> None:
    # Path traversal by archive, CWE-22 (https://cwe.mitre.org/data/definitions/22.html).
    told = outcomes(zipped({name: RUSK, "good.txt": RUSK}), "cards.zip")
    assert "leads out of its archive" in told[0]
    assert told[1] == RUSK.decode()
    told = outcomes(tarred([(tarfile.TarInfo(name), RUSK), (tarfile.TarInfo("good.txt"), RUSK)]), "cards.tgz")
    assert "leads out of its archive" in told[0]
    assert told[1] == RUSK.decode()


@pytest.mark.parametrize("kind", [tarfile.SYMTYPE, tarfile.LNKTYPE, tarfile.CHRTYPE, tarfile.FIFOTYPE])
def test_links_and_devices_in_an_archive_are_not_followed(kind: bytes) -> None:
    link = tarfile.TarInfo("rusk.txt")
    link.type, link.linkname = kind, "/etc/passwd"
    told = outcomes(tarred([(link, b""), (tarfile.TarInfo("good.txt"), RUSK)]), "cards.tar.gz")
    assert "is a link or a device" in told[0]
    assert told[1] == RUSK.decode()


def test_a_packed_stream_without_end_is_refused() -> None:
    data = gzip.compress(b"2 cups flour\n" * 300_000)
    [told] = outcomes(data, "cards.gz", Limits(unpacked=1_000_000))
    assert "refused" in told or "damaged" in told
    big = tarred([(tarfile.TarInfo("zeros.txt"), bytes(3_000_000))])
    assert "refused" in outcomes(big, "cards.tgz", Limits(unpacked=1_000_000))[0]


def test_nothing_is_written_anywhere(tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.chdir(tmp_path)
    outcomes(zipped({"../out.txt": RUSK, "in/deep.txt": RUSK}), "cards.zip")
    outcomes(tarred([(tarfile.TarInfo("../out.txt"), RUSK), (tarfile.TarInfo("deep.txt"), RUSK)]), "cards.tar")
    assert list(tmp_path.iterdir()) == []
    assert not (tmp_path.parent / "out.txt").exists()


def document(xml: bytes) -> bytes:
    import docx

    into = io.BytesIO()
    docx.Document().save(into)
    out = io.BytesIO()
    with zipfile.ZipFile(into) as packed, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as again:
        for member in packed.infolist():
            again.writestr(member.filename, xml if member.filename == "word/document.xml" else packed.read(member))
    return out.getvalue()


LAUGHS = b"""<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY lol "lol">
<!ENTITY lol2 "&lol;&lol;&lol;&lol;&lol;&lol;&lol;&lol;&lol;&lol;">]><lolz>&lol2;</lolz>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE d [<!ENTITY x SYSTEM "file:///etc/passwd">]><d>&x;</d>"""


@pytest.mark.parametrize("xml", [LAUGHS, OUTSIDE, LAUGHS.decode().encode("utf-16")])
def test_entities_in_a_document_are_refused(xml: bytes) -> None:
    # Exponential entity expansion, CWE-776; external entities, CWE-611.
    with pytest.raises(Unusable, match=r"entities|damaged"):
        intake.take(document(xml), "card.docx")


@pytest.mark.parametrize("junk", [b"{\\f0\\fcharset" * 100_000, b'{\\*\\fldinst{HYPERLINK "' * 100_000, b"{" * 500_000])
def test_rich_text_made_to_hang_is_refused(junk: bytes) -> None:
    with pytest.raises(Unusable):
        intake.take(b"{\\rtf1 {\\fonttbl" + junk, "card.rtf")


def pdf_with(stream: bytes) -> bytes:
    return b"%%PDF-1.4\n1 0 obj<</Filter/FlateDecode/Length %d>>stream\n%b\nendstream endobj\n" % (len(stream), stream)


@pytest.mark.parametrize("times", [1, 2])
def test_a_pdf_that_unpacks_without_end_is_refused(times: int) -> None:
    stream = bytes(300_000_000 if times == 2 else 20_000_000)
    for _ in range(times):
        stream = zlib.compress(stream, 9)
    with pytest.raises(Unusable, match="unpacks to more"):
        intake.take(pdf_with(stream), "card.pdf", Limits(unpacked=10_000_000))


def test_a_picture_with_too_many_pixels_is_refused_before_it_is_unpacked() -> None:
    from PIL import Image

    into = io.BytesIO()
    Image.new("1", (12_000, 12_000)).save(into, "PNG")
    with pytest.raises(Unusable, match=r"megapixels|too large"):
        intake.take(into.getvalue(), "card.png")


def test_a_page_nested_without_end_is_read_or_refused() -> None:
    data = b"<html><body>" + b"<div>" * 100_000 + b"2 cups flour" + b"</div>" * 100_000
    [one] = intake.take_each(data, "page.html")
    assert "flour" in one.text if isinstance(one, Taken) else "no words" in str(one[2])


def test_json_nested_without_end_is_refused() -> None:
    with pytest.raises(Unusable, match=r"nested too deep|not JSON"):
        intake.take(b"[" * 200_000, "cards.json")


def test_a_file_beyond_the_limit_is_refused_unread(tmp_path) -> None:  # type: ignore[no-untyped-def]
    large = tmp_path / "large.txt"
    with large.open("wb") as opened:
        opened.truncate(65_000_000)
    with pytest.raises(Unusable, match="larger than 64 MB"):
        intake.take(large)
