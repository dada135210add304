"""Adding models: what is good is placed whole, what is hostile or damaged leaves nothing behind."""

from __future__ import annotations

import hashlib
import http.server
import io
import stat
import tarfile
import threading
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from cabassist.errors import CabassistError, FileProblem, VoiceUnavailable
from cabassist.voice import models
from cabassist.voice.model_store import add_model

GOOD = {
    "small-en/am/final.mdl": b"acoustic" * 50,
    "small-en/graph/HCLr.fst": b"graph" * 50,
    "small-en/README": b"hello",
}


def zipped(path: Path, members: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, body in members.items():
            archive.writestr(name, body)
    return path


def left(data: Path) -> list[str]:
    """Everything in the data folder but folders."""
    return sorted(str(path.relative_to(data)) for path in data.rglob("*") if path.is_file())


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return tmp_path / "data"


def test_a_zip_becomes_the_model_in_use(tmp_path: Path, data: Path):
    archive = zipped(tmp_path / "m.zip", GOOD)
    added = add_model(str(archive), data)

    assert (added.kind, added.folder.name) == ("vosk", "small-en")
    assert added.sha256 == hashlib.sha256(archive.read_bytes()).hexdigest()
    assert (added.folder / "am/final.mdl").read_bytes() == GOOD["small-en/am/final.mdl"]
    assert models.vosk_model(data) == added.folder
    assert archive.exists()


def test_a_tar_and_a_folder_do_too(tmp_path: Path, data: Path):
    """Adding the same again replaces it."""
    folder = tmp_path / "whisper-tiny"
    folder.mkdir()
    (folder / "model.bin").write_bytes(b"weights")
    (folder / "config.json").write_text("{}")
    with tarfile.open(tmp_path / "w.tar.gz", "w:gz") as archive:
        archive.add(folder, "whisper-tiny")

    first = add_model(str(tmp_path / "w.tar.gz"), data)
    (folder / "model.bin").write_bytes(b"other weights")
    second = add_model(str(folder), data)

    assert (first.kind, first.folder) == (second.kind, second.folder)
    assert models.whisper_model(data) == second.folder
    assert (second.folder / "model.bin").read_bytes() == b"other weights"
    assert second.sha256 is None


def link(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name)
    info.external_attr = (stat.S_IFLNK | 0o777) << 16
    return info


def tar_with(path: Path, kind: bytes, name: str, target: str = "") -> Path:
    with tarfile.open(path, "w") as archive:
        info = tarfile.TarInfo(name)
        info.type, info.linkname = kind, target
        archive.addfile(info)
    return path


@pytest.mark.parametrize("name", ["../../evil", "/etc/evil", "a/../../evil", "..\\..\\evil", "C:\\evil"])
def test_a_path_that_leaves_the_folder_is_refused(tmp_path: Path, data: Path, name: str):
    """Nothing of the archive is kept, nor anything written outside."""
    archive = zipped(tmp_path / "m.zip", {**GOOD, name: b"evil"})

    with pytest.raises(FileProblem, match="outside its own folder"):
        add_model(str(archive), data)
    assert left(data) == []
    assert not list(tmp_path.rglob("evil"))


def test_links_are_refused(tmp_path: Path, data: Path):
    with zipfile.ZipFile(tmp_path / "m.zip", "w") as archive:
        archive.writestr(link("small-en/am"), "/etc")
    tars = [
        tar_with(tmp_path / "s.tar", tarfile.SYMTYPE, "am", "/etc"),
        tar_with(tmp_path / "h.tar", tarfile.LNKTYPE, "am", "/etc/passwd"),
        tar_with(tmp_path / "d.tar", tarfile.CHRTYPE, "am"),
    ]

    for hostile in (tmp_path / "m.zip", *tars):
        with pytest.raises(FileProblem, match="holds the link"):
            add_model(str(hostile), data)
    assert left(data) == []


def test_an_archive_that_swells_is_refused(tmp_path: Path, data: Path):
    """Fifty megabytes of zeros pack to fifty kilobytes."""
    bomb = zipped(tmp_path / "m.zip", {**GOOD, "small-en/zeros": bytes(50_000_000)})

    with pytest.raises(FileProblem, match="unpacks to far more"):
        add_model(str(bomb), data)
    with pytest.raises(FileProblem, match="unpacks to far more"):
        add_model(str(zipped(tmp_path / "n.zip", GOOD)), data, max_unpacked=300)
    assert left(data) == []


def test_an_archive_of_countless_files_is_refused(tmp_path: Path, data: Path):
    many = {f"small-en/{number}": b"" for number in range(20_001)}

    with pytest.raises(FileProblem, match="too many files"):
        add_model(str(zipped(tmp_path / "m.zip", many)), data)


@pytest.mark.parametrize("body", [b"", b"PK\x03\x04 and no more", b"not an archive"])
def test_what_is_no_archive_is_named(tmp_path: Path, data: Path, body: bytes):
    (tmp_path / "bad.zip").write_bytes(body)

    with pytest.raises(FileProblem, match=r"bad\.zip"):
        add_model(str(tmp_path / "bad.zip"), data)


def test_a_damaged_member_is_named(tmp_path: Path, data: Path):
    """One flipped byte in the packed data."""
    archive = zipped(tmp_path / "m.zip", GOOD)
    body = bytearray(archive.read_bytes())
    body[60] ^= 0xFF
    archive.write_bytes(body)

    with pytest.raises(FileProblem, match="damaged"):
        add_model(str(archive), data)
    assert left(data) == []


def test_an_archive_without_a_model_is_named(tmp_path: Path, data: Path):
    with pytest.raises(VoiceUnavailable, match="neither a vosk model"):
        add_model(str(zipped(tmp_path / "m.zip", {"readme": b"x"})), data)
    with pytest.raises(FileProblem, match="no folder, no file"):
        add_model(str(tmp_path / "none"), data)


def test_a_wrong_sha_is_refused_and_a_right_one_taken(tmp_path: Path, data: Path):
    archive = zipped(tmp_path / "m.zip", GOOD)
    right = hashlib.sha256(archive.read_bytes()).hexdigest()

    with pytest.raises(VoiceUnavailable, match=right):
        add_model(str(archive), data, sha256="0" * 64)
    assert left(data) == []
    assert add_model(str(archive), data, sha256=right.upper()).sha256 == right


# -- addresses -----------------------------------------------------------------------------------


class Server:
    """Serves one body, and can break off in the middle."""

    def __init__(self, body: bytes) -> None:
        self.ranges: list[str | None] = []
        self.break_after: int | None = None
        outer = self

        class Handler(http.server.BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                wanted = self.headers.get("Range")
                outer.ranges.append(wanted)
                if self.path != "/m.zip":
                    self.send_error(404)
                    return
                start = int(wanted.removeprefix("bytes=").removesuffix("-")) if wanted else 0
                self.send_response(206 if wanted else 200)
                self.send_header("Content-Length", str(len(body) - start))
                self.end_headers()
                end = len(body) if outer.break_after is None else outer.break_after
                self.wfile.write(body[start:end])

            def log_message(self, *args: object) -> None:
                """Keep quiet."""

        self._server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.address = f"http://127.0.0.1:{self._server.server_port}/m.zip"
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def close(self) -> None:
        self._server.shutdown()
        self._server.server_close()


@pytest.fixture
def server() -> Iterator[Server]:
    body = io.BytesIO()
    with zipfile.ZipFile(body, "w") as archive:
        for name, content in GOOD.items():
            archive.writestr(name, content)
    made = Server(body.getvalue())
    yield made
    made.close()


def test_a_download_that_broke_off_goes_on(server: Server, data: Path):
    """The second request asks for the rest only, and the model is whole."""
    server.break_after = 400
    seen: list[tuple[int, int | None]] = []
    with pytest.raises(CabassistError, match="Run the same command again"):
        add_model(server.address, data)
    server.break_after = None
    added = add_model(server.address, data, progress=lambda done, of: seen.append((done, of)))

    assert server.ranges == [None, "bytes=400-"]
    assert (added.folder / "am/final.mdl").read_bytes() == GOOD["small-en/am/final.mdl"]
    assert seen[-1][0] == seen[-1][1]
    assert not [name for name in left(data) if name.endswith(".part")]


def test_addresses_that_do_not_answer_are_named(server: Server, data: Path):
    with pytest.raises(FileProblem, match="404"):
        add_model(server.address.replace("m.zip", "other"), data)
    server.close()
    with pytest.raises(FileProblem, match="cannot be reached"):
        add_model(server.address, data)


# -- finding -------------------------------------------------------------------------------------


def test_a_named_folder_without_a_model_is_said(data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    for variable, find in ((models.VOSK_VARIABLE, models.vosk_model), (models.WHISPER_VARIABLE, models.whisper_model)):
        monkeypatch.setenv(variable, str(tmp_path))
        with pytest.raises(VoiceUnavailable, match=variable):
            find(data)
        monkeypatch.delenv(variable)
        assert models.vosk_model(data) is None


def test_weights_of_a_package_are_only_used_when_they_are_the_ones_we_know(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    """A package of the same name with other weights is not trusted."""
    package = tmp_path / "site" / models.PACKAGED_WHISPER
    (package / "model").mkdir(parents=True)
    (package / "__init__.py").write_text("")
    (package / "model" / "model.bin").write_bytes(b"other")
    (package / "model" / "config.json").write_text("{}")
    monkeypatch.syspath_prepend(str(tmp_path / "site"))

    assert models.whisper_model(data) is None
