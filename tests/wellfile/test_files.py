"""A file is replaced as a whole or stays as it was."""

import errno
import os
import stat

import pytest

from schematic.wellfile.files import write_atomically


def test_text_is_written_with_its_line_ends_as_they_are(tmp_path):
    target = tmp_path / "well.yaml"
    write_atomically(target, "a: é\r\nb: 2\n")

    assert target.read_bytes() == b"a: \xc3\xa9\r\nb: 2\n"


def test_bytes_are_written_as_they_are(tmp_path):
    write_atomically(tmp_path / "x.pdf", b"\xff\0")

    assert (tmp_path / "x.pdf").read_bytes() == b"\xff\0"


def test_the_mode_of_an_existing_file_stays(tmp_path):
    target = tmp_path / "well.yaml"
    target.write_text("old")
    target.chmod(0o640)
    write_atomically(target, "new")

    assert stat.S_IMODE(target.stat().st_mode) == 0o640
    assert target.read_text() == "new"


def test_a_new_file_has_the_mode_of_any_new_file(tmp_path):
    (tmp_path / "usual").write_text("x")
    write_atomically(tmp_path / "ours", "x")

    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "usual").stat().st_mode


def test_a_link_stays_a_link(tmp_path):
    (tmp_path / "real.yaml").write_text("old")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "real.yaml")
    write_atomically(tmp_path / "link.yaml", "new")

    assert (tmp_path / "link.yaml").is_symlink()
    assert (tmp_path / "real.yaml").read_text() == "new"


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_leaves_the_old_file_and_nothing_beside_it(tmp_path, monkeypatch, step):
    target = tmp_path / "well.yaml"
    target.write_text("old")

    def fail(*_):
        raise OSError("disk full")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(OSError, match="disk full"):
        write_atomically(target, "new")

    assert target.read_text() == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["well.yaml"]


def test_what_the_system_refuses_is_told_of_the_name_that_was_given(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder.pdf").mkdir()

    for name, words in (("folder.pdf", "folder"), ("nowhere/x.pdf", "no such folder: nowhere")):
        with pytest.raises(OSError, match=words) as caught:
            write_atomically(name, "x")
        assert caught.value.filename == name

    def fail(*_):
        raise PermissionError(errno.EACCES, "not permitted", ".00ab.part")

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(PermissionError) as caught:
        write_atomically("x.pdf", "x")
    assert caught.value.filename == "x.pdf"


def test_a_text_that_is_no_utf_8_leaves_the_old_file(tmp_path):
    target = tmp_path / "well.yaml"
    target.write_text("old")
    with pytest.raises(UnicodeEncodeError):
        write_atomically(target, "\ud800")

    assert target.read_text() == "old"
