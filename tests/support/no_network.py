"""Ends this process at its first attempt to reach out, whoever makes it: Python, a library in C, or a child.

Two guards stand behind one another.  Python's own hook names what was tried and ends with code 99.  Below it, on Linux,
the kernel kills the process (SIGSYS) when any code in it asks for a socket that is not local to the machine, or for
another way around that question.  Source: Linux manual pages seccomp(2), prctl(2) and audit headers of the kernel.
"""

from __future__ import annotations

import ctypes
import platform
import socket
import struct
import sys

#: The number of the call that makes a socket, and the kernel's mark of the machine.
MACHINES = {"x86_64": (41, 0xC000003E), "aarch64": (198, 0xC00000B7)}
_IO_URING_SETUP = 425
#: From here on the numbers of x86-64 mean calls of its 32-bit form.
_X32 = 0x40000000
_KILL, _ALLOW = 0x80000000, 0x7FFF0000
_LOAD, _IS, _AT_LEAST, _RETURN = 0x20, 0x15, 0x35, 0x06

REACHING = {
    "socket.connect",
    "socket.getaddrinfo",
    "socket.gethostbyname",
    "socket.gethostbyaddr",
    "socket.bind",
    "socket.sendto",
    "socket.sendmsg",
    "urllib.Request",
    "http.client.connect",
    "ftplib.connect",
    "smtplib.connect",
}


def refuse(event: str, arguments: tuple[object, ...]) -> None:
    """End the process when Python code reaches out, and name what it tried."""
    internet = event == "socket.__new__" and arguments[1] in (socket.AF_INET, socket.AF_INET6)
    if internet or event in REACHING:
        print("REACHED OUT:", event, arguments[-1:], file=sys.__stderr__, flush=True)
        raise SystemExit(99)


def guard_python() -> None:
    """Put up the guard that names what was tried."""
    sys.addaudithook(refuse)


def guard_kernel() -> None:
    """Put up the guard that no code gets past.  Raises OSError when the kernel does not take it."""
    make_socket, machine = MACHINES[platform.machine()]
    steps = [
        (_LOAD, 0, 0, 4),  # the machine that the call is for
        (_IS, 1, 0, machine),
        (_RETURN, 0, 0, _KILL),
        (_LOAD, 0, 0, 0),  # which call it is
        (_AT_LEAST, 5, 0, _X32),
        (_IS, 4, 0, _IO_URING_SETUP),
        (_IS, 0, 2, make_socket),
        (_LOAD, 0, 0, 16),  # its first argument: the family of the socket
        (_IS, 0, 1, int(socket.AF_UNIX)),
        (_RETURN, 0, 0, _ALLOW),
        (_RETURN, 0, 0, _KILL),
    ]
    code = b"".join(struct.pack("HBBI", *step) for step in steps)
    kept = ctypes.create_string_buffer(code, len(code))
    program = struct.pack("HxxxxxxP", len(steps), ctypes.addressof(kept))
    libc = ctypes.CDLL(None, use_errno=True)
    no_new_rights, set_filter, by_filter = 38, 22, 2
    for number, first, second in ((no_new_rights, 1, None), (set_filter, by_filter, program)):
        if libc.prctl(ctypes.c_int(number), ctypes.c_ulong(first), second or ctypes.c_ulong(0), 0, 0):
            raise OSError(ctypes.get_errno(), "the kernel takes no guard")


def guard() -> None:
    """Put up every guard that this system has."""
    guard_python()
    if sys.platform == "linux":
        guard_kernel()
