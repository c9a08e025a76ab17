"""A pack is written whole or not at all, and nothing that is not a pack of the same recipe is overwritten."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from seamproof import OutputError
from seamproof.cli.staging import MANIFEST, check_target, is_safe_name, staged

WHO = {"file": "bell.recipe.toml", "title": "Bell"}


def write(target: Path, files: dict[str, bytes], who: dict[str, str] = WHO) -> None:
    with staged(target) as stage:
        for name, content in files.items():
            stage.add(name, content)
        stage.add(MANIFEST, json.dumps({"pack": {"recipe": who, "files": dict(stage.digests)}}).encode())


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_a_new_folder_holds_every_file(tmp_path: Path) -> None:
    target = tmp_path / "a" / "b" / "pack"
    write(target, {"x.svg": b"1", "y.csv": b"2"})
    assert names(target) == {"x.svg", "y.csv", MANIFEST}
    assert names(target.parent) == {"pack"}


def test_a_pack_of_the_same_recipe_is_replaced_whole(tmp_path: Path) -> None:
    target = tmp_path / "pack"
    write(target, {"x.svg": b"1", "y.svg": b"2"})
    write(check_target(target, WHO), {"x.svg": b"3"})
    assert names(target) == {"x.svg", MANIFEST}
    assert (target / "x.svg").read_bytes() == b"3"
    assert names(tmp_path) == {"pack"}


def test_an_empty_folder_is_used(tmp_path: Path) -> None:
    target = tmp_path / "pack"
    target.mkdir()
    write(check_target(target, WHO), {"x.svg": b"1"})
    assert (target / "x.svg").exists()


def test_when_writing_fails_the_old_pack_stays_and_nothing_else(tmp_path: Path) -> None:
    target = tmp_path / "pack"
    write(target, {"x.svg": b"1"})

    def broken() -> None:
        with staged(target) as stage:
            stage.add("x.svg", b"2")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        broken()
    assert (target / "x.svg").read_bytes() == b"1"
    assert names(tmp_path) == {"pack"}


def test_when_writing_fails_folders_made_on_the_way_are_gone(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), staged(tmp_path / "a" / "b" / "pack"):
        raise ZeroDivisionError
    assert names(tmp_path) == set()


@pytest.mark.parametrize("step", [1, 2])
@pytest.mark.parametrize(
    ("error", "told"),
    [(OSError(5, "Input/output error"), "cannot be replaced: Input/output error"), (KeyboardInterrupt("stop"), "stop")],
)
def test_when_the_swap_fails_or_is_stopped_the_old_pack_is_put_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, told: str, step: int
) -> None:
    target = tmp_path / "pack"
    write(target, {"x.svg": b"1"})
    rename, count = Path.rename, 0

    def failing(self: Path, other: Path) -> Path:
        nonlocal count
        count += 1
        if count == step:
            raise error
        return rename(self, other)

    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises((OutputError, KeyboardInterrupt), match=told):
        write(target, {"x.svg": b"2"})
    assert (target / "x.svg").read_bytes() == b"1"
    assert names(tmp_path) == {"pack"}


@pytest.mark.parametrize("name", ["../x.svg", "/x.svg", "a/b.svg", "..", ".x.svg", "", "con", "a\0.svg", "a.svg\n"])
def test_a_name_that_leaves_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    assert not is_safe_name(name)
    with pytest.raises(OutputError), staged(tmp_path / "pack") as stage:
        stage.add(name, b"")
    assert names(tmp_path) == set()


def refused(target: Path, who: dict[str, str] = WHO) -> str:
    before = {path: path.read_bytes() for path in target.parent.rglob("*") if path.is_file()}
    with pytest.raises(OutputError) as caught:
        check_target(target, who)
    assert before == {path: path.read_bytes() for path in target.parent.rglob("*") if path.is_file()}
    return str(caught.value)


def test_a_folder_of_another_recipe_is_refused(tmp_path: Path) -> None:
    write(tmp_path / "pack", {"x.svg": b"1"}, {"file": "other.recipe.toml", "title": "Other"})
    assert "the pack of another recipe, 'Other'" in refused(tmp_path / "pack")


def test_a_folder_of_other_files_is_refused(tmp_path: Path) -> None:
    (tmp_path / "pack").mkdir()
    (tmp_path / "pack" / "letter.txt").write_text("dear")
    assert "holds files that are not a pack's" in refused(tmp_path / "pack")


@pytest.mark.parametrize(
    "manifest", ["", "{}", "[]", '{"pack": 1}', '{"pack": {}}', "[" * 100000, '{"pack": {"recipe": 5}}']
)
def test_a_folder_with_a_strange_manifest_is_refused(tmp_path: Path, manifest: str) -> None:
    (tmp_path / "pack").mkdir()
    (tmp_path / "pack" / MANIFEST).write_text(manifest)
    assert refused(tmp_path / "pack")


def test_a_pack_with_a_file_of_the_users_is_refused(tmp_path: Path) -> None:
    write(tmp_path / "pack", {"x.svg": b"1"})
    (tmp_path / "pack" / "notes.txt").write_text("mine")
    assert "'notes.txt', which is not of its pack" in refused(tmp_path / "pack")


def test_a_pack_with_a_changed_file_is_refused(tmp_path: Path) -> None:
    write(tmp_path / "pack", {"x.svg": b"1"})
    (tmp_path / "pack" / "x.svg").write_bytes(b"2")
    assert "'x.svg', changed since it was packed" in refused(tmp_path / "pack")


def test_a_file_where_the_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "pack").write_text("")
    assert "is a file, not a folder" in refused(tmp_path / "pack")


def test_the_folder_one_is_in_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert "the folder you are in" in refused(Path())


def test_a_folder_inside_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(OutputError, match="cannot be"), staged(tmp_path / "file" / "pack"):
        pass


@pytest.mark.parametrize(
    "why", [(13, "Permission denied"), (28, "No space left on device"), (30, "Read-only file system")]
)
def test_a_folder_that_cannot_be_written_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, why: tuple[int, str]
) -> None:
    def refusing(*_: object, **__: object) -> str:
        raise OSError(*why)

    monkeypatch.setattr("tempfile.mkdtemp", refusing)
    with pytest.raises(OutputError, match=f"cannot be written: {why[1]}"), staged(tmp_path / "a" / "pack"):
        pass
    assert names(tmp_path) == set()
