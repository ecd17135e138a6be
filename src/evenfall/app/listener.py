"""A port taken for a server of ours."""

from __future__ import annotations

import os
import socket


def listener(address: str, port: int) -> socket.socket:
    """Take a port.

    The socket says by name that it speaks TCP. Without that the loop leaves what it accepts as the
    system has it: the second small piece of an answer then waits, some 40 ms, until the other side
    has confirmed the first.

    Parameters
    ----------
    address : str
        Address of this machine [-].
    port : int
        The port; 0 picks one [-].

    Returns
    -------
    socket
        Bound; nobody is listened to yet [-].

    Raises
    ------
    OSError
        The port is taken, or not to be had.

    Examples
    --------
    >>> with listener("127.0.0.1", 0) as taken:
    ...     taken.proto == socket.IPPROTO_TCP
    True
    """
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if os.name == "posix":  # elsewhere this would share a port that is taken
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind((address, port))
    except OSError:
        found.close()
        raise
    return found
