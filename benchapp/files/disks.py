"""On what kind of disk a file is: in this machine or another, and whether a program copies it."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from benchapp.safe_text import sanitize

_MOUNTS: Final = Path("/proc/self/mountinfo")
#: Kinds of file systems whose disk is in another machine, as Linux names them; `fuse.` aside.
_ELSEWHERE: Final = frozenset({
    "afs", "beegfs", "ceph", "cifs", "coda", "curlftpfs", "davfs", "davfs2", "glusterfs",
    "gvfsd-fuse", "lustre", "ncpfs", "nfs", "nfs4", "orangefs", "prl_fs", "rclone", "s3fs", "smb3",
    "smbfs", "sshfs", "vboxsf", "vmhgfs", "vmhgfs-fuse"})  # fmt: skip
#: How folders begin that programs keep alike on several machines, in small letters.
_COPIED: Final = ("dropbox", "google drive", "googledrive", "icloud drive", "iclouddrive",
                  "mobile documents", "nextcloud", "onedrive", "owncloud", "pcloud")  # fmt: skip
#: What such programs leave in the folder they look after.
_MARKERS: Final = (".dropbox.cache", ".nextcloudsync.log", ".owncloudsync.log", ".stfolder")
_ESCAPED: Final = re.compile(r"\\([0-7]{3})")
_REMOTE: Final = 4


def file_system(path: Path, mounts: str | None = None) -> str:
    """The kind of file system `path` is on, such as `ext4`; empty where that is not known.

    Args:
        path: Need not be there.
        mounts: The mounts as Linux lists them (proc(5), mountinfo); None: those of this machine.
    """
    if mounts is None:
        try:
            mounts = _MOUNTS.read_text("utf-8", "surrogateescape")
        except OSError:
            return ""
    whole = Path(os.path.realpath(path))
    best, kind = -1, ""
    for line in mounts.splitlines():
        before, _, after = line.partition(" - ")
        fields = before.split()  # the fifth is where it is mounted
        if len(fields) < 5 or not after:
            continue
        point = Path(_ESCAPED.sub(lambda found: chr(int(found[1], 8)), fields[4]))
        # Of two at one place the later covers the earlier.
        if whole.is_relative_to(point) and len(point.parts) >= best:
            best, kind = len(point.parts), after.split()[0]
    return kind


def is_elsewhere(path: Path, mounts: str | None = None) -> bool:
    """Whether the disk of `path` is known to be in another machine."""
    if sys.platform == "win32":
        import ctypes

        drive = os.path.splitdrive(os.path.realpath(path))[0]
        return drive.startswith("\\\\") or ctypes.windll.kernel32.GetDriveTypeW(
            f"{drive}\\") == _REMOTE
    return file_system(path, mounts).removeprefix("fuse.") in _ELSEWHERE


def copied_folder(path: Path) -> str | None:
    """The name of the folder above `path` that a program copies to other machines; None: none."""
    for folder in _above(path):
        name = folder.name.casefold()
        if any(name == one or (name.startswith(one) and not name[len(one)].isalnum())
               for one in _COPIED):
            return folder.name
        with suppress(OSError):
            if any(os.path.lexists(folder / marker) for marker in _MARKERS):
                return folder.name
    return None


def _above(path: Path) -> Iterator[Path]:
    yield from path.absolute().parents
    yield from Path(os.path.realpath(path)).parents


def disk_warnings(path: Path, mounts: str | None = None) -> list[str]:
    """What the printer should know of the place of the book at `path`, a text each."""
    found = []
    if is_elsewhere(path, mounts):
        kind = file_system(path, mounts)
        found.append(
            f"The book is on a disk of another machine{kind and f' ({sanitize(kind)})'}. Such a "
            "disk does not always keep locks, or what was written last. Move the book to a disk of "
            "this machine, and set BENCHAPP_HOME to its folder. Backups can go to the other "
            "machine: benchapp book backup FILE")
    if (name := copied_folder(path)) is not None:
        found.append(
            f"The book is in the folder {sanitize(name)}, which a program copies to other "
            f"machines. "
            "It may copy half a change, or leave two books. Move the book to another folder, and "
            "set BENCHAPP_HOME to it. Backups can go into that folder: benchapp book backup FILE")
    return found
