"""The door of the command line: what is set before anything loads, and how mistakes are told."""

import gc
import io
import os
import sys
from collections.abc import Callable

#: What tells a library of linear algebra how many threads it may take.
THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


def keep_to_one_thread() -> None:
    """Let linear algebra take one thread, where it is not loaded yet and nobody said otherwise.

    Matrices here are small: two threads to one of them take longer than one, far longer where the
    cores are busy. Work is shared out by years, designs and visitors instead.
    """
    for name in THREADS:
        os.environ.setdefault(name, "1")


def enter(work: Callable[[], object]) -> None:
    """Do a command's work; a person's mistake ends in one message and exit code 2."""
    keep_to_one_thread()
    # Loading a plan's rooms makes many things that stay: looking for rubbish among them is vain.
    gc.set_threshold(50_000, 20, 50)
    # We have no plug-ins of the plan reader, and looking for some reads every installed package.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # A letter that the terminal lacks, as in a bed's name, is no reason to end.
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        work()
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except (ValueError, KeyError, OSError) as error:
        if not is_for_a_person(error):
            raise
        print(plain(_words(error)), file=sys.stderr)
        sys.exit(2)
    finally:
        # What is left goes with the process: looking through it once more, as the interpreter does
        # while it ends, takes a tenth of a `check`.
        gc.freeze()


def is_for_a_person(error: Exception) -> bool:
    """Return whether an error was written to be read: our own kinds, and files out of reach."""
    return isinstance(error, OSError) or type(error).__module__.startswith("hoopwright.")


def plain(words: str) -> str:
    """Return words without what would drive a terminal, as a plan may hold it."""
    return "".join(mark if mark.isprintable() or mark == "\n" else "?" for mark in words)


def _words(error: Exception) -> str:
    if isinstance(error, OSError):
        return (
            f"{error.filename or 'file'}: {error.strerror or error}; check the path and try again"
        )
    return str(error)
